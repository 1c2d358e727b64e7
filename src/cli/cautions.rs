//! Many cautions in a few lines, for a command whose own words would be lost among them.
//!
//! In: a report, the salon folder. Out: lines for people, by kind with counts. Knows nothing of: faults, which are always told in full.

use std::path::Path;

use afterhue::diagnostic::{self, Diagnostic, Report, Severity};

/// As many are told in full: whoever has just written a record wants to read what there is about it.
const IN_FULL: usize = 2;
/// As many kinds have a line of their own.
const KINDS: usize = 8;
/// As many files are named in a line.
const NAMED: usize = 3;

/// Cautions that say the same of different files.
struct Kind<'a> {
    severity: Severity,
    message: &'a str,
    number: usize,
    files: Vec<&'a str>,
    /// A hint that names a command of ours: short enough to stand here, and quickly done.
    command: Option<&'a str>,
}

/// Whether a report has so much beside its faults that it is told by kind.
pub(super) fn are_many(rest: &Report) -> bool {
    rest.items.len() > IN_FULL
}

/// "13 cautions and 1 note in 12 files:", a line for each kind, and the command that tells each in full.
pub(super) fn by_kind(rest: &Report, folder: &Path) -> String {
    let kinds = kinds(rest);
    let width = kinds.iter().map(|kind| kind.number.to_string().len()).max().unwrap_or(1);
    let mut out = format!("{}:\n", diagnostic::summary(rest));
    for kind in kinds.iter().take(KINDS) {
        out += &format!("  {:>width$}  {}: {}\n", kind.number, kind.message, named(&kind.files));
        out.extend(kind.command.map(|command| format!("  {:width$}  {command}\n", "")));
    }
    if let Some(more) = kinds.len().checked_sub(KINDS).filter(|more| *more > 0) {
        out += &format!("  and {more} more {}\n", if more == 1 { "kind" } else { "kinds" });
    }
    out + &format!("Each in full, with what to do: afterhue check {}\n\n", folder.display())
}

/// The kinds, cautions before notes, the most frequent first.
fn kinds(rest: &Report) -> Vec<Kind<'_>> {
    let mut kinds: Vec<Kind<'_>> = Vec::new();
    for item in rest.in_order() {
        let same = |kind: &&mut Kind<'_>| kind.severity == item.severity && alike(kind.message, &item.message);
        match kinds.iter_mut().find(same) {
            Some(kind) => kind.take(item),
            None => kinds.push(Kind::of(item)),
        }
    }
    kinds.sort_by_key(|kind| (kind.severity < Severity::Caution, std::cmp::Reverse(kind.number)));
    kinds
}

impl<'a> Kind<'a> {
    fn of(item: &'a Diagnostic) -> Self {
        let files = vec![item.file.as_str()];
        let command = item.hints.iter().map(String::as_str).find(|hint| hint.contains("afterhue "));
        Self { severity: item.severity, message: head(&item.message), number: 1, files, command }
    }

    fn take(&mut self, item: &'a Diagnostic) {
        self.number += 1;
        if self.files.last() != Some(&item.file.as_str()) {
            self.files.push(&item.file);
        }
    }
}

/// What a message says before it goes into what differs from file to file.
fn head(message: &str) -> &str {
    message.split_once(": ").map_or(message, |(head, _)| head)
}

/// Whether two messages say the same but for their numbers and days.
fn alike(one: &str, other: &str) -> bool {
    let words =
        |message| str::split_whitespace(head(message)).filter(|word| !word.contains(|c: char| c.is_ascii_digit()));
    words(one).eq(words(other))
}

/// "clover-21, moth-20, quartz-26 and 4 more": without the folders and the ending that all of them have.
fn named(files: &[&str]) -> String {
    let short = |file: &&str| {
        let of_salon = ["clients/", "records/"].iter().any(|folder| file.starts_with(folder));
        let name = if of_salon { file.rsplit('/').next().unwrap_or(file) } else { file };
        name.strip_suffix(".toml").filter(|_| of_salon).unwrap_or(name).to_owned()
    };
    let first = files.iter().take(NAMED).map(short).collect::<Vec<_>>().join(", ");
    match files.len().saturating_sub(NAMED) {
        0 => first,
        more => format!("{first} and {more} more"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn report(items: impl IntoIterator<Item = Diagnostic>) -> Report {
        Report { items: items.into_iter().collect() }
    }

    #[test]
    fn cautions_of_a_kind_share_a_line_with_their_count_and_come_before_notes() {
        let mut items = vec![Diagnostic::note("records/2026/2026-11-24-robin-24.toml", "a stage is written")];
        items.extend(["ash-14", "birch-11", "fern-07", "moth-20", "reed-12"].map(|code| {
            Diagnostic::caution(&format!("clients/{code}.toml"), format!("health facts not recorded: what {code} said"))
        }));
        items.push(Diagnostic::caution("records/2026/2026-01-02-ash-14.toml", "14 % peroxide is over the legal 12 %"));
        items.push(Diagnostic::caution("records/2026/2026-03-04-ash-14.toml", "15 % peroxide is over the legal 12 %"));
        items.push(Diagnostic::caution("salon.toml", "the salon is closed on monday").hint("Mend the days"));
        let back = Diagnostic::caution("clients/plum-03.toml", "a client who was forgotten is back");
        items.push(back.hint("Remove it again: afterhue forget --again"));
        assert_eq!(
            by_kind(&report(items), Path::new("my-salon")),
            "9 cautions and 1 note in 10 files:\n\
             \x20 5  health facts not recorded: ash-14, birch-11, fern-07 and 2 more\n\
             \x20 2  14 % peroxide is over the legal 12 %: 2026-01-02-ash-14, 2026-03-04-ash-14\n\
             \x20 1  a client who was forgotten is back: plum-03\n\
             \x20    Remove it again: afterhue forget --again\n\
             \x20 1  the salon is closed on monday: salon.toml\n\
             \x20 1  a stage is written: 2026-11-24-robin-24\n\
             Each in full, with what to do: afterhue check my-salon\n\n"
        );
    }

    #[test]
    fn a_hundred_kinds_are_counted_and_not_listed() {
        let word = |at: usize| "abcdefghij".chars().nth(at).expect("a letter").to_string().repeat(4);
        let items = (0..100).map(|at| Diagnostic::caution("a.toml", format!("{} {}", word(at / 10), word(at % 10))));
        let text = by_kind(&report(items), Path::new("."));
        assert!(text.contains("\n  and 92 more kinds\n"), "{text}");
        assert_eq!(text.lines().count(), 1 + KINDS + 1 + 2, "{text}");
        assert!(are_many(&report((0..3).map(|_| Diagnostic::caution("a.toml", "b")))));
        assert!(!are_many(&report((0..2).map(|_| Diagnostic::caution("a.toml", "b")))));
    }
}
