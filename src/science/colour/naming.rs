//! Typed colour names from lightness, chroma and hue. The words themselves are the catalogue's business.
//!
//! In: a colour. Out: hue family, depth, strength. Knows nothing of: languages, sentences, clients.
//!
//! **The rule.** The colour is taken to Oklab, whose hue angle parts blue from violet and pink from red better than
//! CIELAB's. A chart of boxes in hue angle, lightness and chroma gives the hue family: the first box that holds the
//! colour names it. Depth is the lightness and strength the chroma, each cut at fixed steps. Nothing is looked up by
//! nearness to an example, so a colour that moves a little either keeps its name or crosses one documented line.
//!
//! **Where the lines come from.** Chosen here: the hue lines by the plain hue words of a public colour-name survey
//! (Munroe 2010, all of it in view; `tests/suite/published` counts how well they agree), the lines inside the warm
//! hues (beige, gold, copper, auburn, brown) by what the trade calls such hair, which is common practice without a
//! source.

use super::cielab::Lab;
use super::delta_e::ciede2000;
use super::oklab::{self, Oklab};
use crate::science::parameter::Parameter;

/// A hue family as the trade says it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Hue {
    /// Pink to rose.
    Rose,
    /// Red.
    Red,
    /// Red-brown.
    Auburn,
    /// Peach, apricot: light and soft between rose and gold.
    Peach,
    /// Copper: peach and orange, deeper.
    Copper,
    /// Orange.
    Orange,
    /// Golden, the warm yellow of lightened hair: blonde.
    Gold,
    /// Yellow.
    Yellow,
    /// Yellow-green and olive.
    YellowGreen,
    /// Green.
    Green,
    /// Mint or, deeper, teal: blue-green.
    Teal,
    /// Blue.
    Blue,
    /// Violet, lilac.
    Violet,
    /// Magenta or, deeper, plum.
    Magenta,
    /// Brown: dark or dull orange and yellow.
    Brown,
    /// Beige: light, hardly coloured, leaning to gold.
    Beige,
    /// Rose-beige: light, hardly coloured, leaning to rose or peach.
    RoseBeige,
    /// Too little chroma for a hue: white, silver, grey, charcoal, black.
    Neutral,
}

impl Hue {
    /// Every hue family, in the order of the list above.
    pub const ALL: [Self; 18] = [
        Self::Rose,
        Self::Red,
        Self::Auburn,
        Self::Peach,
        Self::Copper,
        Self::Orange,
        Self::Gold,
        Self::Yellow,
        Self::YellowGreen,
        Self::Green,
        Self::Teal,
        Self::Blue,
        Self::Violet,
        Self::Magenta,
        Self::Brown,
        Self::Beige,
        Self::RoseBeige,
        Self::Neutral,
    ];
}

/// How deep a colour is, by lightness.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Depth {
    /// Black to very dark.
    VeryDark,
    /// Dark.
    Dark,
    /// Medium.
    Medium,
    /// Light.
    Light,
    /// Very light.
    Pale,
}

impl Depth {
    /// Every depth, darkest first.
    pub const ALL: [Self; 5] = [Self::VeryDark, Self::Dark, Self::Medium, Self::Light, Self::Pale];
}

/// How strong a colour is, by chroma.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Strength {
    /// Hardly any.
    Greyed,
    /// Soft.
    Soft,
    /// Clear.
    Clear,
    /// Vivid.
    Vivid,
}

impl Strength {
    /// Every strength, weakest first.
    pub const ALL: [Self; 4] = [Self::Greyed, Self::Soft, Self::Clear, Self::Vivid];
}

/// A colour in words, typed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct ColourName {
    /// The hue family.
    pub hue: Hue,
    /// The depth.
    pub depth: Depth,
    /// The strength.
    pub strength: Strength,
}

/// Lightness above which a colour is no longer very dark.
pub const DARK_FROM: Parameter = line("Oklab lightness from which a colour is dark, not very dark", 0.35, 0.05);
/// Lightness from which a colour is of medium depth.
pub const MEDIUM_FROM: Parameter = line("Oklab lightness from which a colour is medium", 0.50, 0.05);
/// Lightness from which a colour is light.
pub const LIGHT_FROM: Parameter = line("Oklab lightness from which a colour is light", 0.66, 0.05);
/// Lightness from which a colour is pale.
pub const PALE_FROM: Parameter = line("Oklab lightness from which a colour is pale", 0.82, 0.04);
/// Chroma from which a colour is soft rather than greyed.
pub const SOFT_FROM: Parameter = line("Oklab chroma from which a colour is soft, not greyed", 0.042, 0.01);
/// Chroma from which a colour is clear.
pub const CLEAR_FROM: Parameter = line("Oklab chroma from which a colour is clear", 0.09, 0.02);
/// Chroma from which a colour is vivid.
pub const VIVID_FROM: Parameter = line("Oklab chroma from which a colour is vivid", 0.16, 0.03);

/// Difference from which two colours of one name are told apart.
pub const TOLD_APART: Parameter = Parameter::assumed(
    "difference from which two steps of one name are told apart",
    3.0,
    2.0,
    5.0,
    "ΔE00",
    "two to three times what re-measuring one tress gives: side by side most people see it",
);

/// The parameters of this module.
pub const PARAMETERS: &[&Parameter] =
    &[&DARK_FROM, &MEDIUM_FROM, &LIGHT_FROM, &PALE_FROM, &SOFT_FROM, &CLEAR_FROM, &VIVID_FROM, &TOLD_APART];

/// How a colour differs from the one before it that has the same name.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Change {
    /// Higher lightness.
    Lighter,
    /// Lower lightness.
    Darker,
    /// Less chroma.
    Softer,
    /// More chroma.
    Stronger,
    /// Hue nearer to that of gold.
    Warmer,
    /// Hue farther from it.
    Cooler,
}

impl Change {
    /// Every change, in the order of the list above.
    pub const ALL: [Self; 6] = [Self::Lighter, Self::Darker, Self::Softer, Self::Stronger, Self::Warmer, Self::Cooler];
}

/// The CIELAB hue angle of gold, toward which a hue grows warmer, degrees.
const GOLD: f64 = 75.0;

/// What parts a colour from the one before it, when both have one name and are seen to differ.
///
/// The greatest of the differences in lightness, chroma and hue gives the word.
///
/// # Validity
/// Neighbouring steps of a fading; between far colours one word is too few.
///
/// # Source
/// Chosen here; [`TOLD_APART`].
#[must_use]
pub fn change(before: Lab, now: Lab) -> Option<Change> {
    if name(before) != name(now) || ciede2000(before, now) < TOLD_APART.value {
        return None;
    }
    let lightness = now.l - before.l;
    let chroma = now.chroma() - before.chroma();
    // ΔH² is what ΔE76² has beside ΔL² and ΔC².
    let plane = (now.a - before.a).powi(2) + (now.b - before.b).powi(2);
    let hue = (plane - chroma * chroma).max(0.0).sqrt();
    let from_gold = |lab: Lab| {
        let off = (lab.hue() - GOLD).abs();
        off.min(360.0 - off)
    };
    let either = |rises: bool, up: Change, down: Change| if rises { up } else { down };
    Some(if hue > lightness.abs() && hue > chroma.abs() {
        either(from_gold(now) < from_gold(before), Change::Warmer, Change::Cooler)
    } else if chroma.abs() > lightness.abs() {
        // A grey gains no strength: it takes on the warmth or the coolness that comes through.
        match name(now).hue {
            Hue::Neutral if chroma > 0.0 => either(from_gold(now) < 90.0, Change::Warmer, Change::Cooler),
            _ => either(chroma > 0.0, Change::Stronger, Change::Softer),
        }
    } else {
        either(lightness > 0.0, Change::Lighter, Change::Darker)
    })
}

const fn line(name: &'static str, value: f64, spread: f64) -> Parameter {
    let reason = "placed so that pastels, blondes and browns fall where stylists put them";
    Parameter::assumed(name, value, value - spread, value + spread, "1", reason)
}

/// A box of the chart: half-open ranges of hue angle (degrees, may run through 0), lightness and chroma.
pub(super) struct Region(pub(super) Hue, pub(super) (f64, f64), pub(super) (f64, f64), pub(super) (f64, f64));

/// No upper end.
const END: f64 = f64::INFINITY;
/// The whole of a range.
const ANY: (f64, f64) = (0.0, END);

/// The chart, read from the top; the first box that holds the colour names it.
///
/// | columns | unit |
/// |---------|------|
/// | hue angle | degrees in Oklab |
/// | lightness | Oklab, 0 to 1 |
/// | chroma | Oklab |
///
/// Source: chosen here, see the head of this module.
#[rustfmt::skip]
pub(super) const CHART: &[Region] = &[
    // Greys. A warm trace is seen sooner on dark hair than a cool one on light.
    Region(Hue::Neutral,     (20.0, 100.0),  (0.0, 0.50),  (0.0, 0.012)),
    Region(Hue::Neutral,     (20.0, 100.0),  (0.50, END),  (0.0, 0.022)),
    Region(Hue::Neutral,     (100.0, 340.0), ANY,          (0.0, 0.030)),
    Region(Hue::Neutral,     (340.0, 20.0),  ANY,          (0.0, 0.022)),
    // Beiges: light, warm, hardly coloured.
    Region(Hue::RoseBeige,   (5.0, 60.0),    (0.60, END),  (0.0, 0.045)),
    Region(Hue::Beige,       (60.0, 104.0),  (0.60, END),  (0.0, 0.042)),
    // Pink side: light is rose, dark is plum, red or auburn.
    Region(Hue::Rose,        (328.0, 352.0), (0.62, END),  ANY),
    Region(Hue::Rose,        (352.0, 8.0),   (0.52, END),  ANY),
    Region(Hue::Magenta,     (328.0, 8.0),   ANY,          ANY),
    Region(Hue::Rose,        (8.0, 34.0),    (0.68, END),  ANY),
    Region(Hue::Red,         (8.0, 34.0),    ANY,          (0.135, END)),
    Region(Hue::Auburn,      (20.0, 34.0),   (0.55, 0.60), (0.075, END)),
    Region(Hue::Rose,        (8.0, 34.0),    (0.57, END),  ANY),
    // Orange side: strong is orange, light is peach, deep is copper, dark is auburn or brown.
    Region(Hue::Orange,      (34.0, 62.0),   (0.60, END),  (0.130, END)),
    Region(Hue::Orange,      (34.0, 62.0),   (0.55, END),  (0.155, END)),
    Region(Hue::Peach,       (34.0, 62.0),   (0.70, END),  ANY),
    Region(Hue::Peach,       (34.0, 62.0),   (0.66, END),  (0.080, 0.095)),
    Region(Hue::Copper,      (34.0, 62.0),   (0.48, END),  (0.095, END)),
    Region(Hue::Auburn,      (8.0, 42.0),    (0.0, 0.55),  (0.055, END)),
    Region(Hue::Brown,       (8.0, 62.0),    ANY,          ANY),
    // Yellow side: strong is yellow, light is gold (blonde), dark is brown, then olive.
    Region(Hue::Orange,      (62.0, 78.0),   (0.60, END),  (0.135, END)),
    Region(Hue::Yellow,      (78.0, 104.0),  (0.70, END),  (0.135, END)),
    Region(Hue::Gold,        (62.0, 104.0),  (0.66, END),  ANY),
    Region(Hue::Brown,       (62.0, 104.0),  ANY,          ANY),
    Region(Hue::Yellow,      (104.0, 116.0), (0.76, END),  ANY),
    Region(Hue::Yellow,      (116.0, 121.0), (0.86, END),  ANY),
    // The cool half of the circle: by hue alone.
    Region(Hue::YellowGreen, (104.0, 136.0), ANY,          ANY),
    Region(Hue::Green,       (136.0, 163.0), ANY,          ANY),
    Region(Hue::Teal,        (163.0, 204.0), ANY,          ANY),
    Region(Hue::Blue,        (204.0, 288.0), ANY,          ANY),
    Region(Hue::Violet,      (288.0, 328.0), ANY,          ANY),
];

impl Region {
    fn holds(&self, hue: f64, lightness: f64, chroma: f64) -> bool {
        let Self(_, (first, last), lightnesses, chromas) = self;
        let turned_in = if first < last { *first <= hue && hue < *last } else { hue >= *first || hue < *last };
        let within = |value: f64, (from, to): (f64, f64)| from <= value && value < to;
        turned_in && within(lightness, *lightnesses) && within(chroma, *chromas)
    }
}

/// Names a colour by the documented rule.
///
/// # Validity
/// Colours of surfaces seen alone. A name is a word for a reader, not a measurement; two colours with one name may
/// still be told apart.
///
/// # Source
/// Chosen here; checked against [`MUNROE_2010`](crate::science::bibliography::MUNROE_2010).
///
/// # Example
/// ```
/// use afterhue::science::colour::{cielab::Lab, naming::{self, Depth, Hue, Strength}};
/// let rose = naming::name(Lab::new(83.0, 18.0, 7.0));
/// assert_eq!((rose.hue, rose.depth, rose.strength), (Hue::Rose, Depth::Pale, Strength::Soft));
/// ```
#[must_use]
pub fn name(lab: Lab) -> ColourName {
    name_of(oklab::from_lab(lab))
}

/// [`name`] of a colour that is known in Oklab.
#[must_use]
pub fn name_of(colour: Oklab) -> ColourName {
    let chroma = colour.chroma();
    ColourName {
        hue: hue_family(colour.hue(), colour.l, chroma),
        depth: depth(colour.l),
        strength: match chroma {
            c if c < SOFT_FROM.value => Strength::Greyed,
            c if c < CLEAR_FROM.value => Strength::Soft,
            c if c < VIVID_FROM.value => Strength::Clear,
            _ => Strength::Vivid,
        },
    }
}

/// The depth of an Oklab lightness.
pub(super) fn depth(lightness: f64) -> Depth {
    match lightness {
        l if l < DARK_FROM.value => Depth::VeryDark,
        l if l < MEDIUM_FROM.value => Depth::Dark,
        l if l < LIGHT_FROM.value => Depth::Medium,
        l if l < PALE_FROM.value => Depth::Light,
        _ => Depth::Pale,
    }
}

/// The first box of the chart that holds the colour; the boxes cover the whole circle, as a test shows.
fn hue_family(hue: f64, lightness: f64, chroma: f64) -> Hue {
    CHART.iter().find(|region| region.holds(hue, lightness.max(0.0), chroma)).map_or(Hue::Neutral, |region| region.0)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn named(l: f64, a: f64, b: f64) -> (Hue, Depth, Strength) {
        let ColourName { hue, depth, strength } = name(Lab::new(l, a, b));
        (hue, depth, strength)
    }

    /// Hair as the trade would call it (common practice, no source).
    #[test]
    fn hair_gets_the_words_a_stylist_would_use() {
        use Depth::{Dark, Light, Medium, Pale, VeryDark};
        use Strength::{Clear, Greyed, Soft, Vivid};
        let cases = [
            ("rose pastel", (83.0, 18.0, 7.0), (Hue::Rose, Pale, Soft)),
            ("peach", (82.0, 14.0, 22.0), (Hue::Peach, Pale, Soft)),
            ("pale blonde", (86.0, 0.0, 18.0), (Hue::Gold, Pale, Soft)),
            ("yellow blonde", (78.0, 6.0, 31.0), (Hue::Gold, Light, Soft)),
            ("ash blonde", (68.0, 2.0, 14.0), (Hue::Beige, Light, Greyed)),
            ("powder blue", (82.0, -4.0, -12.0), (Hue::Blue, Pale, Greyed)),
            ("mint", (88.0, -18.0, 5.0), (Hue::Teal, Pale, Soft)),
            ("greyed rose-beige", (70.0, 7.0, 10.0), (Hue::RoseBeige, Light, Greyed)),
            ("silver", (80.0, -1.0, -2.0), (Hue::Neutral, Pale, Greyed)),
            ("copper gloss", (50.0, 26.0, 36.0), (Hue::Copper, Medium, Clear)),
            ("brunette", (18.0, 12.0, 14.0), (Hue::Brown, VeryDark, Soft)),
            ("brown", (30.0, 8.0, 11.0), (Hue::Brown, Dark, Greyed)),
            ("auburn", (30.0, 22.0, 18.0), (Hue::Auburn, Dark, Soft)),
            ("vivid magenta", (48.0, 65.0, -15.0), (Hue::Magenta, Medium, Vivid)),
            ("teal", (45.0, -28.0, -10.0), (Hue::Teal, Medium, Clear)),
            ("violet pastel", (74.0, 15.0, -17.0), (Hue::Violet, Light, Soft)),
            ("strong red", (42.0, 58.0, 34.0), (Hue::Red, Medium, Vivid)),
            // Measured tresses: J. Cosmet. Sci. 51, p. 293 (2000).
            ("dark brown, measured", (23.04, 4.04, 4.72), (Hue::Brown, VeryDark, Greyed)),
            ("black, measured", (18.37, -0.05, -0.84), (Hue::Neutral, VeryDark, Greyed)),
        ];
        for (said, (l, a, b), expected) in cases {
            assert_eq!(named(l, a, b), expected, "{said}");
        }
    }

    #[test]
    fn every_colour_lies_in_a_box() {
        for hue in 0..360 {
            for lightness in 0..=20 {
                for chroma in 0..=35 {
                    let point = (f64::from(hue), f64::from(lightness) / 20.0, f64::from(chroma) / 100.0);
                    assert!(CHART.iter().any(|region| region.holds(point.0, point.1, point.2)), "{point:?}");
                }
            }
        }
    }

    #[test]
    fn every_hue_family_can_be_reached() {
        for hue in Hue::ALL {
            let reached = (0..360).any(|angle| {
                (0..=20).any(|lightness| {
                    (0..=35).any(|chroma| {
                        hue_family(f64::from(angle), f64::from(lightness) / 20.0, f64::from(chroma) / 100.0) == hue
                    })
                })
            });
            assert!(reached, "{hue:?}");
        }
    }

    #[test]
    fn steps_of_depth_and_strength_rise() {
        let rising = |steps: &[&Parameter]| steps.windows(2).all(|pair| pair[0].value < pair[1].value);
        assert!(rising(&PARAMETERS[..4]) && rising(&PARAMETERS[4..7]));
    }

    #[test]
    fn colours_of_one_name_are_told_apart_by_what_differs_most() {
        let copper = Lab::new(48.0, 30.0, 40.0);
        let change = |l: f64, a: f64, b: f64| change(copper, Lab::new(copper.l + l, copper.a + a, copper.b + b));
        assert_eq!(change(0.0, 0.0, 0.0), None);
        assert_eq!(change(1.0, 0.0, 0.0), None, "hardly seen");
        assert_eq!((change(4.0, 0.0, 0.0), change(-4.0, 0.0, 0.0)), (Some(Change::Lighter), Some(Change::Darker)));
        assert_eq!(change(1.0, -7.0, -9.3), Some(Change::Softer));
        assert_eq!(self::change(Lab::new(49.0, 23.0, 30.7), copper), Some(Change::Stronger));
        assert_eq!(change(0.0, -4.5, 3.0), Some(Change::Warmer));
        assert_eq!(change(0.0, 4.5, -3.0), Some(Change::Cooler));
        assert_eq!(self::change(Lab::new(76.0, 0.0, 0.5), Lab::new(76.0, 1.5, 5.0)), Some(Change::Warmer));
        // Another name needs no second word.
        assert_eq!(self::change(copper, Lab::new(83.0, 18.0, 7.0)), None);
    }
}
