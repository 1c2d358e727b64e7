//! The scale of natural depths and its computed colour.

use crate::science::colour::spectrum::Spectrum;

/// A natural depth, 1 (black) to 10 (lightest blonde).
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct NaturalDepth(f64);

impl NaturalDepth {
    /// The darkest depth.
    pub const LOW: f64 = 1.0;
    /// The lightest depth.
    pub const HIGH: f64 = 10.0;

    /// A depth, or nothing when out of range.
    #[must_use]
    pub fn try_new(value: f64) -> Option<Self> {
        (Self::LOW..=Self::HIGH).contains(&value).then_some(Self(value))
    }

    /// The number on the scale.
    #[must_use]
    pub const fn value(self) -> f64 {
        self.0
    }
}

/// K/S of natural, untouched hair.
#[must_use]
pub fn absorption(_depth: NaturalDepth) -> Spectrum {
    todo!()
}
