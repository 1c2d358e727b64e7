//! The model against measurement: the ranges a reader may ask of it, and the fit done again.
//!
//! The published numbers stand in `src/science/fade/data/`, with their sources; the ranges accepted here are this project's own.

use afterhue::science::fade::measured::case::Standing;
use afterhue::science::fade::measured::constants::{Constants, PARAMETERS, ROUNDED_TO};
use afterhue::science::fade::measured::factors::light_over_washing;
use afterhue::science::fade::measured::fit::{badness, fit};
use afterhue::science::fade::measured::lives::{WITH_A_LIFE, life, mean_life};
use afterhue::science::fade::measured::report::cases;
use afterhue::science::fade::measured::transport::concave;
use afterhue::science::fade::measured::washed::{
    Part, kept_after_thirty, kept_after_thirty_at_the_other_bound, reason, rows,
};

fn shipped() -> Constants {
    Constants::shipped()
}

fn modelled(id: &str) -> f64 {
    rows().iter().find(|row| row.id == id).unwrap_or_else(|| panic!("row {id}")).modelled(&shipped())
}

#[test]
fn the_shipped_constants_are_the_fitted_ones_rounded() {
    let found = fit();
    for (index, parameter) in PARAMETERS.iter().enumerate() {
        let (fitted, ships) = (found.0[index], shipped().0[index]);
        assert!(
            (fitted - ships).abs() <= ROUNDED_TO[index] * 0.5 + 1e-9,
            "{}: the fit says {fitted:.5}, {ships} is shipped",
            parameter.name
        );
    }
    assert!(badness(&shipped()) < 1.05 * badness(&found), "rounding costs little");
}

#[test]
fn the_fit_is_a_valley_and_not_a_slope() {
    let (found, least) = (fit(), badness(&fit()));
    for (index, parameter) in PARAMETERS.iter().enumerate() {
        for factor in [0.9, 1.1] {
            let mut beside = found;
            beside.0[index] *= factor;
            let within = (parameter.low..=parameter.high).contains(&beside.0[index]);
            assert!(!within || badness(&beside) > least, "{} times {factor}", parameter.name);
        }
    }
}

#[test]
fn the_shipped_lives_are_the_means_of_what_was_published() {
    for class in WITH_A_LIFE {
        let mean = mean_life(class).expect("rows of this class");
        let shipped = class.washes().expect("a life").value;
        assert!((mean - shipped).abs() < 0.01, "{class:?}: {mean} published, {shipped} shipped");
        assert!((life(class) / shipped - 1.0).abs() < 0.06, "{class:?}: a tenth is left after {}", life(class));
    }
}

#[test]
fn every_row_of_every_table_is_a_case() {
    let all = cases();
    for (letter, rows) in [("A", 16), ("B", 6), ("C", 1), ("E", 1), ("F", 18), ("L", 10), ("K", 22), ("H", 7)] {
        assert_eq!(all.iter().filter(|case| case.row.starts_with(letter)).count(), rows, "{letter}");
    }
    for case in &all {
        let outside = matches!(case.standing, Standing::Outside(why) if why.len() > 20);
        let held = case.modelled.is_some() && (case.residual.is_some() || case.met.is_some());
        assert!(outside != held, "{case:?}");
        assert_ne!(case.met, Some(false), "{case:?}");
        assert!(!case.source.is_empty() && !case.measured.is_empty(), "{case:?}");
    }
}

#[test]
fn exactly_the_rows_set_aside_are_held_out_and_their_residuals_shown() {
    let held: Vec<&str> = rows().iter().filter(|row| row.part == Part::HeldOut).map(|row| row.id).collect();
    assert_eq!(held, ["A13", "A14", "A15", "A16", "B3", "B4"]);
    for row in ["A13", "A14", "A15", "A16", "B3", "B4", "C1"] {
        let case = cases().into_iter().find(|case| case.row == row).expect("a case");
        assert!(case.standing == Standing::HeldOut && case.residual.is_some(), "{case:?}");
    }
}

#[test]
fn a_row_that_is_missed_says_why() {
    for row in rows().iter().filter(|row| row.part == Part::Fitted) {
        let missed = row.misfit(&shipped()).abs();
        assert!(missed <= 2.0 || reason(row.id).is_some(), "{} is {missed:.1} errors off and gives no reason", row.id);
        assert!(missed > 1.5 || reason(row.id).is_none(), "{} is met and excuses itself", row.id);
    }
}

#[test]
fn held_out_rows_are_met_as_well_as_fitted_ones() {
    // Re-placing one tress measures 1.3 apart (J. Cosmet. Sci. 51, 2000), so no row is asked for more.
    for row in rows().iter().filter(|row| row.part == Part::HeldOut) {
        let off = (row.modelled(&shipped()) - row.measured).abs();
        assert!(off < 1.4, "{}: {off:.2}", row.id);
    }
    for id in ["A13", "A14", "A15", "A16"] {
        let row = rows().iter().find(|row| row.id == id).expect("a row");
        assert!((row.modelled(&shipped()) - row.measured).abs() < 0.5, "{id}");
    }
}

#[test]
fn an_oxidative_brown_changes_most_at_first() {
    // J. Cosmet. Sci. 72(3) p. 278, Table III (2021): ΔE(12)/ΔE(2) 1.8 to 2.2, ΔE(12) 6.12 and 5.68.
    for (first, last) in [("A9", "A12"), ("A13", "A16")] {
        assert!((1.5..=2.5).contains(&concave(&shipped(), first, last)), "{first}");
        assert!((4.0..=8.0).contains(&modelled(last)), "{last}");
    }
}

#[test]
fn an_intense_red_has_done_its_change_by_the_second_wash() {
    // The same table: 0.88 and 1.14.
    for (first, last) in [("A1", "A4"), ("A5", "A8")] {
        assert!((0.8..=1.5).contains(&concave(&shipped(), first, last)), "{first}");
    }
}

#[test]
fn a_pyrazole_red_changes_as_much_in_ten_washes_as_was_measured() {
    // Locke & Jachowicz 2005, abstract: 4 to 6 on the Hunter scale.
    assert!((3.0..=8.0).contains(&modelled("B1")), "{}", modelled("B1"));
}

#[test]
fn light_with_washing_does_more_than_twice_what_washing_does() {
    // Locke & Jachowicz 2005, p. 416: about 10 against 3.6.
    assert!(light_over_washing(&shipped()) > 2.0);
}

#[test]
fn permanent_colour_on_undamaged_brown_keeps_its_share() {
    // IFSCC Magazine 11(2), 2008: more than 0.90 after 30 washes. Held out of the fit.
    assert!(kept_after_thirty() >= 0.85, "{}", kept_after_thirty());
    // The other published bound of the undamaged rate does not reach it; the table says so.
    let other = kept_after_thirty_at_the_other_bound();
    assert!((0.78..0.86).contains(&other), "{other}");
}

#[test]
fn copper_does_most_at_two_washes_and_little_at_twelve() {
    // J. Cosmet. Sci. 72(3) p. 278: red 7.59 for 4.93, brown 3.42 for 2.58 after two; 6.70 for 5.60 and 6.12 for 5.68 after twelve.
    let ratio = |with: &str, without: &str| modelled(with) / modelled(without);
    for (red_or_brown, later) in [(ratio("A1", "A5"), ratio("A4", "A8")), (ratio("A9", "A13"), ratio("A12", "A16"))] {
        assert!((1.15..=1.6).contains(&red_or_brown), "{red_or_brown:.2}");
        assert!(later <= red_or_brown + 1e-9 && later >= 1.0, "{later:.2}");
    }
}
