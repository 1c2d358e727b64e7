//! The fade ribbon as data: computed colours along the calendar.

use chrono::NaiveDate;

use super::window::day_after;
use crate::forecast::{Forecast, ZoneForecast};
use crate::science::colour::cielab::Lab;
use crate::science::colour::grey_scale;
use crate::science::colour::naming::{ColourName, name};
use crate::units::{Days, Fraction, Washes};

/// One zone of the ribbon.
#[derive(Debug, Clone, PartialEq)]
pub struct RibbonZone {
    /// The forecast zone it shows.
    pub zone: usize,
    /// The steps, from the day of the service on; every zone of a plan has the same days.
    pub steps: Vec<RibbonStep>,
}

/// One step of the ribbon: a day with its computed colour and range.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct RibbonStep {
    /// The day.
    pub date: NaiveDate,
    /// Days since the service.
    pub day: u32,
    /// The colour at the median rate.
    pub colour: Lab,
    /// Its typed name.
    pub name: ColourName,
    /// Share left at the median rate; `None` when no share is defined.
    pub left: Option<Fraction>,
    /// Share left for the one client in ten that fades fastest.
    pub left_low: Option<Fraction>,
    /// Share left for the one client in ten that fades slowest.
    pub left_high: Option<Fraction>,
    /// Grey-scale rating against the first day, 5 no change to 1.
    pub grey_scale: f64,
}

/// The ribbon of every zone on the same days; it reaches the day on which the colour is refreshed, if there is one.
#[must_use]
pub fn ribbon(service: NaiveDate, forecast: &Forecast, refreshed: Option<NaiveDate>) -> Vec<RibbonZone> {
    on_days(service, forecast, &days(forecast, refreshed.map_or(0.0, |day| (day - service).num_days() as f64)))
}

/// The ribbon of every zone on given days since the service.
pub(super) fn on_days(service: NaiveDate, forecast: &Forecast, days: &[u32]) -> Vec<RibbonZone> {
    forecast
        .zones
        .iter()
        .enumerate()
        .map(|(zone, law)| RibbonZone {
            zone,
            steps: days.iter().filter_map(|day| step(service, forecast, law, *day)).collect(),
        })
        .collect()
}

/// Days shown: weekly while the colour moves, until it is nearly back for nine clients in ten and past a last day; at most 9 steps.
fn days(forecast: &Forecast, least: f64) -> Vec<u32> {
    let end = forecast.nearly_back.map_or(168.0, |back| {
        let usual = back.usual.map_or(168.0, Days::to_days);
        back.latest.map_or(usual * 1.5, Days::to_days).clamp(21.0, 168.0)
    });
    let end = end.max(least.min(168.0));
    let step = [7, 14, 21, 28].into_iter().find(|step| end / f64::from(*step) <= 8.0).unwrap_or(28);
    let last = (end / f64::from(step)).ceil() as u32;
    (0..=last).map(|index| index * step).collect()
}

fn step(service: NaiveDate, forecast: &Forecast, law: &ZoneForecast, day: u32) -> Option<RibbonStep> {
    let dose = forecast.clock.dose_on(Days::from_days(f64::from(day)));
    let colour = law.colour_after(dose);
    let at_rate = |probability: f64| {
        let dose = dose.to_washes() * law.rate.quantile(probability);
        law.share_after(Washes::from_washes(dose.min(Washes::HIGH)))
    };
    Some(RibbonStep {
        date: day_after(service, f64::from(day))?,
        day,
        colour,
        name: name(colour),
        left: law.share_after(dose),
        left_low: at_rate(0.9),
        left_high: at_rate(0.1),
        grey_scale: grey_scale::rating(law.deposit.colour, colour),
    })
}
