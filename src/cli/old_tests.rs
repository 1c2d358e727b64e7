//! `forget --old-tests`: alert tests that the salon keeps no longer.

use std::path::Path;

use afterhue::pipeline::{self, OldTests};
use afterhue::plan::day_in_words;
use afterhue::rights;
use afterhue::workspace::{self, Failure};

use super::args::DayArguments;
use super::one_client::{self, Opened};
use super::{End, at_fault, forget, pages, terminal};

/// Shows which tests go, asks, and takes them out of their files.
pub(crate) fn run(folder: &Path, yes: bool, day: DayArguments) -> End {
    removed(folder, yes, day).unwrap_or_else(|failure| End::Machine(failure.to_string()))
}

fn removed(folder: &Path, yes: bool, day: DayArguments) -> Result<End, Failure> {
    let opened = one_client::open(folder)?;
    let shown = match old(&opened, day) {
        Ok(shown) => shown,
        Err(end) => return Ok(end),
    };
    if shown.is_empty() {
        terminal::say("No alert test is on record longer than the salon keeps one.");
        return Ok(End::Done);
    }
    terminal::say("These alert tests go:");
    for one in &shown {
        let days: Vec<String> = one.tests.iter().map(|(_, applied)| format!("of {}", day_in_words(*applied))).collect();
        terminal::say(&format!("  {}: {}", one.file, days.join(", ")));
    }
    if let Some(end) = forget::unless_yes(yes) {
        return Ok(end);
    }
    // Read again under the lock, as in the time it took to answer somebody may have saved a visit.
    let lock = workspace::lock(folder, terminal::waiting)?;
    pages::believe(folder, day.today)?;
    let opened = one_client::open(folder)?;
    let still: Vec<OldTests> =
        old(&opened, day).unwrap_or_default().into_iter().filter(|one| shown.contains(one)).collect();
    let left = rights::drop_old_tests(&opened.house(folder), &still)?;
    drop(lock);
    terminal::say(&format!("Removed from {}.", terminal::count(still.len() - left.len(), "file", "files")));
    if !left.is_empty() {
        terminal::say("Take them out of these yourself, as they are written in a way that is not changed safely:");
        left.iter().for_each(|name| terminal::say(&format!("  {name}")));
    }
    terminal::say("Backups keep what they hold, and so do visits that were begun at the chair and not finished.");
    let (end, _) = pages::again(folder, &day);
    Ok(match end {
        End::Done if !left.is_empty() => End::Faults,
        end => end,
    })
}

/// The tests that are too old, or why nobody can tell.
fn old(opened: &Opened, day: DayArguments) -> Result<Vec<OldTests>, End> {
    let Some((salon, _)) = &opened.read.house else {
        terminal::tell(&opened.read.report, &opened.texts.all());
        return Err(at_fault(&opened.texts));
    };
    if salon.retention.alert_test_days.is_none() {
        let why = "salon.toml sets no alert_test_days in [retention], so no alert test is too old";
        return Err(End::WrongUse(why.to_owned()));
    }
    let today = day.today.unwrap_or_else(|| workspace::today(salon.time_zone));
    Ok(pipeline::old_tests(&opened.read, salon, today))
}
