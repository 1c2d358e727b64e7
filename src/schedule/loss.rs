//! What a date costs: the expected loss under the predicted distribution of the right day.
//!
//! In: the plan and its forecast, prices a day. Out: [`Ripeness`], and a loss for any day. Knows nothing of: chairs.

use chrono::{Days, NaiveDate};

use crate::forecast::{Forecast, HORIZON, Milestone};
use crate::plan::{Plan, VisitPart, Window};
use crate::record::{AfterWish, ServiceRecord};
use crate::salon::BookRules;
use crate::units::Washes;

/// Equally likely days by which the distribution is kept.
const POINTS: usize = 20;

/// The days on which a visit would be just right, equally likely, as days from an origin.
#[derive(Debug, Clone, PartialEq)]
pub struct Ripeness {
    origin: NaiveDate,
    days: Vec<f64>,
}

/// The probability in the middle of each of the equally likely parts.
fn middles() -> impl Iterator<Item = f64> {
    (0..POINTS).map(|point| (point as f64 + 0.5) / POINTS as f64)
}

impl Ripeness {
    /// A window read as a distribution: one in ten before its first day, half before its best, one in ten after its last.
    ///
    /// Straight between these points and on beyond them; so many practised intervals have no more shape than that.
    #[must_use]
    pub fn of_window(window: Window) -> Self {
        let from = |day: NaiveDate| (day - window.earliest).num_days() as f64;
        let (best, latest) = (from(window.best), from(window.latest));
        let (before, after) = (best / 0.4, (latest - best) / 0.4);
        let day = |p: f64| if p < 0.5 { best - (0.5 - p) * before } else { best + (p - 0.5) * after };
        Self { origin: window.earliest, days: middles().map(day).collect() }
    }

    /// The forecast's own distribution of the day on which something happens, held inside a window.
    #[must_use]
    pub fn of_forecast(service: NaiveDate, forecast: &Forecast, milestone: Milestone, window: Window) -> Self {
        let Some(rate) = forecast.rate() else { return Self::of_window(window) };
        let from = |day: NaiveDate| (day - service).num_days() as f64;
        let (first, last) = (from(window.earliest), from(window.latest));
        let day = |p: f64| {
            // The slower the rate, the later the day.
            let dose = (milestone.dose.to_washes() / rate.quantile(1.0 - p)).min(Washes::HIGH);
            let day = forecast.clock.day_of(Washes::from_washes(dose)).unwrap_or(HORIZON).to_days();
            day.clamp(first, last.max(first))
        };
        Self { origin: service, days: middles().map(day).collect() }
    }

    /// What is to be expected of the next visit for some parts: every part weighs the same.
    #[must_use]
    pub fn of_visit(parts: &[VisitPart], window: Window, plan: &Plan, visit: &ServiceRecord) -> Self {
        let mut days: Vec<f64> = Vec::new();
        let origin = plan.service;
        for part in parts {
            let own = match part {
                VisitPart::Refresh => {
                    let milestone = refresh_milestone(plan, visit);
                    milestone.zip(plan.refresh).map_or_else(
                        || Self::of_window(window),
                        |(milestone, refresh)| Self::of_forecast(origin, &plan.forecast, milestone, refresh),
                    )
                }
                VisitPart::Roots => Self::of_window(plan.roots.map_or(window, |roots| roots.window)),
                VisitPart::Trim => Self::of_window(plan.trim.unwrap_or(window)),
            };
            let shift = (own.origin - origin).num_days() as f64;
            days.extend(own.days.iter().map(|day| day + shift));
        }
        if days.is_empty() { Self::of_window(window) } else { Self { origin, days } }
    }

    /// The expected loss of coming on a day, in the salon's currency.
    ///
    /// ```text
    /// E = early · mean (t − d)⁺ + late · mean (d − t)⁺
    /// ```
    ///
    /// | symbol | meaning | unit |
    /// |---|---|---|
    /// | `d` | the day of the visit | d |
    /// | `t` | the day on which it would be just right | d |
    /// | `early`, `late` | the salon's price of a day | currency/d |
    #[must_use]
    pub fn loss(&self, day: NaiveDate, rules: &BookRules) -> f64 {
        let day = (day - self.origin).num_days() as f64;
        let of = |right: f64| (right - day).max(0.0) * rules.early_a_day + (day - right).max(0.0) * rules.late_a_day;
        self.days.iter().map(|right| of(*right)).sum::<f64>() / self.days.len() as f64
    }

    /// The days, each with its chance, soonest first.
    pub fn days(&self) -> impl Iterator<Item = (f64, NaiveDate)> {
        let mut days = self.days.clone();
        days.sort_by(f64::total_cmp);
        let chance = 1.0 / days.len().max(1) as f64;
        let origin = self.origin;
        days.into_iter().filter_map(move |day| {
            let day = chrono::TimeDelta::try_days(day.round() as i64)?;
            Some((chance, origin.checked_add_signed(day)?))
        })
    }

    /// The day by which a share of the distribution lies behind, straight between the points.
    #[must_use]
    pub fn day(&self, share: f64) -> Option<NaiveDate> {
        let mut days = self.days.clone();
        days.sort_by(f64::total_cmp);
        // Each point stands in the middle of its part.
        let at = (share * days.len() as f64 - 0.5).clamp(0.0, (days.len() - 1) as f64);
        let (below, above) = (at.floor() as usize, at.ceil() as usize);
        let day = (days[below] + (days[above] - days[below]) * at.fract()).round();
        if day < 0.0 {
            self.origin.checked_sub_days(Days::new((-day) as u64))
        } else {
            self.origin.checked_add_days(Days::new(day as u64))
        }
    }
}

/// The milestone a refresh is booked by: the earlier of the two to keep the colour, the later to let it soften.
#[must_use]
pub fn refresh_milestone(plan: &Plan, visit: &ServiceRecord) -> Option<Milestone> {
    let back = plan.forecast.nearly_back?;
    let keep = visit.wishes.after.unwrap_or(AfterWish::Keep) == AfterWish::Keep;
    let first = |turns: Milestone| turns.dose.to_washes() <= back.dose.to_washes();
    Some(match plan.forecast.turns {
        Some(turns) if first(turns) == keep => turns,
        _ => back,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn day(d: u32) -> NaiveDate {
        NaiveDate::from_ymd_opt(2026, 12, d).expect("a day of December")
    }

    #[test]
    fn a_window_read_as_a_distribution_keeps_its_three_days() {
        let ripe = Ripeness::of_window(Window { earliest: day(5), best: day(13), latest: day(17) });
        assert_eq!([0.1, 0.5, 0.9].map(|p| ripe.day(p)), [Some(day(5)), Some(day(13)), Some(day(17))]);
    }

    /// With a day early as dear as a day late, the least expected loss is at the median (of any distribution; Laplace).
    /// With a dearer late day it is at the early quantile early/(early + late): the newsvendor's rule (Edgeworth 1888, from memory).
    #[test]
    fn the_cheapest_day_is_the_quantile_of_the_two_prices() {
        let ripe = Ripeness::of_window(Window { earliest: day(2), best: day(12), latest: day(30) });
        for (early, late) in [(1.0, 1.0), (1.0, 3.0), (3.0, 1.0)] {
            let rules = BookRules { early_a_day: early, late_a_day: late, ..BookRules::default() };
            let loss = |day: &NaiveDate| ripe.loss(*day, &rules);
            let cheapest = (1..=31).map(day).min_by(|a, b| loss(a).total_cmp(&loss(b))).expect("31 days");
            let quantile = ripe.day(early / (early + late)).expect("a day");
            assert!((cheapest - quantile).num_days().abs() <= 1, "{early} {late}: {cheapest} for {quantile}");
        }
    }
}
