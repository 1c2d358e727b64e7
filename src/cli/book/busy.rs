//! The calendars named with `--busy`.

use std::path::Path;

use afterhue::pipeline;
use afterhue::salon::Salon;
use afterhue::schedule::diary::{Busy, Diary};
use afterhue::workspace::{self, Secret};
use chrono::NaiveDate;

use crate::cli::args::BookArguments;
use crate::cli::{End, terminal};

/// The busy times of every calendar named; each fault is told.
pub(crate) fn busy(
    arguments: &BookArguments,
    salon: &Salon,
    diary: &Diary,
    secret: &Secret,
    span: (NaiveDate, u32),
) -> Result<Busy, End> {
    let mut busy = Busy::default();
    for named in &arguments.busy {
        let (stylist, path) = match named.split_once('=') {
            Some((code, path)) => (Some(code), path),
            None => (None, named.as_str()),
        };
        if let Some(code) = stylist.filter(|code| salon.stylists.iter().all(|one| one.code != *code)) {
            let codes: Vec<&str> = salon.stylists.iter().map(|one| one.code.as_str()).collect();
            return Err(End::WrongUse(format!(
                "there is no stylist \"{code}\"; the stylists are {}",
                codes.join(", ")
            )));
        }
        let text = workspace::read_calendar(Path::new(path));
        let Some(source) = text.value else {
            terminal::tell(&text.report, &[]);
            return Err(End::Faults);
        };
        let found = pipeline::busy_times(&source, salon, diary, secret, span);
        terminal::tell(&found.report, std::slice::from_ref(&source));
        let Some(stretches) = found.value else { return Err(End::Faults) };
        match stylist {
            Some(code) => busy.stylists.entry(code.to_owned()).or_default().extend(stretches),
            None => busy.house.extend(stretches),
        }
    }
    Ok(busy)
}
