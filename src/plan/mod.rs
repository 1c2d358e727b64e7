//! Stage 3: the forecast and a date become washes, visits, steps and cautions. The first module that knows dates.
//!
//! In: a history without health facts, the salon's practice, the forecast. Out: [`Plan`], which may become public;
//! and, from the history with health facts, [`gates`], which never may.
//! Knows nothing of: words on a page.

mod caution;
mod gate;
mod ribbon;
mod roots;
mod visits;
mod washing;

pub use caution::Caution;
pub use gate::{Gate, gates};
pub use ribbon::{RibbonStep, RibbonZone};
pub use roots::{Roots, RootsReason};
pub use visits::{Visit, VisitPart};
pub use washing::{Rhythm, RhythmLimit};

use chrono::NaiveDate;

use crate::forecast::Forecast;
use crate::record::Shareable;
use crate::salon::{Salon, ShadeKind};

/// A window of days with a best one.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Window {
    /// The first day.
    pub earliest: NaiveDate,
    /// The best day.
    pub best: NaiveDate,
    /// The last day.
    pub latest: NaiveDate,
}

/// Whether a plan can be made.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Standing {
    /// A full plan.
    Planned,
    /// Age 16 is not confirmed: a page with help text only.
    AgeNotConfirmed,
}

/// The two dates of design: when it turns and when it is nearly back, over all zones.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct DateRange {
    /// One client in ten sees it before this day.
    pub earliest: Option<NaiveDate>,
    /// The middle.
    pub usual: Option<NaiveDate>,
    /// One client in ten sees it after this day.
    pub latest: Option<NaiveDate>,
}

/// The plan of one client after the latest visit. A function of records and settings, never of today.
#[derive(Debug, Clone, PartialEq)]
pub struct Plan {
    /// Whether there is one.
    pub standing: Standing,
    /// The day of the service.
    pub service: NaiveDate,
    /// How the leading shade is kept; `None` when nothing was coloured.
    pub shade: Option<ShadeKind>,
    /// The zone that leads the page: the one covering most length of hair. An index into the forecast's zones.
    pub leading_zone: Option<usize>,
    /// The first wash.
    pub first_wash: NaiveDate,
    /// How often to wash.
    pub rhythm: Rhythm,
    /// Wash dates from the first wash to the refresh, at the rhythm.
    pub wash_dates: Vec<NaiveDate>,
    /// When the colour turns.
    pub turns: Option<DateRange>,
    /// When it is nearly back to base.
    pub nearly_back: Option<DateRange>,
    /// When to refresh.
    pub refresh: Option<Window>,
    /// When the roots need a visit.
    pub roots: Option<Roots>,
    /// When a trim is due.
    pub trim: Option<Window>,
    /// The next visits over 26 weeks, merged.
    pub visits: Vec<Visit>,
    /// Zones that are ready for a top-up more than a week before the rest: indices into the forecast's zones.
    pub top_up_zones: Vec<usize>,
    /// The fade ribbon, zone by zone.
    pub ribbon: Vec<RibbonZone>,
    /// Cautions that come from hair state and service, never from health.
    pub cautions: Vec<Caution>,
    /// The day on which the page expires.
    pub expires: NaiveDate,
}

/// Plans the weeks after the latest visit.
#[must_use]
pub fn plan(_history: &Shareable, _salon: &Salon, _forecast: &Forecast) -> Plan {
    todo!()
}
