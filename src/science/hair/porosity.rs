//! Porosity: how easily dye enters a fibre and how easily it leaves.
//!
//! In: a finger test's word. Out: factors of uptake and of leaving. Knows nothing of: the dye.
//!
//! A dye probe diffuses at 3.6·10⁻¹⁵ m²/s into untreated hair, at 9.8 to 10.3 after 6 % peroxide and at 45 after a bleach cream (J. Soc. Cosmet. Chem. 44 (1993) p. 357–359).
//! What enters or leaves in a short time goes with the square root of the diffusion coefficient, so √(45/3.6) = 3.5 bounds every ratio of two porosities here.
//!
//! Outside the model: dyes fixed with tannin and metal salts hold *best* on hair bleached three times.

use crate::science::bibliography;
use crate::science::parameter::Parameter;
use crate::units::worded;

worded! {
    /// Porosity of a zone, by the trade's finger test.
    Porosity, "porosity" {
        /// Smooth, takes colour slowly.
        Resistant = "resistant" ["low", "1"],
        /// Slight drag.
        Normal = "normal" ["medium", "average", "2"],
        /// Rough, takes colour fast and loses it fast.
        Porous = "porous" ["high", "3"],
        /// Very rough, grabs darker and empties first.
        OverPorous = "over-porous" ["very high", "4"],
    }
}

/// Diffusion of a dye probe into untreated hair.
pub const DIFFUSION_UNTREATED: Parameter = diffusion("dye-probe diffusion in untreated hair", 3.6);
/// Diffusion of a dye probe after one hour in 6 % peroxide.
pub const DIFFUSION_PEROXIDE: Parameter = diffusion("dye-probe diffusion after 1 h of 6 % peroxide", 9.8);
/// Diffusion of a dye probe after half an hour of bleach cream.
pub const DIFFUSION_BLEACHED: Parameter = diffusion("dye-probe diffusion after 0.5 h of bleach cream", 45.0);

/// Leaving from resistant hair, against porous hair.
pub const LEAVING_RESISTANT: Parameter = factor("rate of leaving, resistant hair", 0.80, 0.28, 1.0);
/// Leaving from normal hair.
pub const LEAVING_NORMAL: Parameter = factor("rate of leaving, normal hair", 0.92, 0.47, 1.0);
/// Leaving from porous hair: the reference.
pub const LEAVING_POROUS: Parameter = factor("rate of leaving, porous hair (the reference)", 1.0, 1.0, 1.0);
/// Leaving from over-porous hair.
pub const LEAVING_OVER_POROUS: Parameter = factor("rate of leaving, over-porous hair", 1.3, 1.0, 3.5);

/// Uptake of resistant hair, against normal hair.
pub const UPTAKE_RESISTANT: Parameter = factor("uptake, resistant hair", 0.80, 0.5, 1.0);
/// Uptake of normal hair: the reference.
pub const UPTAKE_NORMAL: Parameter = factor("uptake, normal hair (the reference)", 1.0, 1.0, 1.0);
/// Uptake of porous hair.
pub const UPTAKE_POROUS: Parameter = factor("uptake, porous hair", 1.2, 1.0, 1.65);
/// Uptake of over-porous hair.
pub const UPTAKE_OVER_POROUS: Parameter = factor("uptake, over-porous hair", 1.5, 1.0, 3.5);

/// Every number of this module.
pub const PARAMETERS: &[&Parameter] = &[
    &DIFFUSION_UNTREATED,
    &DIFFUSION_PEROXIDE,
    &DIFFUSION_BLEACHED,
    &LEAVING_RESISTANT,
    &LEAVING_NORMAL,
    &LEAVING_POROUS,
    &LEAVING_OVER_POROUS,
    &UPTAKE_RESISTANT,
    &UPTAKE_NORMAL,
    &UPTAKE_POROUS,
    &UPTAKE_OVER_POROUS,
];

const fn diffusion(name: &'static str, value: f64) -> Parameter {
    Parameter::published(name, value, 0.8 * value, 1.25 * value, "10⁻¹⁵ m²/s", &bibliography::POROSITY_DIFFUSION_1993)
}

const fn factor(name: &'static str, value: f64, low: f64, high: f64) -> Parameter {
    Parameter::assumed(
        name,
        value,
        low,
        high,
        "1",
        "a finger test measures no rate; bounded by the square root of the published diffusion ratios",
    )
}

impl Porosity {
    /// How fast colour leaves the held pool, against porous hair.
    ///
    /// # Source
    /// Assumed within published bounds: see [`PARAMETERS`].
    #[must_use]
    pub const fn leaving(self) -> f64 {
        match self {
            Self::Resistant => LEAVING_RESISTANT.value,
            Self::Normal => LEAVING_NORMAL.value,
            Self::Porous => LEAVING_POROUS.value,
            Self::OverPorous => LEAVING_OVER_POROUS.value,
        }
    }

    /// How much dye the same mix and time lays down, against normal hair: over-porous ends grab darker.
    ///
    /// # Source
    /// Assumed within published bounds: see [`PARAMETERS`].
    #[must_use]
    pub const fn uptake(self) -> f64 {
        match self {
            Self::Resistant => UPTAKE_RESISTANT.value,
            Self::Normal => UPTAKE_NORMAL.value,
            Self::Porous => UPTAKE_POROUS.value,
            Self::OverPorous => UPTAKE_OVER_POROUS.value,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::Worded;

    #[test]
    fn rougher_hair_takes_more_and_loses_faster() {
        for pair in Porosity::WORDS.windows(2) {
            assert!(pair[0].0.leaving() < pair[1].0.leaving());
            assert!(pair[0].0.uptake() < pair[1].0.uptake());
        }
    }

    #[test]
    fn no_two_porosities_differ_by_more_than_the_published_diffusion_allows() {
        let bound = (DIFFUSION_BLEACHED.value / DIFFUSION_UNTREATED.value).sqrt();
        assert!(Porosity::OverPorous.leaving() / Porosity::Resistant.leaving() < bound);
        assert!(Porosity::OverPorous.uptake() / Porosity::Resistant.uptake() < bound);
    }
}
