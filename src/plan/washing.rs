//! The wash rhythm by inverse solving.

use chrono::NaiveDate;

/// How often to wash.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Rhythm {
    /// Washes a week.
    pub per_week: f64,
    /// The same as days from one wash to the next, rounded.
    pub every_days: u32,
    /// What set it.
    pub limit: RhythmLimit,
    /// The day until which the colour is kept above the refresh share with 80 % probability at this rhythm.
    pub keeps_until: Option<NaiveDate>,
    /// The washes a week this client reports, when another.
    pub habit_per_week: Option<f64>,
}

/// What limits the rhythm.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum RhythmLimit {
    /// The most that keeps the colour until the wished date.
    Colour,
    /// The cap for this kind of shade.
    Cap,
    /// The scalp needs more than the colour would like; the date moves.
    Scalp,
}
