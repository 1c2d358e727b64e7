//! The law of leaving: a loose and a held pool.
//!
//! In: dye class, damage, porosity; then a dose. Out: what share of each band's load is left. Knows nothing of: what made the dose, and when.

use crate::science::bibliography;
use crate::science::dye::band::{BANDS, Loads};
use crate::science::dye::class::{DyeClass, RATE_PERMANENT, WASHED_OUT};
use crate::science::hair::porosity::Porosity;
use crate::science::parameter::Parameter;
use crate::units::{Fraction, Washes};

/// The constants of one zone's leaving.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Leaving {
    /// φ, the share in the loose pool, 0 to 1.
    pub loose: f64,
    /// τ, dose in which the loose pool falls to 1/e, washes.
    pub tau: f64,
    /// κ, rate of the held pool, per wash, one for each band.
    pub kappa: [f64; BANDS],
}

/// Loose share on hair that was not lightened.
pub const LOOSE_UNDAMAGED: Parameter = loose("loose share, undamaged hair", 0.05, 0.0, 0.15);
/// Loose share on lightened hair.
pub const LOOSE_LIGHTENED: Parameter = loose("loose share, lightened hair", 0.30, 0.15, 0.40);
/// Loose share on over-porous hair.
pub const LOOSE_OVER_POROUS: Parameter = loose("loose share, over-porous hair", 0.40, 0.25, 0.60);
/// Dose in which the loose pool falls to 1/e.
pub const LOOSE_DOSE: Parameter = Parameter::published(
    "dose that empties the loose pool to 1/e",
    0.9,
    0.65,
    1.1,
    "wash",
    &bibliography::COPPER_FADE_2021,
);
/// Rate of the held pool on hair that was not lightened, against lightened hair.
pub const UNDAMAGED_RATE: Parameter = Parameter::assumed(
    "rate of the held pool, undamaged against lightened hair",
    0.85,
    0.28,
    1.0,
    "1",
    "slower for certain (Locke & Jachowicz 2005; Evans & Wickett 2012, p. 518), by how much was not read; the lower end is the square root of the published diffusion ratio",
);

/// Rate of the yellow band, against the class.
pub const HUE_YELLOW: Parameter = hue("rate of the yellow band", 1.0, 0.6, 1.6);
/// Rate of the orange band.
pub const HUE_ORANGE: Parameter = hue("rate of the orange band", 1.0, 0.6, 1.6);
/// Rate of the pink-red band.
pub const HUE_PINK_RED: Parameter = hue("rate of the pink-red band", 1.1, 0.7, 2.0);
/// Rate of the violet band.
pub const HUE_VIOLET: Parameter = hue("rate of the violet band", 1.0, 0.6, 1.8);
/// Rate of the blue band: blue and green may stain, or leave at once.
pub const HUE_BLUE: Parameter = hue("rate of the blue band", 1.0, 0.3, 1.8);

/// Every number of this module.
pub const PARAMETERS: &[&Parameter] = &[
    &LOOSE_UNDAMAGED,
    &LOOSE_LIGHTENED,
    &LOOSE_OVER_POROUS,
    &LOOSE_DOSE,
    &UNDAMAGED_RATE,
    &HUE_YELLOW,
    &HUE_ORANGE,
    &HUE_PINK_RED,
    &HUE_VIOLET,
    &HUE_BLUE,
];

const fn loose(name: &'static str, value: f64, low: f64, high: f64) -> Parameter {
    Parameter::assumed(
        name,
        value,
        low,
        high,
        "1",
        "a trial fit of two pools to the oxidative brown of J. Cosmet. Sci. 72(3) p. 278 (2021) gave 0.15 to 0.37; less on undamaged and more on worn hair, because bleached hair loses loose surface colour in the first washes (J. Cosmet. Sci. 59(4) p. 366, 2008)",
    )
}

const fn hue(name: &'static str, value: f64, low: f64, high: f64) -> Parameter {
    Parameter::assumed(
        name,
        value,
        low,
        high,
        "1",
        "the trade finds reds quick and blues either quick or staining; nothing measured was read",
    )
}

/// Rates of the bands against their class, in the order of the bands.
const HUES: [&Parameter; BANDS] = [&HUE_YELLOW, &HUE_ORANGE, &HUE_PINK_RED, &HUE_VIOLET, &HUE_BLUE];

/// The constants for a dye class on hair of this damage.
///
/// ```text
/// φ  = 0.05 undamaged, 0.3 lightened, 0.4 over-porous
/// κ₀ = ln((1 − φ)/0.1) / N          temporary, direct, demi-permanent
/// κ₀ = 0.004                        permanent
/// κᵢ = κ₀ · u · p · hᵢ
/// τ  = 0.9, or 1/κ of the quickest band when that is less
/// ```
///
/// | symbol | meaning | unit | range |
/// |---|---|---|---|
/// | `N` | washes until "washed out" | wash | 1 to 24, by [`DyeClass::washes`] |
/// | `φ` | loose share | 1 | 0 to 0.6 |
/// | `u` | undamaged against lightened | 1 | [`UNDAMAGED_RATE`] |
/// | `p` | porosity | 1 | [`Porosity::leaving`] |
/// | `hᵢ` | hue family | 1 | about 1 |
/// | `κᵢ` | rate of the held pool of band i | 1/wash | > 0 |
/// | `τ` | dose that empties the loose pool to 1/e | wash | [`LOOSE_DOSE`] |
///
/// The loose pool never leaves slower than the held one: only a temporary colour, all of which lies on the surface, comes near.
///
/// # Validity
/// Ordinary dyes. Dyes fixed with tannin and metal salts hold best on the most bleached hair and are outside the model.
///
/// # Uncertainty
/// [`super::uncertainty`].
///
/// # Source
/// N: Evans & Wickett 2012, ch. 4. Everything that bends it: assumed, [`PARAMETERS`].
#[must_use]
pub fn leaving(class: DyeClass, lightened: bool, porosity: Porosity) -> Leaving {
    let loose = match (porosity, lightened) {
        (Porosity::OverPorous, _) => LOOSE_OVER_POROUS.value,
        (_, true) => LOOSE_LIGHTENED.value,
        (_, false) => LOOSE_UNDAMAGED.value,
    };
    let class_rate = match class.washes() {
        Some(washes) => ((1.0 - loose) / WASHED_OUT.value).ln() / washes.value,
        None => RATE_PERMANENT.value,
    };
    let damage = if lightened { 1.0 } else { UNDAMAGED_RATE.value };
    let rate = class_rate * damage * porosity.leaving();
    let kappa = HUES.map(|hue| rate * hue.value);
    let quickest = kappa.into_iter().fold(0.0, f64::max);
    Leaving { loose, tau: LOOSE_DOSE.value.min(1.0 / quickest), kappa }
}

impl Leaving {
    /// f(D) of one band, the share of its load that is left.
    ///
    /// ```text
    /// f(D) = φ·exp(−D/τ) + (1 − φ)·exp(−κD)
    /// ```
    ///
    /// | symbol | meaning | unit | range |
    /// |---|---|---|---|
    /// | `D` | dose since the service | wash | ≥ 0 |
    /// | `φ` | share in the loose pool | 1 | 0 to 1 |
    /// | `τ` | dose that empties the loose pool to 1/e | wash | > 0 |
    /// | `κ` | rate of the held pool | 1/wash | ≥ 0 |
    /// | `f` | share left | 1 | 0 to 1 |
    ///
    /// # Validity
    /// Measured fading is concave: an oxidative brown changes by ΔE 3.42, 4.57, 5.43, 6.12 after 2, 5, 8, 12 washes, where one exponential would be nearly straight. Two pools fit that table to 0.04–0.07 ΔE.
    ///
    /// # Uncertainty
    /// The rate as a whole is log-normal about this: [`super::uncertainty`].
    ///
    /// # Panics
    /// When `band` is not below [`BANDS`].
    ///
    /// # Source
    /// The form: chosen here, held against J. Cosmet. Sci. 72(3) p. 278, Table III (2021).
    #[must_use]
    pub fn remaining(&self, band: usize, dose: Washes) -> Fraction {
        let d = dose.to_washes();
        let share = self.loose * (-d / self.tau).exp() + (1.0 - self.loose) * (-self.kappa[band] * d).exp();
        Fraction::from_fraction(share.clamp(0.0, 1.0))
    }

    /// The loads left after a dose.
    #[must_use]
    pub fn loads_after(&self, fresh: &Loads, dose: Washes) -> Loads {
        Loads(std::array::from_fn(|band| fresh.0[band] * self.remaining(band, dose).to_fraction()))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::Worded;

    #[test]
    fn no_dose_leaves_everything() {
        for (class, ..) in DyeClass::WORDS {
            let leaving = leaving(*class, true, Porosity::Porous);
            for band in 0..BANDS {
                assert!((leaving.remaining(band, Washes::from_washes(0.0)).to_fraction() - 1.0).abs() < 1e-12);
            }
        }
    }

    #[test]
    fn the_slowest_bands_rate_is_within_its_own_range() {
        for hue in HUES {
            assert!(hue.low <= hue.value && hue.value <= hue.high, "{}", hue.name);
        }
    }
}
