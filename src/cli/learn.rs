//! `learn`: the salon's own estimate, made anew from every return on record.

use std::collections::BTreeSet;

use afterhue::forecast::salon_estimate;
use afterhue::pipeline;
use afterhue::record::{History, Shareable};
use afterhue::salon::SalonEstimate;
use afterhue::science::dye::class::DyeClass;
use afterhue::science::fade::pooling::ClassEstimate;
use afterhue::units::Worded;
use afterhue::workspace::{self, ESTIMATE_FILE, Failure};

use super::args::FolderArguments;
use super::{End, at_fault, terminal};

/// Makes the estimate, stores it and says what moved.
pub(crate) fn run(arguments: &FolderArguments) -> End {
    let locked = workspace::lock(&arguments.folder, terminal::waiting);
    locked.and_then(|_lock| learn(arguments)).unwrap_or_else(|failure| End::Machine(failure.to_string()))
}

fn learn(arguments: &FolderArguments) -> Result<End, Failure> {
    let texts = workspace::read_folder(&arguments.folder)?;
    let read = pipeline::read(&texts);
    terminal::tell_by_kind(&read.report, &texts.all(), &arguments.folder);
    let Some((salon, _)) = &read.house else {
        terminal::say("Nothing was learned: the salon's own files have to be put right first.");
        return Ok(at_fault(&texts));
    };
    let histories: Vec<Shareable> = read.histories.iter().map(History::shareable).collect();
    let learned = salon_estimate(&histories, salon).rounded();
    if learned == salon.estimate {
        terminal::say("Nothing moved: the returns on record say what was known already.");
    } else {
        workspace::store(&arguments.folder.join(ESTIMATE_FILE), learned.to_text().as_bytes())?;
        terminal::print(&moved(&salon.estimate, &learned));
        terminal::say(&format!(
            "The pages follow it when they are written next: afterhue pages {}",
            arguments.folder.display()
        ));
    }
    Ok(if read.report.has_fault() { at_fault(&texts) } else { End::Done })
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
