//! A top-up for the next visit: what is left on each zone, and the mix that brings it back.

use super::ZoneForecast;
use super::base::covers;
use crate::record::Placement;
use crate::science::colour::delta_e::ciede2000;
use crate::science::dye::band::{Loads, absorption};
use crate::science::dye::top_up::{self, TopUp, parts_clear};
use crate::science::fade::learning::{Belief, Evidence, Observation};
use crate::science::hair::porosity::Porosity;
use crate::units::{Fraction, Interval, Washes};

/// The top-up of one zone.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ZoneTopUp {
    /// The loads left, as far as they can be told.
    pub left: Loads,
    /// What brings the colour back.
    pub top_up: TopUp,
    /// Parts of clear to one part of the colour used last; nothing when nothing is to be mixed.
    pub parts_clear: Option<f64>,
}

/// The top-up of a zone after a dose.
///
/// Before anybody has looked at the hair, `seen` is nothing and the forecast stands for it. The share seen moves the rate of this one fading, with its noise, as it does in learning; the loads left are those of that rate.
/// `porosity` is the zone's porosity as found now, when it was tested again.
#[must_use]
pub fn top_up(
    zone: &ZoneForecast,
    placement: &Placement,
    dose: Washes,
    seen: Option<Interval<Fraction>>,
    porosity: Option<Porosity>,
) -> ZoneTopUp {
    let left = seen.and_then(|seen| loads_seen(zone, dose, seen)).unwrap_or_else(|| zone.loads_after(dose));
    let uptake = porosity.map_or(1.0, |now| now.uptake() / zone.porosity.uptake());
    let top_up = top_up::top_up(&zone.base, &zone.deposit.loads, &left, uptake);
    // A pass without a dilution was mixed with no clear.
    let last = placement.toning.iter().rfind(|pass| covers(pass, zone.name)).and_then(|pass| pass.dilution);
    ZoneTopUp { left, top_up, parts_clear: parts_clear(last.unwrap_or((1.0, 0.0)), top_up.strength) }
}

/// The loads left on a zone of which a share was seen; nothing when it has no share.
fn loads_seen(zone: &ZoneForecast, dose: Washes, seen: Interval<Fraction>) -> Option<Loads> {
    zone.share_after(dose)?;
    let whole = ciede2000(zone.deposit.colour, zone.bare);
    let loads = |rate: f64| {
        let dose = Washes::from_washes((dose.to_washes() * rate).min(Washes::HIGH));
        zone.leaving.loads_after(&zone.deposit.loads, dose)
    };
    let share = |rate: f64| (ciede2000(zone.base.colour_under(&absorption(&loads(rate))), zone.bare) / whole).min(1.0);
    // This fading's own rate is asked for, so no scatter of a visit stands between it and what was seen.
    let evidence = Evidence::of_visit(&[Observation::new(share, seen)], 0.0)?;
    let belief = Belief::prior(zone.rate.median().ln(), zone.rate.sigma()).after(&evidence);
    Some(loads(belief.mean().exp()))
}
