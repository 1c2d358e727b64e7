//! Topping up simulated faded hair: rates that differ by client and by hue family, shares tapped by an eye that errs.

use afterhue::science::colour::delta_e::ciede2000;
use afterhue::science::dye::band::{BANDS, Loads, absorption};
use afterhue::science::dye::class::DyeClass;
use afterhue::science::dye::top_up::top_up;
use afterhue::science::dye::{deposit, shade};
use afterhue::science::fade::kinetics::leaving;
use afterhue::science::fade::learning::{Belief, Evidence, Observation, SHARE_NOISE};
use afterhue::science::fade::uncertainty::{StartFoundBy, rate_spread};
use afterhue::science::hair::porosity::Porosity;
use afterhue::units::{Fraction, Interval, Washes};

use super::lightened;
use crate::dice::Dice;

/// How far the hue families of one mix differ in rate from what the model takes, σ of ln rate.
const HUE_SCATTER: f64 = 0.15;

#[test]
fn a_top_up_from_what_was_seen_restores_the_colour_within_two_at_the_median() {
    let mut dice = Dice(20_261_104);
    let mut misses: Vec<f64> = Vec::new();
    let mut untouched: Vec<f64> = Vec::new();
    for (name, stage, class) in [
        ("rose pastel", 9.5, DyeClass::Direct),
        ("violet pastel", 9.5, DyeClass::Direct),
        ("powder blue", 10.0, DyeClass::Direct),
        ("silver", 10.0, DyeClass::Demi),
    ] {
        let base = lightened(stage);
        let fresh = deposit::fit(&base, shade::by_name(name).expect("a shade").colour);
        let law = leaving(class, true, Porosity::Porous);
        let sigma = rate_spread(class, None, StartFoundBy::Eye).sigma();
        let bare = base.bare();
        let colour = |loads: &Loads| base.colour_under(&absorption(loads));
        let share = |loads: &Loads| (ciede2000(colour(loads), bare) / ciede2000(fresh.colour, bare)).min(1.0);
        for _ in 0..120 {
            let dose = dice.between(3.0, 10.0);
            let rate = dice.normal(sigma).exp();
            let hues: [f64; BANDS] = std::array::from_fn(|_| dice.normal(HUE_SCATTER).exp());
            let truth = Loads(std::array::from_fn(|band| {
                law.loads_after(&fresh.loads, Washes::from_washes(dose * rate * hues[band])).0[band]
            }));
            let seen = dice.eye(share(&truth), SHARE_NOISE.value);
            // Told to the nearest five per cent.
            let told = Fraction::from_fraction((seen * 20.0).round() / 20.0);
            let law_share = |rate: f64| share(&law.loads_after(&fresh.loads, Washes::from_washes(dose * rate)));
            let evidence = Evidence::of_visit(&[Observation::new(law_share, Interval::exactly(told))], 0.0);
            let belief = Belief::prior(0.0, sigma).after(&evidence.expect("a zone was seen"));
            let left = law.loads_after(&fresh.loads, Washes::from_washes(dose * belief.mean().exp()));
            let added = top_up(&base, &fresh.loads, &left, 1.0).add;
            let after = Loads(std::array::from_fn(|band| truth.0[band] + added.0[band]));
            misses.push(ciede2000(colour(&after), fresh.colour));
            untouched.push(ciede2000(colour(&truth), fresh.colour));
        }
    }
    let median = |values: &mut Vec<f64>| {
        values.sort_by(f64::total_cmp);
        values[values.len() / 2]
    };
    let (after, before) = (median(&mut misses), median(&mut untouched));
    assert!(after <= 2.0, "ΔE00 {after:.2} after, {before:.2} before");
    assert!(before > 5.0, "the hair had really faded: ΔE00 {before:.2}");
}
