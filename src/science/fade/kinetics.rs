//! The law of leaving: a loose and a held pool.
//!
//! In: dye class, damage, porosity; then a dose. Out: what share of each band's load is left. Knows nothing of: what made the dose, and when.

use crate::science::bibliography;
use crate::science::dye::band::{BANDS, Band, Loads};
use crate::science::dye::class::{DyeClass, RATE_PERMANENT, WASHED_OUT};
use crate::science::hair::porosity::Porosity;
use crate::science::parameter::Parameter;
use crate::units::{Fraction, Washes};

/// The constants of one zone's leaving.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Leaving {
    /// φ, the share in the loose pool, 0 to 1, one for each band.
    pub loose: [f64; BANDS],
    /// τ, dose in which the loose pool falls to 1/e, washes.
    pub tau: f64,
    /// κ, rate of the held pool, per wash, one for each band.
    pub kappa: [f64; BANDS],
    /// ℓ, what light takes of every band for each unit of dose, per wash.
    pub light: f64,
}

/// Loose share on hair that was not lightened.
pub const LOOSE_UNDAMAGED: Parameter = Parameter::assumed(
    "loose share, undamaged hair",
    0.025,
    0.0,
    0.15,
    "1",
    "a sixth of that of lightened hair, because it is bleaching that makes the first washes take loose surface colour (J. Cosmet. Sci. 59(4) p. 366, 2008); no curve of undamaged hair was read",
);
/// Loose share on lightened hair. Fitted: [`super::measured`].
pub const LOOSE_LIGHTENED: Parameter =
    Parameter::published("loose share, lightened hair", 0.14, 0.08, 0.40, "1", &bibliography::COPPER_FADE_2021);
/// Loose share on over-porous hair.
pub const LOOSE_OVER_POROUS: Parameter = Parameter::assumed(
    "loose share, over-porous hair",
    0.40,
    0.25,
    0.60,
    "1",
    "more than on lightened hair: damaged hair fades far faster (Evans & Wickett 2012, p. 518), the curve could not be read",
);
/// Loose share of pink-red on lightened hair. Fitted to oxidative reds: [`super::measured`].
///
/// A direct red is not fixed in the hair by any reaction, so no less of it is taken to lie loose.
pub const LOOSE_RED: Parameter = Parameter::published(
    "loose share of pink-red, lightened hair",
    0.36,
    0.14,
    0.60,
    "1",
    &bibliography::COPPER_FADE_2021,
);
/// How much more lies loose when the hair held copper while an oxidative colour was made in it. Fitted: [`super::measured`].
pub const LOOSE_COPPER: Parameter = Parameter::published(
    "loose share of an oxidative colour in hair that holds copper, against hair that does not",
    1.23,
    1.0,
    1.8,
    "1",
    &bibliography::COPPER_FADE_2021,
);
/// Dose in which the loose pool falls to 1/e. Fitted: [`super::measured`].
pub const LOOSE_DOSE: Parameter = Parameter::published(
    "dose that empties the loose pool to 1/e",
    0.44,
    0.20,
    2.0,
    "wash",
    &bibliography::COPPER_FADE_2021,
);
/// The most that may lie loose.
const LOOSE_MOST: f64 = 0.9;
/// Rate of the held pool on hair that was not lightened, against lightened hair.
pub const UNDAMAGED_RATE: Parameter = Parameter::assumed(
    "rate of the held pool, undamaged against lightened hair",
    0.80,
    0.28,
    1.0,
    "1",
    "slower for certain (Locke & Jachowicz 2005; Evans & Wickett 2012, p. 518), by how much was not read: as little slower as lets both lives be what the handbooks say and bleached hair be the emptier at every dose; the lower end is the square root of the published diffusion ratio",
);
/// The same for permanent colour, which leaves so slowly that the fibre's own barrier decides: √(3.6/45) of the dye-probe diffusion, at most √(9.8/45) when the colour's own peroxide has opened it.
pub const UNDAMAGED_RATE_PERMANENT: Parameter = Parameter::published(
    "rate of the held pool of permanent colour, undamaged against lightened hair",
    0.283,
    0.283,
    0.467,
    "1",
    &bibliography::POROSITY_DIFFUSION_1993,
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

/// Rate of the pink-red band of permanent colour: what did not leave at once stays. Fitted: [`super::measured`].
pub const HUE_PINK_RED_PERMANENT: Parameter = Parameter::published(
    "rate of the pink-red band, permanent colour",
    0.05,
    0.05,
    1.6,
    "1",
    &bibliography::COPPER_FADE_2021,
);

/// Every number of this module.
pub const PARAMETERS: &[&Parameter] = &[
    &LOOSE_UNDAMAGED,
    &LOOSE_LIGHTENED,
    &LOOSE_OVER_POROUS,
    &LOOSE_RED,
    &LOOSE_COPPER,
    &LOOSE_DOSE,
    &UNDAMAGED_RATE,
    &UNDAMAGED_RATE_PERMANENT,
    &HUE_PINK_RED_PERMANENT,
    &HUE_YELLOW,
    &HUE_ORANGE,
    &HUE_PINK_RED,
    &HUE_VIOLET,
    &HUE_BLUE,
];

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

/// The pink-red band.
const PINK_RED: usize = Band::PinkRed as usize;

/// Rates of the bands of a class against the class, in the order of the bands.
const fn hues(class: DyeClass) -> [&'static Parameter; BANDS] {
    let red = if matches!(class, DyeClass::Permanent) { &HUE_PINK_RED_PERMANENT } else { &HUE_PINK_RED };
    [&HUE_YELLOW, &HUE_ORANGE, red, &HUE_VIOLET, &HUE_BLUE]
}

/// κ₀, the rate at which a class leaves the held pool of lightened, porous hair, 1/wash: so that a tenth is left after the washes of the handbooks, however much of it lay loose.
///
/// ```text
/// κ₀ = ln((1 − φ)/0.1) / N          temporary, direct, demi-permanent
/// κ₀ = RATE_PERMANENT               permanent
/// ```
///
/// | symbol | meaning | unit | range |
/// |---|---|---|---|
/// | `N` | washes until "washed out" | wash | 1 to 24, by [`DyeClass::washes`] |
/// | `φ` | loose share, `loose` | 1 | 0 to 0.9 |
/// | `0.1` | share left when handbooks say washed out, [`WASHED_OUT`] | 1 | 0.05 to 0.2 |
///
/// # Validity
/// Lightened, porous hair.
///
/// # Uncertainty
/// The range of N, and for permanent colour of [`RATE_PERMANENT`], becomes the class part of the rate's spread: [`super::uncertainty::class_spread`].
///
/// # Source
/// N: Evans & Wickett 2012, ch. 4 and da Franca et al. 2015. The rate of permanent colour: fitted, see [`super::measured`].
#[must_use]
pub fn class_rate(class: DyeClass, loose: f64) -> f64 {
    class.washes().map_or(RATE_PERMANENT.value, |washes| ((1.0 - loose) / WASHED_OUT.value).ln() / washes.value)
}

/// The constants for a dye class on hair of this damage.
///
/// ```text
/// φ  = φ_U undamaged, φ_L lightened, φ_O over-porous
/// φᵢ = φ, but at least φ_R for pink-red on lightened hair
/// κᵢ = κ₀(φᵢ) · u · p · hᵢ
/// τ  = LOOSE_DOSE, or 1/κ of the quickest band when that is less
/// ```
///
/// | symbol | meaning | unit | range |
/// |---|---|---|---|
/// | `N` | washes until "washed out" | wash | 1 to 24, by [`DyeClass::washes`] |
/// | `φ`, `φᵢ` | loose share, of the class and of band i | 1 | 0 to 0.9; [`LOOSE_UNDAMAGED`], [`LOOSE_LIGHTENED`], [`LOOSE_OVER_POROUS`] |
/// | `φ_R` | loose share of pink-red | 1 | [`LOOSE_RED`] |
/// | `κ₀` | rate of the class | 1/wash | [`class_rate`] |
/// | `u` | undamaged against lightened | 1 | [`UNDAMAGED_RATE`], [`UNDAMAGED_RATE_PERMANENT`] |
/// | `p` | porosity | 1 | [`Porosity::leaving`] |
/// | `hᵢ` | hue family | 1 | about 1; [`HUE_PINK_RED_PERMANENT`] |
/// | `κᵢ` | rate of the held pool of band i | 1/wash | > 0 |
/// | `τ` | dose that empties the loose pool to 1/e | wash | [`LOOSE_DOSE`] |
///
/// The loose pool never leaves slower than the held one: only a temporary colour, all of which lies on the surface, comes near.
///
/// # Validity
/// Ordinary dyes. Dyes fixed with tannin and metal salts hold best on the most bleached hair and are outside the model.
/// `φ_L`, `φ_R` and τ were fitted to oxidative colour; that the other classes on lightened hair share them is assumed, for want of a table of direct dyes. So every class leaves slower than the one before, at any dose and in every hue.
///
/// # Uncertainty
/// [`super::uncertainty`].
///
/// # Source
/// N: Evans & Wickett 2012, ch. 4. φ, `φ_R`, τ, the rate of permanent colour and its pink-red: fitted to J. Cosmet. Sci. 72(3) p. 278 (2021) and Locke & Jachowicz 2005, see [`super::measured`]. The rest: [`PARAMETERS`].
#[must_use]
pub fn leaving(class: DyeClass, lightened: bool, porosity: Porosity) -> Leaving {
    let loose = match (porosity, lightened) {
        (Porosity::OverPorous, _) => LOOSE_OVER_POROUS.value,
        (_, true) => LOOSE_LIGHTENED.value,
        (_, false) => LOOSE_UNDAMAGED.value,
    };
    let damage = match (lightened, class) {
        (true, _) => 1.0,
        (false, DyeClass::Permanent) => UNDAMAGED_RATE_PERMANENT.value,
        (false, _) => UNDAMAGED_RATE.value,
    };
    let mut loose = [loose; BANDS];
    // On undamaged hair no red was measured wash by wash, and permanent shades kept over nine tenths.
    if lightened {
        loose[PINK_RED] = loose[PINK_RED].max(LOOSE_RED.value);
    }
    let hues = hues(class);
    let kappa =
        std::array::from_fn(|band| class_rate(class, loose[band]) * damage * porosity.leaving() * hues[band].value);
    let quickest = kappa.into_iter().fold(0.0, f64::max);
    Leaving { loose, tau: LOOSE_DOSE.value.min(1.0 / quickest), kappa, light: 0.0 }
}

/// What an exponential gave for the last rate it was asked of: most bands of a class leave at one rate.
#[derive(Default)]
pub(super) struct Kept(Option<(f64, f64)>);

impl Kept {
    /// The law's answer for a rate, taken anew only when the rate is another.
    pub(super) fn of(&mut self, rate: f64, law: impl FnOnce(f64) -> f64) -> f64 {
        match self.0 {
            Some((known, answer)) if known.to_bits() == rate.to_bits() => answer,
            _ => {
                let answer = law(rate);
                self.0 = Some((rate, answer));
                answer
            }
        }
    }
}

impl Leaving {
    /// The same in hair that held copper when the colour was made in it: more lies loose.
    ///
    /// ```text
    /// φᵢ → min(φᵢ · γ, 0.9)      oxidative colours only
    /// ```
    ///
    /// | symbol | meaning | unit | range |
    /// |---|---|---|---|
    /// | `γ` | loose share with copper against without | 1 | [`LOOSE_COPPER`] |
    ///
    /// # Validity
    /// Copper from old plumbing or hard water, in the hair before an oxidative colour. Measured on an intense red and a brown: with a chelant in the shampoo, and so without copper's effect, the change after two washes was 4.93 for 7.59 and 2.58 for 3.42, and the two came together with more washes. A larger loose share does that, a larger dose does not. For direct dyes nothing was measured and nothing is changed. A green tint is no part of it.
    ///
    /// # Uncertainty
    /// The range of γ.
    ///
    /// # Source
    /// J. Cosmet. Sci. 72(3) p. 278, Table III (2021); γ fitted, see [`super::measured`].
    #[must_use]
    pub fn in_copper_hair(mut self, class: DyeClass) -> Self {
        if class.is_oxidative() {
            self.loose = self.loose.map(|loose| (loose * LOOSE_COPPER.value).min(LOOSE_MOST));
        }
        self
    }

    /// The same in light that takes this much for each unit of dose: [`light`](super::dose::light).
    #[must_use]
    pub const fn in_light(mut self, light: f64) -> Self {
        self.light = light;
        self
    }

    /// f(D) of one band, the share of its load that is left.
    ///
    /// ```text
    /// f(D) = (φ·exp(−D/τ) + (1 − φ)·exp(−κD)) · exp(−ℓD)
    /// ```
    ///
    /// | symbol | meaning | unit | range |
    /// |---|---|---|---|
    /// | `D` | dose since the service | wash | ≥ 0 |
    /// | `φ` | share in the loose pool | 1 | 0 to 1 |
    /// | `τ` | dose that empties the loose pool to 1/e | wash | > 0 |
    /// | `κ` | rate of the held pool | 1/wash | ≥ 0 |
    /// | `ℓ` | what light takes beside, [`light`](super::dose::light) | 1/wash | ≥ 0 |
    /// | `f` | share left | 1 | 0 to 1 |
    ///
    /// # Validity
    /// Measured fading is concave: an oxidative brown changes by ΔE 3.42, 4.57, 5.43, 6.12 after 2, 5, 8, 12 washes, where one exponential would be nearly straight. How near two pools come is told in [`super::measured`].
    ///
    /// # Uncertainty
    /// The rate as a whole is log-normal about this: [`super::uncertainty`].
    ///
    /// # Panics
    /// When `band` is not below [`BANDS`].
    ///
    /// # Source
    /// The form: chosen here, held against J. Cosmet. Sci. 72(3) p. 278, Table III (2021).
    ///
    /// # Example
    /// The last row of that table, an oxidative brown after twelve washes:
    /// ```
    /// use afterhue::science::fade::measured::{constants::Constants, washed::rows};
    /// let brown = rows().iter().find(|row| row.id == "A12").expect("the row");
    /// assert_eq!((brown.washes, brown.measured), (12.0, 6.12));
    /// assert!((brown.modelled(&Constants::shipped()) - 6.12).abs() < 0.2);
    /// ```
    #[must_use]
    pub fn remaining(&self, band: usize, dose: Washes) -> Fraction {
        let d = dose.to_washes();
        let left = [-d / self.tau, -self.kappa[band] * d, -self.light * d].map(f64::exp);
        Fraction::from_fraction(self.share(band, left))
    }

    /// f(D) from what is left of the loose pool, of the held pool and by light.
    fn share(&self, band: usize, [loose_left, held_left, light_left]: [f64; 3]) -> f64 {
        let loose = self.loose[band];
        let share = loose * loose_left + (1.0 - loose) * held_left;
        (share * light_left).clamp(0.0, 1.0)
    }

    /// The loads left after a dose: each exponential taken once, however many bands share it.
    #[must_use]
    pub fn loads_after(&self, fresh: &Loads, dose: Washes) -> Loads {
        let d = dose.to_washes();
        let (loose_left, light_left) = ((-d / self.tau).exp(), (-self.light * d).exp());
        let mut held = Kept::default();
        Loads(std::array::from_fn(|band| match fresh.0[band] {
            0.0 => 0.0,
            load => {
                let held_left = held.of(self.kappa[band], |kappa| (-kappa * d).exp());
                load * self.share(band, [loose_left, held_left, light_left])
            }
        }))
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
    fn copper_loosens_oxidative_colour_and_no_other() {
        for (class, ..) in DyeClass::WORDS {
            let plain = leaving(*class, true, Porosity::Porous);
            let copper = plain.in_copper_hair(*class);
            assert_eq!(copper != plain, class.is_oxidative());
            assert!(
                copper.loose.iter().zip(plain.loose).all(|(with, without)| *with >= without && *with <= LOOSE_MOST)
            );
        }
    }
}
