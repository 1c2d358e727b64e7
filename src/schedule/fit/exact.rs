//! The least fit of a small problem, by branch and bound over every slot.

use super::prices::Prices;
use super::room::Room;
use super::{Effort, Place, Problem};

/// A fit: where each job is, and its cost.
type Fit = (Vec<Option<Place>>, f64);

/// The search.
struct Search<'a> {
    problem: &'a Problem,
    room: Room,
    /// For each job its ways: reduced cost, cost, place; nothing for left out. Least reduced cost first.
    ways: Vec<Vec<(f64, f64, Option<Place>)>>,
    /// Jobs in the order they are decided.
    order: Vec<usize>,
    /// Least reduced costs of all jobs from a depth on, with the part of the bound that no job carries.
    ahead: Vec<f64>,
    places: Vec<Option<Place>>,
    best: Fit,
    nodes: u64,
    out: bool,
}

/// The least fit, when the search ends within its nodes; nothing when it does not.
pub(super) fn least(problem: &Problem, prices: &Prices<'_>, known: Fit, effort: &Effort<'_>) -> Option<Fit> {
    let room = Room::of(problem);
    let mut ways: Vec<Vec<(f64, f64, Option<Place>)>> = Vec::new();
    for job in &problem.jobs {
        let mut of_job = vec![(job.left_out, job.left_out, None)];
        for (index, choice) in job.choices.iter().enumerate().filter(|(_, choice)| choice.cost < job.left_out) {
            let reduced = prices.reduced(choice);
            let starts = room.starts(choice).into_iter().filter(|start| room.fits(choice, *start));
            of_job.extend(starts.map(|start| (reduced, choice.cost, Some(Place { choice: index, start }))));
        }
        of_job.sort_by(|one, other| one.0.total_cmp(&other.0));
        ways.push(of_job);
        if ways.iter().map(Vec::len).sum::<usize>() as u64 > effort.nodes {
            return None;
        }
    }
    let mut order: Vec<usize> = (0..problem.jobs.len()).collect();
    order.sort_by_key(|job| ways[*job].len());
    let mut ahead = vec![prices.rest()];
    for job in order.iter().rev() {
        let last = ahead.last().copied().unwrap_or_default();
        ahead.push(last + ways[*job].first().map_or(0.0, |way| way.0));
    }
    ahead.reverse();
    let places = vec![None; problem.jobs.len()];
    let mut search = Search { problem, room, ways, order, ahead, places, best: known, nodes: effort.nodes, out: false };
    search.decide(0, 0.0, 0.0, effort.stop);
    (!search.out).then_some(search.best)
}

impl Search<'_> {
    fn decide(&mut self, depth: usize, reduced: f64, cost: f64, stop: &dyn Fn() -> bool) {
        let Some(job) = self.order.get(depth).copied() else {
            if cost < self.best.1 - 1e-12 {
                self.best = (self.places.clone(), cost);
            }
            return;
        };
        for way in 0..self.ways[job].len() {
            let (own_reduced, own_cost, place) = self.ways[job][way];
            if reduced + own_reduced + self.ahead[depth + 1] >= self.best.1 - 1e-9 {
                // The ways behind it are no cheaper.
                return;
            }
            if self.nodes == 0 || (self.nodes.is_multiple_of(1024) && stop()) {
                self.out = true;
                return;
            }
            self.nodes -= 1;
            let choice = place.map(|place| self.problem.jobs[job].choices[place.choice]);
            if let Some((choice, place)) = choice.zip(place) {
                if !self.room.fits(&choice, place.start) {
                    continue;
                }
                self.room.put(&choice, place.start);
            }
            self.places[job] = place;
            self.decide(depth + 1, reduced + own_reduced, cost + own_cost, stop);
            self.places[job] = None;
            if let Some((choice, place)) = choice.zip(place) {
                self.room.take(&choice, place.start);
            }
            if self.out {
                return;
            }
        }
    }
}
