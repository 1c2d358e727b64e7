//! What the dates would be at other numbers of washes a week, and with a colour conditioner at home.

use chrono::NaiveDate;

use super::refresh::date_range;
use super::ribbon::{DayColour, leading_colours};
use super::window::{DateRange, Window};
use crate::forecast::Forecast;
use crate::units::PerWeek;

/// The numbers of washes a week a client may try.
pub const CHOICES: [u8; 6] = [1, 2, 3, 4, 5, 7];

/// How the colour goes at one number of washes a week, with or without a weekly conditioner.
#[derive(Debug, Clone, PartialEq)]
pub struct WhatIf {
    /// Washes a week.
    pub washes: u8,
    /// With a colour conditioner once a week; without one otherwise.
    pub conditioner: bool,
    /// When the colour turns.
    pub turns: Option<DateRange>,
    /// When it is nearly back to base.
    pub nearly_back: Option<DateRange>,
    /// When it is refreshed: merged with the other visits, as the plan does.
    pub refresh: Option<Window>,
    /// The colour of the leading zone along the days.
    pub steps: Vec<DayColour>,
}

/// Each of the [`CHOICES`], other habits as they are; `refresh` says when a forecast has the colour refreshed.
///
/// All are computed on the same days, so that one can be held against another.
pub(super) fn what_if(
    service: NaiveDate,
    forecast: &Forecast,
    days: &[u32],
    refresh: impl Fn(&Forecast) -> Option<Window>,
) -> Vec<WhatIf> {
    let at = |washes: u8, conditioner: bool| {
        let uses = if conditioner { 1.0 } else { 0.0 };
        let forecast = forecast.glance(PerWeek::from_per_week(f64::from(washes)), PerWeek::from_per_week(uses));
        let refresh = refresh(&forecast);
        WhatIf {
            washes,
            conditioner,
            turns: forecast.turns.map(|turns| date_range(service, turns)),
            nearly_back: forecast.nearly_back.map(|back| date_range(service, back)),
            refresh,
            steps: leading_colours(&forecast, days),
        }
    };
    [false, true].into_iter().flat_map(|used| CHOICES.map(|washes| at(washes, used))).collect()
}
