//! Everything about one client removed, and a mark kept so that a backup does not quietly bring it back.

use std::collections::BTreeSet;
use std::path::Path;

use chrono::NaiveDate;

use crate::forecast::salon_estimate;
use crate::page::link::{Link, forgotten_mark, link};
use crate::pipeline::{self, LINK_NUMBERS_KEPT};
use crate::record::{ClientCode, History, Shareable};
use crate::site;
use crate::workspace::{self, BOOKINGS_FILE, ESTIMATE_FILE, Failure};

use super::about::named_in_kept;
use super::kept_card::{Card, card_of};
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
    /// How many appointments are in the book.
    pub booked: usize,
    /// The addresses that may have been a page.
    pub links: Vec<Link>,
    /// What the salon keeps, for its reason and until its day.
    pub card: Option<Card>,
    /// The words by which the person is known.
    pub known_by: Vec<String>,
}

impl Going {
    /// Whether there is nothing about the client.
    #[must_use]
    pub fn is_nothing(&self) -> bool {
        self.written.is_empty() && self.made.is_empty() && self.booked == 0
    }
}

/// Who was forgotten and is there again, in files, in the book or in what the chairside keeps.
#[must_use]
pub fn came_back(house: &House<'_>) -> BTreeSet<ClientCode> {
    let (mut codes, _) = pipeline::came_back(house.texts, house.secret);
    let forgotten = |code: &ClientCode| house.texts.forgotten.contains(&forgotten_mark(house.secret.bytes(), code));
    codes.extend(named_in_kept(house.folder).into_iter().filter(forgotten));
    codes
}

/// What would go for a client, and the card that would be kept from today on; without a day, from the machine's.
#[must_use]
pub fn going(house: &House<'_>, code: &ClientCode, today: Option<NaiveDate>) -> Going {
    let folder = house.folder;
    let about = pipeline::files_about(house.texts, code);
    let mut written: Vec<String> = about.iter().map(|source| source.name.clone()).collect();
    written.extend(kept_about(folder, code));
    written.extend(exports(folder, code));
    // What is found again by the code in its text alone goes first, the client's own file last.
    written.sort_by_key(|name| (name.starts_with("clients/"), name.starts_with("records/")));
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
    let diary = house.read.diary.as_ref();
    let booked = diary.map_or(0, |diary| diary.appointments.iter().filter(|one| one.client == *code).count());
    let mut known_by = vec![code.to_string()];
    if let Some(client) = known.map(|history| &history.client) {
        let contact = [&client.first_name, &client.contact.phone, &client.contact.email];
        known_by.extend(contact.into_iter().flatten().cloned());
    }
    let card = card_of(house, code, today);
    Going { code: code.clone(), written, made, booked, links, card, known_by }
}

/// The copies that the chairside made of a client, each a folder.
fn exports(folder: &Path, code: &ClientCode) -> Vec<String> {
    let part = exports_of(code);
    let days = workspace::private_names(folder, &part);
    days.into_iter().map(|day| format!("private/{part}/{day}")).collect()
}

/// Removes what goes, under the salon's lock that the caller holds; gives whether the salon's own estimate was made anew.
///
/// # Errors
/// When the machine refuses; whatever breaks off can be run again.
pub fn forget(house: &House<'_>, going: &[Going]) -> Result<bool, Failure> {
    let folder = house.folder;
    if let (Some(diary), Some(before)) = (&house.read.diary, &house.texts.bookings) {
        let kept = going.iter().fold(diary.clone(), |diary, one| diary.without(&one.code)).to_text();
        if kept != before.text {
            workspace::store_unless_changed(&folder.join(BOOKINGS_FILE), Some(&before.text), kept.as_bytes())?;
        }
    }
    workspace::drop_read_before(folder)?;
    let relearned = estimate_without(house, &going.iter().map(|one| &one.code).collect())?;
    for one in going {
        let mark = forgotten_mark(house.secret.bytes(), &one.code);
        if let Some(card) = &one.card {
            workspace::keep_card(folder, house.secret, &mark, card.until, &card.text)?;
        }
        // The mark before the files: whatever breaks off after it is told by `check`.
        workspace::keep_forgotten(folder, &mark)?;
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
    Ok(relearned)
}

/// The salon's estimate made anew without some clients, stored, when there is one and theirs are among its returns; gives whether it moved.
///
/// What a salon learned from one client alone is that client's own value.
fn estimate_without(house: &House<'_>, clients: &BTreeSet<&ClientCode>) -> Result<bool, Failure> {
    let Some((salon, _)) = house.read.house.as_ref().filter(|(salon, _)| !salon.estimate.classes.is_empty()) else {
        return Ok(false);
    };
    let goes = |history: &&History| clients.contains(&history.client.code);
    let mut going = house.read.histories.iter().filter(goes);
    if going.all(|history| history.visits.iter().all(|visit| visit.seen.is_none())) {
        return Ok(false);
    }
    let others = house.read.histories.iter().filter(|history| !goes(history)).map(History::shareable);
    let learned = salon_estimate(&others.collect::<Vec<Shareable>>(), salon).rounded();
    let moved = learned != salon.estimate;
    if moved {
        workspace::store(&house.folder.join(ESTIMATE_FILE), learned.to_text().as_bytes())?;
    }
    Ok(moved)
}

/// What there is to look into after somebody was forgotten: a sentence, and the files in which a word they were known by still stands.
///
/// Nothing when there is no such file.
#[must_use]
pub fn still_standing(folder: &Path, code: &ClientCode, known_by: &[String]) -> Option<(String, Vec<String>)> {
    let files = workspace::files_holding(folder, known_by);
    let sentence = format!(
        "Look into these: the code, name, phone or e-mail of {code} still stands there, or that of somebody of the same name:"
    );
    (!files.is_empty()).then_some((sentence, files))
}
