//! `forget`: everything about one client removed, and a mark kept so that a backup does not quietly bring it back.

use std::collections::BTreeSet;
use std::io::{IsTerminal, Write};
use std::path::Path;

use afterhue::record::ClientCode;
use afterhue::rights::{self, ALL_CARDS, Going};
use afterhue::workspace::{self, Failure};

use super::args::{DayArguments, ForgetArguments};
use super::one_client;
use super::{End, kept_card, old_tests, pages, terminal};

/// Shows what goes, asks, and removes it.
pub(crate) fn run(arguments: &ForgetArguments) -> End {
    let wanted = usize::from(!(arguments.again || arguments.old_tests));
    let Some((folder, who)) = one_client::folder_first(&arguments.words, wanted) else {
        return End::WrongUse(
            "name one client, or none with --again or --old-tests: afterhue forget [DIR] CLIENT".to_owned(),
        );
    };
    if arguments.old_tests {
        return old_tests::run(&folder, arguments.yes, arguments.day);
    }
    let opened = match one_client::open(&folder) {
        Ok(opened) => opened,
        Err(failure) => return End::Machine(failure.to_string()),
    };
    let codes: BTreeSet<ClientCode> = match who.first() {
        Some(code) => ClientCode::try_new(code).into_iter().collect(),
        None => rights::came_back(&opened.house(&folder)),
    };
    let today = arguments.day.today;
    let going = codes.iter().map(|code| rights::going(&opened.house(&folder), code, today));
    let going: Vec<Going> = going.filter(|one| !one.is_nothing()).collect();
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
    if let Some(end) = unless_yes(arguments.yes) {
        return end;
    }
    match forget(&folder, &going, arguments.day) {
        Ok(end) => end,
        Err(failure) => End::Machine(failure.to_string()),
    }
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

/// Asks whether all that was shown may go; how the command ends when not.
pub(crate) fn unless_yes(yes: bool) -> Option<End> {
    if yes {
        return None;
    }
    match ask() {
        Some(true) => None,
        Some(false) => {
            terminal::say("Nothing was removed.");
            Some(End::Done)
        }
        None => Some(End::WrongUse(
            "nothing was removed: nobody is here to ask; say --yes to remove without asking".to_owned(),
        )),
    }
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
    let house = opened.house(folder);
    let going: Vec<Going> = shown.iter().map(|one| rights::going(&house, &one.code, day.today)).collect();
    if rights::forget(&house, &going)? {
        terminal::say("The salon's own estimate was made anew without these returns; the pages follow it.");
    }
    drop(lock);
    let (end, _) = pages::again(folder, &day);
    let codes: Vec<&str> = going.iter().map(|one| one.code.as_str()).collect();
    terminal::say(&format!(
        "Forgotten: {}. Publish public/ now, and purge these at a cache in front of it:",
        codes.join(", ")
    ));
    for link in going.iter().flat_map(|one| &one.links) {
        terminal::print(&format!("{}\n", link.without_key()));
    }
    for one in &going {
        if let Some((sentence, files)) = rights::still_standing(folder, &one.code, &one.known_by) {
            terminal::say(&sentence);
            files.iter().for_each(|name| terminal::say(&format!("  {name}")));
        }
    }
    Ok(end)
}
