//! Colour differences: ΔE*ab (1976) and CIEDE2000.
//!
//! | law | source |
//! |-----|--------|
//! | [`cie76`] | CIE 015:2018, 8.2.1 |
//! | [`ciede2000`] | Sharma, Wu & Dalal 2005; ISO/CIE 11664-6 |
//!
//! In: two colours. Out: how far apart they look. Knows nothing of: what changed or why.

use super::cielab::Lab;

/// Returns ΔE*ab, the Euclidean difference in CIELAB.
///
/// ```text
/// ΔE*ab = √(ΔL*² + Δa*² + Δb*²)
/// ```
///
/// | symbol | meaning | unit | range |
/// |--------|---------|------|-------|
/// | `ΔL* Δa* Δb*` | differences of the coordinates | – | any |
/// | `ΔE*ab` | colour difference | – | ≥ 0 |
///
/// # Validity
/// Only for comparing with sources that give it; it overstates differences between strong colours.
///
/// # Uncertainty
/// None of its own; a tress measured again differs from itself by about 1.3.
///
/// # Source
/// [`CIE_015_2018`](crate::science::bibliography::CIE_015_2018), 8.2.1.
///
/// # Example
/// ```
/// use afterhue::science::colour::{cielab::Lab, delta_e};
/// assert_eq!(delta_e::cie76(Lab::new(50.0, 3.0, 0.0), Lab::new(50.0, 0.0, 4.0)), 5.0);
/// ```
#[must_use]
pub fn cie76(one: Lab, other: Lab) -> f64 {
    (one.l - other.l).hypot(one.a - other.a).hypot(one.b - other.b)
}

/// Returns the CIEDE2000 difference with kL = kC = kH = 1.
///
/// ```text
/// ΔE00 = √( (ΔL′/SL)² + (ΔC′/SC)² + (ΔH′/SH)² + RT (ΔC′/SC)(ΔH′/SH) )
/// ```
///
/// | symbol | meaning | unit | range |
/// |--------|---------|------|-------|
/// | `ΔL′ ΔC′ ΔH′` | differences in lightness, chroma and hue | – | any |
/// | `SL SC SH` | weights that make a step look the same everywhere | – | ≥ 1 (SH > 0) |
/// | `RT` | turn of the ellipses in the blue | – | −2 to 0 |
/// | `ΔE00` | colour difference | – | ≥ 0 |
///
/// # Validity
/// Fitted to differences below about 5; used beyond only to order them.
///
/// # Uncertainty
/// Observers disagree among themselves by about a third of a small difference; no interval is carried.
///
/// # Source
/// [`SHARMA_2005`](crate::science::bibliography::SHARMA_2005), eq. 2 to 22; the numbers stand at the steps below.
///
/// # Example
/// ```
/// use afterhue::science::colour::{cielab::Lab, delta_e};
/// // Pair 1 of the paper's table I.
/// let (one, other) = (Lab::new(50.0, 2.6772, -79.7751), Lab::new(50.0, 0.0, -82.7485));
/// assert!((delta_e::ciede2000(one, other) - 2.0425).abs() < 5e-5);
/// ```
#[must_use]
pub fn ciede2000(one: Lab, other: Lab) -> f64 {
    // Eq. 2 to 6: chroma, and the stretch G of the red–green axis near grey.
    let c_bar_7 = ((one.chroma() + other.chroma()) / 2.0).powi(7);
    let g = 0.5 * (1.0 - (c_bar_7 / (c_bar_7 + TWENTY_FIVE_7)).sqrt());
    let [one, other] = [one, other].map(|lab| Lab { a: (1.0 + g) * lab.a, ..lab });
    let (c1, c2) = (one.chroma(), other.chroma());

    // Eq. 8 to 14: the differences, and the means.
    let d_l = other.l - one.l;
    let d_c = c2 - c1;
    let l_bar = (one.l + other.l) / 2.0;
    let c_bar = (c1 + c2) / 2.0;
    let Hues { difference: d_h_big, mean: h_bar, mean_turn: once } =
        Hues::from_lines(one, other).unwrap_or_else(|| Hues::from_angles(one, other));

    // Eq. 15: T, how the weight of hue turns with hue; the angles' multiples from the angle, by the addition theorem.
    let twice = once.and(once);
    let t = 1.0 - 0.17 * once.and(BACK_30).cosine + 0.24 * twice.cosine + 0.32 * twice.and(once).and(ON_6).cosine
        - 0.20 * twice.and(twice).and(BACK_63).cosine;

    // Eq. 16, 17 and 21: the turn of the ellipses in the blue.
    let d_theta = 30.0 * (-((h_bar - 275.0) / 25.0).powi(2)).exp();
    let c_bar_7 = c_bar.powi(7);
    let r_c = 2.0 * (c_bar_7 / (c_bar_7 + TWENTY_FIVE_7)).sqrt();
    let r_t = -(2.0 * d_theta).to_radians().sin() * r_c;

    // Eq. 18 to 20: the weights.
    let off_middle = (l_bar - 50.0).powi(2);
    let s_l = 1.0 + 0.015 * off_middle / (20.0 + off_middle).sqrt();
    let s_c = 1.0 + 0.045 * c_bar;
    let s_h = 1.0 + 0.015 * c_bar * t;

    // Eq. 22.
    let (lightness, chroma, hue) = (d_l / s_l, d_c / s_c, d_h_big / s_h);
    (lightness * lightness + chroma * chroma + hue * hue + r_t * chroma * hue).max(0.0).sqrt()
}

/// 25⁷ of eq. 4 and 17.
const TWENTY_FIVE_7: f64 = 6_103_515_625.0;

/// A turn by an angle.
#[derive(Clone, Copy)]
struct Turn {
    cosine: f64,
    sine: f64,
}

/// Back by 30°.
const BACK_30: Turn = Turn { cosine: 0.866_025_403_784_438_6, sine: -0.5 };
/// On by 6°.
const ON_6: Turn = Turn { cosine: 0.994_521_895_368_273_3, sine: 0.104_528_463_267_653_47 };
/// Back by 63°.
const BACK_63: Turn = Turn { cosine: 0.453_990_499_739_546_8, sine: -0.891_006_524_188_367_9 };

impl Turn {
    fn by(degrees: f64) -> Self {
        let (sine, cosine) = degrees.to_radians().sin_cos();
        Self { cosine, sine }
    }

    /// One turn after another.
    fn and(self, next: Self) -> Self {
        Self {
            cosine: self.cosine * next.cosine - self.sine * next.sine,
            sine: self.sine * next.cosine + self.cosine * next.sine,
        }
    }
}

/// What two stretched colours' hues are to each other.
struct Hues {
    /// ΔH′.
    difference: f64,
    /// The mean hue over the shorter arc, degrees, 0 to 360.
    mean: f64,
    mean_turn: Turn,
}

impl Hues {
    /// By eq. 7, 10, 11 and 14 as they stand.
    fn from_angles(one: Lab, other: Lab) -> Self {
        let (chroma, h1, h2) = (one.chroma() * other.chroma(), one.hue(), other.hue());
        // A grey has no hue, so it has no hue difference either.
        let both_coloured = chroma > 0.0;
        let d_h = match h2 - h1 {
            _ if !both_coloured => 0.0,
            turn if turn > 180.0 => turn - 360.0,
            turn if turn < -180.0 => turn + 360.0,
            turn => turn,
        };
        let mean = match h1 + h2 {
            sum if !both_coloured => sum,
            sum if (h1 - h2).abs() <= 180.0 => sum / 2.0,
            sum if sum < 360.0 => (sum + 360.0) / 2.0,
            sum => (sum - 360.0) / 2.0,
        };
        let difference = 2.0 * chroma.sqrt() * (d_h / 2.0).to_radians().sin();
        Self { difference, mean, mean_turn: Turn::by(mean) }
    }

    /// The same without taking angles apart and putting them together again: the mean hue lies along the sum of both directions,
    /// and the sine of half a difference follows from products of the coordinates. Nothing for a grey and for nearly opposite
    /// hues, where that sum has no direction.
    fn from_lines(one: Lab, other: Lab) -> Option<Self> {
        let (c1, c2) = (one.chroma(), other.chroma());
        let chroma = c1 * c2;
        let along = one.a * other.a + one.b * other.b;
        let across = one.a * other.b - one.b * other.a;
        (chroma + along > 1e-3 * chroma).then_some(())?;
        let length = (2.0 * chroma * (chroma + along)).sqrt();
        let mean = Lab { l: 0.0, a: one.a * c2 + other.a * c1, b: one.b * c2 + other.b * c1 };
        let mean_turn = Turn { cosine: mean.a / length, sine: mean.b / length };
        Some(Self { difference: 2.0 * across * chroma.sqrt() / length, mean: mean.hue(), mean_turn })
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    fn colours() -> impl Strategy<Value = Lab> {
        (0.0..100.0, -90.0..90.0, -90.0..90.0).prop_map(|(l, a, b)| Lab::new(l, a, b))
    }

    #[test]
    fn the_fixed_turns_are_their_angles() {
        for (turn, degrees) in [(BACK_30, -30.0), (ON_6, 6.0), (BACK_63, -63.0)] {
            let by = Turn::by(degrees);
            assert!((turn.cosine - by.cosine).abs() < 1e-15 && (turn.sine - by.sine).abs() < 1e-15, "{degrees}");
        }
    }

    proptest! {
        #[test]
        fn hues_from_lines_are_hues_from_angles(x in colours(), y in colours()) {
            if let Some(lines) = Hues::from_lines(x, y) {
                let angles = Hues::from_angles(x, y);
                prop_assert!((lines.difference - angles.difference).abs() < 1e-10);
                prop_assert!((lines.mean - angles.mean).abs() % 360.0 < 1e-10);
                prop_assert!((lines.mean_turn.cosine - angles.mean_turn.cosine).abs() < 1e-12);
                prop_assert!((lines.mean_turn.sine - angles.mean_turn.sine).abs() < 1e-12);
            }
        }

        #[test]
        fn a_colour_does_not_differ_from_itself(x in colours()) {
            prop_assert_eq!(cie76(x, x), 0.0);
            prop_assert_eq!(ciede2000(x, x), 0.0);
        }

        #[test]
        fn a_difference_is_the_same_both_ways_and_never_negative(x in colours(), y in colours()) {
            let there = ciede2000(x, y);
            prop_assert!(there >= 0.0);
            prop_assert!((there - ciede2000(y, x)).abs() < 1e-9);
            prop_assert!((cie76(x, y) - cie76(y, x)).abs() < 1e-12);
        }
    }
}
