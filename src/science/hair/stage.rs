//! The scale of lightened stages and its computed colour.
//!
//! In: a stage. Out: the K/S of hair lightened to it, without tone. Knows nothing of: natural depth, which is another scale.
//!
//! The coefficients are assumed, set by eye to the trade words; they stand in `data/lightened_stages.csv` with the range that would still be believable.

use std::sync::LazyLock;

use crate::science::colour::spectrum::Spectrum;
use crate::science::parameter::Parameter;
use crate::science::table;
use crate::units::worded;

/// A lightened stage, 1 (red) to 10 (pale yellow), halves and anything between allowed.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct LightenedStage(f64);

impl LightenedStage {
    /// The darkest stage with a computed colour.
    pub const LOW: f64 = 1.0;
    /// The palest stage.
    pub const HIGH: f64 = 10.0;

    /// A stage, or nothing when out of range.
    #[must_use]
    pub fn try_new(value: f64) -> Option<Self> {
        (Self::LOW..=Self::HIGH).contains(&value).then_some(Self(value))
    }

    /// The number on the scale.
    #[must_use]
    pub const fn value(self) -> f64 {
        self.0
    }
}

worded! {
    /// The warm pigment that lightening leaves, in the trade's words.
    UnderlyingPigment, "underlying pigment" {
        /// Stage 10.
        PaleYellow = "pale yellow",
        /// Stage 9.
        Yellow = "yellow",
        /// Stage 8.
        YellowOrange = "yellow-orange",
        /// Stage 7.
        Orange = "orange",
        /// Stage 6.
        RedOrange = "red-orange",
        /// Stage 5 and darker.
        Red = "red",
    }
}

impl UnderlyingPigment {
    /// The stage whose pigment this word names.
    ///
    /// Common practice, no source: trade charts agree at 9 and 10 and differ by about one stage from 4 to 8.
    #[must_use]
    pub const fn stage(self) -> LightenedStage {
        LightenedStage(match self {
            Self::PaleYellow => 10.0,
            Self::Yellow => 9.0,
            Self::YellowOrange => 8.0,
            Self::Orange => 7.0,
            Self::RedOrange => 6.0,
            Self::Red => 5.0,
        })
    }

    /// The word for a stage: that of the nearest whole stage, halves counting up.
    #[must_use]
    pub fn at(stage: LightenedStage) -> Self {
        let whole = (stage.value() + 0.5).floor();
        [Self::PaleYellow, Self::Yellow, Self::YellowOrange, Self::Orange, Self::RedOrange]
            .into_iter()
            .find(|word| whole >= word.stage().value())
            .unwrap_or(Self::Red)
    }
}

/// Centre of the edge of the yellow residue.
pub const YELLOW_EDGE: Parameter = edge("centre of the yellow edge of lightened hair", 485.0, 470.0, 500.0);
/// Width of that edge.
pub const YELLOW_WIDTH: Parameter = edge("width of the yellow edge of lightened hair", 30.0, 20.0, 45.0);
/// Centre of the edge of the red residue.
pub const RED_EDGE: Parameter = edge("centre of the red edge of lightened hair", 550.0, 535.0, 570.0);
/// Width of that edge.
pub const RED_WIDTH: Parameter = edge("width of the red edge of lightened hair", 22.0, 15.0, 35.0);

/// Every number of this module that is not in its table.
pub const PARAMETERS: &[&Parameter] = &[&YELLOW_EDGE, &YELLOW_WIDTH, &RED_EDGE, &RED_WIDTH];

const fn edge(name: &'static str, value: f64, low: f64, high: f64) -> Parameter {
    Parameter::assumed(name, value, low, high, "nm", "set by eye to the trade words pale yellow to red")
}

/// One row of the table of stages.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct StageRow {
    /// The stage.
    pub stage: f64,
    /// Flat part, K/S.
    pub k: f64,
    /// Yellow residue, K/S.
    pub y: f64,
    /// Red residue, K/S.
    pub r: f64,
    /// Melanin left, K/S at 550 nm.
    pub m: f64,
    /// The lowest multiple of y, r and m that would still be believable.
    pub low: f64,
    /// The highest.
    pub high: f64,
}

/// The table of stages, palest first.
#[must_use]
pub fn rows() -> &'static [StageRow] {
    static ROWS: LazyLock<Vec<StageRow>> = LazyLock::new(|| {
        table::numbers(include_str!("data/lightened_stages.csv"))
            .map(|[stage, k, y, r, m, low, high]| StageRow { stage, k, y, r, m, low, high })
            .collect()
    });
    &ROWS
}

/// K/S of lightened hair without tone.
///
/// ```text
/// q(λ) = k + y·E(λ; 485, 30) + r·E(λ; 550, 22) + m·(λ/550)^−3.33
/// E(λ; c, s) = 1 / (1 + exp((λ − c)/s))
/// ```
///
/// | symbol | meaning | unit | range |
/// |---|---|---|---|
/// | `λ` | wavelength | nm | 380 to 780 |
/// | `k` | flat absorption | 1 | 0.04 to 0.14 |
/// | `y` | yellow residue | 1 | 0.33 to 5.6 |
/// | `r` | red residue | 1 | 0 to 26 |
/// | `m` | melanin left | 1 | 0 to 5 |
/// | `c`, `s` | centre and width of an edge | nm | [`PARAMETERS`] |
///
/// Between the rows of the table each coefficient is interpolated along a straight line.
///
/// # Validity
/// Assumed. Set by eye to the trade words; no published measurement of bleached hair by stage was found. Below stage 6 only the order of the words stands behind it.
///
/// # Uncertainty
/// The columns `low` and `high` of the table.
///
/// # Source
/// Chosen here. The melanin exponent is that of [`super::melanin`].
#[must_use]
pub fn absorption(stage: LightenedStage) -> Spectrum {
    let StageRow { k, y, r, m, .. } = between(stage.value());
    Spectrum::from_law(|λ| {
        k + y * yellow_edge(λ)
            + r * edge_at(λ, RED_EDGE.value, RED_WIDTH.value)
            + m * super::melanin::eumelanin_relative(λ)
    })
}

/// The yellow edge alone, 0 to 1: what turns white fibres a little yellow too.
#[must_use]
pub fn yellow_edge(wavelength: f64) -> f64 {
    edge_at(wavelength, YELLOW_EDGE.value, YELLOW_WIDTH.value)
}

fn edge_at(wavelength: f64, centre: f64, width: f64) -> f64 {
    1.0 / (1.0 + ((wavelength - centre) / width).exp())
}

/// The row of a stage, interpolated between its neighbours in the table.
fn between(stage: f64) -> StageRow {
    let rows = rows();
    let lower = rows.iter().position(|row| row.stage <= stage).expect("the table ends at the lowest stage");
    let (paler, darker) = (rows[lower.saturating_sub(1)], rows[lower]);
    let gap = paler.stage - darker.stage;
    let t = if gap > 0.0 { (stage - darker.stage) / gap } else { 0.0 };
    let mix = |of: fn(&StageRow) -> f64| of(&darker) + t * (of(&paler) - of(&darker));
    StageRow {
        stage,
        k: mix(|row| row.k),
        y: mix(|row| row.y),
        r: mix(|row| row.r),
        m: mix(|row| row.m),
        low: mix(|row| row.low),
        high: mix(|row| row.high),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::science::colour::cielab;
    use crate::science::hair::fibre;
    use crate::units::Worded;

    fn colour(stage: f64) -> cielab::Lab {
        let stage = LightenedStage::try_new(stage).expect("on the scale");
        cielab::of_reflectance(&absorption(stage).map(fibre::reflectance))
    }

    #[test]
    fn the_stages_have_the_colours_they_were_set_to() {
        // The project's own setting by eye, rounded: see the header of the table.
        for (stage, l, a, b) in [
            (10.0, 86.0, 0.0, 18.0),
            (9.5, 83.0, 2.0, 24.0),
            (9.0, 78.0, 6.0, 31.0),
            (8.0, 71.0, 11.0, 37.0),
            (7.0, 63.0, 16.0, 38.0),
        ] {
            let lab = colour(stage);
            for (found, wanted) in [(lab.l, l), (lab.a, a), (lab.b, b)] {
                assert!((found - wanted).abs() < 1.0, "stage {stage}: {lab:?}");
            }
        }
    }

    #[test]
    fn every_half_stage_down_is_darker_and_no_less_red() {
        let mut paler = colour(10.0);
        for half in (2..20).rev() {
            let lab = colour(f64::from(half) / 2.0);
            assert!(lab.l < paler.l && lab.hue() < paler.hue() + 0.5, "stage {}: {lab:?}", f64::from(half) / 2.0);
            paler = lab;
        }
    }

    #[test]
    fn each_word_names_the_stage_it_came_from() {
        for (word, ..) in UnderlyingPigment::WORDS {
            assert_eq!(UnderlyingPigment::at(word.stage()), *word);
        }
        assert_eq!(UnderlyingPigment::at(LightenedStage(9.5)), UnderlyingPigment::PaleYellow);
        assert_eq!(UnderlyingPigment::at(LightenedStage(2.0)), UnderlyingPigment::Red);
    }

    #[test]
    fn the_table_covers_the_scale_once() {
        assert_eq!(rows().len(), 11);
        assert!(rows().windows(2).all(|pair| pair[0].stage > pair[1].stage));
        assert!(rows().iter().all(|row| row.low < 1.0 && row.high > 1.0));
    }
}
