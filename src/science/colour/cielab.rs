//! CIELAB, the space in which colour is measured, forecast and compared.
//!
//! | law | source |
//! |-----|--------|
//! | [`from_xyz`], [`to_xyz`] | CIE 015:2018, 8.2.1 (ISO/CIE 11664-4) |
//!
//! In: tristimulus values. Out: lightness, a*, b*. Knows nothing of: screens and words.

use super::spectrum::Spectrum;
use super::tristimulus;
use super::tristimulus::Xyz;

/// A colour in CIELAB, white point as [`super::tristimulus::white`].
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Lab {
    /// Lightness, 0 to 100.
    pub l: f64,
    /// Green to red.
    pub a: f64,
    /// Blue to yellow.
    pub b: f64,
}

impl Lab {
    /// A colour by its coordinates.
    #[must_use]
    pub const fn new(l: f64, a: f64, b: f64) -> Self {
        Self { l, a, b }
    }

    /// A colour by lightness, chroma and hue angle in degrees.
    #[must_use]
    pub fn from_lch(l: f64, chroma: f64, hue: f64) -> Self {
        let (sine, cosine) = hue.to_radians().sin_cos();
        Self::new(l, chroma * cosine, chroma * sine)
    }

    /// Chroma C*ab.
    #[must_use]
    pub fn chroma(self) -> f64 {
        // No coordinate is so large or so small that its square is lost.
        (self.a * self.a + self.b * self.b).sqrt()
    }

    /// Hue angle `h_ab` in degrees, 0 to 360.
    #[must_use]
    pub fn hue(self) -> f64 {
        let angle = self.b.atan2(self.a).to_degrees();
        if angle < 0.0 { angle + 360.0 } else { angle }
    }
}

/// δ of the definition: where the cube root gives way to a straight line.
const DELTA: f64 = 6.0 / 29.0;

/// Returns CIELAB of tristimulus values relative to [`tristimulus::white`].
///
/// ```text
/// L* = 116 f(Y/Yn) − 16      a* = 500 (f(X/Xn) − f(Y/Yn))      b* = 200 (f(Y/Yn) − f(Z/Zn))
/// f(t) = t^⅓                   t > (6/29)³
/// f(t) = t / (3 (6/29)²) + 4/29   otherwise
/// ```
///
/// | symbol | meaning | unit | range |
/// |--------|---------|------|-------|
/// | `X Y Z` | tristimulus values | – | ≥ 0 |
/// | `Xn Yn Zn` | those of the white point | – | 95.04, 100, 108.88 |
/// | `L*` | lightness | – | 0 to 100 |
/// | `a* b*` | green–red, blue–yellow | – | about −110 to 110 |
///
/// # Validity
/// Any colour seen as a surface; the space is roughly even for differences below about 5 units only, which is why
/// differences are taken by CIEDE2000.
///
/// # Uncertainty
/// A definition, none of its own.
///
/// # Source
/// [`CIE_015_2018`](crate::science::bibliography::CIE_015_2018), 8.2.1.
///
/// # Example
/// ```
/// use afterhue::science::colour::{cielab, tristimulus::{self, Xyz}};
/// let white = tristimulus::white();
/// let grey = cielab::from_xyz(Xyz { x: white.x * 0.5, y: 50.0, z: white.z * 0.5 });
/// assert!((grey.l - 76.0693).abs() < 5e-5); // 116 · 0.5^⅓ − 16
/// assert!(grey.chroma() < 1e-9);
/// ```
#[must_use]
pub fn from_xyz(xyz: Xyz) -> Lab {
    let white = tristimulus::white();
    from_ratios([xyz.x / white.x, xyz.y / white.y, xyz.z / white.z])
}

/// Tristimulus values of a CIELAB colour: the same definition, solved backwards.
///
/// # Source
/// [`CIE_015_2018`](crate::science::bibliography::CIE_015_2018), annex D.
#[must_use]
pub fn to_xyz(lab: Lab) -> Xyz {
    let white = tristimulus::white();
    let [x, y, z] = to_ratios(lab);
    Xyz { x: x * white.x, y: y * white.y, z: z * white.z }
}

/// CIELAB of a reflectance.
///
/// # Example
/// ```
/// use afterhue::science::colour::{cielab, spectrum::Spectrum};
/// let grey = cielab::of_reflectance(&Spectrum::from_law(|_| 0.5));
/// assert!((grey.l - 76.0693).abs() < 5e-5);
/// ```
#[must_use]
pub fn of_reflectance(reflectance: &Spectrum) -> Lab {
    from_xyz(tristimulus::of_reflectance(reflectance))
}

/// CIELAB from X/Xn, Y/Yn, Z/Zn: the definition without its white, for spaces that bring their own.
pub(super) fn from_ratios(ratios: [f64; 3]) -> Lab {
    let [fx, fy, fz] =
        ratios.map(|t| if t > DELTA.powi(3) { t.cbrt() } else { t / (3.0 * DELTA * DELTA) + 4.0 / 29.0 });
    Lab::new(116.0 * fy - 16.0, 500.0 * (fx - fy), 200.0 * (fy - fz))
}

/// How L*, a* and b* of a colour answer a small change of its tristimulus values: the derivative of [`from_xyz`] along it.
#[must_use]
pub fn slope_at(lab: Lab, change: Xyz) -> [f64; 3] {
    let white = tristimulus::white();
    let roots = roots(lab);
    let change = [change.x / white.x, change.y / white.y, change.z / white.z];
    let [fx, fy, fz]: [f64; 3] = std::array::from_fn(|i| change[i] / (3.0 * roots[i].max(DELTA).powi(2)));
    [116.0 * fy, 500.0 * (fx - fy), 200.0 * (fy - fz)]
}

/// f(X/Xn), f(Y/Yn), f(Z/Zn) of a CIELAB colour.
fn roots(lab: Lab) -> [f64; 3] {
    let fy = (lab.l + 16.0) / 116.0;
    [fy + lab.a / 500.0, fy, fy - lab.b / 200.0]
}

/// X/Xn, Y/Yn, Z/Zn of a CIELAB colour.
pub(super) fn to_ratios(lab: Lab) -> [f64; 3] {
    roots(lab).map(|f| if f > DELTA { f.powi(3) } else { 3.0 * DELTA * DELTA * (f - 4.0 / 29.0) })
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    proptest! {
        #[test]
        fn tristimulus_values_and_back_keep_the_colour(l in 0.0..100.0, a in -100.0..100.0, b in -100.0..100.0) {
            let back = from_xyz(to_xyz(Lab::new(l, a, b)));
            prop_assert!((back.l - l).abs() < 1e-9 && (back.a - a).abs() < 1e-9 && (back.b - b).abs() < 1e-9);
        }

        #[test]
        fn the_slope_is_that_of_the_law(
            l in 1.0..99.0, a in -60.0..60.0, b in -60.0..60.0,
            change in (-1.0..1.0, -1.0..1.0, -1.0..1.0),
        ) {
            let h = 1e-5;
            let at = to_xyz(Lab::new(l, a, b));
            let moved = |h: f64| from_xyz(Xyz { x: at.x + h * change.0, y: at.y + h * change.1, z: at.z + h * change.2 });
            let (up, down) = (moved(h), moved(-h));
            let measured = [up.l - down.l, up.a - down.a, up.b - down.b].map(|change| change / (2.0 * h));
            let slope = slope_at(Lab::new(l, a, b), Xyz { x: change.0, y: change.1, z: change.2 });
            for (slope, measured) in slope.into_iter().zip(measured) {
                prop_assert!((slope - measured).abs() < 1e-3 * (1.0 + measured.abs()), "{slope} is not {measured}");
            }
        }

        #[test]
        fn lightness_chroma_and_hue_give_the_colour_back(l in 0.0..100.0, chroma in 0.01..120.0, hue in 0.0..360.0) {
            let lab = Lab::from_lch(l, chroma, hue);
            prop_assert!((lab.chroma() - chroma).abs() < 1e-9);
            let turned = (lab.hue() - hue).abs();
            prop_assert!(turned.min(360.0 - turned) < 1e-6);
        }
    }
}
