//! An assumed or published number, with its range, unit and source.

use super::bibliography::Reference;

/// Where a number comes from.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Source {
    /// A published source.
    Published(&'static Reference),
    /// What the trade does; no source.
    CommonPractice,
    /// Chosen here, for the reason given.
    Assumed(&'static str),
}

/// A number that is not a definition: every one the model uses.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Parameter {
    /// What it is, in words.
    pub name: &'static str,
    /// The value used.
    pub value: f64,
    /// The lowest value that would still be believable.
    pub low: f64,
    /// The highest value that would still be believable.
    pub high: f64,
    /// The unit; "1" for a ratio.
    pub unit: &'static str,
    /// Where it comes from.
    pub source: Source,
}
