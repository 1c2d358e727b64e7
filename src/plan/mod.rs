//! Stage 3: the forecast and a date become washes, visits, steps and cautions. The first module that knows dates.
//!
//! In: a history without health facts, the salon's practice, the forecast. Out: [`Plan`], which may become public;
//! and, from the history with health facts, [`gates`], which never may.
//! Knows nothing of: words on a page.

mod caution;
mod doubt;
mod gate;
mod make;
mod refresh;
mod ribbon;
mod roots;
mod spelt;
mod visits;
mod washing;
mod what_if;
mod window;

pub use caution::Caution;
pub use doubt::{Doubt, too_wide};
pub use gate::{Gate, gates, on_day};
pub use make::plan;
pub use refresh::date_range;
pub use ribbon::{Coloured, DayColour, RibbonStep, RibbonZone, ribbon};
pub use roots::{Roots, RootsReason};
pub use spelt::{day_in_words, span_in_words, weekday_in_words};
pub use visits::{Need, Visit, VisitPart, visits};
pub use washing::{Rhythm, RhythmLimit, scalp_need};
pub use what_if::{CHOICES, WhatIf};
pub use window::{DateRange, Window};

use chrono::NaiveDate;

use crate::forecast::Forecast;
use crate::salon::ShadeKind;
use crate::science::parameter::Parameter;

/// The numbers this stage assumes, beside the salon's own practice.
pub const PARAMETERS: &[&Parameter] = &[
    &washing::KEEPING,
    &washing::MUCH_SPORT,
    &roots::HIGH_CONTRAST,
    &roots::WHITE_COVER,
    &refresh::AHEAD_OF_THE_REST,
    &refresh::LEAST_WINDOW,
    &doubt::TOO_WIDE,
    &doubt::RETURNS_THAT_TEACH,
];

/// Whether a plan can be made.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Standing {
    /// A full plan.
    Planned,
    /// Age 16 is not confirmed: a page with help text only.
    AgeNotConfirmed,
}

/// The plan of one client after the latest visit. A function of records and settings, never of today.
#[derive(Debug, Clone, PartialEq)]
pub struct Plan {
    /// Whether there is one; without it every list is empty and every date missing.
    pub standing: Standing,
    /// The day of the service.
    pub service: NaiveDate,
    /// How the leading shade is kept; `None` when nothing was coloured.
    pub shade: Option<ShadeKind>,
    /// The zone that covers most hair and leads the page: an index into the forecast's zones.
    pub leading_zone: Option<usize>,
    /// The first wash.
    pub first_wash: NaiveDate,
    /// How often to wash.
    pub rhythm: Rhythm,
    /// Wash dates from the first wash to the next visit, at the rhythm.
    pub wash_dates: Vec<NaiveDate>,
    /// The forecast at the rhythm advised: every date of this plan comes from it.
    pub forecast: Forecast,
    /// When the colour turns.
    pub turns: Option<DateRange>,
    /// When it is nearly back to base.
    pub nearly_back: Option<DateRange>,
    /// When to refresh by the colour alone; [`Plan::refresh_visit`] says when it is done.
    pub refresh: Option<Window>,
    /// What to do when the range is too wide to book by.
    pub doubt: Doubt,
    /// When the roots need a visit.
    pub roots: Option<Roots>,
    /// When a trim is due.
    pub trim: Option<Window>,
    /// The visits of the next 26 weeks, merged.
    pub visits: Vec<Visit>,
    /// Zones that are nearly back more than a week before the rest: indices into the forecast's zones.
    pub top_up_zones: Vec<usize>,
    /// The fade ribbon, zone by zone.
    pub ribbon: Vec<RibbonZone>,
    /// Cautions that come from hair state and service, never from health.
    pub cautions: Vec<Caution>,
    /// The dates at other numbers of washes a week; empty when nothing was coloured.
    pub what_if: Vec<WhatIf>,
    /// The day on which the client wishes the colour to look its best.
    pub event: Option<NaiveDate>,
    /// The day on which the page expires.
    pub expires: NaiveDate,
}

impl Plan {
    /// The next visit to come to: the first merged one, else the refresh alone.
    #[must_use]
    pub fn next_visit(&self) -> Option<Visit> {
        let alone = || self.refresh.map(|window| Visit { window, parts: vec![VisitPart::Refresh] });
        self.visits.first().cloned().or_else(alone)
    }

    /// The same plan with its next visit booked for a day: whatever speaks of that visit names the day, and a later visit
    /// that is open by then is served with it.
    #[must_use]
    pub fn booked_for(mut self, day: NaiveDate) -> Self {
        if self.visits.is_empty() {
            return self;
        }
        let window = Window { earliest: day, best: day, latest: day };
        let served = self.visits.iter().take_while(|visit| visit.window.earliest <= day).count().max(1);
        let mut parts: Vec<VisitPart> = self.visits.drain(..served).flat_map(|visit| visit.parts).collect();
        parts.sort_unstable();
        parts.dedup();
        self.visits.insert(0, Visit { window, parts });
        self
    }

    /// When the colour is refreshed: the window of the first merged visit that refreshes it, so that everything
    /// that speaks of the refresh names the same days.
    #[must_use]
    pub fn refresh_visit(&self) -> Option<Window> {
        visits::window_of(&self.visits, VisitPart::Refresh).or(self.refresh)
    }
}
