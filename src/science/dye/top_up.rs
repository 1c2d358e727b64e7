//! A top-up: how strong a mix brings faded hair back to its colour.
//!
//! In: a base, what is left on it, what was laid down when fresh. Out: [`TopUp`], and the mix as parts to weigh. Knows nothing of: how what is left was found.

use super::band::{BANDS, Loads, absorption};
use crate::science::colour::cielab::Lab;
use crate::science::colour::delta_e::ciede2000;
use crate::science::hair::base::Base;
use crate::science::parameter::Parameter;

/// Below this share of the last mix nothing is worth weighing.
pub const TOO_LITTLE: Parameter = Parameter::common_practice("weakest top-up worth mixing", 0.05, 0.02, 0.10, "1");
/// Above this share of the last mix a top-up would overload the hair.
pub const TOO_MUCH: Parameter =
    Parameter::common_practice("strongest top-up, against the last mix", 1.2, 1.0, 1.5, "1");

/// Above this difference from the fresh colour a top-up is told to fall short.
pub const FALLS_SHORT: Parameter = Parameter::assumed(
    "difference a top-up may leave before it is told",
    3.0,
    2.0,
    5.0,
    "ΔE00",
    "twice the 1.3 that re-placing a tress alone gives, rounded up: a stylist sees it side by side",
);

/// Every number of this module.
pub const PARAMETERS: &[&Parameter] = &[&TOO_LITTLE, &TOO_MUCH, &FALLS_SHORT];

/// A top-up of one zone.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct TopUp {
    /// Its strength against the last mix: 1 is the same mix again, nought is none.
    pub strength: f64,
    /// The loads it adds.
    pub add: Loads,
    /// The colour it gives.
    pub colour: Lab,
    /// ΔE00 between that and the fresh colour.
    pub misses: f64,
}

impl TopUp {
    /// Whether the colour it gives differs from the fresh one by more than [`FALLS_SHORT`].
    #[must_use]
    pub fn falls_short(&self) -> bool {
        self.misses > FALLS_SHORT.value
    }
}

/// The top-up that brings a zone nearest to its fresh colour.
///
/// ```text
/// min over k of ΔE00( colour(base, xᵢ + k·u·fᵢ), colour(base, fᵢ) )      0 ≤ k ≤ 1.2
/// ```
///
/// | symbol | meaning | unit | range |
/// |---|---|---|---|
/// | `fᵢ` | load of band i when fresh | 1 | ≥ 0 |
/// | `xᵢ` | load left | 1 | ≥ 0 |
/// | `k` | strength against the last mix | 1 | 0 to 1.2 |
/// | `u` | uptake now against uptake then, [`Porosity::uptake`](crate::science::hair::porosity::Porosity::uptake) | 1 | about 1 |
///
/// One number and not five, because a stylist mixes what was mixed before, weaker: the same colour with more clear. Less than [`TOO_LITTLE`] becomes none.
///
/// # Validity
/// What is laid down goes straight with the strength of the mix, time and zone being equal: so for weak mixes of direct dye; an oxidative toner is to be tried on a strand.
///
/// # Uncertainty
/// `misses` tells what one number cannot mend; in simulated faded hair, judged by an eye that errs, the target is met within ΔE00 2 at the median.
///
/// # Source
/// Chosen here.
///
/// # Panics
/// When the uptake is not above zero.
#[must_use]
pub fn top_up(base: &Base, fresh: &Loads, left: &Loads, uptake: f64) -> TopUp {
    assert!(uptake > 0.0, "hair takes up some of what is put on it");
    let wished = base.colour_under(&absorption(fresh));
    let at = |strength: f64| {
        let add = fresh.times(strength * uptake);
        let both = Loads(std::array::from_fn::<f64, BANDS, _>(|band| left.0[band] + add.0[band]));
        let colour = base.colour_under(&absorption(&both));
        TopUp { strength, add, colour, misses: ciede2000(colour, wished) }
    };
    // A coarse look, then thirds: ΔE00 may have a kink where the hue turns, but one valley about its least.
    let coarse = (0..=24).map(|step| at(f64::from(step) * TOO_MUCH.value / 24.0));
    let near = coarse.min_by(|one, other| one.misses.total_cmp(&other.misses)).expect("25 of them").strength;
    let (mut low, mut high) = ((near - 0.05).max(0.0), (near + 0.05).min(TOO_MUCH.value));
    for _ in 0..12 {
        let third = (high - low) / 3.0;
        if at(low + third).misses <= at(high - third).misses { high -= third } else { low += third }
    }
    let best = f64::midpoint(low, high);
    at(if best < TOO_LITTLE.value { 0.0 } else { best })
}

/// Parts of clear to one part of colour for a strength against the last mix; nothing when there is nothing to mix.
///
/// `last` is the last mix, parts colour to parts clear: (1, 4). The parts are rounded to the half, as a bowl on a scale allows; less than a half is told as none.
///
/// ```
/// use afterhue::science::dye::top_up::parts_clear;
/// // Half as strong as one part in five is one part in ten: nine of clear.
/// assert_eq!(parts_clear((1.0, 4.0), 0.5), Some(9.0));
/// assert_eq!(parts_clear((1.0, 0.0), 1.0), Some(0.0));
/// ```
#[must_use]
pub fn parts_clear(last: (f64, f64), strength: f64) -> Option<f64> {
    if strength < TOO_LITTLE.value || last.0 <= 0.0 {
        return None;
    }
    let whole = (last.0 + last.1) / last.0 / strength;
    Some(((whole - 1.0).max(0.0) * 2.0).round() / 2.0)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::science::hair::stage::LightenedStage;

    const FRESH: Loads = Loads([0.0, 0.1, 0.5, 0.0, 0.1]);

    fn base() -> Base {
        Base::lightened(LightenedStage::try_new(9.5).expect("on the scale"))
    }

    #[test]
    fn hair_that_lost_a_share_of_every_dye_gets_that_share_back() {
        for left in [0.0, 0.3, 0.7] {
            let found = top_up(&base(), &FRESH, &FRESH.times(left), 1.0);
            assert!((found.strength - (1.0 - left)).abs() < 0.01 && found.misses < 0.1, "{found:?}");
        }
    }

    #[test]
    fn fresh_hair_gets_none_and_porous_ends_get_less() {
        assert_eq!(top_up(&base(), &FRESH, &FRESH, 1.0).strength, 0.0);
        let plain = top_up(&base(), &FRESH, &FRESH.times(0.4), 1.0);
        let porous = top_up(&base(), &FRESH, &FRESH.times(0.4), 1.5);
        assert!(porous.strength < plain.strength * 0.75);
    }

    #[test]
    fn the_mix_is_told_in_halves_a_scale_can_weigh() {
        assert_eq!(parts_clear((1.0, 4.0), 0.01), None);
        assert_eq!(parts_clear((1.0, 1.0), 0.6), Some(2.5));
        assert_eq!(parts_clear((2.0, 3.0), 1.2), Some(1.0));
    }
}
