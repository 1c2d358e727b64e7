//! Colorimetry against the standards.

use afterhue::science::colour::cielab::{self, Lab};
use afterhue::science::colour::illuminant::D65;
use afterhue::science::colour::observer::CIE_1931_2_DEGREE;
use afterhue::science::colour::spectrum::Spectrum;
use afterhue::science::colour::srgb::{self, Srgb};
use afterhue::science::colour::tristimulus::{self, Xyz};
use afterhue::science::colour::{delta_e, grey_scale};

use super::{close, number, rows};

fn lab(cells: &[&str]) -> Lab {
    Lab::new(number(cells[0]), number(cells[1]), number(cells[2]))
}

/// Sharma, Wu & Dalal 2005, table I: all 34 pairs, to the last printed digit, both ways round.
#[test]
fn all_34_pairs_of_the_ciede2000_paper_are_met_in_both_orders() {
    let pairs = rows(include_str!("ciede2000_sharma_2005.csv"));
    assert_eq!(pairs.len(), 34);
    for row in pairs {
        let (one, other, printed) = (lab(&row[1..4]), lab(&row[4..7]), number(row[7]));
        close(delta_e::ciede2000(one, other), printed, 5e-5, row[0]);
        close(delta_e::ciede2000(other, one), printed, 5e-5, row[0]);
    }
}

/// Sums of the CIE tables at 5 nm, taken outside this program; a slip in one digit of a table shows here.
#[test]
fn the_tables_of_observer_and_illuminant_have_their_sums() {
    let sum = |spectrum: &Spectrum| spectrum.0.iter().sum::<f64>();
    close(sum(&CIE_1931_2_DEGREE.x_bar), 21.371525, 1e-5, "x");
    close(sum(&CIE_1931_2_DEGREE.y_bar), 21.371328, 1e-5, "y");
    close(sum(&CIE_1931_2_DEGREE.z_bar), 21.371540, 1e-5, "z");
    close(sum(&D65), 7092.7234, 1e-3, "D65");
    close(D65.0[16], 117.812, 1e-9, "D65 at 460 nm");
}

/// CIE 015:2018 gives D65 as x = 0.3127, y = 0.3290 for the 2° observer.
#[test]
fn the_white_point_is_that_of_d65() {
    let white = tristimulus::white();
    close(white.x, 95.0430, 1e-3, "X");
    close(white.y, 100.0, 1e-9, "Y");
    close(white.z, 108.8801, 1e-3, "Z");
    let (x, y) = white.chromaticity();
    close(x, 0.3127, 5e-5, "x");
    close(y, 0.3290, 5e-5, "y");
}

/// The definition of CIELAB (CIE 015:2018): 116 · 0.5^⅓ − 16, and L* = 50 at Y = 18.418652.
#[test]
fn a_flat_reflectance_is_a_grey_of_the_defined_lightness() {
    let grey = cielab::of_reflectance(&Spectrum::from_law(|_| 0.5));
    close(grey.l, 76.0693, 1e-3, "L*");
    close(grey.a, 0.0, 1e-9, "a*");
    close(grey.b, 0.0, 1e-9, "b*");
    let white = tristimulus::white();
    let share = 0.184_186_52;
    let middle = cielab::from_xyz(Xyz { x: white.x * share, y: 100.0 * share, z: white.z * share });
    close(middle.l, 50.0, 1e-4, "L* of the middle grey");
    // The straight part: κ = 24389/27 below Y/Yn = 216/24389.
    let dark = cielab::from_xyz(Xyz { x: white.x * 0.001, y: 0.1, z: white.z * 0.001 });
    close(dark.l, 0.903_296_3, 1e-6, "L* on the straight part");
}

/// IEC 61966-2-1: fourteen colours to CIELAB and back to the same hex.
#[test]
fn fourteen_screen_colours_have_their_cielab_values() {
    let table = rows(include_str!("srgb_cielab.csv"));
    assert_eq!(table.len(), 14);
    for row in table {
        let colour = Srgb::from_hex(row[1]).expect("a table's hex is a colour");
        let got = srgb::to_lab(colour);
        let published = lab(&row[5..8]);
        close(got.l, published.l, 1e-3, row[0]);
        close(got.a, published.a, 1e-3, row[0]);
        close(got.b, published.b, 1e-3, row[0]);
        // Luminance of WCAG 2.2 uses the four-digit weights of the same primaries.
        close(colour.relative_luminance(), number(row[3]), 1e-4, row[0]);
        assert_eq!(srgb::from_lab(published), colour, "{}", row[0]);
    }
}

/// WCAG 2.2: black on white is 21 to 1; #767676 is the lightest grey that keeps 4.5 to 1 on white (from memory).
#[test]
fn contrast_has_its_known_values() {
    let colour = |hex| Srgb::from_hex(hex).expect("a hex colour");
    let white = colour("#ffffff");
    close(srgb::contrast(white, colour("#000000")), 21.0, 1e-12, "black on white");
    assert!(srgb::contrast(white, colour("#767676")) >= 4.5);
    assert!(srgb::contrast(white, colour("#777777")) < 4.5);
}

/// Measured reflectances of the 24-patch chart.
#[test]
fn the_24_chart_spectra_have_their_cielab_values() {
    let table = rows(include_str!("chart_spectra.csv"));
    assert_eq!(table.len(), 24);
    for row in table {
        let measured: Vec<f64> = row[4..].iter().map(|cell| number(cell)).collect();
        assert_eq!(measured.len(), 36, "{}", row[0]);
        let got = cielab::of_reflectance(&Spectrum::interpolated(380.0, 10.0, &measured));
        let published = lab(&row[1..4]);
        close(got.l, published.l, 0.01, row[0]);
        close(got.a, published.a, 0.01, row[0]);
        close(got.b, published.b, 0.01, row[0]);
    }
}

/// ISO 105-A02: a neutral pair that differs in lightness by the scale's own step gets the scale's own grade, also at
/// either end of the tolerance within a half step.
#[test]
fn each_pair_of_the_grey_scale_gets_its_grade() {
    let table = rows(include_str!("grey_scale_iso_105_a02.csv"));
    assert_eq!(table.len(), 9);
    let before = Lab::new(50.0, 0.0, 0.0);
    let rated = |step: f64| grey_scale::rating(before, Lab::new(50.0 + step, 0.0, 0.0));
    for row in table {
        let (step, tolerance) = (number(row[1]), number(row[2]));
        assert_eq!(grey_scale::grade(rated(step)), row[0]);
        let grade = match row[0].split_once('-') {
            Some((low, high)) => f64::midpoint(number(low), number(high)),
            None => number(row[0]),
        };
        for edge in [(step - tolerance).max(0.0), step + tolerance] {
            close(rated(edge), grade, 0.25, row[0]);
        }
    }
}

/// ISO 105-A05: worked rows. The coloured ones rest on damping terms from memory, as the table says.
#[test]
fn the_rating_formula_gives_the_worked_rows() {
    for row in rows(include_str!("grey_scale_iso_105_a05.csv")) {
        let (before, now) = (lab(&row[1..4]), lab(&row[4..7]));
        close(delta_e::cie76(before, now), number(row[7]), 1e-6, row[0]);
        close(grey_scale::rating(before, now), number(row[9]), 1e-6, row[0]);
    }
}

/// ISO 105-A05, clause 8: steps between the grades.
#[test]
fn the_rating_runs_smoothly_between_the_grades() {
    let before = Lab::new(50.0, 0.0, 0.0);
    for (step, rating) in [(0.8, 4.5294), (2.5, 3.5294), (4.8, 2.5025), (9.6, 1.5025)] {
        close(grey_scale::rating(before, Lab::new(50.0 + step, 0.0, 0.0)), rating, 1e-4, "GSc");
    }
}
