//! sRGB (IEC 61966-2-1): the colours a screen shows, their luminance and contrast.
//!
//! | law | source |
//! |-----|--------|
//! | [`from_lab`], [`to_lab`] | IEC 61966-2-1:1999; gamut mapping: our choice, described there |
//! | [`Srgb::relative_luminance`], [`contrast`] | WCAG 2.2 |
//!
//! **The two whites.** sRGB's white is the rounded chromaticity (0.3127, 0.3290); the white of our CIELAB is the sum of
//! the D65 table, (0.31272, 0.32903). They are the same daylight, 0.02 CIELAB units apart. So that the perfect diffuser
//! shows as `#ffffff` and a grey hair as a grey pixel, CIELAB's white is laid exactly on the screen's: X/Xn, Y/Yn, Z/Zn
//! are read as ratios to the screen's white.
//!
//! Knows nothing of: pages and style sheets.

use super::cielab;
use super::cielab::Lab;
use super::oklab;
use super::oklab::Oklab;
use super::tristimulus::{self, Matrix};

/// An sRGB colour, 8 bits a channel.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Srgb {
    /// Red.
    pub r: u8,
    /// Green.
    pub g: u8,
    /// Blue.
    pub b: u8,
}

impl Srgb {
    /// As `#rrggbb`.
    #[must_use]
    pub fn to_hex(self) -> String {
        let digit = |nibble: u8| char::from(b"0123456789abcdef"[usize::from(nibble)]);
        let mut hex = String::with_capacity(7);
        hex.push('#');
        for code in [self.r, self.g, self.b] {
            hex.push(digit(code >> 4));
            hex.push(digit(code & 15));
        }
        hex
    }

    /// From `#rrggbb` (either case).
    ///
    /// ```
    /// use afterhue::science::colour::srgb::Srgb;
    /// assert_eq!(Srgb::from_hex("#F4C2c2"), Some(Srgb { r: 244, g: 194, b: 194 }));
    /// assert_eq!(Srgb::from_hex("F4C2C2"), None);
    /// ```
    #[must_use]
    pub fn from_hex(text: &str) -> Option<Self> {
        let digits = text.strip_prefix('#')?.as_bytes();
        if digits.len() != 6 {
            return None;
        }
        let nibble = |index: usize| char::from(digits[index]).to_digit(16);
        let channel = |first: usize| u8::try_from(nibble(first)? * 16 + nibble(first + 1)?).ok();
        Some(Self { r: channel(0)?, g: channel(2)?, b: channel(4)? })
    }

    /// Relative luminance, 0 to 1.
    ///
    /// ```text
    /// L = 0.2126 R + 0.7152 G + 0.0722 B      (R, G, B linear)
    /// ```
    ///
    /// | symbol | meaning | unit | range |
    /// |---|---|---|---|
    /// | `R G B` | linear channels | 1 | 0 to 1 |
    /// | `L` | luminance against white | 1 | 0 to 1 |
    ///
    /// # Validity
    /// A definition, for text on a screen.
    ///
    /// # Uncertainty
    /// That of an eight-bit code.
    ///
    /// # Source
    /// [`WCAG_2_2`](crate::science::bibliography::WCAG_2_2), definition of relative luminance.
    #[must_use]
    pub fn relative_luminance(self) -> f64 {
        let [r, g, b] = self.linear();
        0.2126 * r + 0.7152 * g + 0.0722 * b
    }

    /// Linear channels, 0 to 1.
    fn linear(self) -> [f64; 3] {
        [self.r, self.g, self.b].map(|code| decoded(f64::from(code) / 255.0))
    }
}

/// Chromaticities of the primaries and of white, IEC 61966-2-1.
const RED: (f64, f64) = (0.64, 0.33);
const GREEN: (f64, f64) = (0.30, 0.60);
const BLUE: (f64, f64) = (0.15, 0.06);
const WHITE: (f64, f64) = (0.3127, 0.3290);

/// Tristimulus values of the screen's white, Y = 1.
const WHITE_XYZ: [f64; 3] = column(WHITE);

/// Linear sRGB to tristimulus values, from the primaries rather than from the four printed decimals: so that
/// (1, 1, 1) gives the white exactly.
const TO_XYZ: Matrix = primaries();
const FROM_XYZ: Matrix = tristimulus::inverse(&TO_XYZ);

/// X, Y, Z of a chromaticity at Y = 1.
const fn column((x, y): (f64, f64)) -> [f64; 3] {
    [x / y, 1.0, (1.0 - x - y) / y]
}

/// The primaries, each scaled so that together they make white.
const fn primaries() -> Matrix {
    let (r, g, b) = (column(RED), column(GREEN), column(BLUE));
    let unscaled = [[r[0], g[0], b[0]], [r[1], g[1], b[1]], [r[2], g[2], b[2]]];
    let s = tristimulus::apply(&tristimulus::inverse(&unscaled), WHITE_XYZ);
    [
        [r[0] * s[0], g[0] * s[1], b[0] * s[2]],
        [r[1] * s[0], g[1] * s[1], b[1] * s[2]],
        [r[2] * s[0], g[2] * s[1], b[2] * s[2]],
    ]
}

/// X/Xn, Y/Yn, Z/Zn as tristimulus values under the screen's white.
pub(super) fn lay_on_white(ratios: [f64; 3]) -> [f64; 3] {
    std::array::from_fn(|i| ratios[i] * WHITE_XYZ[i])
}

/// Tristimulus values under the screen's white as X/Xn, Y/Yn, Z/Zn.
pub(super) fn lift_off_white(xyz: [f64; 3]) -> [f64; 3] {
    std::array::from_fn(|i| xyz[i] / WHITE_XYZ[i])
}

/// The transfer curve, code value 0 to 1 to linear.
fn decoded(code: f64) -> f64 {
    if code <= 0.04045 { code / 12.92 } else { ((code + 0.055) / 1.055).powf(2.4) }
}

/// The transfer curve, linear to code value 0 to 1.
fn encoded(linear: f64) -> f64 {
    if linear <= 0.003_130_8 { linear * 12.92 } else { 1.055 * linear.powf(1.0 / 2.4) - 0.055 }
}

/// Slack of the gamut test in linear light: a third of an 8-bit step at black, invisible elsewhere.
const GAMUT_SLACK: f64 = 1e-4;

/// Halvings of the chroma search: 2⁻²⁰ of the chroma, far below an 8-bit step.
const HALVINGS: u32 = 20;

/// Returns the nearest sRGB colour; outside the gamut, chroma is reduced at the same Oklab lightness and hue.
///
/// # Validity
/// Pastels, blondes and browns are inside the gamut; strong coppers, magentas and teals may not be, and are then shown
/// paler in chroma but right in lightness and hue. Clipping the channels instead would turn a copper towards
/// yellow. The chroma kept is the largest that fits, found by halving, to 2⁻²⁰ of the chroma.
///
/// # Uncertainty
/// Rounding to 8 bits: up to about 0.3 CIELAB units in the middle of the gamut, 1 near black.
///
/// # Source
/// [`IEC_61966_2_1`](crate::science::bibliography::IEC_61966_2_1) for the space, [`OTTOSSON_2020`](crate::science::bibliography::OTTOSSON_2020) for lightness and hue.
///
/// # Example
/// ```
/// use afterhue::science::colour::{cielab::Lab, srgb};
/// // Published CIELAB of pure sRGB red, back to red.
/// assert_eq!(srgb::from_lab(Lab::new(53.2371, 80.0901, 67.2033)).to_hex(), "#ff0000");
/// assert_eq!(srgb::from_lab(Lab::new(100.0, 0.0, 0.0)).to_hex(), "#ffffff");
/// ```
#[must_use]
pub fn from_lab(lab: Lab) -> Srgb {
    let direct = tristimulus::apply(&FROM_XYZ, lay_on_white(cielab::to_ratios(lab)));
    if in_gamut(direct) {
        return quantised(direct);
    }
    quantised(linear_of(reduced(oklab::from_lab(lab))))
}

/// The nearest sRGB colour of one in Oklab: that of its CIELAB, without the way there and back.
///
/// ```
/// use afterhue::science::colour::{cielab::Lab, oklab, srgb};
/// let copper = Lab::new(55.0, 60.0, 80.0);
/// assert_eq!(srgb::from_oklab(oklab::from_lab(copper)), srgb::from_lab(copper));
/// ```
#[must_use]
pub fn from_oklab(colour: Oklab) -> Srgb {
    let direct = linear_of(colour);
    if in_gamut(direct) { quantised(direct) } else { quantised(linear_of(reduced(colour))) }
}

/// Whether a screen can show a colour as it is.
#[must_use]
pub fn is_showable(lab: Lab) -> bool {
    in_gamut(tristimulus::apply(&FROM_XYZ, lay_on_white(cielab::to_ratios(lab))))
}

/// The colour with the largest chroma that fits.
fn reduced(wanted: Oklab) -> Oklab {
    let wanted = Oklab { l: wanted.l.clamp(0.0, 1.0), ..wanted };
    let (mut fits, mut too_strong) = (0.0, 1.0);
    for _ in 0..HALVINGS {
        let middle = (fits + too_strong) / 2.0;
        if in_gamut(linear_of(wanted.with_chroma_times(middle))) {
            fits = middle;
        } else {
            too_strong = middle;
        }
    }
    wanted.with_chroma_times(fits)
}

fn linear_of(colour: Oklab) -> [f64; 3] {
    tristimulus::apply(&FROM_XYZ, oklab::to_screen_xyz(colour))
}

fn in_gamut(linear: [f64; 3]) -> bool {
    linear.iter().all(|channel| (-GAMUT_SLACK..=1.0 + GAMUT_SLACK).contains(channel))
}

fn quantised(linear: [f64; 3]) -> Srgb {
    let [r, g, b] = linear.map(|channel| (encoded(channel.clamp(0.0, 1.0)) * 255.0).round() as u8);
    Srgb { r, g, b }
}

/// CIELAB of an sRGB colour.
///
/// # Source
/// [`IEC_61966_2_1`](crate::science::bibliography::IEC_61966_2_1).
///
/// # Example
/// ```
/// use afterhue::science::colour::srgb::{self, Srgb};
/// let rose = srgb::to_lab(Srgb { r: 0xf4, g: 0xc2, b: 0xc2 });
/// assert!((rose.l - 82.7606).abs() < 1e-3 && (rose.a - 17.8210).abs() < 1e-3 && (rose.b - 6.8148).abs() < 1e-3);
/// ```
#[must_use]
pub fn to_lab(srgb: Srgb) -> Lab {
    cielab::from_ratios(lift_off_white(tristimulus::apply(&TO_XYZ, srgb.linear())))
}

/// Contrast ratio of two colours, 1 to 21: text needs 4.5, large text and symbols 3.
///
/// ```text
/// (L₁ + 0.05) / (L₂ + 0.05)      L₁ the lighter
/// ```
///
/// | symbol | meaning | unit | range |
/// |---|---|---|---|
/// | `L₁`, `L₂` | relative luminances, [`Srgb::relative_luminance`] | 1 | 0 to 1 |
///
/// # Validity
/// A definition, for text on a screen; 0.05 stands for the light a screen throws back.
///
/// # Uncertainty
/// None: it is compared with limits defined on itself.
///
/// # Source
/// [`WCAG_2_2`](crate::science::bibliography::WCAG_2_2), definition of contrast ratio.
///
/// # Example
/// ```
/// use afterhue::science::colour::srgb::{self, Srgb};
/// let (white, black) = (Srgb { r: 255, g: 255, b: 255 }, Srgb { r: 0, g: 0, b: 0 });
/// assert!((srgb::contrast(black, white) - 21.0).abs() < 1e-12);
/// ```
#[must_use]
pub fn contrast(one: Srgb, other: Srgb) -> f64 {
    let (one, other) = (one.relative_luminance(), other.relative_luminance());
    (one.max(other) + 0.05) / (one.min(other) + 0.05)
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    fn hue_apart(one: f64, other: f64) -> f64 {
        let turn = (one - other).abs();
        turn.min(360.0 - turn)
    }

    proptest! {
        #[test]
        fn hex_and_back_keeps_the_colour(r: u8, g: u8, b: u8) {
            let colour = Srgb { r, g, b };
            prop_assert_eq!(Srgb::from_hex(&colour.to_hex()), Some(colour));
            prop_assert_eq!(Srgb::from_hex(&colour.to_hex().to_uppercase()), Some(colour));
        }

        #[test]
        fn cielab_and_back_keeps_the_colour(r: u8, g: u8, b: u8) {
            let colour = Srgb { r, g, b };
            prop_assert!(is_showable(to_lab(colour)));
            prop_assert_eq!(from_lab(to_lab(colour)), colour);
        }

        #[test]
        fn a_colour_no_screen_shows_keeps_its_lightness_and_hue(l in 20.0..90.0, chroma in 60.0..130.0, hue in 0.0..360.0) {
            let wanted = oklab::from_lab(Lab::from_lch(l, chroma, hue));
            prop_assume!((0.1..0.95).contains(&wanted.l));
            let shown = oklab::from_lab(to_lab(from_lab(Lab::from_lch(l, chroma, hue))));
            prop_assert!((shown.l - wanted.l).abs() < 0.006, "lightness {} became {}", wanted.l, shown.l);
            prop_assert!(shown.chroma() < wanted.chroma() + 0.006);
            prop_assume!(shown.chroma() > 0.04);
            prop_assert!(hue_apart(shown.hue(), wanted.hue()) < 4.0, "hue {} became {}", wanted.hue(), shown.hue());
        }
    }

    #[test]
    fn text_that_is_no_colour_is_refused() {
        for text in ["", "#", "#12345", "#1234567", "#12345g", "#+12345", "123456", "#ééé"] {
            assert_eq!(Srgb::from_hex(text), None, "{text}");
        }
    }

    #[test]
    fn beyond_black_and_white_lie_black_and_white() {
        assert_eq!(from_lab(Lab::new(120.0, 5.0, 5.0)).to_hex(), "#ffffff");
        assert_eq!(from_lab(Lab::new(-5.0, 3.0, 0.0)).to_hex(), "#000000");
    }
}
