//! Dyes by hue family: Gaussian absorption bands.
//!
//! In: a load of each band. Out: the K/S it adds. Knows nothing of: substances; measured absorption maxima only say in what region a hue family absorbs.

use std::sync::LazyLock;

use crate::science::colour::spectrum::{SAMPLES, Spectrum};
use crate::science::parameter::Parameter;
use crate::units::worded;

worded! {
    /// The five bands, by the colour the dye looks.
    Band, "hue family" {
        /// 430 nm.
        Yellow = "yellow",
        /// 480 nm.
        Orange = "orange",
        /// 530 nm.
        PinkRed = "pink-red" ["pink", "red"],
        /// 560 nm.
        Violet = "violet",
        /// 620 nm.
        Blue = "blue",
    }
}

/// Number of bands.
pub const BANDS: usize = 5;

/// Load of each band, peak K/S, in the order of [`Band`]; never negative.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Loads(pub [f64; BANDS]);

impl Loads {
    /// The sum of all loads: how much dye, in peak K/S.
    #[must_use]
    pub fn total(&self) -> f64 {
        self.0.iter().sum()
    }

    /// Every load times a factor.
    ///
    /// # Panics
    /// When the factor is negative.
    #[must_use]
    pub fn times(&self, factor: f64) -> Self {
        assert!(factor >= 0.0, "a load is never negative");
        Self(self.0.map(|load| load * factor))
    }
}

const WHY_CENTRE: &str = "by hue family; measured maxima of hair dyes lie in the same regions (J. Soc. Cosmet. Chem. 35, p. 307, 1984: 471 to 536 nm)";
const WHY_WIDTH: &str = "no measured band width of a hair dye on hair was reached";

/// Centre of the yellow band.
pub const YELLOW_CENTRE: Parameter = centre("centre of the yellow band", 430.0);
/// Full width at half maximum of the yellow band.
pub const YELLOW_WIDTH: Parameter = width("width of the yellow band", 90.0);
/// Centre of the orange band.
pub const ORANGE_CENTRE: Parameter = centre("centre of the orange band", 480.0);
/// Full width at half maximum of the orange band.
pub const ORANGE_WIDTH: Parameter = width("width of the orange band", 90.0);
/// Centre of the pink-red band.
pub const PINK_RED_CENTRE: Parameter = centre("centre of the pink-red band", 530.0);
/// Full width at half maximum of the pink-red band.
pub const PINK_RED_WIDTH: Parameter = width("width of the pink-red band", 90.0);
/// Centre of the violet band.
pub const VIOLET_CENTRE: Parameter = centre("centre of the violet band", 560.0);
/// Full width at half maximum of the violet band.
pub const VIOLET_WIDTH: Parameter = width("width of the violet band", 110.0);
/// Centre of the blue band.
pub const BLUE_CENTRE: Parameter = centre("centre of the blue band", 620.0);
/// Full width at half maximum of the blue band.
pub const BLUE_WIDTH: Parameter = width("width of the blue band", 110.0);

/// Centre and width of each band, in the order of [`Band`].
pub const SHAPES: [(&Parameter, &Parameter); BANDS] = [
    (&YELLOW_CENTRE, &YELLOW_WIDTH),
    (&ORANGE_CENTRE, &ORANGE_WIDTH),
    (&PINK_RED_CENTRE, &PINK_RED_WIDTH),
    (&VIOLET_CENTRE, &VIOLET_WIDTH),
    (&BLUE_CENTRE, &BLUE_WIDTH),
];

/// Every number of this module.
pub const PARAMETERS: &[&Parameter] = &[
    &YELLOW_CENTRE,
    &YELLOW_WIDTH,
    &ORANGE_CENTRE,
    &ORANGE_WIDTH,
    &PINK_RED_CENTRE,
    &PINK_RED_WIDTH,
    &VIOLET_CENTRE,
    &VIOLET_WIDTH,
    &BLUE_CENTRE,
    &BLUE_WIDTH,
];

const fn centre(name: &'static str, value: f64) -> Parameter {
    Parameter::assumed(name, value, value - 20.0, value + 20.0, "nm", WHY_CENTRE)
}

const fn width(name: &'static str, value: f64) -> Parameter {
    Parameter::assumed(name, value, value - 30.0, value + 40.0, "nm", WHY_WIDTH)
}

/// The unit bands, peak 1, in the order of [`Band`].
pub fn unit_bands() -> &'static [Spectrum; BANDS] {
    static UNITS: LazyLock<[Spectrum; BANDS]> = LazyLock::new(|| {
        SHAPES.map(|(centre, width)| {
            Spectrum::from_law(|λ| (-4.0 * std::f64::consts::LN_2 * ((λ - centre.value) / width.value).powi(2)).exp())
        })
    });
    &UNITS
}

/// K/S of the dye: the sum of load times band.
///
/// ```text
/// q(λ) = Σ xᵢ · exp(−4 ln 2 · ((λ − cᵢ)/wᵢ)²)
/// ```
///
/// | symbol | meaning | unit | range |
/// |---|---|---|---|
/// | `xᵢ` | load of band i, its peak K/S | 1 | ≥ 0 |
/// | `cᵢ` | centre | nm | 430, 480, 530, 560, 620 |
/// | `wᵢ` | full width at half maximum | nm | 90, 90, 90, 110, 110 |
///
/// Green is blue with yellow; brown is all of them.
///
/// # Validity
/// Assumed: one smooth band a hue family, adding without touching each other.
///
/// # Uncertainty
/// Maxima of hair dyes were measured between 471 and 536 nm ([`CORBETT_1984`](crate::science::bibliography::CORBETT_1984)). Centres ±20 nm, widths −30 to +40 nm.
///
/// # Source
/// Chosen here: [`PARAMETERS`].
#[must_use]
pub fn absorption(loads: &Loads) -> Spectrum {
    let mut sum = [0.0; SAMPLES];
    for (load, band) in loads.0.iter().zip(unit_bands()).filter(|(load, _)| **load != 0.0) {
        for (total, value) in sum.iter_mut().zip(&band.0) {
            *total += load * value;
        }
    }
    Spectrum(sum)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::science::colour::spectrum::wavelength;

    #[test]
    fn a_band_is_one_at_its_centre_and_a_half_at_half_its_width() {
        for (band, (centre, width)) in unit_bands().iter().zip(SHAPES) {
            for (index, value) in band.0.iter().enumerate() {
                let off = (wavelength(index) - centre.value).abs();
                if off < 1e-9 {
                    assert!((value - 1.0).abs() < 1e-12);
                } else if (off - width.value / 2.0).abs() < 1e-9 {
                    assert!((value - 0.5).abs() < 1e-12);
                }
            }
        }
    }

    #[test]
    fn no_load_absorbs_nothing() {
        assert!(absorption(&Loads::default()).0.iter().all(|q| *q == 0.0));
    }
}
