//! All there is to say of one or more texts, and a result that comes with it.

use std::collections::BTreeSet;

use super::{Diagnostic, Severity};

/// Everything there is to say, in the order it was found.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Report {
    /// The diagnostics.
    pub items: Vec<Diagnostic>,
}

impl Report {
    /// Adds one diagnostic.
    pub fn push(&mut self, item: Diagnostic) {
        self.items.push(item);
    }

    /// Adds everything of another report.
    pub fn extend(&mut self, other: Self) {
        self.items.extend(other.items);
    }

    /// The diagnostics by file, then by place, those about a whole file first; the order of finding decides a tie.
    #[must_use]
    pub fn in_order(&self) -> Vec<&Diagnostic> {
        let mut items: Vec<&Diagnostic> = self.items.iter().collect();
        items.sort_by_key(|item| (&item.file, item.span.as_ref().map(|span| (span.start, span.end))));
        items
    }

    /// The names of files with at least one fault.
    #[must_use]
    pub fn files_at_fault(&self) -> BTreeSet<&str> {
        self.items.iter().filter(|item| item.severity == Severity::Fault).map(|item| item.file.as_str()).collect()
    }

    /// Whether there is at least one fault.
    #[must_use]
    pub fn has_fault(&self) -> bool {
        self.items.iter().any(|item| item.severity == Severity::Fault)
    }
}

/// A result that may be missing, with everything there is to say about it.
///
/// The value is there exactly when the text had no fault.
#[derive(Debug, Clone)]
pub struct Checked<T> {
    /// The value, when there is no fault.
    pub value: Option<T>,
    /// What there is to say.
    pub report: Report,
}

impl<T> Checked<T> {
    /// The value with its report; a report with a fault takes the value away.
    #[must_use]
    pub fn new(value: Option<T>, report: Report) -> Self {
        let value = if report.has_fault() { None } else { value };
        Self { value, report }
    }
}
