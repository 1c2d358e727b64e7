//! What the dates would be at other numbers of washes a week.

use chrono::NaiveDate;

use super::refresh::date_range;
use super::window::{DateRange, Window};
use crate::forecast::Forecast;
use crate::units::PerWeek;

/// The numbers of washes a week a client may try.
pub const CHOICES: [u8; 6] = [1, 2, 3, 4, 5, 7];

/// The dates at one number of washes a week.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct WhatIf {
    /// Washes a week.
    pub washes: u8,
    /// When the colour turns.
    pub turns: Option<DateRange>,
    /// When it is nearly back to base.
    pub nearly_back: Option<DateRange>,
    /// When it is refreshed: merged with the other visits, as the plan does.
    pub refresh: Option<Window>,
}

/// The dates at each of the [`CHOICES`], other habits as they are; `refresh` says when a forecast has the colour refreshed.
pub(super) fn what_if(
    service: NaiveDate,
    forecast: &Forecast,
    refresh: impl Fn(&Forecast) -> Option<Window>,
) -> Vec<WhatIf> {
    CHOICES
        .into_iter()
        .map(|washes| {
            let forecast = forecast.with_washes(PerWeek::from_per_week(f64::from(washes)));
            WhatIf {
                washes,
                turns: forecast.turns.map(|turns| date_range(service, turns)),
                nearly_back: forecast.nearly_back.map(|back| date_range(service, back)),
                refresh: refresh(&forecast),
            }
        })
        .collect()
}
