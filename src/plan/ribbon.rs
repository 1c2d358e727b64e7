//! The fade ribbon as data: computed colours along the calendar.

use chrono::NaiveDate;

use crate::science::colour::{cielab::Lab, naming::ColourName};
use crate::units::Fraction;

/// One zone of the ribbon.
#[derive(Debug, Clone, PartialEq)]
pub struct RibbonZone {
    /// The forecast zone it shows.
    pub zone: usize,
    /// The steps, from the day of the service on.
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
    /// Grey-scale rating against the first day.
    pub grey_scale: f64,
}
