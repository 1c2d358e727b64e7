//! The fit of visits into slots: never two in one place, and the least cost on what can be enumerated.

use afterhue::schedule::fit::{Choice, Day, Effort, Fitted, Job, Problem, Shape, fit};

use crate::dice::Dice;

/// Work that is enough for a few visits.
const LITTLE: Effort<'static> =
    Effort { rounds: 300, packings: 100, attempts: 20_000, nodes: 200_000, stop: &|| false };

/// A random problem of up to so many jobs.
fn problem(dice: &mut Dice, days: usize, stylists: usize, slots: usize, jobs: usize) -> Problem {
    let stylists = 1 + dice.below(stylists);
    let slots = 3 + dice.below(slots - 2);
    let days: Vec<Day> = (0..1 + dice.below(days))
        .map(|_| Day {
            free: (0..stylists).map(|_| (0..slots).map(|_| dice.below(8) > 0).collect()).collect(),
            chairs: (0..slots).map(|_| dice.below(stylists + 1) as u16).collect(),
        })
        .collect();
    let jobs = (0..1 + dice.below(jobs)).map(|_| job(dice, days.len(), stylists, slots)).collect();
    Problem { days, stylists, jobs }
}

fn job(dice: &mut Dice, days: usize, stylists: usize, slots: usize) -> Job {
    let total = 1 + dice.below(4) as u16;
    let gap = (total >= 3 && dice.below(3) == 0).then(|| (1, total - 1));
    let mut choices = Vec::new();
    for day in 0..days as u32 {
        for stylist in 0..stylists as u32 {
            if dice.below(4) > 0 {
                let start = (dice.below(6) == 0).then(|| dice.below(slots) as u16);
                let cost = dice.below(40) as f64;
                choices.push(Choice { day, stylist, start, shape: Shape { total, gap }, cost });
            }
        }
    }
    Job { left_out: 30.0, choices }
}

/// How often each slot of a stylist and each chair is taken, counted anew from the places alone.
fn assert_sound(problem: &Problem, fitted: &Fitted, which: usize) {
    let slots = problem.days[0].chairs.len();
    let mut hands = vec![vec![vec![0_u16; slots]; problem.stylists]; problem.days.len()];
    let mut chairs = vec![vec![0_u16; slots]; problem.days.len()];
    let mut cost = 0.0;
    for (job, place) in problem.jobs.iter().zip(&fitted.places) {
        let Some(place) = place else {
            cost += job.left_out;
            continue;
        };
        let choice = job.choices[place.choice];
        assert!(choice.start.is_none_or(|start| start == place.start), "salon {which}: a start that was not offered");
        cost += choice.cost;
        let (from, to) = choice.shape.gap.unwrap_or((0, 0));
        for slot in 0..choice.shape.total {
            let at = usize::from(place.start + slot);
            assert!(at < slots, "salon {which}: a visit runs out of the day");
            chairs[choice.day as usize][at] += 1;
            if !(from..to).contains(&slot) {
                hands[choice.day as usize][choice.stylist as usize][at] += 1;
            }
        }
    }
    for (index, day) in problem.days.iter().enumerate() {
        for slot in 0..slots {
            assert!(chairs[index][slot] <= day.chairs[slot], "salon {which}: more clients than chairs");
            for (taken, free) in hands[index].iter().zip(&day.free) {
                let free = u16::from(free[slot]);
                assert!(taken[slot] <= free, "salon {which}: a stylist is taken twice or not there");
            }
        }
    }
    assert!((cost - fitted.cost).abs() < 1e-6, "salon {which}: {cost} is told as {}", fitted.cost);
    assert!(fitted.bound <= fitted.cost + 1e-9, "salon {which}: the bound is above the cost");
}

#[test]
fn nobody_is_double_booked_in_a_thousand_random_problems() {
    let mut dice = Dice(7);
    let (mut placed, mut left_out) = (0, 0);
    for which in 0..1000 {
        let problem = problem(&mut dice, 5, 4, 16, 24);
        let fitted = fit(&problem, &Effort { nodes: 5_000, attempts: 3_000, ..LITTLE });
        assert_sound(&problem, &fitted, which);
        placed += fitted.places.iter().flatten().count();
        left_out += fitted.places.iter().filter(|place| place.is_none()).count();
    }
    // Both must be common, or the problems are too easy to show anything.
    assert!(placed > 3_000 && left_out > 1_000, "{placed} placed, {left_out} left out");
}

/// The least cost by trying every way to place every visit.
fn least_by_trying(problem: &Problem) -> f64 {
    fn taken(problem: &Problem, places: &[(Choice, u16)], choice: Choice, start: u16) -> bool {
        let hands = |choice: &Choice, start: u16| -> Vec<u16> {
            let (from, to) = choice.shape.gap.unwrap_or((0, 0));
            (0..choice.shape.total).filter(|slot| !(from..to).contains(slot)).map(|slot| start + slot).collect()
        };
        let day = &problem.days[choice.day as usize];
        let all = start..start + choice.shape.total;
        if usize::from(all.end) > day.chairs.len() {
            return true;
        }
        let same_day = || places.iter().filter(|(other, _)| other.day == choice.day);
        let crowded = |slot: u16| {
            let seats = same_day().filter(|(other, at)| (*at..*at + other.shape.total).contains(&slot)).count();
            seats as u16 >= day.chairs[usize::from(slot)]
        };
        let busy = |slot: &u16| {
            let other =
                |(other, at): &&(Choice, u16)| other.stylist == choice.stylist && hands(other, *at).contains(slot);
            !day.free[choice.stylist as usize][usize::from(*slot)] || same_day().any(|one| other(&one))
        };
        all.clone().any(crowded) || hands(&choice, start).iter().any(busy)
    }
    fn go(problem: &Problem, at: usize, places: &mut Vec<(Choice, u16)>, cost: f64, best: &mut f64) {
        let Some(job) = problem.jobs.get(at) else {
            *best = best.min(cost);
            return;
        };
        go(problem, at + 1, places, cost + job.left_out, best);
        let slots = problem.days[0].chairs.len() as u16;
        for choice in &job.choices {
            for start in 0..slots {
                let offered = choice.start.is_none_or(|only| only == start);
                if offered && !taken(problem, places, *choice, start) {
                    places.push((*choice, start));
                    go(problem, at + 1, places, cost + choice.cost, best);
                    places.pop();
                }
            }
        }
    }
    let mut best = f64::INFINITY;
    go(problem, 0, &mut Vec::new(), 0.0, &mut best);
    best
}

#[test]
fn on_eighty_small_problems_the_fit_is_the_least_that_trying_every_way_finds() {
    let mut dice = Dice(11);
    let (mut with_conflict, mut with_gap) = (0, 0);
    for which in 0..80 {
        let problem = problem(&mut dice, 2, 2, 6, 5);
        let least = least_by_trying(&problem);
        let fitted = fit(&problem, &LITTLE);
        assert_sound(&problem, &fitted, which);
        assert!((fitted.cost - least).abs() < 1e-9, "problem {which}: {} for {least}", fitted.cost);
        assert!((fitted.bound - least).abs() < 1e-6, "problem {which}: proved {} for {least}", fitted.bound);
        let alone = |job: &Job| job.choices.iter().map(|choice| choice.cost).fold(job.left_out, f64::min);
        with_conflict += usize::from(problem.jobs.iter().map(alone).sum::<f64>() < least - 1e-9);
        with_gap += usize::from(problem.jobs.iter().flat_map(|job| &job.choices).any(|one| one.shape.gap.is_some()));
    }
    assert!(with_conflict > 40 && with_gap > 20, "{with_conflict} with a conflict, {with_gap} with shared hands");
}

#[test]
fn the_bound_is_never_above_the_least_even_when_the_search_is_cut_short() {
    let mut dice = Dice(13);
    for which in 0..60 {
        let problem = problem(&mut dice, 2, 2, 6, 5);
        let least = least_by_trying(&problem);
        let cut = fit(&problem, &Effort { rounds: 20, packings: 10, attempts: 5, nodes: 0, ..LITTLE });
        assert!(cut.bound <= least + 1e-9 && least <= cut.cost + 1e-9, "problem {which}: {cut:?} for {least}");
    }
}

#[test]
fn a_fit_that_is_stopped_at_once_is_still_sound_and_says_so() {
    let mut dice = Dice(17);
    let problem = problem(&mut dice, 5, 4, 16, 24);
    let fitted = fit(&problem, &Effort { stop: &|| true, ..LITTLE });
    assert_sound(&problem, &fitted, 0);
    assert!(fitted.stopped);
}

/// A salon of two stylists whose visits ask for 85 % of the hours of eight weeks, each with a best day and an own stylist.
fn busy_salon(dice: &mut Dice) -> Problem {
    let (days, slots, lunch) = (56_usize, 36_usize, 16..18);
    let works = |day: usize| day % 7 < 5;
    let free = |day: usize| (0..slots).map(|slot| works(day) && !lunch.contains(&slot)).collect::<Vec<bool>>();
    let grid = |day: usize| Day { free: vec![free(day); 2], chairs: vec![2; slots] };
    let room = 2 * (0..days).filter(|day| works(*day)).count() * (slots - lunch.len());
    let (mut asked, mut jobs) = (0, Vec::new());
    while asked * 100 < room * 85 {
        let total = [4, 5, 6, 6, 7, 8, 10, 13][dice.below(8)];
        asked += usize::from(total);
        let (best, own) = (dice.below(days) as f64, dice.below(2));
        let near = (0..days).filter(|day| works(*day) && (-14.0..28.0).contains(&(*day as f64 - best)));
        let choices = near.flat_map(|day| (0..2).map(move |stylist| (day, stylist))).map(|(day, stylist)| {
            // The right day lies anywhere from 8 days before the best to 8 days after it.
            let off = |point: i32| day as f64 - (best + f64::from(point) * 0.8);
            let loss = |point: i32| if off(point) < 0.0 { -off(point) } else { 2.5 * off(point) };
            let cost = (-10..=10).map(loss).sum::<f64>() / 21.0 + if stylist == own { 0.0 } else { 8.0 };
            Choice { day: day as u32, stylist: stylist as u32, start: None, shape: Shape { total, gap: None }, cost }
        });
        jobs.push(Job { left_out: 250.0, choices: choices.collect() });
    }
    Problem { days: (0..days).map(grid).collect(), stylists: 2, jobs }
}

#[test]
/// Two stylists are harder than six: there is less room to swap, and a gap of 1.4 % was found when this was written.
fn a_salon_at_85_percent_load_is_fitted_within_two_percent_of_the_least() {
    let problem = busy_salon(&mut Dice(19));
    let fitted = fit(&problem, &Effort { nodes: 0, attempts: 1_000_000, ..Effort::USUAL });
    assert_sound(&problem, &fitted, 0);
    let alone = |job: &Job| job.choices.iter().map(|choice| choice.cost).fold(job.left_out, f64::min);
    let floor = problem.jobs.iter().map(alone).sum::<f64>();
    assert!(fitted.bound > floor + 50.0, "visits must want the same days: {} for {floor}", fitted.bound);
    assert!(fitted.gap() < 0.02, "{} for {}", fitted.cost, fitted.bound);
}
