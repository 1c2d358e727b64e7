//! Everything about one client removed, and a mark kept so that a backup does not quietly bring it back.

use std::collections::BTreeSet;
use std::path::Path;

use crate::page::link::{Link, forgotten_mark, link};
use crate::pipeline::{self, LINK_NUMBERS_KEPT};
use crate::record::ClientCode;
use crate::site;
use crate::workspace::{self, BOOKINGS_FILE, Failure};

use super::{House, exports_of, kept_about, public_files, single_card};

/// The sheet of all cards: written anew without the client.
pub const ALL_CARDS: &str = "private/cards.html";

/// The files of the book that name clients: the next `book` writes them anew.
const OF_THE_BOOK: [&str; 5] =
    ["private/board.html", "private/sheets.html", "private/book.ics", "private/messages.csv", "private/review.svg"];

/// What goes for one client.
#[derive(Debug, Clone)]
pub struct Going {
    /// Whose it is.
    pub code: ClientCode,
    /// What a person wrote, relative to the salon folder; the client's own file last, so that a run that broke off can be run again.
    pub written: Vec<String>,
    /// What this program wrote.
    pub made: BTreeSet<String>,
    /// The addresses that may have been a page.
    pub links: Vec<Link>,
}

/// What would go for a client.
#[must_use]
pub fn going(house: &House<'_>, code: &ClientCode) -> Going {
    let folder = house.folder;
    let about = pipeline::files_about(house.texts, code);
    let mut written: Vec<String> = about.iter().map(|source| source.name.clone()).collect();
    written.extend(kept_about(folder, code));
    written.extend(exports(folder, code));
    written.sort_by_key(|name| name.starts_with("clients/"));
    let base = house.read.house.as_ref().map_or("", |(salon, _)| salon.base_address.as_str());
    let known = house.read.histories.iter().find(|history| history.client.code == *code);
    let last = known.map_or(0, |history| history.client.link_number).max(LINK_NUMBERS_KEPT);
    let links: Vec<Link> = (1..=last).map(|number| link(house.secret.bytes(), code, number, base)).collect();
    let card = single_card(code.as_str());
    let made = links.iter().flat_map(public_files).chain([card]).filter(|name| folder.join(name).exists()).collect();
    // Addresses that never were a page need no purging; those below the present number may have been.
    let used = known.map_or(0, |history| history.client.link_number) as usize;
    let was = |at: usize, link: &Link| at < used || folder.join("public").join(&link.path).exists();
    let links = links.into_iter().enumerate().filter(|(at, link)| was(*at, link)).map(|(_, link)| link).collect();
    Going { code: code.clone(), written, made, links }
}

/// The copies that the chairside made of a client, each a folder.
fn exports(folder: &Path, code: &ClientCode) -> Vec<String> {
    let part = exports_of(code);
    let days = workspace::private_names(folder, &part);
    days.into_iter().map(|day| format!("private/{part}/{day}")).collect()
}

/// Removes what goes, under the salon's lock that the caller holds.
///
/// # Errors
/// When the machine refuses; whatever breaks off can be run again.
pub fn forget(house: &House<'_>, going: &[Going]) -> Result<(), Failure> {
    let folder = house.folder;
    if let (Some(diary), Some(before)) = (&house.read.diary, &house.texts.bookings) {
        let kept = going.iter().fold(diary.clone(), |diary, one| diary.without(&one.code)).to_text();
        if kept != before.text {
            workspace::store_unless_changed(&folder.join(BOOKINGS_FILE), Some(&before.text), kept.as_bytes())?;
        }
    }
    for one in going {
        // The mark first: whatever breaks off after it is told by `check`.
        workspace::keep_forgotten(folder, &forgotten_mark(house.secret.bytes(), &one.code))?;
        let mut made = one.made.clone();
        made.insert(ALL_CARDS.to_owned());
        made.extend(OF_THE_BOOK.map(str::to_owned));
        site::remove(folder, &made).map_err(|failure| Failure::io("remove", &failure.path, &failure.error))?;
        for name in &one.written {
            let path = folder.join(name);
            let gone = if path.is_dir() { std::fs::remove_dir_all(&path) } else { std::fs::remove_file(&path) };
            gone.map_err(|error| Failure::io("remove", &path, &error))?;
        }
        // Its name is the client's code.
        let _ = std::fs::remove_dir(folder.join("private").join(exports_of(&one.code)));
    }
    Ok(())
}
