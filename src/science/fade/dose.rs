//! The dose a week: what habits amount to in washes.

use crate::units::{PerWeek, Washes, worded};

worded! {
    /// Warmth of the wash water.
    Warmth, "water warmth" {
        /// Cool.
        Cool = "cool" ["cold"],
        /// Lukewarm.
        Lukewarm = "lukewarm" ["warm"],
        /// Hot.
        Hot = "hot",
    }
}

worded! {
    /// Kind of shampoo.
    Shampoo, "shampoo kind" {
        /// A gentle shampoo for coloured hair.
        Gentle = "gentle" ["colour care", "sulfate-free"],
        /// An ordinary shampoo.
        Ordinary = "ordinary" ["normal"],
        /// A deep-cleaning shampoo.
        Clarifying = "clarifying" ["chelating", "deep cleansing"],
        /// A medicated or anti-dandruff shampoo.
        Medicated = "medicated" ["anti-dandruff"],
    }
}

worded! {
    /// Hardness of the water at home.
    WaterHardness, "water hardness" {
        /// Soft.
        Soft = "soft",
        /// Medium.
        Medium = "medium",
        /// Hard.
        Hard = "hard" ["copper"],
    }
}

/// The habits that wear colour, as numbers a week.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Wear {
    /// Shampoo washes.
    pub washes: PerWeek,
    /// Days with a rinse only.
    pub rinses: PerWeek,
    /// Warmth of the water.
    pub warmth: Warmth,
    /// The shampoo.
    pub shampoo: Shampoo,
    /// Hours of sun on the hair.
    pub sun_hours: f64,
    /// Swims in a pool.
    pub pool_swims: PerWeek,
    /// Days with a hot tool.
    pub heat_days: PerWeek,
    /// Water hardness.
    pub hardness: WaterHardness,
}

impl Default for Wear {
    /// Two lukewarm washes with an ordinary shampoo in medium water; nothing else.
    fn default() -> Self {
        Self {
            washes: PerWeek::from_per_week(2.0),
            rinses: PerWeek::from_per_week(0.0),
            warmth: Warmth::Lukewarm,
            shampoo: Shampoo::Ordinary,
            sun_hours: 0.0,
            pool_swims: PerWeek::from_per_week(0.0),
            heat_days: PerWeek::from_per_week(0.0),
            hardness: WaterHardness::Medium,
        }
    }
}

/// The dose of one week.
#[must_use]
pub fn weekly(_wear: &Wear) -> Washes {
    todo!()
}
