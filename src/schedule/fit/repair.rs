//! A fit that keeps every slot: built at the prices, then bettered by moves and exchanges.

use super::prices::Prices;
use super::room::Room;
use super::{Place, Problem};

/// Costs nearer than this are equal.
const EQUAL: f64 = 1e-9;

/// Temperatures of [`Repair::shake`], first and last, in the unit of the costs.
const HOT: f64 = 1.0;
const COLD: f64 = 0.02;

/// Jobs drawn for one to begin at.
const DRAWN: usize = 3;

/// Most stylist-days emptied at once.
const MOST_BINS: usize = 7;

/// A seeded generator, `SplitMix64` (Steele, Lea & Flood 2014).
#[derive(Debug, Clone)]
struct Dice(u64);

impl Dice {
    fn uniform(&mut self) -> f64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        ((z ^ (z >> 31)) >> 11) as f64 / (1_u64 << 53) as f64
    }

    fn below(&mut self, limit: usize) -> usize {
        (self.uniform() * limit as f64) as usize
    }
}

/// A fit in the making.
#[derive(Debug, Clone)]
pub(super) struct Repair<'a> {
    problem: &'a Problem,
    room: Room,
    places: Vec<Option<Place>>,
    /// The jobs on each stylist-day.
    at: Vec<Vec<usize>>,
    /// The choices of each job, cheapest first.
    order: Vec<Vec<usize>>,
    attempts: u64,
}

/// The places on one stylist-day, to go back to.
type Before = Vec<(usize, Place)>;

impl<'a> Repair<'a> {
    /// Nobody is placed yet.
    pub(super) fn of(problem: &'a Problem) -> Self {
        let cheapest = |job: &super::Job| {
            let mut order: Vec<usize> = (0..job.choices.len()).collect();
            order.sort_by(|one, other| job.choices[*one].cost.total_cmp(&job.choices[*other].cost));
            order
        };
        Self {
            problem,
            room: Room::of(problem),
            places: vec![None; problem.jobs.len()],
            at: vec![Vec::new(); problem.days.len() * problem.stylists],
            order: problem.jobs.iter().map(cheapest).collect(),
            attempts: 0,
        }
    }

    /// Where each job is.
    pub(super) fn places(&self) -> &[Option<Place>] {
        &self.places
    }

    /// What the fit costs.
    pub(super) fn cost(&self) -> f64 {
        (0..self.places.len()).map(|job| self.cost_of(job)).sum()
    }

    fn cost_of(&self, job: usize) -> f64 {
        let of = &self.problem.jobs[job];
        self.places[job].map_or(of.left_out, |place| of.choices[place.choice].cost)
    }

    /// Places one open job after another at its best price, those first that lose most by not having it.
    pub(super) fn build(&mut self, prices: &Prices<'_>) {
        let mut queue: Vec<(f64, usize, Vec<usize>)> = self
            .problem
            .jobs
            .iter()
            .enumerate()
            .filter(|(job, _)| self.places[*job].is_none())
            .map(|(job, of)| {
                let price = |choice: &usize| prices.reduced(&of.choices[*choice]);
                let mut order: Vec<usize> =
                    (0..of.choices.len()).filter(|choice| of.choices[*choice].cost < of.left_out).collect();
                order.sort_by(|one, other| price(one).total_cmp(&price(other)));
                // What the tenth best day costs more: a few full days are no loss, a narrow window is one.
                let (first, tenth) = (order.first().map(price), order.get(9).map(price));
                let loses = tenth.unwrap_or(of.left_out) - first.unwrap_or(of.left_out);
                (loses, job, order)
            })
            .collect();
        queue.sort_by(|one, other| other.0.total_cmp(&one.0).then(one.1.cmp(&other.1)));
        for (_, job, order) in queue {
            let _ = order.into_iter().any(|choice| self.insert(job, choice));
        }
    }

    /// Places the jobs where they were planned, or at least on that day; then the others as [`Self::build`] does.
    pub(super) fn begin(&mut self, planned: &[Option<Place>], prices: &Prices<'_>) {
        let mut missed = Vec::new();
        for (job, place) in planned.iter().enumerate() {
            let Some(place) = place else { continue };
            let choice = &self.problem.jobs[job].choices[place.choice];
            if choice.start.is_none_or(|start| start == place.start) && self.room.fits(choice, place.start) {
                self.put(job, *place);
            } else {
                missed.push((job, place.choice));
            }
        }
        for (job, choice) in missed {
            let _ = self.insert(job, choice);
        }
        self.build(prices);
    }

    /// Betters the fit until nothing helps, the attempts are used up, the bound is met or the time is up.
    pub(super) fn improve(&mut self, attempts: u64, bound: f64, stop: &dyn Fn() -> bool) {
        self.attempts = 0;
        loop {
            let least = |job: usize| {
                let first = self.order[job].first().map(|choice| self.problem.jobs[job].choices[*choice].cost);
                first.unwrap_or(f64::INFINITY).min(self.problem.jobs[job].left_out)
            };
            let mut wanting: Vec<(f64, usize)> =
                (0..self.places.len()).map(|job| (self.cost_of(job) - least(job), job)).collect();
            wanting.retain(|(loses, _)| *loses > EQUAL);
            wanting.sort_by(|one, other| other.0.total_cmp(&one.0).then(one.1.cmp(&other.1)));
            let mut better = false;
            for (_, job) in wanting {
                if self.attempts >= attempts || stop() {
                    return;
                }
                better |= self.better(job);
            }
            if !better || self.cost() - bound <= EQUAL {
                return;
            }
        }
    }

    /// Takes out what lies around a visit that wants to be elsewhere, puts it back in another order, and keeps what is cheaper, or for a while a little dearer.
    ///
    /// Ruin and recreate (Schrimpf et al. 2000, from memory) with a slowly falling temperature; drawn from a seeded generator, so that it is the same on every machine.
    pub(super) fn shake(&mut self, attempts: u64, bound: f64, stop: &dyn Fn() -> bool) {
        self.attempts = 0;
        let mut dice = Dice(0x5eed);
        let (mut best, mut best_places) = (self.cost(), self.places.clone());
        let mut cost = best;
        let mut turn = 0_u32;
        while self.attempts < attempts && best - bound > EQUAL {
            turn += 1;
            if turn.is_multiple_of(64) && stop() {
                break;
            }
            let done = self.attempts as f64 / attempts as f64;
            let heat = HOT * (COLD / HOT).powf(done);
            let Some(seed) = self.seed(&mut dice) else { break };
            let bins = self.around(seed, &mut dice);
            let removed = self.ruin(seed, &bins);
            let before: f64 = removed.iter().map(|(job, place)| self.cost_at(*job, *place)).sum();
            let order = self.shuffled(&removed, &mut dice);
            for job in &order {
                self.recreate(*job, &mut dice);
            }
            let after: f64 = order.iter().map(|job| self.cost_of(*job)).sum();
            if after - before < -heat * dice.uniform().max(1e-12).ln() {
                cost += after - before;
                if cost < best - EQUAL {
                    (best, best_places) = (cost, self.places.clone());
                }
            } else {
                for job in &order {
                    self.lift(*job);
                }
                for (job, place) in removed {
                    if let Some(place) = place {
                        self.put(job, place);
                    }
                }
            }
        }
        for job in 0..self.places.len() {
            self.lift(job);
        }
        for (job, place) in best_places.into_iter().enumerate() {
            if let Some(place) = place {
                self.put(job, place);
            }
        }
    }

    fn cost_at(&self, job: usize, place: Option<Place>) -> f64 {
        let of = &self.problem.jobs[job];
        place.map_or(of.left_out, |place| of.choices[place.choice].cost)
    }

    /// A job to begin at: of some drawn, the one that loses most where it is.
    fn seed(&self, dice: &mut Dice) -> Option<usize> {
        let jobs = self.places.len();
        let loses = |job: usize| {
            self.cost_of(job) - self.order[job].first().map_or(0.0, |c| self.problem.jobs[job].choices[*c].cost)
        };
        let drawn = (0..DRAWN.min(jobs)).map(|_| dice.below(jobs));
        drawn.max_by(|one, other| loses(*one).total_cmp(&loses(*other)))
    }

    /// Stylist-days a job would like, and one like its own.
    fn around(&self, seed: usize, dice: &mut Dice) -> Vec<usize> {
        let of = &self.problem.jobs[seed];
        let mut bins: Vec<usize> = Vec::new();
        let reach = self.order[seed].len().min(6 + dice.below(30));
        for _ in 0..=dice.below(MOST_BINS) {
            if reach > 0 {
                bins.push(self.room.bin(&of.choices[self.order[seed][dice.below(reach)]]));
            }
        }
        bins.sort_unstable();
        bins.dedup();
        bins
    }

    fn ruin(&mut self, seed: usize, bins: &[usize]) -> Vec<(usize, Option<Place>)> {
        let mut jobs: Vec<usize> = bins.iter().flat_map(|bin| self.at[*bin].iter().copied()).collect();
        if !jobs.contains(&seed) {
            jobs.push(seed);
        }
        jobs.into_iter().map(|job| (job, self.lift(job))).collect()
    }

    /// The order in which jobs go back: the longest first, the most to lose first, or as drawn.
    fn shuffled(&self, removed: &[(usize, Option<Place>)], dice: &mut Dice) -> Vec<usize> {
        let mut order: Vec<usize> = removed.iter().map(|(job, _)| *job).collect();
        for at in (1..order.len()).rev() {
            order.swap(at, dice.below(at + 1));
        }
        let length =
            |job: &usize| self.order[*job].first().map_or(0, |c| self.problem.jobs[*job].choices[*c].shape.total);
        let spread = |job: &usize| {
            let costs = |at: usize| self.order[*job].get(at).map(|c| self.problem.jobs[*job].choices[*c].cost);
            costs(8).unwrap_or(self.problem.jobs[*job].left_out) - costs(0).unwrap_or(0.0)
        };
        match dice.below(3) {
            0 => order.sort_by_key(|job| std::cmp::Reverse(length(job))),
            1 => order.sort_by(|one, other| spread(other).total_cmp(&spread(one))),
            _ => {}
        }
        order
    }

    /// Puts a job into the cheapest hole, now and then past one.
    fn recreate(&mut self, job: usize, dice: &mut Dice) {
        self.attempts += 1;
        for at in 0..self.order[job].len() {
            let choice = self.order[job][at];
            let of = &self.problem.jobs[job].choices[choice];
            if of.cost >= self.problem.jobs[job].left_out {
                return;
            }
            if dice.below(100) == 0 {
                continue;
            }
            if let Some(start) = self.room.first_start(of) {
                self.put(job, Place { choice, start });
                return;
            }
        }
    }

    /// Finds a cheaper place for a job: a free one, or one whose holder loses less by moving on.
    fn better(&mut self, job: usize) -> bool {
        let now = self.cost_of(job);
        let cheaper: Vec<usize> = self.order[job]
            .iter()
            .copied()
            .take_while(|choice| self.problem.jobs[job].choices[*choice].cost < now - EQUAL)
            .collect();
        let home = self.lift(job);
        for choice in &cheaper {
            if self.insert(job, *choice) {
                return true;
            }
        }
        for choice in cheaper {
            let gains = now - self.problem.jobs[job].choices[choice].cost;
            if self.exchange(job, choice, gains) {
                return true;
            }
        }
        if let Some(place) = home {
            self.put(job, place);
        }
        false
    }

    /// Puts a job where another is, if that one finds a place that costs less more than this gains.
    fn exchange(&mut self, job: usize, choice: usize, gains: f64) -> bool {
        let bin = self.room.bin(&self.problem.jobs[job].choices[choice]);
        for other in self.at[bin].clone() {
            let held = self.cost_of(other);
            let of = &self.problem.jobs[other];
            let affords = |cost: f64| cost < held + gains - EQUAL;
            let ways: Vec<usize> = self.order[other]
                .iter()
                .copied()
                .take_while(|way| affords(of.choices[*way].cost))
                .filter(|way| self.room.bin(&of.choices[*way]) != bin)
                .collect();
            let leaves = affords(of.left_out);
            if ways.is_empty() && !leaves {
                continue;
            }
            let before = self.before(bin);
            self.lift(other);
            if self.insert(job, choice) {
                if ways.into_iter().any(|way| self.insert(other, way)) || leaves {
                    return true;
                }
                self.lift(job);
            }
            self.restore(bin, &before);
        }
        false
    }

    /// Puts a job on a stylist-day: into a hole, or by packing that day anew.
    fn insert(&mut self, job: usize, choice: usize) -> bool {
        self.attempts += 1;
        let of = &self.problem.jobs[job].choices[choice];
        if let Some(start) = self.room.first_start(of) {
            self.put(job, Place { choice, start });
            return true;
        }
        of.start.is_none() && self.repack(job, choice)
    }

    /// Takes everything out of a stylist-day that may stand anywhere in it, and puts it back with one job more, the longest first.
    fn repack(&mut self, job: usize, choice: usize) -> bool {
        let bin = self.room.bin(&self.problem.jobs[job].choices[choice]);
        let before = self.before(bin);
        let mut all: Vec<(usize, usize)> = Vec::new();
        for (one, place) in &before {
            if self.problem.jobs[*one].choices[place.choice].start.is_none() {
                self.lift(*one);
                all.push((*one, place.choice));
            }
        }
        all.push((job, choice));
        all.sort_by_key(|(one, choice)| {
            (std::cmp::Reverse(self.problem.jobs[*one].choices[*choice].shape.total), *one)
        });
        for (one, choice) in all {
            match self.room.first_start(&self.problem.jobs[one].choices[choice]) {
                Some(start) => self.put(one, Place { choice, start }),
                None => {
                    self.lift(job);
                    self.restore(bin, &before);
                    return false;
                }
            }
        }
        true
    }

    fn before(&self, bin: usize) -> Before {
        self.at[bin].iter().filter_map(|job| Some((*job, self.places[*job]?))).collect()
    }

    fn restore(&mut self, bin: usize, before: &Before) {
        for job in self.at[bin].clone() {
            self.lift(job);
        }
        for (job, place) in before {
            self.put(*job, *place);
        }
    }

    fn put(&mut self, job: usize, place: Place) {
        let choice = &self.problem.jobs[job].choices[place.choice];
        self.room.put(choice, place.start);
        self.at[self.room.bin(choice)].push(job);
        self.places[job] = Some(place);
    }

    fn lift(&mut self, job: usize) -> Option<Place> {
        let place = self.places[job].take()?;
        let choice = &self.problem.jobs[job].choices[place.choice];
        self.room.take(choice, place.start);
        self.at[self.room.bin(choice)].retain(|other| *other != job);
        Some(place)
    }
}
