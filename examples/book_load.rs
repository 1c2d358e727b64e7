//! How long the fit of a large salon takes, and how near the least cost it comes.
//!
//! ```sh
//! cargo run --release --example book_load            # 1,000 clients, 6 stylists, 8 weeks, loads of 60 to 95 %
//! cargo run --release --example book_load -- 2000 10 12
//! cargo run --release --example book_load -- 1000 6 8 85
//! ```
//!
//! The clients are drawn, not real: windows of one to five weeks, visits of 60 to 195 minutes, each with an own stylist, prices as a salon has them unless told otherwise.
//! Load is the chair time asked for over the hours the stylists work.

#![expect(clippy::print_stdout, reason = "an example says what it measured")]

use std::time::Instant;

use afterhue::salon::BookRules;
use afterhue::schedule::fit::{Choice, Day, Effort, Job, Problem, Shape, fit};

/// Slots of a quarter of an hour: 9 hours with a break of half an hour.
const SLOTS: usize = 36;
const BREAK: std::ops::Range<usize> = 16..18;

fn main() {
    let asked: Vec<usize> = std::env::args().skip(1).filter_map(|word| word.parse().ok()).collect();
    let of = |at: usize, usual: usize| asked.get(at).copied().unwrap_or(usual);
    let (clients, stylists, weeks) = (of(0, 1000), of(1, 6), of(2, 8));
    println!("{clients} clients, {stylists} stylists, {weeks} weeks");
    println!(
        "{:>6} {:>8} {:>10} {:>10} {:>8} {:>12} {:>9}",
        "load", "seconds", "cost", "bound", "gap", "avoidable", "left out"
    );
    let loads = asked.get(3).map_or_else(|| vec![60, 65, 70, 75, 80, 85, 90, 95], |load| vec![*load]);
    for load in loads {
        let problem = salon(clients, stylists, weeks, load as f64 / 100.0, 7 + load as u64);
        let began = Instant::now();
        let fitted = fit(&problem, &Effort::USUAL);
        let seconds = began.elapsed().as_secs_f64();
        let alone: f64 = problem
            .jobs
            .iter()
            .map(|job| job.choices.iter().map(|choice| choice.cost).fold(job.left_out, f64::min))
            .sum();
        let left = fitted.places.iter().filter(|place| place.is_none()).count();
        println!(
            "{load:>5}% {seconds:>8.2} {:>10.1} {:>10.1} {:>7.3}% {:>12.1} {left:>9}",
            fitted.cost,
            fitted.bound,
            fitted.gap() * 100.0,
            fitted.cost - alone,
        );
    }
}

/// A salon whose visits come to a load.
fn salon(clients: usize, stylists: usize, weeks: usize, load: f64, seed: u64) -> Problem {
    let rules = BookRules::default();
    let mut dice = Dice(seed);
    let days = weeks * 7;
    // Lengths as drawn; the days the stylists work are then as many as the load asks for.
    let lengths: Vec<u16> = (0..clients).map(|_| [4, 5, 6, 6, 7, 8, 10, 13][dice.below(8)]).collect();
    let total: usize = lengths.iter().map(|length| usize::from(*length)).sum();
    let per_day = SLOTS - BREAK.len();
    let wanted = (total as f64 / load / per_day as f64).round() as usize;
    let mut working: Vec<(usize, usize)> =
        (0..days).filter(|day| day % 7 < 6).flat_map(|day| (0..stylists).map(move |one| (day, one))).collect();
    while working.len() > wanted {
        working.swap_remove(dice.below(working.len()));
    }
    let free = |day: usize, stylist: usize| {
        let works = working.contains(&(day, stylist));
        (0..SLOTS).map(|slot| works && !BREAK.contains(&slot)).collect()
    };
    let grid = |day: usize| Day {
        free: (0..stylists).map(|one| free(day, one)).collect(),
        chairs: vec![stylists as u16; SLOTS],
    };
    let jobs = lengths.iter().map(|length| job(*length, &working, days, &rules, stylists, &mut dice)).collect();
    Problem { days: (0..days).map(grid).collect(), stylists, jobs }
}

fn job(
    length: u16,
    working: &[(usize, usize)],
    days: usize,
    rules: &BookRules,
    stylists: usize,
    dice: &mut Dice,
) -> Job {
    let (best, width) = (dice.uniform() * days as f64, 4.0 + dice.uniform() * 14.0);
    let own = dice.below(stylists);
    let right: Vec<f64> = (0..20).map(|point| best + width * (f64::from(point) - 9.5) / 10.0).collect();
    let loss = |day: f64| {
        let of = |at: &f64| (at - day).max(0.0) * rules.early_a_day + (day - at).max(0.0) * rules.late_a_day;
        right.iter().map(of).sum::<f64>() / 20.0
    };
    let shape = Shape { total: length, gap: None };
    let near = |day: usize| (best - width..best + width + 28.0).contains(&(day as f64));
    let choices = working.iter().filter(|(day, _)| near(*day)).map(|(day, stylist)| Choice {
        day: *day as u32,
        stylist: *stylist as u32,
        start: None,
        shape,
        cost: loss(*day as f64) + if *stylist == own { 0.0 } else { rules.other_stylist },
    });
    Job { left_out: rules.left_out, choices: choices.collect() }
}

/// A seeded generator, `SplitMix64` (Steele, Lea & Flood 2014).
struct Dice(u64);

impl Dice {
    fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        z ^ (z >> 31)
    }

    fn uniform(&mut self) -> f64 {
        (self.next() >> 11) as f64 / (1_u64 << 53) as f64
    }

    fn below(&mut self, limit: usize) -> usize {
        (self.uniform() * limit as f64) as usize
    }
}
