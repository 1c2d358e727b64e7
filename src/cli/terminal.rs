//! What a person sees, and what another program reads.

use std::io::{ErrorKind, IsTerminal, Write};
use std::path::Path;
use std::sync::OnceLock;

use afterhue::diagnostic::{self, Report, Severity, SourceText};

use super::cautions;

/// Says something to the person at the terminal. When nobody can hear it, on a full disk or a closed pipe, the work goes on.
pub(crate) fn say(text: &str) {
    speak(&format!("{text}\n"));
}

fn speak(text: &str) {
    let _ = std::io::stderr().lock().write_all(text.as_bytes());
}

/// Says that another run is writing in the same salon folder.
pub(crate) fn waiting() {
    say("Another afterhue is writing in this salon folder; this one waits until it has ended.");
}

/// Why data could not be printed, the first time that happened.
static UNPRINTED: OnceLock<String> = OnceLock::new();

/// Prints data. A reader that has seen enough and closed the pipe is no failure; a full disk is, and [`unprinted`] tells it.
pub(crate) fn print(text: &str) {
    let mut out = std::io::stdout().lock();
    if let Err(error) = out.write_all(text.as_bytes()).and_then(|()| out.flush())
        && error.kind() != ErrorKind::BrokenPipe
    {
        let _ = UNPRINTED.set(error.to_string());
    }
}

/// Why some data could not be printed, if so.
pub(crate) fn unprinted() -> Option<&'static str> {
    UNPRINTED.get().map(String::as_str)
}

/// Tells everything there is to say about the salon's files, in colour where a person watches.
pub(crate) fn tell(report: &Report, sources: &[SourceText]) {
    if report.items.is_empty() {
        return;
    }
    let text = if std::io::stderr().is_terminal() {
        diagnostic::render_styled(report, sources)
    } else {
        diagnostic::render(report, sources)
    };
    speak(&text);
    say(&diagnostic::summary(report));
}

/// Tells what must be put right, without what is only worth knowing.
pub(crate) fn tell_only_faults(report: &Report, sources: &[SourceText]) {
    let items = report.items.iter().filter(|item| item.severity == Severity::Fault).cloned().collect();
    tell(&Report { items }, sources);
}

/// Tells the faults, and the rest in one line: for a command whose own words would be lost among them.
pub(crate) fn tell_faults(report: &Report, sources: &[SourceText], folder: &Path) {
    let (faults, rest) = faults_and_rest(report);
    tell(&faults, sources);
    tell_in_a_line(&rest, folder);
}

/// Tells the faults, and the rest by kind when it is much: for a command whose result comes after it.
pub(crate) fn tell_by_kind(report: &Report, sources: &[SourceText], folder: &Path) {
    let (faults, rest) = faults_and_rest(report);
    if !cautions::are_many(&rest) {
        return tell(report, sources);
    }
    // What has to be put right stands nearest to the result.
    speak(&cautions::by_kind(&rest, folder));
    tell(&faults, sources);
}

fn faults_and_rest(report: &Report) -> (Report, Report) {
    let (faults, rest) = report.items.iter().cloned().partition(|item| item.severity == Severity::Fault);
    (Report { items: faults }, Report { items: rest })
}

/// Tells how much there is to say, and where it is said.
pub(crate) fn tell_in_a_line(report: &Report, folder: &Path) {
    if !report.items.is_empty() {
        let told = report.items.len();
        let them = if told == 1 { "it" } else { "them" };
        say(&format!("{}: to see {them}, afterhue check {}", diagnostic::summary(report), folder.display()));
    }
}

/// A number with its noun: "1 page", "24 pages".
pub(crate) fn count(number: usize, one: &str, many: &str) -> String {
    format!("{number} {}", if number == 1 { one } else { many })
}
