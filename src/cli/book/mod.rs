//! `book`: the coming weeks from the forecasts.

mod answer;
mod busy;
mod fill;
mod messages;
mod review;
mod spreadsheet;
mod table;
mod told;
mod wish;

use std::path::Path;
use std::time::{Duration, Instant};

use afterhue::diagnostic::{Report, Severity};
use afterhue::page::due_table::due_table;
use afterhue::pipeline::{self, Read};
use afterhue::salon::Salon;
use afterhue::schedule::diary::{self, Desk, Diary};
use afterhue::schedule::fit::Effort;
use afterhue::site;
use afterhue::workspace::{self, BOOKINGS_FILE, Failure, Texts};
use chrono::NaiveDate;

use super::args::BookArguments;
use super::{End, at_fault, terminal};
use wish::Wish;

/// Plans, changes and shows the book.
pub(crate) fn run(arguments: &BookArguments) -> End {
    match wish::wish(arguments) {
        Ok(wish) => locked(arguments, &wish).unwrap_or_else(|failure| End::Machine(failure.to_string())),
        Err(why) => End::WrongUse(why),
    }
}

/// One run at a time, from reading to storing: two desks that say yes to the same time must not both be told yes.
fn locked(arguments: &BookArguments, wish: &Wish) -> Result<End, Failure> {
    let _lock = match wish {
        Wish::Fill(..) => None,
        _ => Some(workspace::lock(&arguments.folder.folder, terminal::waiting)?),
    };
    run_wish(arguments, wish)
}

fn run_wish(arguments: &BookArguments, wish: &Wish) -> Result<End, Failure> {
    let began = Instant::now();
    let folder = &arguments.folder.folder;
    let texts = workspace::read_folder(folder)?;
    let read = pipeline::read(&texts);
    // What is only to be careful about is told by `check` and `pages`.
    let faults = read.report.items.iter().filter(|item| item.severity == Severity::Fault).cloned();
    terminal::tell(&Report { items: faults.collect() }, &texts.all());
    if let Wish::Answer(client, date, words) = wish {
        return answer::answered(arguments, (&read, &texts), client, *date, words);
    }
    let (Some((salon, theme)), Some(diary)) = (&read.house, &read.diary) else {
        terminal::say("Nothing was planned: the salon's own files have to be put right first.");
        return Ok(at_fault(&texts));
    };
    let secret = workspace::secret(folder)?;
    let today = arguments.today.unwrap_or_else(|| workspace::today(salon.time_zone));
    let weeks = arguments.weeks;
    let busy = match busy::busy(arguments, salon, diary, &secret, (today, weeks)) {
        Ok(busy) => busy,
        Err(end) => return Ok(end),
    };
    let mut due = pipeline::due_list(&read, salon, diary, today);
    let mut diary = diary.clone();
    let desk = Desk { salon, due: &due, diary: &diary, busy: &busy, today };
    match wish {
        Wish::Fill(date, time, minutes) => {
            let found = diary::fill(&desk, &read.histories, (*date, *time), *minutes);
            terminal::print(&fill::text(&found, &read));
            return Ok(ended(&read, &texts));
        }
        Wish::Change(change) => match diary::change(&desk, change) {
            Ok((changed, said)) => {
                terminal::say(&said);
                diary = changed;
                due = pipeline::due_again(due, &read, salon, &diary, change.client(), today);
            }
            Err(refusal) => return Ok(End::WrongUse(refusal.to_string())),
        },
        Wish::Review => return look_back(arguments, (&read, &texts), salon, &diary, today),
        Wish::Plan | Wish::Answer(..) => {}
    }
    let effort = Effort { stop: &|| began.elapsed() > Duration::from_secs(arguments.limit), ..Effort::USUAL };
    let book = pipeline::fitted(salon, &due, &diary, &busy, (today, weeks), &effort);
    keep(folder, texts.bookings.as_ref().map(|old| old.text.as_str()), &book.diary)?;
    let mut files = match pipeline::book_files(&read, (salon, theme), &secret, &due, (&book, &busy), (today, weeks)) {
        Ok(files) => files,
        Err(fault) => {
            terminal::tell(&Report { items: vec![*fault] }, &texts.all());
            return Ok(End::Faults);
        }
    };
    let messages = pipeline::messages_of(&read, salon, &book.diary, today);
    files.insert("private/messages.csv".to_owned(), messages::csv(&messages).into_bytes());
    site::write_private(folder, &files).map_err(|failure| Failure::io("write", &failure.path, &failure.error))?;
    let words = pipeline::words_of_house(salon);
    let table = due_table(&due, &book.diary, salon, today, words);
    if arguments.json {
        terminal::print(&told::json(&table, &book, weeks));
    } else if arguments.csv {
        terminal::print(&table::csv(&table));
    } else if matches!(wish, Wish::Plan) {
        terminal::print(&table::text(&table));
    }
    told::tell(&book, today);
    let board = folder.join("private/board.html");
    terminal::say(&format!("The board: file://{}", board.canonicalize().unwrap_or(board).display()));
    Ok(ended(&read, &texts))
}

/// Prints the look back and stores its picture.
fn look_back(
    arguments: &BookArguments,
    (read, texts): (&Read, &Texts),
    salon: &Salon,
    diary: &Diary,
    today: NaiveDate,
) -> Result<End, Failure> {
    let (review, picture) = pipeline::look_back_at(read, salon, diary, today);
    terminal::print(&if arguments.json {
        review::json(&review, today)
    } else if arguments.csv {
        review::csv(&review)
    } else {
        review::text(&review)
    });
    let path = arguments.folder.folder.join("private/review.svg");
    workspace::store(&path, picture.as_bytes())?;
    terminal::say(&format!("The picture: {}", path.display()));
    Ok(ended(read, texts))
}

fn ended(read: &Read, texts: &Texts) -> End {
    if read.report.has_fault() { at_fault(texts) } else { End::Done }
}

/// Stores the diary, unless somebody else did since it was read.
pub(crate) fn keep(folder: &Path, before: Option<&str>, diary: &Diary) -> Result<(), Failure> {
    let text = diary.to_text();
    if before == Some(text.as_str()) {
        return Ok(());
    }
    workspace::store_unless_changed(&folder.join(BOOKINGS_FILE), before, text.as_bytes())
}
