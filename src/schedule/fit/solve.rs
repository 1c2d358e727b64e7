//! The order in which bounds and searches work on one problem.
//!
//! In: a [`Problem`] and an [`Effort`]. Out: [`Fitted`]. Knows nothing of: how each of them works.

use super::{Place, Problem, exact, packing, prices, repair};

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
    pub stop: &'a (dyn Fn() -> bool + Sync),
}

impl Effort<'_> {
    /// What a salon of a thousand clients needs.
    pub const USUAL: Effort<'static> =
        Effort { rounds: 1500, packings: 2500, attempts: 6_000_000, nodes: 300_000, stop: &|| false };
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
    // Ruin and recreate from what there is, and packings with the fit they lead to, know nothing of each other: one core each.
    let (reachable, stop) = (best.cost(), effort.stop);
    let (shaken, (sharper, dived)) = rayon::join(
        || {
            best.shake(effort.attempts, prices.bound(), stop);
            best.improve(effort.attempts / 2, prices.bound(), stop);
            best
        },
        || {
            let mut packing = packing::Packing::of(problem, &prices);
            packing.climb(effort.packings, packing::FIRST_PACE, reachable, stop);
            let sharper = packing.bound();
            let mut dived = repair::Repair::of(problem);
            dived.begin(&packing.dive(reachable, stop), &prices);
            dived.improve(effort.attempts / 2, sharper, stop);
            (sharper, dived)
        },
    );
    let best = if dived.cost() < shaken.cost() { dived } else { shaken };
    let (mut places, mut cost) = (best.places().to_vec(), best.cost());
    let mut bound = prices.bound().max(sharper);
    bound = bound.min(cost);
    if cost - bound > 1e-9
        && let Some(least) = exact::least(problem, &prices, (places.clone(), cost), effort)
    {
        (places, cost) = least;
        bound = cost;
    }
    Fitted { places, cost, bound, stopped: (effort.stop)() }
}
