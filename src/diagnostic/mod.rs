//! What is wrong with a text, and where.
//!
//! In: a text a person wrote and places in it. Out: messages with place, excerpt, explanation and hint.
//! Knows nothing of: what the text means.

mod excerpt;
mod report;
mod source;
mod suggest;
mod summary;

pub use excerpt::{render, render_styled};
pub use report::{Checked, Report};
pub use source::SourceText;
pub use suggest::{did_you_mean, nearest};
pub use summary::summary;

use std::ops::Range;

/// How much a diagnostic matters.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Severity {
    /// Worth knowing; nothing has to change.
    Note,
    /// A risk to hair, skin, privacy or the forecast; the record is still used.
    Caution,
    /// The text cannot be used as it stands; exit code 1.
    Fault,
}

/// A range of bytes in a text.
pub type Span = Range<usize>;

/// One thing to say about a text.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Diagnostic {
    /// How much it matters.
    pub severity: Severity,
    /// The text it is about.
    pub file: String,
    /// Where, in bytes; nothing when it is about the file as a whole.
    pub span: Option<Span>,
    /// What is wrong, one sentence without a full stop.
    pub message: String,
    /// Short words beside the caret.
    pub label: String,
    /// What to write or do instead, each one sentence.
    pub hints: Vec<String>,
}

impl Diagnostic {
    /// A new diagnostic about a whole file.
    #[must_use]
    pub fn new(severity: Severity, file: &str, message: impl Into<String>) -> Self {
        Self {
            severity,
            file: file.to_owned(),
            span: None,
            message: message.into(),
            label: String::new(),
            hints: Vec::new(),
        }
    }

    /// A fault about a whole file.
    #[must_use]
    pub fn fault(file: &str, message: impl Into<String>) -> Self {
        Self::new(Severity::Fault, file, message)
    }

    /// A caution about a whole file.
    #[must_use]
    pub fn caution(file: &str, message: impl Into<String>) -> Self {
        Self::new(Severity::Caution, file, message)
    }

    /// A note about a whole file.
    #[must_use]
    pub fn note(file: &str, message: impl Into<String>) -> Self {
        Self::new(Severity::Note, file, message)
    }

    /// The same, at a place.
    #[must_use]
    pub fn at(mut self, span: Span, label: impl Into<String>) -> Self {
        self.span = Some(span);
        self.label = label.into();
        self
    }

    /// The same, with one more hint.
    #[must_use]
    pub fn hint(mut self, hint: impl Into<String>) -> Self {
        self.hints.push(hint.into());
        self
    }
}
