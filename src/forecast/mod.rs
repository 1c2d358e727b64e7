//! Stage 2: how the colour of each zone will leave, over washes and days, with a range.
//!
//! In: a client's history without health facts, the salon's practice, the laws. Out: [`Forecast`].
//! Knows nothing of: the calendar. Time is counted in days since the service.

mod zone;

pub use zone::ZoneForecast;

use crate::record::Shareable;
use crate::salon::Salon;
use crate::science::fade::dose::Wear;
use crate::units::{Days, Washes};

/// How far a forecast looks.
pub const HORIZON: Days = Days::from_days(182.0);

/// The forecast of one client's latest visit.
#[derive(Debug, Clone, PartialEq)]
pub struct Forecast {
    /// Every coloured zone, in the order of the record.
    pub zones: Vec<ZoneForecast>,
    /// The habits it assumes.
    pub habits: Wear,
    /// What those habits amount to in a week.
    pub weekly: Washes,
    /// When the first wash is advised; no dose before it.
    pub first_wash: Days,
}

/// A day by which something happens, with its range.
///
/// `None` at an end means: not within the [`HORIZON`].
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Milestone {
    /// The dose at which it happens at the median rate.
    pub dose: Washes,
    /// One client in ten sees it before this day.
    pub earliest: Option<Days>,
    /// The middle of the forecast.
    pub usual: Option<Days>,
    /// One client in ten sees it after this day.
    pub latest: Option<Days>,
}

/// Forecasts the latest visit of a history.
#[must_use]
pub fn forecast(_history: &Shareable, _salon: &Salon) -> Forecast {
    todo!()
}
