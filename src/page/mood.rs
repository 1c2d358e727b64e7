//! The colours of a page, computed from the client's own: hue kept, lightness and chroma set so that text always reads.
//!
//! In: the finished colour, the salon's accent. Out: [`Mood`], light and dark.
//! Knows nothing of: style sheets.
//!
//! Contrast floors: 4.5 for text, 3 for large shapes (WCAG 2.2, success criteria 1.4.3 and 1.4.11).

use serde::Serialize;

use crate::science::colour::cielab::Lab;
use crate::science::colour::oklab::{self, Oklab};
use crate::science::colour::srgb::{self, Srgb};

/// The neutral a swatch lies on, the same in both schemes so that the surround does not shift the colour.
pub const FIELD: &str = "#c9c9c7";

/// The line round a swatch: at least 3 to the field and to every paper.
pub const EDGE: &str = "#6f6f6c";

/// Text contrast aimed at: the floor of 4.5 with room for rounding.
const TEXT: f64 = 4.7;

/// Oklab chroma under which a colour is too grey to lead a page. Common practice, no source.
const TOO_GREY: f64 = 0.025;

/// Hue of a warm neutral paper, for pages that nothing leads.
const WARM: f64 = 60.0;

/// The colours of one scheme, each `#rrggbb`.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Scheme {
    /// Behind everything.
    pub paper: String,
    /// Text.
    pub ink: String,
    /// Quieter text.
    pub soft: String,
    /// The one accent: labels, links, the focus ring.
    pub accent: String,
    /// Thin rules; decoration only.
    pub rule: String,
    /// Heading of the box for emergencies.
    pub emergency: String,
    /// Heading of the box for advice the same day.
    pub urgent: String,
}

/// The colours of a page.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Mood {
    /// For a light screen and for paper.
    pub light: Scheme,
    /// For a dark screen.
    pub dark: Scheme,
    /// The neutral under swatches.
    pub field: &'static str,
    /// The line round them.
    pub edge: &'static str,
}

/// The mood of a page: led by the finished colour, or by the salon's accent when there is none or it is too grey.
#[must_use]
pub fn mood(finished: Option<Lab>, accent: Option<Srgb>) -> Mood {
    let led_by = |colour: Lab| Some(oklab::from_lab(colour)).filter(|colour| colour.chroma() >= TOO_GREY);
    let leader = finished.and_then(led_by).or_else(|| accent.and_then(|accent| led_by(srgb::to_lab(accent))));
    let hue = leader.map_or(WARM, Oklab::hue);
    // Grey stays grey: a page that nothing leads takes a third of the chroma.
    let strength = if leader.is_some() { 1.0 } else { 1.0 / 3.0 };
    let shade = |lightness, chroma: f64| Shade { lightness, chroma: chroma * strength, hue };
    Mood {
        light: scheme(
            shade(0.974, 0.0065),
            shade(0.27, 0.022),
            shade(0.50, 0.022),
            shade(0.53, 0.13),
            shade(0.90, 0.014),
        ),
        dark: scheme(shade(0.20, 0.008), shade(0.93, 0.012), shade(0.74, 0.02), shade(0.79, 0.095), shade(0.34, 0.016)),
        field: FIELD,
        edge: EDGE,
    }
}

/// A colour by Oklab lightness, chroma and hue in degrees.
#[derive(Clone, Copy)]
struct Shade {
    lightness: f64,
    chroma: f64,
    hue: f64,
}

impl Shade {
    /// The nearest colour a screen shows.
    fn on_screen(self) -> Srgb {
        let (sin, cos) = self.hue.to_radians().sin_cos();
        srgb::from_lab(oklab::to_lab(Oklab { l: self.lightness, a: self.chroma * cos, b: self.chroma * sin }))
    }

    /// The same hue, moved away from the paper until it reads as text.
    fn readable_on(self, paper: Srgb) -> Srgb {
        let away = if paper.relative_luminance() > 0.18 { -0.005 } else { 0.005 };
        let mut shade = self;
        while srgb::contrast(shade.on_screen(), paper) < TEXT && (0.0..=1.0).contains(&shade.lightness) {
            shade.lightness += away;
        }
        shade.on_screen()
    }
}

fn scheme(paper: Shade, ink: Shade, soft: Shade, accent: Shade, rule: Shade) -> Scheme {
    let ground = paper.on_screen();
    // Deeper than the accent, so that a caution is never taken for it.
    let caution = |hue| Shade { lightness: accent.lightness.min(0.8) - 0.06, chroma: 0.16, hue };
    let text = |shade: Shade| shade.readable_on(ground).to_hex();
    Scheme {
        paper: ground.to_hex(),
        ink: text(ink),
        soft: text(soft),
        accent: text(accent),
        rule: rule.on_screen().to_hex(),
        emergency: text(caution(27.0)),
        urgent: text(caution(65.0)),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn colour(hex: &str) -> Srgb {
        Srgb::from_hex(hex).expect("a colour")
    }

    fn check(mood: &Mood) {
        for scheme in [&mood.light, &mood.dark] {
            let paper = colour(&scheme.paper);
            for text in [&scheme.ink, &scheme.soft, &scheme.accent, &scheme.emergency, &scheme.urgent] {
                let contrast = srgb::contrast(colour(text), paper);
                assert!(contrast >= 4.5, "{text} on {} has {contrast}", scheme.paper);
            }
            assert!(srgb::contrast(colour(EDGE), paper) >= 3.0, "edge on {}", scheme.paper);
        }
        assert!(colour(&mood.dark.paper).relative_luminance() < 0.2);
        assert!(colour(&mood.light.paper).relative_luminance() > 0.8);
    }

    proptest! {
        #[test]
        fn text_reads_on_the_paper_of_every_colour_there_is(l in 0.0..100.0f64, a in -90.0..90.0f64, b in -90.0..90.0f64) {
            check(&mood(Some(Lab::new(l, a, b)), None));
        }
    }

    #[test]
    fn text_reads_at_every_hue_and_the_hue_is_the_clients() {
        for hue in 0..360 {
            let (sin, cos) = f64::from(hue).to_radians().sin_cos();
            let finished = Lab::new(75.0, 30.0 * cos, 30.0 * sin);
            let mood = mood(Some(finished), None);
            check(&mood);
            let accent = oklab::from_lab(srgb::to_lab(colour(&mood.light.accent))).hue();
            let turned = (accent - oklab::from_lab(finished).hue() + 540.0).rem_euclid(360.0) - 180.0;
            assert!(turned.abs() < 8.0, "hue {hue} turned by {turned}");
        }
    }

    #[test]
    fn a_grey_shade_lets_the_salon_lead_and_a_swatch_edge_stands_out_from_its_field() {
        let silver = Lab::new(75.0, 0.5, -1.0);
        let accent = colour("#2f6f5e");
        assert_eq!(mood(Some(silver), Some(accent)), mood(None, Some(accent)));
        assert_ne!(mood(Some(silver), Some(accent)), mood(Some(silver), None));
        check(&mood(Some(silver), None));
        assert!(srgb::contrast(colour(EDGE), colour(FIELD)) >= 3.0);
    }
}
