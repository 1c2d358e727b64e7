//! Fitting the visits that are due into the chairs at the least total cost, with a bound that proves how far from the least it can be.
//!
//! In: a [`Problem`], days cut into slots. Out: [`Fitted`]. Knows nothing of: clients, dates, hair.
//!
//! ```text
//! greedy ─► prices on stylist-days (Lagrangian dual) ─► moves and exchanges ─┬─► ruin and recreate ──────────────────┬─► branch and bound, when small
//!                └─► a lower bound on any fit                                └─► packings of whole visits ─► dive ─────┘     └─► the least, proved
//!                                                                                  └─► a sharper lower bound
//! ```
//!
//! The prices relax what a slot-by-slot fit keeps: a stylist-day becomes a sum of slots. Whatever they say is therefore never above the least cost.
//! Everything is counted in steps of work, so that the same problem gives the same fit on any machine; a clock only ever stops it early.

mod exact;
mod jobs;
mod packing;
mod prices;
mod repair;
mod room;
mod solve;

pub use jobs::{Asked, Book, STILL_PROPOSED, ShortWeek, TEST_AHEAD, Unfitted, Why, book, monday};
pub use solve::{Effort, Fitted, fit};

/// Days cut into slots, and the visits that ask for them.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Problem {
    /// The days.
    pub days: Vec<Day>,
    /// How many stylists there are.
    pub stylists: usize,
    /// The visits.
    pub jobs: Vec<Job>,
}

/// One day.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Day {
    /// For each stylist, which slots are free.
    pub free: Vec<Vec<bool>>,
    /// Free chairs in each slot.
    pub chairs: Vec<u16>,
}

/// One visit, and what it costs to leave it out.
#[derive(Debug, Clone, PartialEq)]
pub struct Job {
    /// The cost of leaving it out.
    pub left_out: f64,
    /// Where it may go.
    pub choices: Vec<Choice>,
}

/// A day and a stylist a visit may go to.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Choice {
    /// The day, an index.
    pub day: u32,
    /// The stylist, an index.
    pub stylist: u32,
    /// The slot it begins at, when only that one has this cost; else any free one.
    pub start: Option<u16>,
    /// How it takes slots.
    pub shape: Shape,
    /// What it costs.
    pub cost: f64,
}

/// How a visit takes slots.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Shape {
    /// Slots of the chair.
    pub total: u16,
    /// Slots in it in which the stylist's hands are free for somebody else: from, to.
    pub gap: Option<(u16, u16)>,
}

impl Shape {
    /// The slots of the stylist, from the start.
    pub fn hands(self) -> impl Iterator<Item = u16> {
        let (from, to) = self.gap.unwrap_or((self.total, self.total));
        (0..from).chain(to..self.total)
    }

    /// How many slots of the stylist it takes.
    #[must_use]
    pub fn load(self) -> u16 {
        self.total - self.gap.map_or(0, |(from, to)| to - from)
    }
}

/// Where a visit was put.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Place {
    /// Which of its choices.
    pub choice: usize,
    /// The slot it begins at.
    pub start: u16,
}
