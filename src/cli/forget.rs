//! `forget`: everything about one client removed, and a mark kept so that a backup does not quietly bring it back.

use std::collections::BTreeSet;
use std::io::{IsTerminal, Write};
use std::path::Path;

use afterhue::chairside;
use afterhue::page::link::{Link, forgotten_mark, link};
use afterhue::pipeline::{self, LINK_NUMBERS_KEPT};
use afterhue::record::ClientCode;
use afterhue::site;
use afterhue::workspace::{self, Failure};

use super::args::{DayArguments, ForgetArguments};
use super::one_client::{self, Opened};
use super::relink::{public_files, single_card};
use super::{End, book, pages, terminal};

/// The sheet of all cards: written anew without the client.
const ALL_CARDS: &str = "private/cards.html";

/// The files of the book that name clients: the next `book` writes them anew.
const OF_THE_BOOK: [&str; 5] =
    ["private/board.html", "private/sheets.html", "private/book.ics", "private/messages.csv", "private/review.svg"];

/// What goes for one client.
struct Going {
    code: ClientCode,
    /// What a person wrote, relative to the salon folder; the client's own file last, so that a run that broke off can be run again.
    written: Vec<String>,
    /// What this program wrote.
    made: BTreeSet<String>,
    links: Vec<Link>,
}

/// Shows what goes, asks, and removes it.
pub(crate) fn run(arguments: &ForgetArguments) -> End {
    let wanted = usize::from(!arguments.again);
    let Some((folder, who)) = one_client::folder_first(&arguments.words, wanted) else {
        return End::WrongUse("name one client, or none with --again: afterhue forget [DIR] CLIENT".to_owned());
    };
    let opened = match one_client::open(&folder) {
        Ok(opened) => opened,
        Err(failure) => return End::Machine(failure.to_string()),
    };
    let codes: BTreeSet<ClientCode> = match who.first() {
        Some(code) => ClientCode::try_new(code).into_iter().collect(),
        None => pipeline::came_back(&opened.texts, &opened.secret).0,
    };
    let going: Vec<Going> = codes.iter().map(|code| going(&folder, code, &opened)).collect();
    let going: Vec<Going> = going.into_iter().filter(|one| !(one.written.is_empty() && one.made.is_empty())).collect();
    match who.first() {
        Some(code) if going.is_empty() => {
            return End::WrongUse(format!(
                "there is nothing about a client \"{code}\"; the codes are the names of the files in clients/"
            ));
        }
        None if going.is_empty() => {
            terminal::say("Nobody who was forgotten came back.");
            return End::Done;
        }
        _ => {}
    }
    show(&going);
    if !arguments.yes {
        match ask() {
            Some(true) => {}
            Some(false) => {
                terminal::say("Nothing was removed.");
                return End::Done;
            }
            None => {
                return End::WrongUse(
                    "nothing was removed: nobody is here to ask; say --yes to remove without asking".to_owned(),
                );
            }
        }
    }
    match forget(&folder, &going, arguments.day) {
        Ok(end) => end,
        Err(failure) => End::Machine(failure.to_string()),
    }
}

fn going(folder: &Path, code: &ClientCode, opened: &Opened) -> Going {
    let about = pipeline::files_about(&opened.texts, code);
    let mut written: Vec<String> = about.iter().map(|source| source.name.clone()).collect();
    written.extend(chairside::kept_about(folder, code));
    written.sort_by_key(|name| name.starts_with("clients/"));
    let base = opened.read.house.as_ref().map_or("", |(salon, _)| salon.base_address.as_str());
    let known = opened.read.histories.iter().find(|history| history.client.code == *code);
    let last = known.map_or(0, |history| history.client.link_number).max(LINK_NUMBERS_KEPT);
    let links: Vec<Link> = (1..=last).map(|number| link(opened.secret.bytes(), code, number, base)).collect();
    let card = single_card(code.as_str());
    let made = links.iter().flat_map(public_files).chain([card]).filter(|name| folder.join(name).exists()).collect();
    // Addresses that never were a page need no purging; those below the present number may have been.
    let used = known.map_or(0, |history| history.client.link_number) as usize;
    let was = |at: usize, link: &Link| at < used || folder.join("public").join(&link.path).exists();
    let links = links.into_iter().enumerate().filter(|(at, link)| was(*at, link)).map(|(_, link)| link).collect();
    Going { code: code.clone(), written, made, links }
}

fn show(going: &[Going]) {
    for one in going {
        terminal::say(&format!("This goes, for {}:", one.code));
        one.written.iter().chain(&one.made).for_each(|name| terminal::say(&format!("  {name}")));
        terminal::say(&format!("  the card in {ALL_CARDS}"));
        terminal::say("  the appointments in the book; its files go, and the next `afterhue book` writes them anew");
    }
    terminal::say("Backups, printed cards and what was exported stay where they are.");
}

/// Whether the person says yes; nothing when there is nobody to ask.
fn ask() -> Option<bool> {
    if !(std::io::stdin().is_terminal() && std::io::stderr().is_terminal()) {
        return None;
    }
    let mut asked = std::io::stderr().lock();
    asked.write_all(b"Remove all of it? This cannot be undone. (y/n) ").and_then(|()| asked.flush()).ok()?;
    let mut answer = String::new();
    std::io::stdin().read_line(&mut answer).ok()?;
    Some(matches!(answer.trim().to_lowercase().as_str(), "y" | "yes"))
}

fn forget(folder: &Path, shown: &[Going], day: DayArguments) -> Result<End, Failure> {
    // Read again under the lock: a run of `pages` may have written in the time it took to answer, and must not write the page back.
    let lock = workspace::lock(folder, terminal::waiting)?;
    let opened = one_client::open(folder)?;
    let going: Vec<Going> = shown.iter().map(|one| going(folder, &one.code, &opened)).collect();
    if let (Some(diary), Some(before)) = (&opened.read.diary, &opened.texts.bookings) {
        let kept = going.iter().fold(diary.clone(), |diary, one| diary.without(&one.code));
        book::keep(folder, Some(&before.text), &kept)?;
    }
    for one in &going {
        // The mark first: whatever breaks off after it is told by `check`.
        workspace::keep_forgotten(folder, &forgotten_mark(opened.secret.bytes(), &one.code))?;
        let mut made = one.made.clone();
        made.insert(ALL_CARDS.to_owned());
        made.extend(OF_THE_BOOK.map(str::to_owned));
        site::remove(folder, &made).map_err(|failure| Failure::io("remove", &failure.path, &failure.error))?;
        for name in &one.written {
            let path = folder.join(name);
            std::fs::remove_file(&path).map_err(|error| Failure::io("remove", &path, &error))?;
        }
    }
    drop(lock);
    let (end, _) = pages::again(folder, &day);
    let codes: Vec<&str> = going.iter().map(|one| one.code.as_str()).collect();
    terminal::say(&format!(
        "Forgotten: {}. Publish public/ now, and purge these at a cache in front of it:",
        codes.join(", ")
    ));
    for link in going.iter().flat_map(|one| &one.links) {
        terminal::print(&format!("{}\n", link.address));
    }
    Ok(end)
}
