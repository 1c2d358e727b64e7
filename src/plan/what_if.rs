//! What the dates would be at other numbers of washes a week.

use super::refresh::{self, date_range};
use super::window::{DateRange, Window};
use crate::forecast::Forecast;
use crate::record::ServiceRecord;
use crate::salon::{Practice, ShadeKind};
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
    /// When to refresh.
    pub refresh: Option<Window>,
}

/// The dates at each of the [`CHOICES`], other habits as they are.
pub(super) fn what_if(
    visit: &ServiceRecord,
    practice: &Practice,
    shade: ShadeKind,
    forecast: &Forecast,
) -> Vec<WhatIf> {
    CHOICES
        .into_iter()
        .map(|washes| {
            let forecast = forecast.with_washes(PerWeek::from_per_week(f64::from(washes)));
            WhatIf {
                washes,
                turns: forecast.turns.map(|turns| date_range(visit.date, turns)),
                nearly_back: forecast.nearly_back.map(|back| date_range(visit.date, back)),
                refresh: refresh::window(visit, practice, shade, &forecast),
            }
        })
        .collect()
}
