//! The book, stage by stage: who is due, a fit for it, and the files that show it.
//!
//! In: histories, the salon, the diary, busy times, today. Out: the due list, a fitted book. Knows nothing of: where the diary is kept.

use chrono::NaiveDate;
use rayon::prelude::*;

use super::read::Read;
use crate::diagnostic::{Checked, SourceText};
use crate::salon::Salon;
use crate::schedule::diary::{Busy, Diary, Stretch, identifier, read_busy};
use crate::schedule::due::{Due, in_order, of_client};
use crate::schedule::fit::{Asked, Book, Effort, book};
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
