//! An assumed or published number, with its range, unit and source.
//!
//! Every number of the model that is not a definition is one of these, kept as a constant beside the law that uses it,
//! so that a reader finds value, doubt and source in one place. A module lists its own in a constant `PARAMETERS`;
//! [`science::parameters`](crate::science::parameters) gathers them all.
//!
//! Knows nothing of: the laws that use the numbers.

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

impl Parameter {
    /// A number with its range.
    ///
    /// # Panics
    /// Unless low ≤ value ≤ high; in a constant the compiler refuses it.
    ///
    /// ```compile_fail
    /// use afterhue::science::parameter::{Parameter, Source};
    /// const UPSIDE_DOWN: Parameter = Parameter::new("x", 1.0, 2.0, 3.0, "1", Source::CommonPractice);
    /// # let _ = UPSIDE_DOWN;
    /// ```
    #[must_use]
    pub const fn new(name: &'static str, value: f64, low: f64, high: f64, unit: &'static str, source: Source) -> Self {
        assert!(low <= value && value <= high, "a parameter lies between its low and its high");
        Self { name, value, low, high, unit, source }
    }

    /// A number read in a published source.
    ///
    /// # Panics
    /// As [`Parameter::new`].
    ///
    /// ```
    /// use afterhue::science::{bibliography::LOUSSOUARN_2005, parameter::Parameter};
    /// const GROWTH: Parameter =
    ///     Parameter::published("growth of scalp hair", 0.367, 0.28, 0.411, "mm/day", &LOUSSOUARN_2005);
    /// assert_eq!(GROWTH.value, 0.367);
    /// ```
    #[must_use]
    pub const fn published(
        name: &'static str,
        value: f64,
        low: f64,
        high: f64,
        unit: &'static str,
        reference: &'static Reference,
    ) -> Self {
        Self::new(name, value, low, high, unit, Source::Published(reference))
    }

    /// A number the trade uses, without a source.
    ///
    /// # Panics
    /// As [`Parameter::new`].
    #[must_use]
    pub const fn common_practice(name: &'static str, value: f64, low: f64, high: f64, unit: &'static str) -> Self {
        Self::new(name, value, low, high, unit, Source::CommonPractice)
    }

    /// A number chosen here, and why.
    ///
    /// # Panics
    /// As [`Parameter::new`].
    #[must_use]
    pub const fn assumed(
        name: &'static str,
        value: f64,
        low: f64,
        high: f64,
        unit: &'static str,
        reason: &'static str,
    ) -> Self {
        Self::new(name, value, low, high, unit, Source::Assumed(reason))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    #[should_panic(expected = "between its low and its high")]
    fn a_value_outside_its_range_is_refused() {
        let _ = Parameter::common_practice("x", f64::NAN, 0.0, 1.0, "1");
    }
}
