//! Prices on stylist-days and on chairs: a lower bound on every fit (Lagrangian dual, climbed by subgradients).
//!
//! ```text
//! L(λ, μ) = Σ_jobs min(left out, min_choice cost + λ·load + μ·total) − Σ λ·C − Σ μ·K      λ, μ ≥ 0
//! ```
//!
//! | symbol | meaning |
//! |---|---|
//! | `λ`, `C` | price and capacity of a stylist-day, slots |
//! | `μ`, `K` | price and capacity of a day's chairs, slots |
//!
//! # Validity
//! Every fit keeps both sums within their capacity, so L is at most its cost, for any prices that are not negative.
//!
//! # Source
//! Held, Wolfe & Crowder 1974 (subgradient steps), Fisher 1981 (Lagrangian bounds); both from memory.

use super::room::Room;
use super::{Choice, Problem};

/// Prices, and the best bound they gave.
#[derive(Debug, Clone)]
pub(super) struct Prices<'a> {
    problem: &'a Problem,
    stylists: usize,
    bins: Vec<f64>,
    chairs: Vec<f64>,
    capacity: Vec<f64>,
    seats: Vec<f64>,
    best: (f64, Vec<f64>, Vec<f64>),
}

impl<'a> Prices<'a> {
    /// No prices yet: the bound is everybody's own best.
    pub(super) fn of(problem: &'a Problem) -> Self {
        let (bins, days) = (problem.days.len() * problem.stylists, problem.days.len());
        let mut prices = Self {
            problem,
            stylists: problem.stylists,
            bins: vec![0.0; bins],
            chairs: vec![0.0; days],
            capacity: capacities(problem),
            seats: problem.days.iter().map(|day| day.chairs.iter().map(|chairs| f64::from(*chairs)).sum()).collect(),
            best: (f64::NEG_INFINITY, Vec::new(), Vec::new()),
        };
        let value = prices.value(&mut vec![0.0; bins], &mut vec![0.0; days]);
        prices.best = (value, prices.bins.clone(), prices.chairs.clone());
        prices
    }

    /// The best lower bound.
    pub(super) fn bound(&self) -> f64 {
        // A hair's breadth for rounding in sums of many terms.
        self.best.0 - 1e-9 * self.best.0.abs().max(1.0)
    }

    /// The best prices of chairs, day by day.
    pub(super) fn chairs(&self) -> &[f64] {
        &self.best.2
    }

    /// The cost of a choice at the best prices.
    pub(super) fn reduced(&self, choice: &Choice) -> f64 {
        let (_, bins, chairs) = &self.best;
        priced(choice, bins, chairs, self.stylists)
    }

    /// The part of the bound that no job carries: −Σ λ·C − Σ μ·K at the best prices.
    pub(super) fn rest(&self) -> f64 {
        let (_, bins, chairs) = &self.best;
        let sum = |prices: &[f64], of: &[f64]| prices.iter().zip(of).map(|(price, of)| price * of).sum::<f64>();
        -sum(bins, &self.capacity) - sum(chairs, &self.seats)
    }

    /// L at the current prices; `load` and `seats` receive what the jobs would take.
    fn value(&self, load: &mut [f64], seats: &mut [f64]) -> f64 {
        load.fill(0.0);
        seats.fill(0.0);
        let mut total = 0.0;
        for job in &self.problem.jobs {
            let mut least = (job.left_out, None);
            for choice in &job.choices {
                let cost = priced(choice, &self.bins, &self.chairs, self.stylists);
                if cost < least.0 {
                    least = (cost, Some(choice));
                }
            }
            total += least.0;
            if let Some(choice) = least.1 {
                load[bin(choice, self.stylists)] += f64::from(choice.shape.load());
                seats[choice.day as usize] += f64::from(choice.shape.total);
            }
        }
        let sum = |prices: &[f64], of: &[f64]| prices.iter().zip(of).map(|(price, of)| price * of).sum::<f64>();
        total - sum(&self.bins, &self.capacity) - sum(&self.chairs, &self.seats)
    }

    /// Climbs for some rounds toward a cost that is known to be reachable.
    pub(super) fn climb(&mut self, rounds: u32, reachable: f64, stop: &dyn Fn() -> bool) {
        let (mut load, mut seats) = (vec![0.0; self.bins.len()], vec![0.0; self.chairs.len()]);
        let (mut pace, mut without) = (1.0, 0);
        for round in 0..rounds {
            let value = self.value(&mut load, &mut seats);
            if value > self.best.0 + 1e-12 {
                self.best = (value, self.bins.clone(), self.chairs.clone());
                without = 0;
            } else {
                without += 1;
            }
            if without >= 15 {
                // From the best prices on, with shorter steps.
                (pace, without) = (pace * 0.6, 0);
                self.bins.clone_from(&self.best.1);
                self.chairs.clone_from(&self.best.2);
                if pace < 1e-4 {
                    break;
                }
                continue;
            }
            if reachable - value <= 1e-9 || (round % 16 == 0 && stop()) {
                break;
            }
            let over = |price: f64, taken: f64, of: f64| if price <= 0.0 && taken < of { 0.0 } else { taken - of };
            let bins =
                self.bins.iter().zip(&load).zip(&self.capacity).map(|((price, taken), of)| over(*price, *taken, *of));
            let chairs =
                self.chairs.iter().zip(&seats).zip(&self.seats).map(|((price, taken), of)| over(*price, *taken, *of));
            let (bins, chairs): (Vec<f64>, Vec<f64>) = (bins.collect(), chairs.collect());
            let length: f64 = bins.iter().chain(&chairs).map(|slope| slope * slope).sum();
            if length <= 0.0 {
                break;
            }
            let step = pace * (reachable - value).max(1e-6) / length;
            let go = |prices: &mut [f64], slopes: &[f64]| {
                for (price, slope) in prices.iter_mut().zip(slopes) {
                    *price = (*price + step * slope).max(0.0);
                }
            };
            go(&mut self.bins, &bins);
            go(&mut self.chairs, &chairs);
        }
    }
}

fn bin(choice: &Choice, stylists: usize) -> usize {
    choice.day as usize * stylists + choice.stylist as usize
}

fn priced(choice: &Choice, bins: &[f64], chairs: &[f64], stylists: usize) -> f64 {
    choice.cost
        + bins[bin(choice, stylists)] * f64::from(choice.shape.load())
        + chairs[choice.day as usize] * f64::from(choice.shape.total)
}

/// What each stylist-day can hold: for each stretch of free slots, the largest sum of visit lengths that is not longer.
///
/// Where hands are shared while a colour develops, visits interleave and only the count of slots is sure.
fn capacities(problem: &Problem) -> Vec<f64> {
    let room = Room::of(problem);
    let mut lengths: Vec<Vec<u16>> = vec![Vec::new(); problem.days.len() * problem.stylists];
    let mut shared = false;
    for choice in problem.jobs.iter().flat_map(|job| &job.choices) {
        lengths[room.bin(choice)].push(choice.shape.total);
        shared |= choice.shape.gap.is_some();
    }
    let bins = problem.days.iter().flat_map(|day| &day.free).zip(&mut lengths);
    bins.map(|(free, lengths)| {
        lengths.sort_unstable();
        lengths.dedup();
        let stretches = free.split(|free| !free).map(<[bool]>::len);
        let held = |slots: usize| if shared { slots } else { largest_sum(slots, lengths) };
        stretches.map(held).sum::<usize>() as f64
    })
    .collect()
}

/// The largest sum of lengths, each used as often as wanted, that is not above a limit.
fn largest_sum(limit: usize, lengths: &[u16]) -> usize {
    let mut reached = vec![false; limit + 1];
    reached[0] = true;
    for at in 1..=limit {
        reached[at] =
            lengths.iter().map(|length| usize::from(*length)).any(|length| length <= at && reached[at - length]);
    }
    reached.iter().rposition(|reached| *reached).unwrap_or(0)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_stretch_holds_only_sums_of_whole_visits() {
        assert_eq!(largest_sum(10, &[4, 7]), 8);
        assert_eq!(largest_sum(11, &[4, 7]), 11);
        assert_eq!(largest_sum(3, &[4]), 0);
    }
}
