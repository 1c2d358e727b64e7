//! The trade's cadence: at two washes a week a pastel is nearly back in 2 to 4 weeks, a toner in 4 to 7, from the same seen share.
//!
//! Common practice, no source: pastels are refreshed after 2 to 4 weeks, toners after 4 to 7.

use afterhue::science::dye::class::DyeClass;
use afterhue::science::fade::dose::{Wear, weekly};

use super::Fading;

/// The seen share at which a colour counts as nearly back to its base, for every class alike.
const NEARLY_BACK: f64 = 0.30;

/// Weeks at the default habits, two washes, until the seen share falls to [`NEARLY_BACK`].
fn weeks(fading: &Fading) -> f64 {
    let a_day = weekly(&Wear::default()).to_washes() / 7.0;
    let days = (0..1000).find(|day| fading.seen_share(f64::from(*day) * a_day) < NEARLY_BACK);
    f64::from(days.expect("every pastel and toner leaves within three years")) / 7.0
}

#[test]
fn a_pastel_is_nearly_back_in_two_to_four_weeks() {
    for (name, stage) in [
        ("rose pastel", 10.0),
        ("rose pastel", 9.5),
        ("peach pastel", 10.0),
        ("apricot", 9.5),
        ("powder blue", 10.0),
        ("violet pastel", 10.0),
        ("mint", 10.0),
    ] {
        let weeks = weeks(&Fading::on_lightened(name, stage, DyeClass::Direct));
        assert!((2.0..=4.0).contains(&weeks), "{name} on {stage}: {weeks:.1} weeks");
    }
}

#[test]
fn a_demi_toner_is_nearly_back_in_four_to_seven_weeks() {
    for (name, stage) in [
        ("silver", 10.0),
        ("pearl", 10.0),
        ("platinum", 10.0),
        ("champagne", 9.5),
        ("beige blonde", 9.0),
        ("beige blonde", 9.5),
        ("honey blonde", 8.0),
        ("copper gloss", 8.0),
        ("caramel", 7.0),
    ] {
        let weeks = weeks(&Fading::on_lightened(name, stage, DyeClass::Demi));
        assert!((4.0..=7.0).contains(&weeks), "{name} on {stage}: {weeks:.1} weeks");
    }
}
