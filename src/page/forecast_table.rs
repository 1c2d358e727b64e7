//! One client's forecast as a table: what the stylist reads at the chair and another program reads as data.
//!
//! In: a history, its forecast, words. Out: [`ForecastTable`], every string ready. Knows nothing of: how it is printed.

use chrono::NaiveDate;
use serde::Serialize;

use super::words::{Words, base_words, colour_after, share_left};
use crate::forecast::{Forecast, ZoneForecast};
use crate::plan::{RibbonStep, date_range, ribbon};
use crate::record::Shareable;
use crate::science::colour::cielab::Lab;
use crate::science::colour::{grey_scale, srgb};
use crate::science::dye::band::Band;
use crate::units::{Fraction, Worded};

/// The forecast of one client.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct ForecastTable {
    /// The client's code.
    pub client: String,
    /// The day of the service.
    pub service: NaiveDate,
    /// Washes a week it assumes.
    pub washes_per_week: f64,
    /// What all habits together amount to, washes a week.
    pub dose_per_week: f64,
    /// What sun takes of the colour in a week beside, %.
    pub sun_percent_per_week: f64,
    /// When the whole head turns.
    pub turns: Dates,
    /// When the whole head is nearly back to its base.
    pub nearly_back: Dates,
    /// Zone by zone.
    pub zones: Vec<ZoneTable>,
}

/// Three days of a forecast; an empty one lies beyond half a year or is not given.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize)]
pub struct Dates {
    /// One client in ten sees it before.
    pub earliest: Option<NaiveDate>,
    /// The middle.
    pub usual: Option<NaiveDate>,
    /// One client in ten sees it after.
    pub latest: Option<NaiveDate>,
}

/// One zone.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct ZoneTable {
    /// Placement, from 1.
    pub placement: usize,
    /// The technique.
    pub technique: &'static str,
    /// The zone.
    pub zone: &'static str,
    /// From the scalp, mm.
    pub from_mm: f64,
    /// To, mm.
    pub to_mm: f64,
    /// The dye class.
    pub dye: &'static str,
    /// The bare base in words.
    pub base: String,
    /// The bare base as `#rrggbb`.
    pub base_hex: String,
    /// Fitted loads, peak K/S of each band with one.
    pub loads: Vec<(&'static str, f64)>,
    /// ΔE00 between the recorded colour and the fitted one.
    pub residual: f64,
    /// The base is too warm for the shade.
    pub too_warm: bool,
    /// Whether the base is too deep for the shade.
    pub too_dark: bool,
    /// When it turns.
    pub turns: Dates,
    /// When it is nearly back.
    pub nearly_back: Dates,
    /// Its colours along the calendar.
    pub steps: Vec<StepRow>,
}

/// One step of a zone.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct StepRow {
    /// The day.
    pub date: NaiveDate,
    /// Days since the service.
    pub day: u32,
    /// Dose at the median rate, washes.
    pub washes: f64,
    /// The colour as `#rrggbb`.
    pub hex: String,
    /// CIELAB lightness.
    pub l: f64,
    /// CIELAB a*.
    pub a: f64,
    /// CIELAB b*.
    pub b: f64,
    /// The colour in words, beside the step before: "copper, a little lighter".
    pub colour: String,
    /// Share left in words.
    pub left: String,
    /// Share left at the median rate, per cent.
    pub left_percent: Option<f64>,
    /// For the one client in ten that fades fastest.
    pub left_low_percent: Option<f64>,
    /// For the one client in ten that fades slowest.
    pub left_high_percent: Option<f64>,
    /// Grey-scale rating against the first day, ISO 105-A05.
    pub grey_scale: f64,
    /// The same as the scale writes it: "4-5".
    pub grade: &'static str,
}

/// The table of a forecast, at display precision.
#[must_use]
pub fn forecast_table(history: &Shareable, forecast: &Forecast, words: &dyn Words) -> ForecastTable {
    let service = history.latest().date;
    let ribbon = ribbon(service, forecast, None);
    let dates = |milestone| date_range(service, milestone);
    ForecastTable {
        client: history.client().code.to_string(),
        service,
        washes_per_week: round(forecast.habits.washes.to_per_week(), 2),
        dose_per_week: round(forecast.weekly().to_washes(), 2),
        sun_percent_per_week: round(100.0 * forecast.sun_a_week(), 1),
        turns: forecast.turns.map(dates).map(Dates::from).unwrap_or_default(),
        nearly_back: forecast.nearly_back.map(dates).map(Dates::from).unwrap_or_default(),
        zones: ribbon
            .iter()
            .map(|shown| zone(service, forecast, &forecast.zones[shown.zone], &shown.steps, words))
            .collect(),
    }
}

impl From<crate::plan::DateRange> for Dates {
    fn from(range: crate::plan::DateRange) -> Self {
        Self { earliest: range.earliest, usual: range.usual, latest: range.latest }
    }
}

fn zone(
    service: NaiveDate,
    forecast: &Forecast,
    law: &ZoneForecast,
    steps: &[RibbonStep],
    words: &dyn Words,
) -> ZoneTable {
    let base = base_words(words, law);
    let dates = |milestone| Dates::from(date_range(service, milestone));
    let bands = Band::WORDS.iter().zip(law.deposit.loads.0);
    ZoneTable {
        placement: law.placement + 1,
        technique: law.kind.word(),
        zone: law.name.word(),
        from_mm: round(law.from.to_mm(), 1),
        to_mm: round(law.to.to_mm(), 1),
        dye: law.class.word(),
        base_hex: srgb::from_lab(law.bare).to_hex(),
        loads: bands.map(|((_, word, _), load)| (*word, round(load, 3))).filter(|(_, load)| *load > 0.0).collect(),
        residual: round(law.deposit.residual, 2),
        too_warm: law.too_warm.is_some() && !law.too_dark(),
        too_dark: law.too_dark(),
        turns: law.turns.map(dates).unwrap_or_default(),
        nearly_back: law.nearly_back.map(dates).unwrap_or_default(),
        steps: steps
            .iter()
            .enumerate()
            .map(|(at, step)| row(forecast, law, step, at.checked_sub(1).map(|at| steps[at].colour), &base, words))
            .collect(),
        base,
    }
}

fn row(
    forecast: &Forecast,
    law: &ZoneForecast,
    step: &RibbonStep,
    before: Option<Lab>,
    base: &str,
    words: &dyn Words,
) -> StepRow {
    let percent = |share: Option<Fraction>| share.map(|share| round(share.to_fraction() * 100.0, 0));
    let left = step.left.map(|left| share_left(words, left.to_fraction(), law.refresh_share.to_fraction(), base));
    StepRow {
        date: step.date,
        day: step.day,
        washes: round(forecast.clock.dose_on(crate::units::Days::from_days(f64::from(step.day))).to_washes(), 2),
        hex: srgb::from_lab(step.colour).to_hex(),
        l: round(step.colour.l, 1),
        a: round(step.colour.a, 1),
        b: round(step.colour.b, 1),
        colour: colour_after(words, before, step.colour),
        left: left.unwrap_or_default(),
        left_percent: percent(step.left),
        left_low_percent: percent(step.left_low),
        left_high_percent: percent(step.left_high),
        grey_scale: round(step.grey_scale, 1),
        grade: grey_scale::grade(step.grey_scale),
    }
}

/// A number at display precision; minus nought becomes nought.
fn round(value: f64, places: i32) -> f64 {
    let scale = 10_f64.powi(places);
    (value * scale).round() / scale + 0.0
}
