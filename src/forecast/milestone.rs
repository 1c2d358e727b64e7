//! The days on which a colour turns and is nearly back to its base.

use std::sync::LazyLock;

use super::Clock;
use super::curve::Curve;
use crate::science::colour::delta_e::ciede2000;
use crate::science::colour::naming::{ColourName, Depth, Hue, name_of};
use crate::science::colour::nearby::Nearby;
use crate::science::colour::oklab::{self, Oklab};
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
pub(super) fn turns(curve: &Curve<'_>, clock: &Clock) -> Option<Milestone> {
    let own = family(oklab::from_lab(curve.zone.deposit.colour));
    let quiet = |stretch: [Dose; 3]| {
        let [from, middle, to] = stretch.map(|dose| curve.hue(dose));
        let near = |from: Oklab, to: Oklab| {
            let reach = from.distance(to) / 2.0 * AROUND + A_LITTLE;
            Nearby::of(from.mix(to, 0.5), reach).all(|hue, depth| kin(hue, depth) == own)
        };
        near(from, middle) && near(middle, to)
    };
    first_unless(turned_at(curve), quiet).map(|dose| Milestone::at(dose, &curve.zone.rate, clock))
}

/// Whether the hue is another than when fresh, and seen to be.
fn turned_at<'a>(curve: &'a Curve<'_>) -> impl Fn(Dose) -> bool + 'a {
    let fresh = curve.zone.deposit.colour;
    let own = family(oklab::from_lab(fresh));
    move |dose| family(curve.hue(dose)) != own && ciede2000(fresh, curve.colour(dose)) >= NOTICED.value
}

fn family(colour: Oklab) -> Hue {
    let ColourName { hue, depth, .. } = name_of(colour);
    kin(hue, depth)
}

/// The path between two colours is taken to go no farther from their middle than this many times as far as they lie from it:
/// it bends, but not so much. A test holds that against looking everywhere.
const AROUND: f64 = 1.5;

/// How far beside the path a colour is still looked at, in Oklab, where black and white are 1 apart: for paths so short that
/// their bend is nothing and their numbers are rounded.
const A_LITTLE: f64 = 0.001;

/// Hue names that are one colour growing softer: rose and rose-beige, gold and beige. Between any two of them nothing has turned.
fn kin(hue: Hue, depth: Depth) -> Hue {
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
pub(super) fn nearly_back(curve: &Curve<'_>, clock: &Clock) -> Option<Milestone> {
    crossing(|dose| curve.share(dose), curve.zone.refresh_share)
        .map(|dose| Milestone::at(dose, &curve.zone.rate, clock))
}

/// The first dose at which a share is at or below a threshold.
pub(super) fn crossing(share: impl Fn(Dose) -> Option<Fraction>, threshold: Fraction) -> Option<Washes> {
    share(Dose::of_grid(0))?;
    // A share that is not there is above any threshold.
    first_below(|dose| share(dose).map_or(f64::INFINITY, Fraction::to_fraction), threshold.to_fraction())
}

/// A dose that a search asks about, and its place on the way every search goes.
#[derive(Debug, Clone, Copy)]
pub(super) struct Dose {
    /// The dose.
    pub(super) washes: Washes,
    /// Which of the [`grid`] it is.
    pub(super) place: Option<usize>,
}

impl Dose {
    /// Any dose.
    pub(super) fn of(washes: f64) -> Self {
        Self { washes: Washes::from_washes(washes), place: None }
    }

    /// A dose of the grid, by its place.
    pub(super) fn of_grid(place: usize) -> Self {
        Self { washes: Washes::from_washes(grid()[place]), place: Some(place) }
    }
}

/// The doses every search goes through: coarse steps that grow with the dose.
pub(super) fn grid() -> &'static [f64] {
    static GRID: LazyLock<Vec<f64>> = LazyLock::new(|| {
        let mut doses = vec![0.0_f64];
        while let Some(last) = doses.last().copied().filter(|last| *last < FAR) {
            doses.push((last + 0.2 + last * 0.03).min(FAR));
        }
        doses
    });
    &GRID
}

/// So many steps are passed over at once where nothing can happen. A hue can turn and turn back within a step or two, and a
/// share can dip where the colour passes near the bare base.
const STRETCH: usize = 16;

/// Steps of the halving for a number: each dose to a millionth of its step of the grid.
const HALVINGS: u32 = 20;

/// Steps of the halving for a hue, which costs a colour each: to a 512th of its step of the grid, at most 0.012 washes.
const HUE_HALVINGS: u32 = 9;

/// The first dose at which something holds, by looking everywhere.
#[cfg(test)]
pub(super) fn first(holds: impl Fn(Dose) -> bool) -> Option<Washes> {
    first_unless(holds, |_| false)
}

/// The first dose at which something holds; `quiet` tells stretches, by both ends and a dose between, in which it nowhere does.
pub(super) fn first_unless(holds: impl Fn(Dose) -> bool, quiet: impl Fn([Dose; 3]) -> bool) -> Option<Washes> {
    let (below, above) = step_of(&holds, &quiet)?;
    Some(halved(HUE_HALVINGS, (grid()[below], grid()[above]), |middle| holds(Dose::of(middle))))
}

/// The step of the grid in which something begins to hold, by its two places; the first place twice when it holds from the start.
fn step_of(holds: &impl Fn(Dose) -> bool, quiet: &impl Fn([Dose; 3]) -> bool) -> Option<(usize, usize)> {
    let at = |place: usize| holds(Dose::of_grid(place));
    if at(0) {
        return Some((0, 0));
    }
    let last = grid().len() - 1;
    let mut stretches = (0..last).step_by(STRETCH);
    let above = stretches.find_map(|below| first_among((below, (below + STRETCH).min(last)), &at, quiet))?;
    Some((above - 1, above))
}

/// The first place of a stretch, beyond its beginning, at which something holds.
fn first_among(
    (below, above): (usize, usize),
    at: &impl Fn(usize) -> bool,
    quiet: &impl Fn([Dose; 3]) -> bool,
) -> Option<usize> {
    let middle = usize::midpoint(below, above);
    if above - below <= 2 {
        return (below + 1..=above).find(|place| at(*place));
    }
    if quiet([below, middle, above].map(Dose::of_grid)) {
        return None;
    }
    first_among((below, middle), at, quiet).or_else(|| first_among((middle, above), at, quiet))
}

/// The first dose at which a number that changes smoothly is at or below a threshold: the same answer as by looking everywhere, sooner.
pub(super) fn first_below(number: impl Fn(Dose) -> f64, threshold: f64) -> Option<Washes> {
    // Between three places it is taken to fall below them by no more than they differ among themselves.
    let quiet = |stretch: [Dose; 3]| {
        let numbers = stretch.map(&number);
        let (least, most) =
            (numbers.into_iter().fold(f64::INFINITY, f64::min), numbers.into_iter().fold(f64::NEG_INFINITY, f64::max));
        least - (most - least) > threshold
    };
    let (below, above) = step_of(&|dose| number(dose) <= threshold, &quiet)?;
    let ends = (grid()[below], grid()[above]);
    let over = |dose: f64| number(Dose::of(dose)) - threshold;
    let excess = (number(Dose::of_grid(below)) - threshold, number(Dose::of_grid(above)) - threshold);
    let (not_yet, already) = narrowed(ends, excess, over);
    Some(halved(HALVINGS, ends, |middle| middle >= already || (middle > not_yet && over(middle) <= 0.0)))
}

/// Halves a step until the dose is known, and gives its upper end.
fn halved(times: u32, (mut below, mut above): (f64, f64), holds: impl Fn(f64) -> bool) -> Washes {
    for _ in 0..times {
        let middle = f64::midpoint(below, above);
        if holds(middle) { above = middle } else { below = middle }
    }
    Washes::from_washes(above)
}

/// A much narrower pair about the crossing inside a step, from straight lines through what is known.
fn narrowed((below, above): (f64, f64), (high, low): (f64, f64), over: impl Fn(f64) -> f64) -> (f64, f64) {
    let (mut left, mut right) = ((below, high), (above, low));
    let aside = (above - below) * 2.0_f64.powi(-22);
    let between = |left: (f64, f64), right: (f64, f64)| left.0 + (right.0 - left.0) * left.1 / (left.1 - right.1);
    for round in 0..3 {
        let guess = between(left, right);
        // The last two look just before and just after it.
        for dose in if round < 2 { [guess; 2] } else { [guess - aside, guess + aside] } {
            if left.0 < dose && dose < right.0 {
                let excess = over(dose);
                *(if excess > 0.0 { &mut left } else { &mut right }) = (dose, excess);
            }
        }
    }
    (left.0, right.0)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::forecast::curve::tests::zone_of;
    use crate::forecast::{HomeColour, ZoneForecast};
    use crate::science::colour::cielab::Lab;
    use crate::science::dye::class::DyeClass;
    use crate::science::dye::shade::{self, Shade};
    use crate::science::fade::dose::Wear;
    use crate::science::hair::base::Base;
    use crate::science::hair::stage::LightenedStage;
    use crate::units::{PerWeek, Worded};

    /// Zones of every shade on light and deep hair, of every class, with and without a conditioner at home.
    fn zones() -> impl Iterator<Item = ZoneForecast> {
        let uses = |zone: &ZoneForecast, uses: f64| {
            Some(HomeColour::of_zone(zone, PerWeek::from_per_week(uses), &Wear::default()))
        };
        let on = |(colour, stage): (Lab, f64)| {
            let base = Base::lightened(LightenedStage::try_new(stage).expect("a stage"));
            DyeClass::WORDS.iter().map(move |(class, ..)| zone_of(base, colour, *class))
        };
        let stages = |shade: &'static Shade| [4.0, 6.5, 8.0, 9.0, 10.0].map(|stage| (shade.colour, stage));
        shade::shades().iter().flat_map(stages).flat_map(on).flat_map(move |zone| {
            let homes = [None, uses(&zone, 0.5), uses(&zone, 3.0)];
            homes.map(|home| ZoneForecast { home, ..zone.clone() })
        })
    }

    #[test]
    fn no_turn_is_passed_over() {
        let clock = Clock::new(Days::from_days(2.0), &Wear::default());
        let (mut turned, mut all) = (0, 0);
        for zone in zones() {
            let curve = Curve::of(&zone);
            let everywhere = first(turned_at(&curve));
            assert_eq!(turns(&curve, &clock).map(|turns| turns.dose), everywhere, "{zone:?}");
            all += 1;
            turned += usize::from(everywhere.is_some());
        }
        assert!(turned > 100 && turned < all, "{turned} of {all} turn");
    }

    #[test]
    fn no_crossing_is_passed_over() {
        for zone in zones() {
            let curve = Curve::of(&zone);
            for threshold in [0.15, 0.3, 0.5, 0.7].map(Fraction::from_fraction) {
                let sooner = crossing(|dose| curve.share(dose), threshold).map(Washes::to_washes);
                let below = |dose| curve.share(dose).is_some_and(|share| share <= threshold);
                let everywhere = first(below).map(Washes::to_washes);
                // The second is halved less often.
                let apart = everywhere.zip(sooner).map_or(0.0, |(everywhere, sooner)| everywhere - sooner);
                assert!((0.0..=6.2 / 512.0).contains(&apart), "{threshold:?} {zone:?}");
                assert_eq!(sooner.is_some(), everywhere.is_some(), "{threshold:?} {zone:?}");
            }
        }
    }

    #[test]
    fn the_first_dose_is_found_to_a_thousandth_and_never_past_the_end() {
        let found = first(|dose| dose.washes.to_washes() >= 7.3).expect("7.3 is within reach");
        assert!((found.to_washes() - 7.3).abs() < 1e-3);
        for threshold in [0.0, 1e-3, 0.1, 1.0, 7.3, 55.0, 199.99] {
            // Straight, bent, and flat before it falls.
            for law in [|x: f64| x, |x: f64| (x / 40.0).exp(), |x: f64| (x - 1.0).max(0.0)] {
                let sooner = first_below(|dose| -law(dose.washes.to_washes()), -law(threshold));
                let everywhere = first(|dose| -law(dose.washes.to_washes()) <= -law(threshold));
                // One step of the grid is 6.2 washes at most, and a hue is halved less often.
                let apart = everywhere.expect("within reach").to_washes() - sooner.expect("within reach").to_washes();
                assert!((0.0..6.2 / 512.0).contains(&apart), "{threshold}: {apart}");
            }
        }
        assert_eq!(first(|_| false), None);
    }
}
