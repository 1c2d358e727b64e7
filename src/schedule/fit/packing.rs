//! A sharper bound: prices on the visits, and the best packing of every stretch of a stylist-day (Lagrangian dual, knapsacks).
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
//! # Validity
//! Every fit serves a visit once or leaves it out, and what it puts into a stretch is one of its packings, so L is at most its cost.
//! A packing is of whole visits, which the sums of [`super::prices`] are not: there a visit may be cut.
//!
//! # Source
//! Fisher, Jaikumar & Van Wassenhove 1986 (generalised assignment); from memory.

use super::prices::Prices;
use super::room::Room;
use super::{Choice, Problem};

/// A stretch of free slots on a stylist-day, and which choices could lie in it.
struct Stretch {
    day: usize,
    slots: usize,
    /// Job and choice.
    choices: Vec<(usize, usize)>,
}

/// The best bound found in some rounds of packing, from the worths that some prices give.
pub(super) fn bound(
    problem: &Problem,
    prices: &Prices<'_>,
    rounds: u32,
    reachable: f64,
    stop: &dyn Fn() -> bool,
) -> f64 {
    let stretches = stretches(problem);
    let seats: Vec<f64> =
        problem.days.iter().map(|day| day.chairs.iter().map(|chairs| f64::from(*chairs)).sum()).collect();
    let worth = |job: &super::Job| job.choices.iter().map(|choice| prices.reduced(choice)).fold(job.left_out, f64::min);
    let mut worths: Vec<f64> = problem.jobs.iter().map(worth).collect();
    let mut chairs = prices.chairs().to_vec();
    let mut best = (f64::NEG_INFINITY, worths.clone(), chairs.clone());
    let (mut pace, mut without) = (1.0, 0);
    for _ in 0..rounds {
        let mut served = vec![0.0; problem.jobs.len()];
        let mut taken = vec![0.0; chairs.len()];
        let mut value = -chairs.iter().zip(&seats).map(|(price, of)| price * of).sum::<f64>();
        for (job, of) in problem.jobs.iter().enumerate() {
            value += worths[job] + (of.left_out - worths[job]).min(0.0);
            if of.left_out < worths[job] {
                served[job] += 1.0;
            }
        }
        for stretch in &stretches {
            value += pack(problem, stretch, &worths, chairs[stretch.day], &mut served, &mut taken[stretch.day]);
        }
        without = if value > best.0 + 1e-9 { 0 } else { without + 1 };
        if without == 0 {
            best = (value, worths.clone(), chairs.clone());
        } else if without >= 12 {
            (pace, without) = (pace * 0.6, 0);
            worths.clone_from(&best.1);
            chairs.clone_from(&best.2);
            if pace < 1e-3 {
                break;
            }
            continue;
        }
        if reachable - value <= 1e-9 || stop() {
            break;
        }
        let slopes: Vec<f64> = served.iter().map(|served| 1.0 - served).collect();
        let over: Vec<f64> = (0..chairs.len())
            .map(|day| if chairs[day] <= 0.0 && taken[day] < seats[day] { 0.0 } else { taken[day] - seats[day] })
            .collect();
        let length: f64 = slopes.iter().chain(&over).map(|slope| slope * slope).sum();
        if length <= 0.0 {
            break;
        }
        let step = pace * (reachable - value).max(1e-6) / length;
        worths.iter_mut().zip(&slopes).for_each(|(worth, slope)| *worth += step * slope);
        chairs.iter_mut().zip(&over).for_each(|(price, slope)| *price = (*price + step * slope).max(0.0));
    }
    best.0 - 1e-9 * best.0.abs().max(1.0)
}

/// The best packing of a stretch; what it serves is counted.
fn pack(problem: &Problem, stretch: &Stretch, worths: &[f64], chair: f64, served: &mut [f64], taken: &mut f64) -> f64 {
    // Only what is worth more than it costs can be in the best packing, and of one job only its best choice here.
    let mut items: Vec<(usize, usize, f64, f64)> = Vec::new();
    for (job, choice) in &stretch.choices {
        let of = &problem.jobs[*job].choices[*choice];
        let net = of.cost + chair * f64::from(of.shape.total) - worths[*job];
        if net < 0.0 {
            let load = usize::from(of.shape.load());
            match items.last_mut().filter(|last| last.0 == *job) {
                Some(last) if net < last.2 => *last = (*job, load, net, f64::from(of.shape.total)),
                Some(_) => {}
                None => items.push((*job, load, net, f64::from(of.shape.total))),
            }
        }
    }
    let mut value = vec![0.0; stretch.slots + 1];
    let mut kept = vec![false; items.len() * (stretch.slots + 1)];
    for (index, (_, load, net, _)) in items.iter().enumerate() {
        for slots in (*load..=stretch.slots).rev() {
            let with = value[slots - load] + net;
            if with < value[slots] {
                value[slots] = with;
                kept[index * (stretch.slots + 1) + slots] = true;
            }
        }
    }
    let mut slots = stretch.slots;
    for (index, (job, load, _, total)) in items.iter().enumerate().rev() {
        if kept[index * (stretch.slots + 1) + slots] {
            served[*job] += 1.0;
            *taken += total;
            slots -= load;
        }
    }
    value[stretch.slots]
}

/// Every stretch of every stylist-day; where hands are shared while a colour develops, a day is one stretch of its free slots.
fn stretches(problem: &Problem) -> Vec<Stretch> {
    let room = Room::of(problem);
    let shared = problem.jobs.iter().flat_map(|job| &job.choices).any(|choice| choice.shape.gap.is_some());
    let mut of_bin: Vec<Vec<(usize, usize)>> = vec![Vec::new(); problem.days.len() * problem.stylists];
    for (job, of) in problem.jobs.iter().enumerate() {
        for (choice, way) in of.choices.iter().enumerate() {
            of_bin[room.bin(way)].push((job, choice));
        }
    }
    let fits =
        |way: &Choice, slots: usize| usize::from(if shared { way.shape.load() } else { way.shape.total }) <= slots;
    let mut stretches = Vec::new();
    for (bin, free) in problem.days.iter().flat_map(|day| &day.free).enumerate() {
        let lengths: Vec<usize> = if shared {
            vec![free.iter().filter(|free| **free).count()]
        } else {
            free.split(|free| !free).map(<[bool]>::len).filter(|slots| *slots > 0).collect()
        };
        for slots in lengths {
            let inside =
                of_bin[bin].iter().copied().filter(|(job, way)| fits(&problem.jobs[*job].choices[*way], slots));
            stretches.push(Stretch { day: bin / problem.stylists.max(1), slots, choices: inside.collect() });
        }
    }
    stretches
}
