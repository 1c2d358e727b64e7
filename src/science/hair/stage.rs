//! The scale of lightened stages and its computed colour.

use crate::science::colour::spectrum::Spectrum;
use crate::units::worded;

/// A lightened stage, 1 (red) to 10 (pale yellow), halves and anything between allowed.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct LightenedStage(f64);

impl LightenedStage {
    /// The darkest stage with a computed colour.
    pub const LOW: f64 = 1.0;
    /// The palest stage.
    pub const HIGH: f64 = 10.0;

    /// A stage, or nothing when out of range.
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

worded! {
    /// The warm pigment that lightening leaves, in the trade's words.
    UnderlyingPigment, "underlying pigment" {
        /// Stage 10.
        PaleYellow = "pale yellow",
        /// Stage 9.
        Yellow = "yellow",
        /// Stage 8.
        YellowOrange = "yellow-orange",
        /// Stage 7.
        Orange = "orange",
        /// Stage 6.
        RedOrange = "red-orange",
        /// Stage 5 and darker.
        Red = "red",
    }
}

impl UnderlyingPigment {
    /// The stage whose pigment this word names.
    #[must_use]
    pub fn stage(self) -> LightenedStage {
        todo!()
    }

    /// The word for a stage.
    #[must_use]
    pub fn at(_stage: LightenedStage) -> Self {
        todo!()
    }
}

/// K/S of lightened hair without tone.
#[must_use]
pub fn absorption(_stage: LightenedStage) -> Spectrum {
    todo!()
}
