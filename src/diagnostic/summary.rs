//! A report in one line.

use std::collections::BTreeSet;

use super::{Report, Severity};

/// A report in one line: "2 faults and 1 caution in 3 files", or "no faults".
#[must_use]
pub fn summary(report: &Report) -> String {
    let count = |severity| report.items.iter().filter(|item| item.severity == severity).count();
    let parts: Vec<String> = [(Severity::Fault, "fault"), (Severity::Caution, "caution"), (Severity::Note, "note")]
        .into_iter()
        .filter(|(severity, _)| count(*severity) > 0)
        .map(|(severity, word)| counted(count(severity), word))
        .collect();
    let Some((last, before)) = parts.split_last() else {
        return "no faults".to_owned();
    };
    let told = if before.is_empty() { last.clone() } else { format!("{} and {last}", before.join(", ")) };
    let files: BTreeSet<&str> = report.items.iter().map(|item| item.file.as_str()).collect();
    format!("{told} in {}", counted(files.len(), "file"))
}

fn counted(number: usize, word: &str) -> String {
    format!("{number} {word}{}", if number == 1 { "" } else { "s" })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::diagnostic::Diagnostic;

    #[test]
    fn a_report_is_told_in_one_line() {
        let mut report = Report::default();
        assert_eq!(summary(&report), "no faults");
        report.push(Diagnostic::caution("b.toml", "careful"));
        assert_eq!(summary(&report), "1 caution in 1 file");
        report.push(Diagnostic::fault("a.toml", "wrong"));
        report.push(Diagnostic::fault("a.toml", "wrong again"));
        assert_eq!(summary(&report), "2 faults and 1 caution in 2 files");
        report.push(Diagnostic::note("c.toml", "by the way"));
        assert_eq!(summary(&report), "2 faults, 1 caution and 1 note in 3 files");
    }
}
