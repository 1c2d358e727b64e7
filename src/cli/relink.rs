//! `relink`: a new link, and the page under the old one gone at once.

use std::collections::BTreeSet;
use std::path::Path;

use afterhue::pipeline;
use afterhue::record::ClientFile;
use afterhue::rights;
use afterhue::workspace::{self, Failure};

use super::args::{DayArguments, RelinkArguments};
use super::one_client;
use super::{End, at_fault, pages, terminal};

/// Gives one client, or every one, a new link.
pub(crate) fn run(arguments: &RelinkArguments) -> End {
    let wanted = usize::from(!arguments.all);
    let Some((folder, who)) = one_client::folder_first(&arguments.words, wanted) else {
        return End::WrongUse("name one client, or none with --all: afterhue relink [DIR] CLIENT".to_owned());
    };
    relink(&folder, who.first().map(String::as_str), arguments.day)
        .unwrap_or_else(|failure| End::Machine(failure.to_string()))
}

fn relink(folder: &Path, who: Option<&str>, day: DayArguments) -> Result<End, Failure> {
    // From reading to removing: a run of `pages` in between would write the old page again.
    let lock = workspace::lock(folder, terminal::waiting)?;
    pages::believe(folder, day.today)?;
    let opened = if who.is_some() { one_client::open(folder)? } else { one_client::open_to_move_all(folder)? };
    let clients: Vec<&ClientFile> = match who {
        Some(code) => match opened.client(code) {
            Ok(found) => vec![&found.history.client],
            Err(end) => return Ok(end),
        },
        None => opened.read.histories.iter().map(|history| &history.client).collect(),
    };
    let Some((salon, _)) = &opened.read.house else {
        terminal::tell(&opened.read.report, &opened.texts.all());
        return Ok(at_fault(&opened.texts));
    };
    // First every file, then every page: no page can come back under its old address.
    let (mut old, mut new) = (BTreeSet::new(), Vec::new());
    for client in clients {
        let Some(moved) = rights::raise(&opened.house(folder), client)? else {
            return Ok(End::WrongUse(format!(
                "{} cannot be given a higher link number; change it by hand",
                client.file
            )));
        };
        old.insert(pipeline::link_of(client, salon, &opened.secret));
        new.push((client.code.to_string(), pipeline::link_of(&moved, salon, &opened.secret)));
    }
    let codes = new.iter().map(|(code, _)| code.as_str());
    let gone =
        if opened.anew { rights::take_away_all(folder, codes)? } else { rights::take_away(folder, &old, codes)? };
    drop(lock);
    let (end, _) = pages::again(folder, &day);
    for (code, link) in &new {
        match who {
            Some(_) => terminal::print(&format!("{}\n", link.address)),
            None => terminal::print(&format!("{code} {}\n", link.address)),
        }
    }
    terminal::say(&format!("{} with old links taken away.", terminal::count(gone.len(), "file", "files")));
    if who.is_none() && !opened.read.at_fault.is_empty() {
        let codes: Vec<&str> = opened.read.at_fault.iter().map(String::as_str).collect();
        terminal::say(&format!("Not moved, because a file is at fault: {}.", codes.join(", ")));
    }
    terminal::say("Old cards and messages lead nowhere now. A new card for each:");
    for (code, _) in &new {
        terminal::say(&format!("  afterhue send {} {code} --card", folder.display()));
    }
    if opened.anew {
        // The old addresses followed from the secret that has gone, so nobody can name them.
        terminal::say(
            "The secret was gone, so a new one was made: keep a backup of private/link-secret. What it had sealed of",
        );
        terminal::say("forgotten clients opens no more, and a backup that brings one of them back is not told.");
        terminal::say(&format!(
            "Publish public/ now, and purge all of {}/c/ at a cache in front of it.",
            salon.base_address
        ));
        return Ok(end);
    }
    terminal::say("Publish public/ now, and purge these at a cache in front of it:");
    old.iter().for_each(|link| terminal::say(&format!("  {}", link.without_key())));
    Ok(end)
}
