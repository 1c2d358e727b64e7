//! `forget`: everything about one client removed, and a mark kept so that a backup does not quietly bring it back.

use std::collections::BTreeSet;
use std::io::{IsTerminal, Write};
use std::path::Path;

use afterhue::chairside;
use afterhue::diagnostic::SourceText;
use afterhue::page::link::{Link, forgotten_mark, link};
use afterhue::pipeline::{self, LINK_NUMBERS_KEPT};
use afterhue::record::{self, ClientCode};
use afterhue::site;
use afterhue::workspace::{self, Failure};
use chrono::NaiveDate;

use super::args::{DayArguments, ForgetArguments};
use super::kept_card::{self, Card};
use super::one_client::{self, Opened};
use super::relink::{public_files, single_card};
use super::{End, book, learn, pages, terminal};

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
    /// How many appointments are in the book.
    booked: usize,
    links: Vec<Link>,
    /// What the salon keeps, for its reason and until its day.
    card: Option<Card>,
    /// The words by which the person is known.
    known_by: Vec<String>,
}

impl Going {
    fn is_nothing(&self) -> bool {
        self.written.is_empty() && self.made.is_empty() && self.booked == 0
    }
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
        None => came_back(&folder, &opened),
    };
    let today = arguments.day.today;
    let going: Vec<Going> = codes.iter().map(|code| going(&folder, code, &opened, today)).collect();
    let going: Vec<Going> = going.into_iter().filter(|one| !one.is_nothing()).collect();
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

/// Who was forgotten and is there again, in files, in the book or in what the chairside keeps.
fn came_back(folder: &Path, opened: &Opened) -> BTreeSet<ClientCode> {
    let (mut codes, _) = pipeline::came_back(&opened.texts, &opened.secret);
    for part in ["drafts", "set-aside"] {
        for name in workspace::private_names(folder, part) {
            let Some(text) = workspace::kept_private(folder, &format!("{part}/{name}")).ok().flatten() else {
                continue;
            };
            let draft = serde_json::from_str::<serde_json::Value>(&text).ok();
            let code = match draft.as_ref().and_then(|draft| draft["client"].as_str()) {
                Some(code) => ClientCode::try_new(code),
                None => record::client_named_in(&SourceText::new(name, text)),
            };
            let forgotten =
                |code: &ClientCode| opened.texts.forgotten.contains(&forgotten_mark(opened.secret.bytes(), code));
            codes.extend(code.filter(forgotten));
        }
    }
    codes
}

fn going(folder: &Path, code: &ClientCode, opened: &Opened, today: Option<NaiveDate>) -> Going {
    let about = pipeline::files_about(&opened.texts, code);
    let mut written: Vec<String> = about.iter().map(|source| source.name.clone()).collect();
    written.extend(chairside::kept_about(folder, code));
    // What is found again by the code in its text alone goes first, the client's own file last.
    written.sort_by_key(|name| (name.starts_with("clients/"), name.starts_with("records/")));
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
    let diary = opened.read.diary.as_ref();
    let booked = diary.map_or(0, |diary| diary.appointments.iter().filter(|one| one.client == *code).count());
    let mut known_by = vec![code.to_string()];
    if let Some(client) = known.map(|history| &history.client) {
        let contact = [&client.first_name, &client.contact.phone, &client.contact.email];
        known_by.extend(contact.into_iter().flatten().cloned());
    }
    let card = kept_card::card_of(opened, code, today);
    Going { code: code.clone(), written, made, booked, links, card, known_by }
}

fn show(going: &[Going]) {
    for one in going {
        terminal::say(&format!("This goes, for {}:", one.code));
        one.written.iter().chain(&one.made).for_each(|name| terminal::say(&format!("  {name}")));
        terminal::say(&format!("  the card in {ALL_CARDS}"));
        terminal::say(&format!(
            "  {} in the book; its files go, and the next `afterhue book` writes them anew",
            terminal::count(one.booked, "appointment", "appointments")
        ));
        terminal::say("  what the salon's own estimate learned from these visits");
        if let Some(card) = &one.card {
            kept_card::show(card);
        }
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
    pages::believe(folder, day.today)?;
    let opened = one_client::open(folder)?;
    let going: Vec<Going> = shown.iter().map(|one| going(folder, &one.code, &opened, day.today)).collect();
    if let (Some(diary), Some(before)) = (&opened.read.diary, &opened.texts.bookings) {
        let kept = going.iter().fold(diary.clone(), |diary, one| diary.without(&one.code));
        book::keep(folder, Some(&before.text), &kept)?;
    }
    let codes: BTreeSet<ClientCode> = going.iter().map(|one| one.code.clone()).collect();
    learn::without(folder, &opened.read, &codes)?;
    for one in &going {
        let mark = forgotten_mark(opened.secret.bytes(), &one.code);
        if let Some(card) = &one.card {
            workspace::keep_card(folder, &opened.secret, &mark, card.until, &card.text)?;
        }
        // The mark before the files: whatever breaks off after it is told by `check`.
        workspace::keep_forgotten(folder, &mark)?;
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
    for one in &going {
        let left = workspace::files_holding(folder, &one.known_by);
        if !left.is_empty() {
            terminal::say(&format!(
                "Look into these: the code, name, phone or e-mail of {} still stands there, or that of somebody of the same name:",
                one.code
            ));
            left.iter().for_each(|name| terminal::say(&format!("  {name}")));
        }
    }
    Ok(end)
}
