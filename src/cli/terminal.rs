//! What a person sees, and what another program reads.

#![expect(clippy::print_stderr, reason = "the one place where the program speaks")]

use std::io::IsTerminal;

use afterhue::diagnostic::{self, Diagnostic, Report, Severity, SourceText};

/// Says something to the person at the terminal.
pub(crate) fn say(text: &str) {
    eprintln!("{text}");
}

/// Prints data. A reader that has seen enough and closed the pipe is no failure.
pub(crate) fn print(text: &str) {
    use std::io::Write;
    let mut out = std::io::stdout().lock();
    let _ = out.write_all(text.as_bytes()).and_then(|()| out.flush());
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
    eprint!("{text}");
    say(&diagnostic::summary(report));
}

/// Tells the faults, and the rest in one line: for a command whose own words would be lost among them.
pub(crate) fn tell_faults(report: &Report, sources: &[SourceText]) {
    let is_fault = |item: &&Diagnostic| item.severity == Severity::Fault;
    let faults = Report { items: report.items.iter().filter(is_fault).cloned().collect() };
    let rest = Report { items: report.items.iter().filter(|item| !is_fault(item)).cloned().collect() };
    tell(&faults, sources);
    tell_in_a_line(&rest);
}

/// Tells how much there is to say, and where it is said.
pub(crate) fn tell_in_a_line(report: &Report) {
    if !report.items.is_empty() {
        say(&format!("{}: run afterhue check to see them.", diagnostic::summary(report)));
    }
}

/// A number with its noun: "1 page", "24 pages".
pub(crate) fn count(number: usize, one: &str, many: &str) -> String {
    format!("{number} {}", if number == 1 { one } else { many })
}
