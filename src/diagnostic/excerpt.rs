//! A diagnostic as text with an excerpt and a caret.

use super::{Report, SourceText};

/// Renders a report with excerpts of the texts it is about.
#[must_use]
pub fn render(_report: &Report, _sources: &[SourceText]) -> String {
    todo!()
}
