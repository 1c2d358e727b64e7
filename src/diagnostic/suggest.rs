//! The nearest known word to a misspelt one.

/// The candidate nearest to what was written, when one is near enough to be meant.
#[must_use]
pub fn did_you_mean<'a>(_written: &str, _candidates: &[&'a str]) -> Option<&'a str> {
    todo!()
}
