//! A sharper bound, and the fit that goes with it: worths of the visits, and the best packing of every stretch of a stylist-day (Lagrangian dual, knapsacks).
//!
//! ```text
//! L(u, μ) = Σ_jobs (u + min(0, left out − u)) + Σ_stretches min_packing Σ (cost + μ·total − u) − Σ μ·K      μ ≥ 0
//! ```
//!
//! | symbol | meaning |
//! |---|---|
//! | `u` | what serving a visit is worth, any sign |
//! | `μ`, `K` | price and capacity of a day's chairs, slots |
//!
//! The steps follow the mean of the packings of all rounds, not the last one: packings jump from round to round, and steps along the last one stop a long way below the best bound.
//! The same means say which visit belongs where: where they agree a visit is fixed, and the rest is packed again.
//!
//! # Validity
//! Every fit serves a visit once or leaves it out, and what it puts into a stretch is one of its packings, so L is at most its cost.
//! A packing is of whole visits, which the sums of [`super::prices`] are not: there a visit may be cut.
//!
//! # Source
//! Fisher, Jaikumar & Van Wassenhove 1986 (generalised assignment), Barahona & Anbil 2000 (volume algorithm: steps along means); both from memory.

use super::prices::Prices;
use super::room::Room;
use super::{Choice, Place, Problem};

/// The first step of a climb, as a share of the way to a cost that is known to be reachable.
pub(super) const FIRST_PACE: f64 = 0.1;

/// How much a round weighs in the means of all rounds: little, for the means are what the steps follow.
const WEIGHT: f64 = 0.02;

/// Rounds without a better bound after which steps get shorter, and by how much.
const PATIENCE: u32 = 20;
const SHORTER: f64 = 0.8;

/// Steps shorter than this change nothing any more.
const LAST_PACE: f64 = 5e-5;

/// Rounds between two fixings of a dive, their first step, and which part of the open visits is fixed at once.
const DIVE_ROUNDS: u32 = 60;
const DIVE_PACE: f64 = 0.05;
const DIVE_SHARE: usize = 40;

/// A visit that is seldom in a packing is not fixed there.
const SELDOM: f64 = 0.05;

/// A stretch of free slots on a stylist-day, and which choices could lie in it.
#[derive(Debug, Clone)]
struct Stretch {
    day: usize,
    /// Its first slot, and how many are left.
    first: usize,
    slots: usize,
    ways: Vec<Way>,
}

/// A choice that could lie in a stretch.
#[derive(Debug, Clone, Copy)]
struct Way {
    job: usize,
    choice: usize,
    load: usize,
    total: f64,
    cost: f64,
    /// In what share of the rounds it was in the best packing, the later rounds weighing more, over [`Packing::scale`].
    mean: f64,
}

/// The worths of visits and prices of chairs, and the best bound they gave.
#[derive(Debug, Clone)]
pub(super) struct Packing<'a> {
    problem: &'a Problem,
    stretches: Vec<Stretch>,
    seats: Vec<f64>,
    /// Which visits are not fixed yet, and what those fixed cost.
    open: Vec<bool>,
    fixed: f64,
    worths: Vec<f64>,
    chairs: Vec<f64>,
    best: (f64, Vec<f64>, Vec<f64>),
    served: Vec<f64>,
    taken: Vec<f64>,
    scale: f64,
}

impl<'a> Packing<'a> {
    /// The worths that some prices give.
    pub(super) fn of(problem: &'a Problem, prices: &Prices<'_>) -> Self {
        let worth =
            |job: &super::Job| job.choices.iter().map(|choice| prices.reduced(choice)).fold(job.left_out, f64::min);
        let worths: Vec<f64> = problem.jobs.iter().map(worth).collect();
        let chairs = prices.chairs().to_vec();
        Self {
            problem,
            stretches: stretches(problem),
            seats: problem.days.iter().map(|day| day.chairs.iter().map(|chairs| f64::from(*chairs)).sum()).collect(),
            open: vec![true; worths.len()],
            fixed: 0.0,
            best: (f64::NEG_INFINITY, worths.clone(), chairs.clone()),
            served: vec![1.0; worths.len()],
            taken: vec![0.0; chairs.len()],
            scale: 1.0,
            worths,
            chairs,
        }
    }

    /// The best lower bound.
    pub(super) fn bound(&self) -> f64 {
        // A hair's breadth for rounding in sums of many terms.
        self.best.0 - 1e-9 * self.best.0.abs().max(1.0)
    }

    /// L at the current worths and prices; the means take in what its packings serve.
    fn value(&mut self) -> f64 {
        let mut served = vec![0.0; self.worths.len()];
        let mut taken = vec![0.0; self.chairs.len()];
        let mut value = self.fixed - self.chairs.iter().zip(&self.seats).map(|(price, of)| price * of).sum::<f64>();
        for (job, of) in self.problem.jobs.iter().enumerate().filter(|(job, _)| self.open[*job]) {
            value += self.worths[job] + (of.left_out - self.worths[job]).min(0.0);
            if of.left_out < self.worths[job] {
                served[job] += 1.0;
            }
        }
        self.scale *= 1.0 - WEIGHT;
        let mut chosen = Vec::new();
        for stretch in &mut self.stretches {
            value += pack(stretch, &self.worths, self.chairs[stretch.day], &mut chosen);
            for way in chosen.drain(..) {
                let way: &mut Way = &mut stretch.ways[way];
                served[way.job] += 1.0;
                taken[stretch.day] += way.total;
                way.mean += WEIGHT / self.scale;
            }
        }
        self.served.iter_mut().zip(&served).for_each(|(mean, now)| *mean += WEIGHT * (now - *mean));
        self.taken.iter_mut().zip(&taken).for_each(|(mean, now)| *mean += WEIGHT * (now - *mean));
        value
    }

    /// Climbs for some rounds toward a cost that is known to be reachable.
    pub(super) fn climb(&mut self, rounds: u32, first_pace: f64, reachable: f64, stop: &dyn Fn() -> bool) {
        let (mut pace, mut without) = (first_pace, 0);
        for _ in 0..rounds {
            let value = self.value();
            if value > self.best.0 + 1e-9 {
                self.best = (value, self.worths.clone(), self.chairs.clone());
                without = 0;
            } else {
                without += 1;
            }
            if without >= PATIENCE {
                (pace, without) = (pace * SHORTER, 0);
            }
            if pace < LAST_PACE || reachable - value <= 1e-9 || stop() {
                break;
            }
            self.step(pace * (reachable - self.best.0).max(1e-6));
        }
    }

    /// Steps from the best worths and prices along what the means serve too little or too much.
    fn step(&mut self, way: f64) {
        let slopes: Vec<f64> =
            self.served.iter().zip(&self.open).map(|(served, open)| if *open { 1.0 - served } else { 0.0 }).collect();
        let over = |day: usize| {
            let over = self.taken[day] - self.seats[day];
            if self.best.2[day] <= 0.0 && over < 0.0 { 0.0 } else { over }
        };
        let over: Vec<f64> = (0..self.chairs.len()).map(over).collect();
        let length: f64 = slopes.iter().chain(&over).map(|slope| slope * slope).sum();
        let step = way / length.max(1e-9);
        let go = |of: &mut [f64], from: &[f64], slopes: &[f64], least: f64| {
            for ((price, from), slope) in of.iter_mut().zip(from).zip(slopes) {
                *price = (from + step * slope).max(least);
            }
        };
        go(&mut self.worths, &self.best.1, &slopes, f64::NEG_INFINITY);
        go(&mut self.chairs, &self.best.2, &over, 0.0);
    }

    /// A place for most visits: those that the packings agree on most are fixed, the rest is packed again, and so on to the end.
    ///
    /// A start is the next free slot of its stretch; where it does not fit after all, for a chair or for shared hands, the visit is the caller's to place.
    pub(super) fn dive(mut self, reachable: f64, stop: &dyn Fn() -> bool) -> Vec<Option<Place>> {
        let mut places = vec![None; self.worths.len()];
        while !stop() && self.fix(&mut places) > 0 {
            for stretch in &mut self.stretches {
                let slots = stretch.slots;
                stretch.ways.retain(|way| self.open[way.job] && way.load <= slots);
            }
            self.worths.clone_from(&self.best.1);
            self.chairs.clone_from(&self.best.2);
            self.best.0 = self.value();
            self.climb(DIVE_ROUNDS, DIVE_PACE, reachable, stop);
        }
        places
    }

    /// Fixes some open visits; says how many.
    fn fix(&mut self, places: &mut [Option<Place>]) -> usize {
        let most = self.open.iter().filter(|open| **open).count().div_ceil(DIVE_SHARE);
        let mut ways: Vec<(f64, usize, Way)> = Vec::new();
        for (at, stretch) in self.stretches.iter().enumerate() {
            let seen = stretch.ways.iter().map(|way| (way.mean * self.scale, at, *way));
            ways.extend(seen.filter(|(share, _, _)| *share > SELDOM));
        }
        ways.sort_by(|one, other| {
            other.0.total_cmp(&one.0).then((one.1, one.2.job, one.2.choice).cmp(&(
                other.1,
                other.2.job,
                other.2.choice,
            )))
        });
        let mut fixed = 0;
        for (_, at, way) in ways {
            let stretch = &mut self.stretches[at];
            if fixed == most || !self.open[way.job] || stretch.slots < way.load {
                continue;
            }
            // A slot is far below 2^16.
            places[way.job] = Some(Place { choice: way.choice, start: stretch.first as u16 });
            stretch.first += way.load;
            stretch.slots -= way.load;
            self.seats[stretch.day] -= way.total;
            self.open[way.job] = false;
            self.fixed += way.cost;
            fixed += 1;
        }
        fixed
    }
}

/// The best packing of a stretch: its value, and the ways that are in it.
fn pack(stretch: &Stretch, worths: &[f64], chair: f64, chosen: &mut Vec<usize>) -> f64 {
    // Only what is worth more than it costs can be in the best packing, and of one job only its best choice here.
    let mut items: Vec<(usize, f64)> = Vec::new();
    for (index, way) in stretch.ways.iter().enumerate() {
        let net = way.cost + chair * way.total - worths[way.job];
        if net < 0.0 {
            match items.last_mut().filter(|last| stretch.ways[last.0].job == way.job) {
                Some(last) if net < last.1 => *last = (index, net),
                Some(_) => {}
                None => items.push((index, net)),
            }
        }
    }
    let width = stretch.slots + 1;
    let mut value = vec![0.0; width];
    let mut kept = vec![false; items.len() * width];
    for (at, (index, net)) in items.iter().enumerate() {
        let load = stretch.ways[*index].load;
        for slots in (load..width).rev() {
            let with = value[slots - load] + net;
            if with < value[slots] {
                value[slots] = with;
                kept[at * width + slots] = true;
            }
        }
    }
    let mut slots = stretch.slots;
    for (at, (index, _)) in items.iter().enumerate().rev() {
        if kept[at * width + slots] {
            chosen.push(*index);
            slots -= stretch.ways[*index].load;
        }
    }
    value[stretch.slots]
}

/// Every stretch of every stylist-day; where hands are shared while a colour develops, a day is one stretch of its free slots.
fn stretches(problem: &Problem) -> Vec<Stretch> {
    let room = Room::of(problem);
    let shared = problem.jobs.iter().flat_map(|job| &job.choices).any(|choice| choice.shape.gap.is_some());
    let mut of_bin: Vec<Vec<Way>> = vec![Vec::new(); problem.days.len() * problem.stylists];
    for (job, of) in problem.jobs.iter().enumerate() {
        for (choice, way) in of.choices.iter().enumerate() {
            let (load, total) = (usize::from(way.shape.load()), f64::from(way.shape.total));
            of_bin[room.bin(way)].push(Way { job, choice, load, total, cost: way.cost, mean: 0.0 });
        }
    }
    let needs = |way: &Way| {
        let shape: &Choice = &problem.jobs[way.job].choices[way.choice];
        if shared { way.load } else { usize::from(shape.shape.total) }
    };
    let mut stretches = Vec::new();
    for (bin, free) in problem.days.iter().flat_map(|day| &day.free).enumerate() {
        let lengths: Vec<(usize, usize)> =
            if shared { vec![(0, free.iter().filter(|free| **free).count())] } else { runs(free) };
        for (first, slots) in lengths {
            let ways = of_bin[bin].iter().copied().filter(|way| needs(way) <= slots).collect();
            stretches.push(Stretch { day: bin / problem.stylists.max(1), first, slots, ways });
        }
    }
    stretches
}

/// The first slot and the length of every run of free slots.
fn runs(free: &[bool]) -> Vec<(usize, usize)> {
    let mut first = 0;
    let runs = free.split(|free| !free).map(|run| {
        let at = first;
        first += run.len() + 1;
        (at, run.len())
    });
    runs.filter(|(_, slots)| *slots > 0).collect()
}
