//! The days on which a colour turns and is nearly back to its base.

use super::{Clock, ZoneForecast};
use crate::science::colour::delta_e::ciede2000;
use crate::science::colour::naming::{ColourName, Depth, Hue, name};
use crate::science::fade::rate::RateDistribution;
use crate::science::parameter::{Parameter, Source};
use crate::units::{Days, Fraction, Washes};

/// The difference from the fresh colour at which another hue is called a turn and not a trick of the border between two names.
pub(super) const NOTICED: Parameter = Parameter {
    name: "difference from the fresh colour before a change of hue counts",
    value: 4.0,
    low: 2.0,
    high: 6.0,
    unit: "ΔE00",
    source: Source::Assumed(
        "twice a difference most people see side by side; re-placing a tress alone gives about 1.3",
    ),
};

/// The dose up to which milestones are looked for: half a year of daily washing.
const FAR: f64 = 200.0;

/// Probability outside each edge of a range.
const EDGE: f64 = 0.1;

/// A day by which something happens, with its range.
///
/// `None` at an end means: not within the [`HORIZON`](super::HORIZON).
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

impl Milestone {
    /// Puts a dose on the days of a clock, with the 10 % and 90 % quantiles of the rate.
    ///
    /// The dose is the one at which it happens at the median rate; the rate multiplies the dose, so that a quantile of the date is the day of dose ÷ quantile of the rate.
    #[must_use]
    pub fn at(dose: Washes, rate: &RateDistribution, clock: &Clock) -> Self {
        let day = |probability: f64| {
            clock.day_of(Washes::from_washes((dose.to_washes() / rate.quantile(probability)).min(Washes::HIGH)))
        };
        Self { dose, earliest: day(1.0 - EDGE), usual: clock.day_of(dose), latest: day(EDGE) }
    }
}

/// When the hue family changes, or unwanted warmth, green or grey shows.
pub(super) fn turns(zone: &ZoneForecast, clock: &Clock) -> Option<Milestone> {
    let fresh = zone.deposit.colour;
    let kin = kin(name(fresh));
    let turned = |dose: Washes| {
        let now = zone.colour_after(dose);
        self::kin(name(now)) != kin && ciede2000(fresh, now) >= NOTICED.value
    };
    first(turned).map(|dose| Milestone::at(dose, &zone.rate, clock))
}

/// Hue names that are one colour growing softer: rose and rose-beige, gold and beige. Between any two of them nothing has turned.
fn kin(ColourName { hue, depth, .. }: ColourName) -> Hue {
    match hue {
        // Both are mint on light hair; deeper, teal and green are two colours.
        Hue::Green if depth >= Depth::Light => Hue::Teal,
        Hue::RoseBeige => Hue::Rose,
        Hue::Auburn => Hue::Red,
        Hue::Copper | Hue::Orange => Hue::Peach,
        Hue::Yellow | Hue::Beige | Hue::Brown => Hue::Gold,
        other => other,
    }
}

/// When the seen share of a zone crosses its refresh share.
pub(super) fn nearly_back(zone: &ZoneForecast, clock: &Clock) -> Option<Milestone> {
    crossing(|dose| zone.share_after(dose), zone.refresh_share).map(|dose| Milestone::at(dose, &zone.rate, clock))
}

/// The first dose at which a share is at or below a threshold.
pub(super) fn crossing(share: impl Fn(Washes) -> Option<Fraction>, threshold: Fraction) -> Option<Washes> {
    share(Washes::from_washes(0.0))?;
    first(|dose| share(dose).is_some_and(|share| share <= threshold))
}

/// The first dose at which something holds: coarse steps that grow with the dose, then halving.
pub(super) fn first(holds: impl Fn(Washes) -> bool) -> Option<Washes> {
    let mut below = 0.0;
    let mut above = 0.0_f64;
    while !holds(Washes::from_washes(above)) {
        if above >= FAR {
            return None;
        }
        below = above;
        above = (above + 0.2 + above * 0.03).min(FAR);
    }
    for _ in 0..20 {
        let middle = f64::midpoint(below, above);
        if holds(Washes::from_washes(middle)) { above = middle } else { below = middle }
    }
    Some(Washes::from_washes(above))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_first_dose_is_found_to_a_thousandth_and_never_past_the_end() {
        let found = first(|dose| dose.to_washes() >= 7.3).expect("7.3 is within reach");
        assert!((found.to_washes() - 7.3).abs() < 1e-3);
        assert_eq!(first(|_| false), None);
    }
}
