//! `learn`: the salon's own estimate, made anew from every return on record.

use std::collections::BTreeSet;
use std::path::Path;

use afterhue::forecast::salon_estimate;
use afterhue::pipeline::{self, Read};
use afterhue::record::{ClientCode, History, Shareable};
use afterhue::salon::SalonEstimate;
use afterhue::science::dye::class::DyeClass;
use afterhue::science::fade::pooling::ClassEstimate;
use afterhue::units::Worded;
use afterhue::workspace::{self, ESTIMATE_FILE, Failure};

use super::args::FolderArguments;
use super::{End, terminal};

/// Makes the estimate, stores it and says what moved.
pub(crate) fn run(arguments: &FolderArguments) -> End {
    let locked = workspace::lock(&arguments.folder, terminal::waiting);
    locked.and_then(|_lock| learn(arguments)).unwrap_or_else(|failure| End::Machine(failure.to_string()))
}

fn learn(arguments: &FolderArguments) -> Result<End, Failure> {
    let texts = workspace::read_folder(&arguments.folder)?;
    let read = pipeline::read(&texts);
    terminal::tell(&read.report, &texts.all());
    let Some((salon, _)) = &read.house else {
        terminal::say("Nothing was learned: the salon's own files have to be put right first.");
        return Ok(End::Faults);
    };
    let histories: Vec<Shareable> = read.histories.iter().map(History::shareable).collect();
    let learned = salon_estimate(&histories, salon).rounded();
    if learned == salon.estimate {
        terminal::say("Nothing moved: the returns on record say what was known already.");
    } else {
        workspace::store(&arguments.folder.join(ESTIMATE_FILE), learned.to_text().as_bytes())?;
        terminal::print(&moved(&salon.estimate, &learned));
        terminal::say("The pages follow it when they are written next: afterhue pages");
    }
    Ok(if read.report.has_fault() { End::Faults } else { End::Done })
}

/// The salon's estimate made anew without some clients, stored, when there is one and theirs are among its returns.
///
/// What a salon learned from one client alone is that client's own value.
pub(crate) fn without(folder: &Path, read: &Read, clients: &BTreeSet<ClientCode>) -> Result<(), Failure> {
    let Some((salon, _)) = read.house.as_ref().filter(|(salon, _)| !salon.estimate.classes.is_empty()) else {
        return Ok(());
    };
    let goes = |history: &&History| clients.contains(&history.client.code);
    if read.histories.iter().filter(goes).all(|history| history.visits.iter().all(|visit| visit.seen.is_none())) {
        return Ok(());
    }
    let histories = read.histories.iter().filter(|history| !goes(history)).map(History::shareable);
    let learned = salon_estimate(&histories.collect::<Vec<Shareable>>(), salon).rounded();
    if learned != salon.estimate {
        workspace::store(&folder.join(ESTIMATE_FILE), learned.to_text().as_bytes())?;
        terminal::say("The salon's own estimate was made anew without these returns; the pages follow it.");
    }
    Ok(())
}

/// What moved, a line for each dye class that did.
fn moved(before: &SalonEstimate, after: &SalonEstimate) -> String {
    let classes: BTreeSet<DyeClass> = before.classes.keys().chain(after.classes.keys()).copied().collect();
    let mut out = String::new();
    for class in classes.into_iter().filter(|class| before.of(*class) != after.of(*class)) {
        let line = format!("{}: {} -> {}\n", class.word(), told(before.of(class)), told(after.of(class)));
        out.push_str(&line);
    }
    out
}

/// "leaves 12 % faster than published, clients differ by a factor of 1.4 (14 returns)".
fn told(known: Option<ClassEstimate>) -> String {
    let Some(known) = known else { return "as published".to_owned() };
    let percent = (known.shift.exp() - 1.0) * 100.0;
    let how = if percent < 0.0 { "slower" } else { "faster" };
    format!(
        "leaves {:.0} % {how} than published, 8 clients in 10 within a factor of {:.2} of that ({})",
        percent.abs(),
        (known.sd * 1.2816).exp(),
        terminal::count(known.returns as usize, "return", "returns")
    )
}
