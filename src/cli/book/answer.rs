//! What a client answered to a check-in, kept as an incident in the client's file.

use std::path::Path;

use afterhue::diagnostic::SourceText;
use afterhue::form;
use afterhue::pipeline::{self, Read};
use afterhue::plan::day_in_words;
use afterhue::record;
use afterhue::workspace::{self, Failure, Texts};
use chrono::NaiveDate;

use crate::cli::args::BookArguments;
use crate::cli::{End, at_fault, terminal};

/// Keeps an answer, whatever the book is like: what hurts somebody does not wait until a file is put right.
pub(super) fn answered(
    arguments: &BookArguments,
    (read, texts): (&Read, &Texts),
    client: &str,
    date: NaiveDate,
    words: &str,
) -> Result<End, Failure> {
    // Where the salon is may be in a file at fault: then no day is refused that has begun anywhere.
    let zone = read.house.as_ref().map_or(chrono_tz::Pacific::Kiritimati, |(salon, _)| salon.time_zone);
    let today = arguments.today.unwrap_or_else(|| workspace::today(zone));
    match keep(&arguments.folder.folder, texts, read, client, (date, today), words)? {
        End::Done if read.report.has_fault() => {
            terminal::say(
                "The answer need not be given again. Put right what is told above, or pages and book stay as they are.",
            );
            Ok(at_fault(texts))
        }
        end => Ok(end),
    }
}

/// Adds the incident; nothing is written when the file would not read as before with one incident more.
fn keep(
    folder: &Path,
    texts: &Texts,
    read: &Read,
    client: &str,
    (date, today): (NaiveDate, NaiveDate),
    words: &str,
) -> Result<End, Failure> {
    let Some(history) = read.histories.iter().find(|history| history.client.code.as_str() == client) else {
        return Ok(End::WrongUse(pipeline::no_such_client(read, client)));
    };
    if date > today || history.visits.iter().all(|visit| visit.date > date) {
        return Ok(End::WrongUse(format!("{} is not between a visit of {client} and today", day_in_words(date))));
    }
    if words.trim().is_empty() {
        return Ok(End::WrongUse("write what the client said, in quotation marks".to_owned()));
    }
    let file = &history.client.file;
    let fields = [("date", date.to_string()), ("note", form::quoted(words.trim()))];
    let source = texts.clients.iter().find(|source| source.name == *file);
    let text = source.and_then(|source| form::with_section(source, &["health", "incident"], &fields));
    let whole = text.filter(|text| {
        let now = record::read_client(&SourceText::new(file, text.clone()));
        let more = |now: record::ClientFile| now.health.incidents.len() == history.client.health.incidents.len() + 1;
        !now.report.has_fault() && now.value.is_some_and(more)
    });
    let Some(whole) = whole else {
        return Ok(End::WrongUse(format!("{file} cannot be added to; write a [[health.incident]] there by hand")));
    };
    workspace::store(&folder.join(file), whole.as_bytes())?;
    terminal::say(&format!("Kept in {file} as an incident of {}, for the salon only.", day_in_words(date)));
    if history.client.consents.health_data.is_none() {
        terminal::say("No consent to keep health facts is on record: ask, and write the day under [consents].");
    }
    terminal::say(
        "If anything burns, blisters, swells or is hard to breathe, the client needs medical help now, not a message.",
    );
    Ok(End::Done)
}
