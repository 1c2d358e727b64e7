//! Everything one page is made from.
//!
//! In: borrowed views of one client. Out: [`Sources`]. Knows nothing of: what the page shows of it.

use chrono::{Datelike, NaiveDate};

use crate::forecast::{Forecast, ZoneForecast};
use crate::page::advice::Advice;
use crate::page::link::Link;
use crate::page::words::{Dates, Words};
use crate::plan::{Plan, RibbonStep};
use crate::record::Shareable;
use crate::salon::Salon;
use crate::schedule::diary::Booked;

/// Everything one page is made from.
#[derive(Clone, Copy)]
pub struct Sources<'a> {
    /// The client and the visits, without health facts.
    pub shareable: &'a Shareable,
    /// The salon.
    pub salon: &'a Salon,
    /// The forecast of the latest visit.
    pub forecast: &'a Forecast,
    /// The plan.
    pub plan: &'a Plan,
    /// The care texts chosen for this plan, in the order of their sections.
    pub advice: &'a [Advice],
    /// The visit that is booked, when there is one.
    pub booked: Option<Booked>,
    /// The words of the page's language.
    pub words: &'a dyn Words,
    /// The page's own link; without it no calendar link is shown.
    pub link: Option<&'a Link>,
    /// The stylist's note as finished mark-up.
    pub note_html: Option<&'a str>,
    /// The day the care texts were last reviewed.
    pub reviewed: NaiveDate,
}

impl<'a> Sources<'a> {
    /// Dates as this page writes them.
    pub(in crate::page) fn dates(&self) -> Dates<'a> {
        Dates { words: self.words, year: self.plan.service.year() }
    }

    /// The zone that leads the page.
    pub(super) fn leading(&self) -> Option<&'a ZoneForecast> {
        self.forecast.zones.get(self.plan.leading_zone?)
    }

    /// Its steps.
    pub(super) fn leading_steps(&self) -> Option<&'a [RibbonStep]> {
        let leading = self.plan.leading_zone?;
        self.plan.ribbon.iter().find(|zone| zone.zone == leading).map(|zone| zone.steps.as_slice())
    }

    /// "Then about every 4 days", by the rhythm of the plan.
    pub(in crate::page) fn every_days(&self, key: &str) -> String {
        match self.plan.rhythm.every_days {
            0 | 1 => self.words.pattern(&format!("{key}-day")),
            days => self.words.say(&format!("{key}-days"), &[("count", &days.to_string())]),
        }
    }
}
