//! From recorded habits to the numbers the dose needs.

use crate::record::{FoundBy, Habits, SwimPlace};
use crate::science::dye::class::DyeClass;
use crate::science::fade::dose::{Wear, light, weekly};
use crate::science::fade::kinetics::Leaving;
use crate::science::fade::uncertainty::{RateSpread, StartFoundBy, rate_spread};
use crate::units::PerWeek;

/// The habits as numbers a week; what is not recorded takes the usual value of [`Wear::default`].
///
/// A range of washes counts with its middle; its width goes into the spread of the rate.
#[must_use]
pub fn wear(habits: &Habits) -> Wear {
    let usual = Wear::default();
    let none = PerWeek::from_per_week(0.0);
    let in_pool = matches!(habits.swim_place, None | Some(SwimPlace::Pool));
    Wear {
        washes: habits.washes.map_or(usual.washes, |range| {
            PerWeek::from_per_week(f64::midpoint(range.low.to_per_week(), range.high.to_per_week()))
        }),
        rinses: habits.rinses.unwrap_or(usual.rinses),
        warmth: habits.warmth.unwrap_or(usual.warmth),
        shampoo: habits.shampoo.unwrap_or(usual.shampoo),
        sun_hours: habits.sun_hours.unwrap_or(usual.sun_hours),
        pool_swims: if in_pool { habits.swims.unwrap_or(none) } else { none },
        heat_days: habits.heat.map_or(none, |heat| heat.days),
        hardness: habits.hardness.unwrap_or(usual.hardness),
        copper: habits.copper,
    }
}

/// The law of leaving under these habits: sun takes its part beside the washes, and copper in the water at home is copper in the hair when the next colour is made in it.
#[must_use]
pub(super) fn leaving(law: Leaving, class: DyeClass, wear: &Wear) -> Leaving {
    let law = law.in_light(light(wear));
    if wear.copper { law.in_copper_hair(class) } else { law }
}

/// How a finished colour was found, as the laws ask it.
#[must_use]
pub(super) const fn start(found: FoundBy) -> StartFoundBy {
    match found {
        FoundBy::Measured => StartFoundBy::Instrument,
        FoundBy::MatchedByEye => StartFoundBy::Eye,
        FoundBy::Named => StartFoundBy::Name,
    }
}

/// The spread of a zone's rate: its dye class, how its colour was found, and how surely the washes are known.
#[must_use]
pub(super) fn spread(class: DyeClass, found: FoundBy, habits: &Habits) -> RateSpread {
    let at = |washes: PerWeek| weekly(&Wear { washes, ..wear(habits) }).to_washes();
    let range = habits.washes.filter(|range| range.low < range.high).map(|range| (at(range.low), at(range.high)));
    rate_spread(class, range, start(found))
}
