//! Fitting the visits that are due into the chairs at the least total cost, with a bound that proves how far from the least it can be.
//!
//! In: a [`Problem`], days cut into slots. Out: [`Fitted`]. Knows nothing of: clients, dates, hair.
//!
//! ```text
//! greedy ─► prices on stylist-days (Lagrangian dual) ─► repair ─► moves and exchanges ─► branch and bound, when small
//!                └─► a lower bound on any fit                                           └─► the least, proved
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

pub use jobs::{Asked, Book, STILL_PROPOSED, ShortWeek, TEST_AHEAD, Unfitted, Why, book, monday};

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

/// How much work a fit may be.
#[derive(Clone, Copy)]
pub struct Effort<'a> {
    /// Rounds of prices.
    pub rounds: u32,
    /// Rounds of packing.
    pub packings: u32,
    /// Attempts to put a visit somewhere.
    pub attempts: u64,
    /// Nodes of branch and bound.
    pub nodes: u64,
    /// Says when the time is up; a fit stopped by it says so.
    pub stop: &'a dyn Fn() -> bool,
}

impl Effort<'_> {
    /// What a salon of a thousand clients needs.
    pub const USUAL: Effort<'static> =
        Effort { rounds: 1500, packings: 2500, attempts: 10_000_000, nodes: 300_000, stop: &|| false };
}

/// A fit.
#[derive(Debug, Clone, PartialEq)]
pub struct Fitted {
    /// Where each visit was put; nothing for those left out.
    pub places: Vec<Option<Place>>,
    /// What it costs.
    pub cost: f64,
    /// No fit costs less.
    pub bound: f64,
    /// The time was up before the work was done.
    pub stopped: bool,
}

impl Fitted {
    /// How far the cost may be above the least, as a share of it.
    #[must_use]
    pub fn gap(&self) -> f64 {
        if self.cost - self.bound <= 1e-9 { 0.0 } else { (self.cost - self.bound) / self.cost.max(1e-9) }
    }
}

/// Attempts for each visit after which more of them hardly ever help a small salon; measured, no source.
const ATTEMPTS_A_JOB: u64 = 20_000;

/// Fits the visits of a problem.
#[must_use]
pub fn fit(problem: &Problem, effort: &Effort<'_>) -> Fitted {
    let most = ATTEMPTS_A_JOB * problem.jobs.len() as u64;
    let effort = &Effort { attempts: effort.attempts.min(most), ..*effort };
    let mut prices = prices::Prices::of(problem);
    let mut best = repair::Repair::of(problem);
    best.build(&prices);
    // Prices need a cost to aim at; repair needs prices to begin from: two turns of each.
    let mut spent = 0;
    for share in [2, 1] {
        prices.climb(effort.rounds / share - spent, best.cost(), effort.stop);
        spent = effort.rounds / share;
        let mut again = repair::Repair::of(problem);
        again.build(&prices);
        again.improve(effort.attempts / 2, prices.bound(), effort.stop);
        if again.cost() < best.cost() {
            best = again;
        }
    }
    best.shake(effort.attempts, prices.bound(), effort.stop);
    best.improve(effort.attempts / 2, prices.bound(), effort.stop);
    let (mut places, mut cost) = (best.places().to_vec(), best.cost());
    let mut bound = prices.bound();
    if cost - bound > 1e-9 * cost {
        bound = bound.max(packing::bound(problem, &prices, effort.packings, cost, effort.stop));
    }
    bound = bound.min(cost);
    if cost - bound > 1e-9
        && let Some(least) = exact::least(problem, &prices, (places.clone(), cost), effort)
    {
        (places, cost) = least;
        bound = cost;
    }
    Fitted { places, cost, bound, stopped: (effort.stop)() }
}
