//! The calendars whose times are kept free, as `book --busy` keeps them.
//!
//! In: names such as `rosa.ics` or `rosa=/home/rosa/work.ics`. Out: busy times, or which calendar cannot be read and why.
//! Knows nothing of: pages.

use std::path::Path;

use chrono::NaiveDate;

use crate::diagnostic::Severity;
use crate::pipeline;
use crate::salon::Salon;
use crate::schedule::diary::{Busy, Diary};
use crate::workspace::{self, Secret};

/// Weeks looked ahead: as far as a plan books.
const WEEKS: u32 = 26;

/// Whose calendar is named, and its file: `rosa=/home/rosa/work.ics`, or a file alone for the whole salon.
pub(super) fn calendar(named: &str) -> (Option<&str>, &Path) {
    let (stylist, file) = named.split_once('=').map_or((None, named), |(code, file)| (Some(code), file));
    (stylist, Path::new(file))
}

/// The busy times of every calendar named.
///
/// # Errors
/// In words, when a calendar cannot be read or a stylist is not of this salon: then nothing may be booked, because nobody knows what is free.
pub(super) fn busy_of(
    named: &[String],
    (salon, diary): (&Salon, &Diary),
    secret: &Secret,
    today: NaiveDate,
) -> Result<Busy, String> {
    let mut busy = Busy::default();
    for named in named {
        let (stylist, path) = calendar(named);
        if let Some(code) = stylist.filter(|code| salon.stylists.iter().all(|one| one.code != *code)) {
            return Err(format!("the calendar {} is to be of a stylist \"{code}\", and there is none", path.display()));
        }
        let text = workspace::read_calendar(path);
        let found = match text.value {
            Some(source) => pipeline::busy_times(&source, salon, diary, secret, (today, WEEKS)),
            None => crate::diagnostic::Checked::new(None, text.report),
        };
        let Some(stretches) = found.value else {
            let fault = found.report.items.iter().find(|one| one.severity == Severity::Fault);
            let why = fault.map_or("nothing in it can be made out", |one| one.message.as_str());
            return Err(format!("the calendar {} cannot be read, and its times must stay free: {why}", path.display()));
        };
        match stylist {
            Some(code) => busy.stylists.entry(code.to_owned()).or_default().extend(stretches),
            None => busy.house.extend(stretches),
        }
    }
    Ok(busy)
}
