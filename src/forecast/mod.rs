//! Stage 2: how the colour of each zone will leave, over washes and days, with a range.
//!
//! In: a client's history without health facts, the salon's practice, the laws. Out: [`Forecast`].
//! Knows nothing of: the calendar. Time is counted in days since the service.

mod base;
mod clock;
mod curve;
mod evenness;
mod fibre;
mod habits;
mod home;
mod milestone;
mod returns;
mod top_up;
mod whole;
mod zone;

pub use base::zone_base;
pub use clock::Clock;
pub use curve::Curve;
pub use evenness::Edge;
pub use fibre::{Overlap, lightening_overlap};
pub use habits::wear;
pub use home::HomeColour;
pub use milestone::Milestone;
pub use returns::{Judged, Return, Wild, returns, salon_estimate};
pub use top_up::{ZoneTopUp, top_up};
pub use whole::forecast;
pub use zone::ZoneForecast;

use crate::science::fade::dose::Wear;
use crate::science::parameter::Parameter;
use crate::units::Days;

/// How far a forecast looks: 26 weeks.
pub const HORIZON: Days = Days::from_days(182.0);

/// The numbers this stage assumes.
pub const PARAMETERS: &[&Parameter] = &[
    &base::LIFT_PER_PERCENT,
    &base::DEPTH_NOT_RECORDED,
    &milestone::NOTICED,
    &evenness::NOTICEABLE,
    &zone::SHARE_UNDEFINED_BELOW,
    &zone::PASTEL_FROM_LIGHTNESS,
];

/// The forecast of one client's latest visit.
#[derive(Debug, Clone, PartialEq)]
pub struct Forecast {
    /// Every coloured zone, in the order of the record.
    pub zones: Vec<ZoneForecast>,
    /// The habits it assumes.
    pub habits: Wear,
    /// How the dose runs with the days.
    pub clock: Clock,
    /// The length-weighted median of the zones crosses the refresh share.
    pub nearly_back: Option<Milestone>,
    /// The zone with most hair changes its hue family, or unwanted warmth, green or grey shows on it.
    pub turns: Option<Milestone>,
    /// The first edge between neighbouring zones that were even when fresh becomes noticeable.
    pub evenness: Option<Milestone>,
    /// Every edge between neighbouring zones.
    pub edges: Vec<Edge>,
    /// What was seen on every return of this client, oldest first.
    pub returned: Vec<Return>,
    /// Returns that fit badly with everything else known of this client; for the stylist.
    pub wild: Vec<Wild>,
}
