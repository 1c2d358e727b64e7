//! What was deposited: the least loads that turn a base into a finished colour.
//!
//! In: a base and the colour finished on it. Out: five loads, the colour they give, what they miss. Knows nothing of: how it was applied.

use super::band::{BANDS, Loads};
use super::descent::{Descent, Rest};
use crate::science::colour::cielab::Lab;
use crate::science::hair::base::{Base, Pigment};
use crate::science::hair::stage::LightenedStage;
use crate::science::memo::Memo;
use crate::science::parameter::Parameter;

/// The fitted deposit.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Deposit {
    /// The loads.
    pub loads: Loads,
    /// The colour they give on the base.
    pub colour: Lab,
    /// ΔE00 between that and the colour wished.
    pub residual: f64,
}

/// A shade the base cannot carry.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct TooWarm {
    /// The palest-needed stage on which the shade is within reach, when there is one.
    pub reachable_from: Option<LightenedStage>,
}

/// How much worse than the best a fit may be and still be preferred for its smaller load.
pub const INDIFFERENCE: Parameter = Parameter::assumed(
    "fits of this difference in ΔE00 count as equal",
    0.05,
    0.01,
    0.3,
    "ΔE00",
    "far below the 1.3 by which one tress differs from itself when measured again (J. Cosmet. Sci. 51, 2000)",
);
/// The residual above which a base counts as too warm for a shade.
pub const TOO_FAR: Parameter = Parameter::assumed(
    "residual above which a base cannot carry a shade",
    5.0,
    3.0,
    8.0,
    "ΔE00",
    "a difference anyone sees without comparing",
);

/// Every number of this module.
pub const PARAMETERS: &[&Parameter] = &[&INDIFFERENCE, &TOO_FAR];

/// Step of the search for a paler stage: the trade speaks in halves.
const HALF: f64 = 0.5;

const ALL: [bool; BANDS] = [true; BANDS];

/// Fits the deposit of a finished colour on a base.
///
/// ```text
/// min Σ xᵢ   over all x ≥ 0 with   ΔE00(colour(base, x), finished) ≤ best + 0.05
/// ```
///
/// | symbol | meaning | unit | range |
/// |---|---|---|---|
/// | `xᵢ` | load of band i | 1 | ≥ 0 |
/// | `best` | least ΔE00 that any loads reach | ΔE00 | ≥ 0 |
///
/// Five loads answer to three coordinates, so many loads give one colour. Of those with least total load at most three are not zero (a linear aim under three conditions); so every choice of three bands is fitted, and all five together, and the least total among the equally good wins. Equal totals fall to the first choice in the order of the bands.
///
/// # Validity
/// Hue families, not substances: two mixes of one colour may fade differently, and this names one of them.
///
/// # Uncertainty
/// The residual. How the finished colour was found widens the range of the forecast, not this fit.
///
/// # Source
/// Chosen here.
#[must_use]
pub fn fit(base: &Base, finished: Lab) -> Deposit {
    // The costliest law: thirteen descents. Named shades on whole and half stages come again and again.
    static KEPT: Memo<6, Deposit> = Memo::new(65_536);
    let (scale, value) = match base.pigment {
        Pigment::Lightened(stage) => (0.0, stage.value()),
        Pigment::Natural(depth) => (1.0, depth.value()),
    };
    let numbers = [scale, value, base.white.to_fraction(), finished.l, finished.a, finished.b];
    KEPT.get(numbers, || fitted(base, finished, true))
}

/// The law itself; `give_up` leaves descents that lead nowhere before their end, which changes nothing but the time.
fn fitted(base: &Base, finished: Lab, give_up: bool) -> Deposit {
    let descent = Descent::new(base, finished);
    let mut rests: Vec<Rest> = Vec::with_capacity(13);
    rests.extend(descent.descend(Loads::default(), ALL, f64::INFINITY));
    rests.extend(descent.descend(descent.even_start(ALL), ALL, f64::INFINITY));
    let nearest =
        |rests: &[Rest]| *rests.iter().min_by(|one, other| one.misfit.total_cmp(&other.misfit)).expect("some");
    // Where all five together do not reach the colour, some three may come nearer, and every descent counts.
    let reached = nearest(&rests).misfit <= INDIFFERENCE.value;
    let within = if give_up && reached { nearest(&rests).misfit + INDIFFERENCE.value } else { f64::INFINITY };
    for three in threes() {
        rests.extend(descent.descend(descent.even_start(three), three, within));
    }
    let best = nearest(&rests);
    if best.misfit > INDIFFERENCE.value {
        rests.extend(descent.descend(best.loads, ALL, f64::INFINITY));
    }
    let limit = nearest(&rests).misfit + INDIFFERENCE.value;
    let least = rests
        .iter()
        .filter(|rest| rest.misfit <= limit)
        .min_by(|one, other| one.loads.total().total_cmp(&other.loads.total()))
        .expect("the nearest is within the limit");
    Deposit { loads: least.loads, colour: least.colour, residual: least.misfit }
}

/// Every choice of three bands, in their order.
fn threes() -> impl Iterator<Item = [bool; BANDS]> {
    (0..1_u8 << BANDS)
        .rev()
        .filter(|bits| bits.count_ones() == 3)
        .map(|bits| std::array::from_fn(|band| bits & (1 << (BANDS - 1 - band)) != 0))
}

/// Says whether a fit leaves too much, and which paler stage would reach the shade.
///
/// The search goes upward in half stages from the base's own number to 10 and stops at the first that leaves no more than [`TOO_FAR`]. White fibres are left as they are.
#[must_use]
pub fn too_warm(base: &Base, finished: Lab, deposit: &Deposit) -> Option<TooWarm> {
    if deposit.residual <= TOO_FAR.value {
        return None;
    }
    let own = match base.pigment {
        Pigment::Lightened(stage) => stage.value(),
        Pigment::Natural(depth) => depth.value(),
    };
    let first = (own / HALF).floor() as u32 + 1;
    let last = (LightenedStage::HIGH / HALF) as u32;
    let reachable_from =
        (first..=last).filter_map(|halves| LightenedStage::try_new(f64::from(halves) * HALF)).find(|stage| {
            let paler = Base { pigment: Pigment::Lightened(*stage), ..*base };
            fit(&paler, finished).residual <= TOO_FAR.value
        });
    Some(TooWarm { reachable_from })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::science::dye::{band, shade};

    fn stage(value: f64) -> Base {
        Base::lightened(LightenedStage::try_new(value).expect("on the scale"))
    }

    fn named(name: &str) -> Lab {
        shade::by_name(name).expect("a shade of the table").colour
    }

    #[test]
    fn the_bare_base_needs_no_dye() {
        for value in [10.0, 8.5, 5.0] {
            let base = stage(value);
            let deposit = fit(&base, base.bare());
            assert!(deposit.loads.total() < 1e-6 && deposit.residual < 1e-4, "{deposit:?}");
        }
    }

    #[test]
    fn the_colour_told_is_the_colour_the_loads_give() {
        let base = stage(9.0);
        let deposit = fit(&base, named("rose pastel"));
        let again = base.colour_under(&band::absorption(&deposit.loads));
        assert!((again.l - deposit.colour.l).abs() < 1e-9 && (again.b - deposit.colour.b).abs() < 1e-9);
    }

    #[test]
    fn a_colour_laid_down_with_three_bands_is_found_again() {
        let base = stage(9.5);
        for wanted in [[0.3, 0.0, 0.5, 0.0, 0.2], [0.0, 0.2, 0.0, 0.9, 0.1], [0.0, 0.0, 0.0, 0.0, 2.5]] {
            let colour = base.colour_under(&band::absorption(&Loads(wanted)));
            let deposit = fit(&base, colour);
            assert!(deposit.residual < 0.06, "{wanted:?}: {deposit:?}");
            assert!(deposit.loads.total() <= wanted.iter().sum::<f64>() + 0.02, "{wanted:?}: {deposit:?}");
        }
    }

    #[test]
    fn a_powder_blue_needs_a_paler_base_than_orange() {
        let base = stage(7.0);
        let blue = named("powder blue");
        let told = too_warm(&base, blue, &fit(&base, blue)).expect("orange hair cannot carry powder blue");
        let from = told.reachable_from.expect("pale yellow hair can");
        assert!(from.value() > 8.0, "{from:?}");
        let paler = Base::lightened(from);
        assert!(too_warm(&paler, blue, &fit(&paler, blue)).is_none());
    }

    #[test]
    fn white_fibres_take_the_same_dye_and_the_fit_knows_them() {
        let base = Base { white: crate::units::Fraction::from_fraction(0.4), ..stage(8.0) };
        let colour = base.colour_under(&band::absorption(&Loads([0.0, 0.4, 0.3, 0.0, 0.0])));
        assert!(fit(&base, colour).residual < 0.06);
    }

    #[test]
    fn no_descent_that_would_have_counted_is_given_up() {
        let whites = [0.0, 0.4].map(crate::units::Fraction::from_fraction);
        let bases = (6..=20).flat_map(|halves| whites.map(|white| Base { white, ..stage(f64::from(halves) / 2.0) }));
        for base in bases {
            for shade in shade::shades() {
                let [early, to_the_end] = [true, false].map(|give_up| fitted(&base, shade.colour, give_up));
                assert_eq!(early, to_the_end, "{base:?} {shade:?}");
            }
        }
    }

    #[test]
    fn there_are_ten_choices_of_three() {
        assert_eq!(threes().count(), 10);
        assert_eq!(threes().next(), Some([true, true, true, false, false]));
    }
}
