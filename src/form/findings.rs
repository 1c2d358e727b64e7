//! What there is to say about a file, gathered while it is understood.

use crate::diagnostic::{Checked, Diagnostic, Report, Severity, SourceText, Span};

/// What there is to say about one file.
#[derive(Debug)]
pub struct Findings<'a> {
    source: &'a SourceText,
    report: Report,
    complete: bool,
}

impl<'a> Findings<'a> {
    pub(super) const fn new(source: &'a SourceText, report: Report, complete: bool) -> Self {
        Self { source, report, complete }
    }

    /// The file.
    #[must_use]
    pub const fn source(&self) -> &'a SourceText {
        self.source
    }

    /// Whether every line could be read: only then is something absent really missing.
    #[must_use]
    pub const fn complete(&self) -> bool {
        self.complete
    }

    /// The line of a place, counted from 1.
    #[must_use]
    pub fn line_of(&self, place: &Span) -> usize {
        self.source.line_and_column(place.start).0
    }

    /// Tells a fault at a place, with what to write instead.
    pub fn fault(&mut self, place: Span, message: impl Into<String>, label: &str, hint: impl Into<String>) {
        self.tell(Diagnostic::fault(&self.source.name, message).at(place, label).hint(hint));
    }

    /// Tells that something is missing at a place, unless a line that could not be read may hold it.
    pub fn missing(&mut self, place: Span, message: impl Into<String>, label: &str, hint: impl Into<String>) {
        if self.complete {
            self.fault(place, message, label, hint);
        }
    }

    /// Tells a caution at a place, with what to do.
    pub fn caution(&mut self, place: Span, message: impl Into<String>, label: &str, hint: impl Into<String>) {
        self.tell(Diagnostic::caution(&self.source.name, message).at(place, label).hint(hint));
    }

    /// Tells a caution about the file as a whole, unless a line that could not be read may answer it.
    pub fn caution_about_file(&mut self, message: impl Into<String>, hint: impl Into<String>) {
        if self.complete {
            self.tell(Diagnostic::caution(&self.source.name, message).hint(hint));
        }
    }

    /// Tells any finding.
    pub fn tell(&mut self, finding: Diagnostic) {
        self.report.push(finding);
    }

    /// The value with its report in the order of the file; a fault takes the value away.
    ///
    /// # Panics
    /// When there is neither a value nor a fault: a fault in the program, not in a file.
    #[must_use]
    pub fn check<T>(self, value: Option<T>) -> Checked<T> {
        let mut report = self.report;
        assert!(value.is_some() || report.has_fault(), "a file without a value must have a fault");
        report.items.sort_by_key(|item| {
            (item.span.as_ref().map(|span| (span.start, span.end)), std::cmp::Reverse::<Severity>(item.severity))
        });
        Checked::new(value, report)
    }
}
