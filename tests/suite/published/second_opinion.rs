//! The `palette` crate as a second opinion on conversions and differences.

use afterhue::science::colour::cielab::Lab;
use afterhue::science::colour::srgb::{self, Srgb};
use afterhue::science::colour::{delta_e, oklab};
use palette::color_difference::{Ciede2000, EuclideanDistance};
use palette::white_point::D65;
use palette::{FromColor, IntoColor};

type TheirLab = palette::Lab<D65, f64>;

fn theirs(lab: Lab) -> TheirLab {
    TheirLab::new(lab.l, lab.a, lab.b)
}

/// A coarse grid over the screen's colours: 0, 51, … 255 in each channel.
fn screen_colours() -> impl Iterator<Item = Srgb> {
    let steps = || (0..=255_u8).step_by(51);
    steps().flat_map(move |r| steps().flat_map(move |g| steps().map(move |b| Srgb { r, g, b })))
}

fn their_srgb(colour: Srgb) -> palette::Srgb<f64> {
    palette::Srgb::new(colour.r, colour.g, colour.b).into_format()
}

/// Their white is (0.95047, 1, 1.08883), ours the screen's own (0.950456, 1, 1.089058): 0.02 units at most.
#[test]
fn cielab_of_screen_colours_agrees() {
    for colour in screen_colours() {
        let other = TheirLab::from_color(their_srgb(colour));
        let ours = srgb::to_lab(colour);
        let apart = (ours.l - other.l).abs().max((ours.a - other.a).abs()).max((ours.b - other.b).abs());
        assert!(apart < 0.03, "{}: {ours:?} against {other:?}", colour.to_hex());
    }
}

#[test]
fn oklab_of_screen_colours_agrees() {
    for colour in screen_colours() {
        let other: palette::Oklab<f64> = their_srgb(colour).into_color();
        let ours = oklab::from_lab(srgb::to_lab(colour));
        let apart = (ours.l - other.l).abs().max((ours.a - other.a).abs()).max((ours.b - other.b).abs());
        assert!(apart < 1e-3, "{}: {ours:?} against {other:?}", colour.to_hex());
    }
}

/// Differences need no white. For hues either side of 0° the library leaves the mean hue above 360° where eq. 14 of Sharma,
/// Wu & Dalal 2005 brings it back, which moves the blue term (eq. 16) by up to some 1e-4; elsewhere both agree to rounding.
#[test]
fn colour_differences_agree_over_a_grid() {
    let levels = [5.0, 35.0, 65.0, 95.0];
    let axis = [-80.0, -30.0, -4.0, 0.0, 4.0, 30.0, 80.0];
    let mut colours = Vec::new();
    for l in levels {
        for a in axis {
            colours.extend(axis.map(|b| Lab::new(l, a, b)));
        }
    }
    let mut compared = 0;
    for one in &colours {
        for other in colours.iter().step_by(3) {
            let (ours, second) = (delta_e::ciede2000(*one, *other), theirs(*one).difference(theirs(*other)));
            // Opposite hues have no shorter arc; which way the mean then falls is a matter of the last bit.
            let opposite = ((one.hue() - other.hue()).abs() - 180.0).abs() < 1e-6;
            let across = (one.hue() - other.hue()).abs() > 170.0;
            let tolerance = if across { 1e-3 } else { 1e-9 };
            if !opposite {
                assert!((ours - second).abs() < tolerance, "{one:?} {other:?}: {ours} against {second}");
                compared += 1;
            }
            let plain = theirs(*one).distance(theirs(*other));
            assert!((delta_e::cie76(*one, *other) - plain).abs() < 1e-9);
        }
    }
    assert!(compared > 10_000, "{compared}");
}
