//! The fade ribbon as data: computed colours along the calendar.

use chrono::NaiveDate;

use super::window::day_after;
use crate::forecast::{Clock, Curve, Forecast, ZoneForecast};
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

/// A day with its computed colour, and nothing more.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct DayColour {
    /// Days since the service.
    pub day: u32,
    /// The colour at the median rate.
    pub colour: Lab,
}

/// What a drawing of hair needs to know of a step.
pub trait Coloured: Copy {
    /// Days since the service.
    fn day(&self) -> u32;

    /// The colour at the median rate.
    fn colour(&self) -> Lab;
}

impl Coloured for RibbonStep {
    fn day(&self) -> u32 {
        self.day
    }

    fn colour(&self) -> Lab {
        self.colour
    }
}

impl Coloured for DayColour {
    fn day(&self) -> u32 {
        self.day
    }

    fn colour(&self) -> Lab {
        self.colour
    }
}

/// The ribbon of every zone on the same days; it reaches the day on which the colour is refreshed, if there is one.
#[must_use]
pub fn ribbon(service: NaiveDate, forecast: &Forecast, refreshed: Option<NaiveDate>) -> Vec<RibbonZone> {
    on_days(service, forecast, &days(forecast, refreshed.map_or(0.0, |day| (day - service).num_days() as f64)))
}

/// The ribbon of every zone on given days since the service.
fn on_days(service: NaiveDate, forecast: &Forecast, days: &[u32]) -> Vec<RibbonZone> {
    let steps = |law: &ZoneForecast| {
        let curve = Curve::of(law);
        let ends = [law.rate.quantile(0.9), law.rate.quantile(0.1)];
        days.iter().filter_map(|day| step(service, &forecast.clock, &curve, ends, *day)).collect()
    };
    forecast.zones.iter().enumerate().map(|(zone, law)| RibbonZone { zone, steps: steps(law) }).collect()
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

/// One step; `ends` are the rates of the one client in ten that fades fastest and of the one that fades slowest.
fn step(service: NaiveDate, clock: &Clock, curve: &Curve<'_>, ends: [f64; 2], day: u32) -> Option<RibbonStep> {
    let dose = clock.dose_on(Days::from_days(f64::from(day)));
    let colour = curve.colour_after(dose);
    let at_rate = |rate: f64| {
        let dose = dose.to_washes() * rate;
        curve.share_of(curve.colour_after(Washes::from_washes(dose.min(Washes::HIGH))))
    };
    Some(RibbonStep {
        date: day_after(service, f64::from(day))?,
        day,
        colour,
        name: name(colour),
        left: curve.share_of(colour),
        left_low: at_rate(ends[0]),
        left_high: at_rate(ends[1]),
        grey_scale: grey_scale::rating(curve.zone().deposit.colour, colour),
    })
}

/// The colours of the zone that covers most hair on given days since the service.
pub(super) fn leading_colours(forecast: &Forecast, days: &[u32]) -> Vec<DayColour> {
    let Some(law) = forecast.leading_zone().map(|zone| &forecast.zones[zone]) else { return Vec::new() };
    let curve = Curve::of(law);
    let on = |day: u32| curve.colour_after(forecast.clock.dose_on(Days::from_days(f64::from(day))));
    days.iter().map(|day| DayColour { day: *day, colour: on(*day) }).collect()
}
