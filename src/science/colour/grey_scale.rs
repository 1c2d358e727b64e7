//! Grey-scale rating for change in colour (ISO 105-A05), 5 no change to 1.
//!
//! | law | source |
//! |-----|--------|
//! | [`rating`] | ISO 105-A05:1996, clauses 7.2 and 8 |
//! | [`grade`] | the half steps of ISO 105-A02 |
//!
//! In: a colour before and now. Out: how a trained eye would grade the change. Knows nothing of: washes and time.

use super::cielab::Lab;
use super::delta_e;
use crate::science::bibliography::ISO_105_A05;
use crate::science::parameter::Parameter;

/// Chroma damping: a step in chroma counts less on a strong colour.
pub const CHROMA_DAMPING: Parameter =
    Parameter::published("damping of chroma steps by mean chroma, ISO 105-A05", 0.020, 0.015, 0.025, "1", &ISO_105_A05);
/// Hue damping: a step in hue counts less on a strong colour.
pub const HUE_DAMPING: Parameter =
    Parameter::published("damping of hue steps by mean chroma, ISO 105-A05", 0.010, 0.005, 0.015, "1", &ISO_105_A05);
/// Hue angle about which chroma and hue steps are corrected together.
pub const CORRECTED_HUE: Parameter =
    Parameter::published("hue angle of the blue correction, ISO 105-A05", 280.0, 270.0, 290.0, "degree", &ISO_105_A05);
/// Width of that correction.
pub const CORRECTED_WIDTH: Parameter =
    Parameter::published("width of the blue correction, ISO 105-A05", 30.0, 20.0, 40.0, "degree", &ISO_105_A05);

/// The parameters of this module.
pub const PARAMETERS: &[&Parameter] = &[&CHROMA_DAMPING, &HUE_DAMPING, &CORRECTED_HUE, &CORRECTED_WIDTH];

/// Returns the continuous rating `GSc` of `now` against `before`, 1 to 5.
///
/// ```text
/// GSc = 5 − ΔEF / 1.7              ΔEF ≤ 3.4
/// GSc = 5 − log₂(ΔEF / 0.85)       ΔEF > 3.4, never below 1
///
/// ΔEF = √(ΔL*² + ΔCF² + ΔHF²)
/// ΔCF = (ΔC* − D) / (1 + (0.020 Cm)²)      ΔHF = (ΔH* − D) / (1 + (0.010 Cm)²)
/// D   = ΔC* Cm e⁻ˣ / 100                   x   = ((hm − 280°) / 30°)², over the shorter arc
/// ```
///
/// | symbol | meaning | unit | range |
/// |--------|---------|------|-------|
/// | `ΔL* ΔC* ΔH*` | CIELAB steps in lightness, chroma, hue | – | any |
/// | `Cm hm` | mean chroma, mean hue over the shorter arc | –, degree | ≥ 0, 0 to 360 |
/// | `D` | correction of the blues | – | any |
/// | `ΔEF` | change as the eye weighs it | – | ≥ 0 |
/// | `GSc` | rating | – | 1 to 5 |
///
/// # Validity
/// Textiles under D65; hair is graded here as if it were one, which the trade does by eye.
///
/// # Uncertainty
/// The two branches of `GSc`, mean hue and x were seen in an open implementation that cites clauses 7.2 and 8.
/// **The damping terms D, ΔCF and ΔHF are from memory** and carry wide ranges; a change in lightness alone does
/// not depend on them. No conformity with the standard is claimed.
///
/// # Source
/// [`ISO_105_A05`], clauses 7.2 and 8.
///
/// # Example
/// ```
/// use afterhue::science::colour::{cielab::Lab, grey_scale};
/// // Steps of the grey scale itself: ISO 105-A02 gives 1.7 for grade 4 and 6.8 for grade 2.
/// let before = Lab::new(50.0, 0.0, 0.0);
/// assert!((grey_scale::rating(before, Lab::new(51.7, 0.0, 0.0)) - 4.0).abs() < 1e-9);
/// assert!((grey_scale::rating(before, Lab::new(56.8, 0.0, 0.0)) - 2.0).abs() < 1e-9);
/// ```
#[must_use]
pub fn rating(before: Lab, now: Lab) -> f64 {
    let d_e_f = weighed_change(before, now);
    // Clause 8: both branches give 3 at 3.4.
    if d_e_f <= 3.4 { 5.0 - d_e_f / 1.7 } else { (5.0 - (d_e_f / 0.85).log2()).max(1.0) }
}

/// ΔEF of clause 7.2.
fn weighed_change(before: Lab, now: Lab) -> f64 {
    let d_l = now.l - before.l;
    let d_c = now.chroma() - before.chroma();
    let turn = now.hue() - before.hue();
    let shortest = if turn > 180.0 {
        turn - 360.0
    } else if turn < -180.0 {
        turn + 360.0
    } else {
        turn
    };
    let d_e = delta_e::cie76(before, now);
    let d_h = (d_e * d_e - d_l * d_l - d_c * d_c).max(0.0).sqrt().copysign(shortest);

    let c_m = f64::midpoint(before.chroma(), now.chroma());
    let h_m = (before.hue() + shortest / 2.0).rem_euclid(360.0);
    let off = (h_m - CORRECTED_HUE.value).abs();
    let x = (off.min(360.0 - off) / CORRECTED_WIDTH.value).powi(2);

    let d = d_c * c_m * (-x).exp() / 100.0;
    let damped = |step: f64, damping: f64| (step - d) / (1.0 + (damping * c_m).powi(2));
    d_l.hypot(damped(d_c, CHROMA_DAMPING.value)).hypot(damped(d_h, HUE_DAMPING.value))
}

/// The rating rounded to the half steps of the scale, as written: "4-5".
///
/// Each half step reaches a quarter to either side; a rating on the line takes the better grade.
///
/// # Source
/// The steps: [`ISO_105_A02`](crate::science::bibliography::ISO_105_A02). The quarter on either side: from memory.
///
/// ```
/// use afterhue::science::colour::grey_scale;
/// assert_eq!(grey_scale::grade(4.6), "4-5");
/// ```
#[must_use]
pub fn grade(rating: f64) -> &'static str {
    match rating {
        r if r >= 4.75 => "5",
        r if r >= 4.25 => "4-5",
        r if r >= 3.75 => "4",
        r if r >= 3.25 => "3-4",
        r if r >= 2.75 => "3",
        r if r >= 2.25 => "2-3",
        r if r >= 1.75 => "2",
        r if r >= 1.25 => "1-2",
        _ => "1",
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    fn colours() -> impl Strategy<Value = Lab> {
        (0.0..100.0, -80.0..80.0, -80.0..80.0).prop_map(|(l, a, b)| Lab::new(l, a, b))
    }

    proptest! {
        #[test]
        fn no_change_rates_five(x in colours()) {
            prop_assert_eq!(rating(x, x), 5.0);
            prop_assert_eq!(grade(rating(x, x)), "5");
        }

        #[test]
        fn a_rating_lies_between_one_and_five(x in colours(), y in colours()) {
            prop_assert!((1.0..=5.0).contains(&rating(x, y)));
        }

        #[test]
        fn a_larger_step_in_lightness_never_rates_better(x in colours(), step in 0.0..20.0, more in 0.0..5.0) {
            let lifted = |by: f64| Lab { l: x.l + by, ..x };
            prop_assert!(rating(x, lifted(step + more)) <= rating(x, lifted(step)) + 1e-12);
        }
    }

    #[test]
    fn both_branches_meet_at_grade_three() {
        let from = Lab::new(50.0, 0.0, 0.0);
        let at = |step: f64| rating(from, Lab::new(50.0 + step, 0.0, 0.0));
        assert!((at(3.4 - 1e-9) - at(3.4 + 1e-9)).abs() < 1e-8);
    }
}
