//! The wash rhythm by inverse solving.

use chrono::{Days, NaiveDate};

use crate::forecast::Forecast;
use crate::record::{Curl, Hair, ScalpOil, ServiceRecord};
use crate::salon::{Practice, ShadeKind};
use crate::science::parameter::{Parameter, Source};
use crate::units::{PerWeek, Washes};

/// Probability with which the colour is to stay above its refresh share until the wished date.
pub(super) const KEEPING: Parameter = Parameter {
    name: "probability with which the rhythm keeps the colour until the wished date",
    value: 0.8,
    low: 0.7,
    high: 0.9,
    unit: "1",
    source: Source::Assumed("the design's promise: 4 clients in 5"),
};

/// Days of sport a week from which a scalp needs one wash more.
pub(super) const MUCH_SPORT: Parameter = Parameter {
    name: "days of sport a week from which the scalp needs one wash more",
    value: 4.0,
    low: 3.0,
    high: 6.0,
    unit: "1/week",
    source: Source::CommonPractice,
};

/// How often to wash.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Rhythm {
    /// Washes a week advised.
    pub per_week: f64,
    /// The same as days from one wash to the next, rounded up to whole days.
    pub every_days: u32,
    /// What set it.
    pub limit: RhythmLimit,
    /// The day until which the colour stays above its refresh share with 80 % probability at this rhythm.
    pub keeps_until: Option<NaiveDate>,
    /// The washes a week this client reports, when recorded.
    pub habit_per_week: Option<f64>,
}

impl Rhythm {
    /// The rhythm of a client without a plan: none that a page may show.
    pub(super) const fn unplanned() -> Self {
        Self { per_week: 0.0, every_days: 0, limit: RhythmLimit::Habit, keeps_until: None, habit_per_week: None }
    }
}

/// What set the rhythm.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum RhythmLimit {
    /// The most that keeps the colour until the wished date.
    Colour,
    /// The most advised for this kind of shade.
    Cap,
    /// The scalp needs more than the colour would like; the date moves.
    Scalp,
    /// The client already washes no more than the colour allows.
    Habit,
}

/// The least washes a week a scalp needs, by oil, curl and sport. Common practice, no source; a colour never overrides it.
#[must_use]
pub fn scalp_need(hair: &Hair, sport_days: f64) -> f64 {
    let by_scalp = match (hair.scalp_oil, hair.curl) {
        (Some(ScalpOil::Oily), _) => 3.0,
        (_, Some(Curl::Coily)) => 0.5,
        // One real wash a week is the least anybody is told; dry and curly hair is no exception.
        _ => 1.0,
    };
    if sport_days >= MUCH_SPORT.value { by_scalp + 1.0 } else { by_scalp }
}

/// Finds the rhythm for a wished date.
pub(super) fn rhythm(
    visit: &ServiceRecord,
    practice: &Practice,
    shade: ShadeKind,
    forecast: &Forecast,
    wished: NaiveDate,
) -> Rhythm {
    let need = scalp_need(&visit.hair, visit.habits.sport.map_or(0.0, PerWeek::to_per_week));
    let habit = visit.habits.washes.map(|_| forecast.habits.washes.to_per_week());
    let cap = practice.wash_cap.of(shade);
    let most = most_washes(forecast, days_between(visit.date, wished)).unwrap_or(cap);
    let (allowed, limit) = if most < cap { (most, RhythmLimit::Colour) } else { (cap, RhythmLimit::Cap) };
    let (per_week, limit) = match habit {
        _ if allowed < need => (need, RhythmLimit::Scalp),
        Some(habit) if habit >= need && habit <= allowed => (habit, RhythmLimit::Habit),
        _ => (allowed, limit),
    };
    // Whole days are what a person can keep; rounding up never washes more than was solved for,
    // except where the scalp's need is the floor.
    let every = 7.0 / per_week;
    let every_days = if limit == RhythmLimit::Scalp { every.floor() } else { every.ceil() }.clamp(1.0, 14.0);
    let per_week = 7.0 / every_days;
    Rhythm { per_week, every_days: every_days as u32, limit, keeps_until: None, habit_per_week: habit }
}

/// The most washes a week, other habits equal, that keep the colour to a day with [`KEEPING`] probability.
///
/// ```text
/// D* / q(0.8) = w(n)/7 · (t − t₀)
/// ```
///
/// `D*` is the dose at which the colour is nearly back, `q` the quantile of the rate, `w(n)` the weekly dose of `n` washes.
/// Solved for `n` by halving, `w` being monotone. Nothing when the colour has no such dose.
fn most_washes(forecast: &Forecast, days: f64) -> Option<f64> {
    let threshold = forecast.nearly_back?.dose.to_washes() / forecast.rate()?.quantile(KEEPING.value);
    let dose = |washes: f64| {
        forecast.clock_at(PerWeek::from_per_week(washes)).dose_on(crate::units::Days::from_days(days)).to_washes()
    };
    let (mut low, mut high) = (0.0, 7.0);
    for _ in 0..20 {
        let middle = f64::midpoint(low, high);
        if dose(middle) <= threshold { low = middle } else { high = middle }
    }
    Some(low)
}

/// The last day on which the colour is above its refresh share with [`KEEPING`] probability.
pub(super) fn keeps_until(service: NaiveDate, forecast: &Forecast) -> Option<NaiveDate> {
    let threshold = forecast.nearly_back?.dose.to_washes() / forecast.rate()?.quantile(KEEPING.value);
    let day = forecast.clock.day_of(Washes::from_washes(threshold))?;
    service.checked_add_days(Days::new(day.to_days().floor() as u64))
}

/// The washes from the first to a last day, every `every` days.
pub(super) fn wash_dates(first: NaiveDate, every: u32, last: NaiveDate) -> Vec<NaiveDate> {
    first.iter_days().step_by(every.max(1) as usize).take_while(|day| *day <= last).take(60).collect()
}

fn days_between(from: NaiveDate, to: NaiveDate) -> f64 {
    ((to - from).num_days() as f64).clamp(1.0, 182.0)
}
