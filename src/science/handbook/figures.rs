//! The figures of the handbook, each drawn from the laws themselves.
//!
//! In: the laws. Out: SVG text. Knows nothing of: where a figure is shown.

use super::plot::{Axis, Plot};
use crate::science::colour::cielab;
use crate::science::colour::spectrum::{Spectrum, wavelength};
use crate::science::colour::srgb;
use crate::science::dye::band::{Band, unit_bands};
use crate::science::dye::class::DyeClass;
use crate::science::fade::kinetics::leaving;
use crate::science::fade::measured::constants::Constants;
use crate::science::fade::measured::washed::{Washed, rows};
use crate::science::hair::fibre;
use crate::science::hair::porosity::Porosity;
use crate::science::hair::stage::{self, LightenedStage, UnderlyingPigment};
use crate::units::{Washes, Worded};

/// One hue for each band, and for other curves in turn.
const INKS: [&str; 5] = ["#b59a00", "#d9730d", "#d6336c", "#7048b8", "#1c6fd1"];

/// A figure: its file, and its text.
pub type Figure = (&'static str, fn() -> String);

/// Every figure by the name of the file it is kept in, beside this module.
pub const FIGURES: [Figure; 4] = [
    ("fade_curves.md", fade_curves),
    ("bands.md", bands),
    ("base_stages.md", base_stages),
    ("measured_curves.md", measured_curves),
];

const WAVELENGTH: Axis = Axis { title: "wavelength, nm", from: 380.0, to: 780.0, step: 50.0 };

/// The pattern of a broken line.
const DASHED: &str = "5 3";

/// A law from nought to an end, in a hundred steps.
fn sampled(law: impl Fn(f64) -> f64, to: f64) -> Vec<(f64, f64)> {
    (0..=100).map(|part| to * f64::from(part) / 100.0).map(|x| (x, law(x))).collect()
}

fn spectrum(of: &Spectrum) -> Vec<(f64, f64)> {
    of.0.iter().enumerate().map(|(at, value)| (wavelength(at), *value)).collect()
}

/// Share of dye left against washes, every class on lightened and on undamaged hair.
fn fade_curves() -> String {
    let x = Axis { title: "dose, washes", from: 0.0, to: 24.0, step: 4.0 };
    let y = Axis { title: "share of dye left", from: 0.0, to: 1.0, step: 0.2 };
    let mut plot = Plot::new(
        "Share of dye left against washes, by dye class: whole lines lightened porous hair, dashed undamaged hair",
        x,
        y,
    );
    for (line, ((class, word, _), ink)) in DyeClass::WORDS.iter().zip(INKS).enumerate() {
        for (lightened, porosity, dash) in [(true, Porosity::Porous, ""), (false, Porosity::Normal, DASHED)] {
            let law = leaving(*class, lightened, porosity);
            let violet = Band::Violet as usize;
            plot.curve(
                &sampled(|dose| law.remaining(violet, Washes::from_washes(dose)).to_fraction(), 24.0),
                ink,
                dash,
            );
        }
        plot.key(line, ink, "", word);
    }
    plot.key(5, "currentColor", DASHED, "undamaged hair");
    plot.finish()
}

/// The five bands.
fn bands() -> String {
    let y = Axis { title: "K/S against the peak", from: 0.0, to: 1.0, step: 0.2 };
    let mut plot = Plot::new("The five absorption bands, each by the colour its dye looks", WAVELENGTH, y);
    for (line, (((_, word, _), band), ink)) in Band::WORDS.iter().zip(unit_bands()).zip(INKS).enumerate() {
        plot.curve(&spectrum(band), ink, "");
        plot.key(line, ink, "", word);
    }
    plot.finish()
}

/// Reflectance of lightened hair by stage, with the colour it has.
fn base_stages() -> String {
    let y = Axis { title: "reflectance", from: 0.0, to: 0.8, step: 0.2 };
    let mut plot = Plot::new("Reflectance of lightened hair by stage, without tone, and its colour", WAVELENGTH, y);
    for (line, number) in [10.0, 9.0, 8.0, 7.0, 6.0, 5.0].into_iter().enumerate() {
        let stage = LightenedStage::try_new(number).expect("a stage on the scale");
        let reflected = stage::absorption(stage).map(fibre::reflectance);
        let hex = srgb::from_lab(cielab::of_reflectance(&reflected)).to_hex();
        plot.curve(&spectrum(&reflected), &hex, "");
        plot.key(line, &hex, "fill", &format!("{number:.0} {}", UnderlyingPigment::at(stage).word()));
    }
    plot.finish()
}

/// The measured ΔE of the oxidative red and brown, and the model through them.
fn measured_curves() -> String {
    let x = Axis { title: "washes", from: 0.0, to: 13.0, step: 2.0 };
    let y = Axis { title: "ΔE from fresh", from: 0.0, to: 9.0, step: 1.0 };
    let mut plot = Plot::new(
        "Measured colour change of an oxidative red and a brown, with and without copper's effect, and the model: whole lines fitted, dashed held out",
        x,
        y,
    );
    let at = Constants::shipped();
    for (line, (first, ink, dash, word)) in [
        ("A1", INKS[2], "", "red"),
        ("A5", INKS[1], "", "red, chelant"),
        ("A9", INKS[3], "", "brown"),
        ("A13", INKS[4], DASHED, "brown, chelant"),
    ]
    .into_iter()
    .enumerate()
    {
        let from = rows().iter().position(|row| row.id == first).expect("a row of measured fading");
        let series = &rows()[from..from + 4];
        let modelled = |washes: f64| if washes > 0.0 { Washed { washes, ..series[0] }.modelled(&at) } else { 0.0 };
        plot.curve(&sampled(modelled, 13.0), ink, dash);
        plot.key(line, ink, dash, word);
        for row in series {
            plot.point(row.washes, row.measured, row.error, ink);
        }
    }
    plot.finish()
}
