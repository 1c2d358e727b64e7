//! Oklab, the space in which pages mix and shift colours.
//!
//! | law | source |
//! |-----|--------|
//! | [`from_lab`], [`to_lab`] | Ottosson 2020 |
//!
//! CIELAB turns blue towards violet when it is paled; Oklab does not, so gradients and gamut mapping use it.
//! Knows nothing of: where a colour is shown.

use super::cielab;
use super::cielab::Lab;
use super::srgb;
use super::tristimulus::{self, Matrix};

/// A colour in Oklab.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Oklab {
    /// Lightness, 0 to 1.
    pub l: f64,
    /// Green to red.
    pub a: f64,
    /// Blue to yellow.
    pub b: f64,
}

impl Oklab {
    /// Chroma, 0 to about 0.32 for a screen's colours.
    #[must_use]
    pub fn chroma(self) -> f64 {
        // No coordinate is so large or so small that its square is lost.
        (self.a * self.a + self.b * self.b).sqrt()
    }

    /// Hue angle in degrees, 0 to 360.
    #[must_use]
    pub fn hue(self) -> f64 {
        let angle = self.b.atan2(self.a).to_degrees();
        if angle < 0.0 { angle + 360.0 } else { angle }
    }

    /// How far another colour lies from it, Euclidean.
    #[must_use]
    pub fn distance(self, other: Self) -> f64 {
        let (l, a, b) = (self.l - other.l, self.a - other.a, self.b - other.b);
        (l * l + a * a + b * b).sqrt()
    }

    /// The same lightness and hue with the chroma multiplied by `factor`.
    #[must_use]
    pub fn with_chroma_times(self, factor: f64) -> Self {
        Self { l: self.l, a: self.a * factor, b: self.b * factor }
    }

    /// The colour a share of the way to another, 0 this one and 1 the other.
    #[must_use]
    pub fn mix(self, other: Self, share: f64) -> Self {
        let between = |from: f64, to: f64| from + (to - from) * share;
        Self { l: between(self.l, other.l), a: between(self.a, other.a), b: between(self.b, other.b) }
    }
}

/// M₁: tristimulus values (white with Y = 1) to cone-like responses.
const M1: Matrix = [
    [0.818_933_010_1, 0.361_866_742_4, -0.128_859_713_7],
    [0.032_984_543_6, 0.929_311_871_5, 0.036_145_638_7],
    [0.048_200_301_8, 0.264_366_269_1, 0.633_851_707_0],
];

/// M₂: cube roots of the responses to Oklab.
const M2: Matrix = [
    [0.210_454_255_3, 0.793_617_785_0, -0.004_072_046_8],
    [1.977_998_495_1, -2.428_592_205_0, 0.450_593_709_9],
    [0.025_904_037_1, 0.782_771_766_2, -0.808_675_766_0],
];

const M1_INVERSE: Matrix = tristimulus::inverse(&M1);
const M2_INVERSE: Matrix = tristimulus::inverse(&M2);

/// Returns Oklab of a CIELAB colour.
///
/// ```text
/// (l, m, s) = M₁ (X, Y, Z)      (L, a, b) = M₂ (l^⅓, m^⅓, s^⅓)
/// ```
///
/// | symbol | meaning | unit | range |
/// |--------|---------|------|-------|
/// | `X Y Z` | tristimulus values, white with Y = 1 | – | 0 to about 1.09 |
/// | `l m s` | cone-like responses | – | about 0 to 1 |
/// | `L` | lightness | – | 0 to 1 |
/// | `a b` | green–red, blue–yellow | – | about −0.4 to 0.4 |
///
/// # Validity
/// Defined for the D65 white of sRGB; CIELAB's white is laid on it as in [`srgb`], so a grey stays a
/// grey (to 0.0002, the rounding of the published matrices).
///
/// # Uncertainty
/// A definition, none of its own.
///
/// # Source
/// [`OTTOSSON_2020`](crate::science::bibliography::OTTOSSON_2020).
///
/// # Example
/// ```
/// use afterhue::science::colour::{cielab::Lab, oklab};
/// let white = oklab::from_lab(Lab::new(100.0, 0.0, 0.0));
/// assert!((white.l - 1.0).abs() < 1e-3 && white.chroma() < 1e-3); // the source's first row, to its three digits
/// ```
#[must_use]
pub fn from_lab(lab: Lab) -> Oklab {
    let responses = tristimulus::apply(&M1, srgb::lay_on_white(cielab::to_ratios(lab)));
    let [l, a, b] = tristimulus::apply(&M2, responses.map(f64::cbrt));
    Oklab { l, a, b }
}

/// CIELAB of an Oklab colour: the same steps backwards.
#[must_use]
pub fn to_lab(oklab: Oklab) -> Lab {
    cielab::from_ratios(srgb::lift_off_white(to_screen_xyz(oklab)))
}

/// Tristimulus values with the white of sRGB at Y = 1.
pub(super) fn to_screen_xyz(oklab: Oklab) -> [f64; 3] {
    let roots = tristimulus::apply(&M2_INVERSE, [oklab.l, oklab.a, oklab.b]);
    tristimulus::apply(&M1_INVERSE, roots.map(|root| root.powi(3)))
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    proptest! {
        #[test]
        fn there_and_back_keeps_the_colour(l in 0.0..100.0, a in -80.0..80.0, b in -80.0..80.0) {
            let back = to_lab(from_lab(Lab::new(l, a, b)));
            prop_assert!((back.l - l).abs() < 1e-6 && (back.a - a).abs() < 1e-6 && (back.b - b).abs() < 1e-6);
        }
    }

    /// The source's own table of four tristimulus triples, given to three digits.
    #[test]
    fn the_four_printed_pairs_are_met() {
        let pairs = [
            ([0.950, 1.000, 1.089], [1.000, 0.000, 0.000]),
            ([1.000, 0.000, 0.000], [0.450, 1.236, -0.019]),
            ([0.000, 1.000, 0.000], [0.922, -0.671, 0.263]),
            ([0.000, 0.000, 1.000], [0.153, -1.415, -0.449]),
        ];
        for (xyz, printed) in pairs {
            let got = tristimulus::apply(&M2, tristimulus::apply(&M1, xyz).map(f64::cbrt));
            for (left, right) in got.iter().zip(printed) {
                assert!((left - right).abs() < 6e-4, "{got:?} against {printed:?}");
            }
        }
    }

    #[test]
    fn a_grey_has_hardly_any_chroma() {
        for l in [0.0, 20.0, 50.0, 90.0, 100.0] {
            let chroma = from_lab(Lab::new(l, 0.0, 0.0)).chroma();
            assert!(chroma < 2e-4, "{chroma}");
        }
    }

    #[test]
    fn a_mix_runs_from_one_colour_to_the_other() {
        let (one, other) = (Oklab { l: 0.2, a: 0.1, b: 0.0 }, Oklab { l: 0.8, a: -0.1, b: 0.2 });
        assert_eq!(one.mix(other, 0.0), one);
        assert!((one.mix(other, 0.5).l - 0.5).abs() < 1e-12);
    }
}
