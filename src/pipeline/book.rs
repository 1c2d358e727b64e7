//! The book, stage by stage: who is due, a fit for it, and the files that show it.
//!
//! In: histories, the salon, the diary, busy times, today. Out: the due list, a fitted book. Knows nothing of: where the diary is kept.

use std::collections::BTreeMap;

use chrono::NaiveDate;
use rayon::prelude::*;

use super::build::words_of_house;
use super::read::Read;
use crate::diagnostic::{Checked, Diagnostic, SourceText};
use crate::page::board::{BoardSources, board};
use crate::page::messages::{Message, messages};
use crate::page::review::review_svg;
use crate::page::sheet::sheets;
use crate::page::words::Words;
use crate::record::ClientCode;
use crate::salon::Salon;
use crate::schedule::diary::{Busy, Diary, EventWords, Stretch, book_calendar, identifier, read_busy};
use crate::schedule::due::{Due, in_order, of_client};
use crate::schedule::fit::{Asked, Book, Effort, book};
use crate::schedule::review::{Review, look_back};
use crate::site::theme::Theme;
use crate::site::{Files, render};
use crate::workspace::Secret;

/// Everybody's due list, overdue first.
#[must_use]
pub fn due_list(read: &Read, salon: &Salon, diary: &Diary, today: NaiveDate) -> Vec<Due> {
    in_order(read.histories.par_iter().map(|history| of_client(history, salon, diary, today)).collect())
}

/// The same list after something changed in one client's bookings.
#[must_use]
pub fn due_again(
    mut due: Vec<Due>,
    read: &Read,
    salon: &Salon,
    diary: &Diary,
    code: &str,
    today: NaiveDate,
) -> Vec<Due> {
    let history = read.histories.iter().find(|history| history.client.code.as_str() == code);
    let old = due.iter_mut().find(|due| due.client.as_str() == code);
    if let (Some(history), Some(old)) = (history, old) {
        *old = of_client(history, salon, diary, today);
    }
    in_order(due)
}

/// The busy times of one calendar in the weeks of a book. Our own events in it are not busy times.
#[must_use]
pub fn busy_times(
    source: &SourceText,
    salon: &Salon,
    diary: &Diary,
    secret: &Secret,
    (today, weeks): (NaiveDate, u32),
) -> Checked<Vec<Stretch>> {
    let ours: std::collections::BTreeSet<String> =
        (1..=diary.last_number).map(|number| identifier(secret.bytes(), number)).collect();
    let last = today.checked_add_days(chrono::Days::new(u64::from(weeks) * 7 + 1)).unwrap_or(today);
    read_busy(source, salon.time_zone, today, last, &|uid| ours.contains(uid))
}

/// The files that show a book: the board, the stylist sheets, the calendar. All of them private.
///
/// # Errors
/// A fault of the salon's own theme.
pub fn book_files(
    read: &Read,
    (salon, theme): (&Salon, &Theme),
    secret: &Secret,
    due: &[Due],
    (book, busy): (&Book, &Busy),
    (today, weeks): (NaiveDate, u32),
) -> Result<Files, Box<Diagnostic>> {
    let words = words_of_house(salon);
    let clients = || read.histories.iter().map(|history| &history.client);
    let named = |shown: bool| -> BTreeMap<ClientCode, String> {
        let kept = clients().filter(|client| !shown || client.show_first_name);
        kept.filter_map(|client| Some((client.code.clone(), client.first_name.clone()?))).collect()
    };
    let sources = BoardSources { salon, due, book, busy, names: &named(false), span: (today, weeks), words };
    let board = render::board(theme, &board(&sources))?;
    let sheets = render::sheets(theme, &sheets(due, &book.diary, salon, today, words))?;
    let event_words = EventWords {
        visit: words.pattern("event.visit"),
        short: words.pattern("event.short"),
        proposed: words.pattern("board.proposed"),
    };
    let calendar = book_calendar(&book.diary, salon.time_zone, secret.bytes(), &named(true), &event_words);
    let files = [("board.html", board), ("sheets.html", sheets), ("book.ics", calendar)];
    Ok(files.into_iter().map(|(name, text)| (format!("private/{name}"), text.into_bytes())).collect())
}

/// The messages to send for a book.
#[must_use]
pub fn messages_of(read: &Read, salon: &Salon, diary: &Diary, today: NaiveDate) -> Vec<Message> {
    messages(&read.histories, diary, salon, today, words_of_house(salon))
}

/// A look back, and its picture.
#[must_use]
pub fn look_back_at(read: &Read, salon: &Salon, diary: &Diary, today: NaiveDate) -> (Review, String) {
    let review = look_back(&read.histories, diary, salon, today);
    let picture = review_svg(&review, words_of_house(salon));
    (review, picture)
}

/// Fits what is due into the chairs.
#[must_use]
pub fn fitted(
    salon: &Salon,
    due: &[Due],
    diary: &Diary,
    busy: &Busy,
    (today, weeks): (NaiveDate, u32),
    effort: &Effort<'_>,
) -> Book {
    book(&Asked { salon, due, diary, busy, today, weeks }, effort)
}
