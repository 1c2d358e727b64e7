//! How sure: the log-normal spread of the rate.
//!
//! In: dye class, how far habits are known, how the finished colour was found. Out: σ of ln rate, by what returns can teach and what they cannot. Knows nothing of: what is then computed with it.

use crate::science::dye::class::{DyeClass, RATE_PERMANENT};
use crate::science::parameter::Parameter;

/// Spread of the rate about the forecast, σ of ln rate, by what a return can teach and what it cannot.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct RateSpread {
    /// The client's own rate: what returns narrow.
    pub level: f64,
    /// One visit about it: what stays however often the client returned.
    pub visit: f64,
}

/// Spread of a client's own rate, σ of ln rate.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ClassSpread {
    /// Doubt about the class: the published range of washes.
    pub class: f64,
    /// Between clients, scatter from visit to visit taken out.
    pub clients: f64,
}

impl ClassSpread {
    /// Both together.
    #[must_use]
    pub fn level(&self) -> f64 {
        self.class.hypot(self.clients)
    }
}

/// How the colour that fades was found.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum StartFoundBy {
    /// With an instrument.
    Instrument,
    /// By eye against a sample or a screen.
    Eye,
    /// Only named.
    Name,
}

/// Spread between people of equal habits and hair.
pub const BETWEEN_CLIENTS: Parameter = spread(
    "spread of the rate between clients",
    0.20,
    0.10,
    0.40,
    "beyond what the published range of washes already holds",
);
/// Scatter of one client's rate from visit to visit: a part of what two clients differ by.
pub const VISIT_SCATTER: Parameter = spread(
    "scatter of a client's rate from visit to visit",
    0.10,
    0.05,
    0.18,
    "another batch, another pair of hands, another season: half of what clients differ by; no repeated measurement was found",
);
/// Spread from habits that were not recorded, or recorded as one number.
pub const HABITS: Parameter =
    spread("spread of the rate from habits", 0.15, 0.05, 0.35, "people wash about as often as they say");
/// Spread when the finished colour was measured.
pub const START_MEASURED: Parameter =
    spread("spread of the rate, start measured", 0.05, 0.02, 0.10, "re-measuring a tress scatters by about 1.3 ΔE");
/// Spread when it was matched by eye.
pub const START_BY_EYE: Parameter = spread(
    "spread of the rate, start matched by eye",
    0.12,
    0.05,
    0.25,
    "an error of some ΔE at the start moves every share",
);
/// Spread when it was only named.
pub const START_NAMED: Parameter =
    spread("spread of the rate, start only named", 0.20, 0.10, 0.40, "a word covers many colours");

/// Every number of this module.
pub const PARAMETERS: &[&Parameter] =
    &[&BETWEEN_CLIENTS, &VISIT_SCATTER, &HABITS, &START_MEASURED, &START_BY_EYE, &START_NAMED];

const fn spread(name: &'static str, value: f64, low: f64, high: f64, why: &'static str) -> Parameter {
    Parameter::assumed(name, value, low, high, "σ of ln rate", why)
}

/// The probability below which the lower end of every range is taken; the upper end has the same above it.
pub const RANGE_TAIL: f64 = 0.1;

/// σ of a log-normal quantity whose range runs from its 10 % to its 90 % point.
///
/// ```text
/// σ = ln(high/low) / (2·z₀.₉)      z₀.₉ = 1.2816
/// ```
///
/// | symbol | meaning | unit | range |
/// |---|---|---|---|
/// | `low`, `high` | ends of the range | any | > 0 |
/// | `z₀.₉` | standard normal quantile at 0.9 | 1 | |
/// | `σ` | spread of the logarithm | 1 | ≥ 0 |
///
/// # Validity
/// A published range says nothing of what it holds; four cases in five is a reading of it.
///
/// # Uncertainty
/// Were it nineteen in twenty, σ would be 0.65 times as large.
///
/// # Panics
/// When an end is not above zero.
///
/// # Source
/// Definition of the log-normal distribution.
#[must_use]
pub fn sigma_of_range(low: f64, high: f64) -> f64 {
    assert!(low > 0.0 && high > 0.0, "a log-normal range lies above zero");
    (high / low).ln().abs() / (2.0 * normal_quantile(1.0 - RANGE_TAIL))
}

/// The spread of a client's own rate with a dye class.
///
/// ```text
/// σ_level² = σ_class² + σ_clients² − σ_visit²
/// ```
///
/// | symbol | meaning | unit | range |
/// |---|---|---|---|
/// | `σ_class` | published range of washes, or of the rate for permanent colour | 1 | [`DyeClass::washes`] |
/// | `σ_clients` | between clients | 1 | [`BETWEEN_CLIENTS`] |
/// | `σ_visit` | from visit to visit, a part of it | 1 | [`VISIT_SCATTER`] |
///
/// # Validity
/// As [`rate_spread`], of which it is the part that returns teach.
///
/// # Uncertainty
/// A salon's own returns replace it: [`super::pooling`].
///
/// # Source
/// The range: Evans & Wickett 2012. The rest assumed: [`PARAMETERS`].
#[must_use]
pub fn class_spread(class: DyeClass) -> ClassSpread {
    let range = class.washes().unwrap_or(&RATE_PERMANENT);
    let clients = (BETWEEN_CLIENTS.value.powi(2) - VISIT_SCATTER.value.powi(2)).sqrt();
    ClassSpread { class: sigma_of_range(range.low, range.high), clients }
}

/// The spread of the rate for one zone.
///
/// ```text
/// σ² = σ_class² + σ_clients² + σ_habits² + σ_start²
/// ```
///
/// | symbol | meaning | unit | source |
/// |---|---|---|---|
/// | `σ_class` | published range of washes (of the rate, for permanent) read as 10 % to 90 % | 1 | [`DyeClass::washes`] |
/// | `σ_clients` | between clients, of which [`VISIT_SCATTER`] is from visit to visit | 1 | [`BETWEEN_CLIENTS`] |
/// | `σ_habits` | washes "2 to 3" read as 10 % to 90 %, never below [`HABITS`] | 1 | the record |
/// | `σ_start` | how the finished colour was found | 1 | [`START_MEASURED`] and its kin |
///
/// `habit` is the weekly dose at both ends of what was recorded; `None` when one number or nothing was.
///
/// # Validity
/// The causes are taken as independent. Class and client are what returns teach; the rest is new at every visit.
///
/// # Uncertainty
/// In 2,000 simulated clients with eight visits each (`tests/suite/learning.rs`), the 80 % range made of it holds
///
/// | what is wrong | dates inside, % |
/// |---|---|
/// | nothing | 76 to 84 |
/// | every client half again as quick, from the fourth visit on | 74 and more |
/// | the law: 1 − a√D or exp(−a√D), with the model's time to the refresh share, and washes told up to 30 % wrong | 70 to 90 |
/// | the law exp(−a√D), its pace, the effect of porosity and the washes, all at once | 55 to 70: too few |
///
/// So a wrong shape is borne and a wrong pace is learned; the last row is what no width short of useless would hold.
///
/// # Source
/// The class part: Evans & Wickett 2012. The rest assumed: [`PARAMETERS`].
#[must_use]
pub fn rate_spread(class: DyeClass, habit: Option<(f64, f64)>, start: StartFoundBy) -> RateSpread {
    let habits = match habit {
        Some((low, high)) if low > 0.0 && high > low => sigma_of_range(low, high).max(HABITS.value),
        _ => HABITS.value,
    };
    let visit = VISIT_SCATTER.value.hypot(habits).hypot(start.spread());
    RateSpread { level: class_spread(class).level(), visit }
}

impl StartFoundBy {
    /// What the way the start was found adds to the spread of ln rate.
    #[must_use]
    pub const fn spread(self) -> f64 {
        match self {
            Self::Instrument => START_MEASURED.value,
            Self::Eye => START_BY_EYE.value,
            Self::Name => START_NAMED.value,
        }
    }
}

impl RateSpread {
    /// All of it: σ of ln rate of a client without returns.
    #[must_use]
    pub fn sigma(&self) -> f64 {
        self.level.hypot(self.visit)
    }
}

/// The standard normal quantile z(p).
///
/// Algorithm AS 241, PPND16: a ratio of polynomials in each of three ranges of p, relative error about 1·10⁻¹⁶.
///
/// | symbol | meaning | unit | range |
/// |---|---|---|---|
/// | `p` | probability below the quantile | 1 | 0 to 1, ends excluded |
/// | `z` | quantile | σ | any |
///
/// # Panics
/// When the probability is not between 0 and 1.
///
/// # Source
/// [`WICHURA_1988`](crate::science::bibliography::WICHURA_1988): M. J. Wichura, Algorithm AS 241: the percentage points of the normal distribution, Applied Statistics 37(3), 477–484 (1988).
///
/// # Example
/// ```
/// use afterhue::science::fade::uncertainty::normal_quantile;
/// // The paper's own checks of PPND16.
/// assert!((normal_quantile(0.25) + 0.674_489_750_196_081_7).abs() < 1e-15);
/// assert!((normal_quantile(0.001) + 3.090_232_306_167_814).abs() < 1e-14);
/// ```
#[must_use]
pub fn normal_quantile(p: f64) -> f64 {
    assert!(p > 0.0 && p < 1.0, "a quantile needs a probability between 0 and 1");
    let q = p - 0.5;
    if q.abs() <= 0.425 {
        let r = 0.180_625 - q * q;
        return q * ratio(&A, &B, r);
    }
    let tail = if q < 0.0 { p } else { 1.0 - p };
    let r = (-tail.ln()).sqrt();
    let z = if r <= 5.0 { ratio(&C, &D, r - 1.6) } else { ratio(&E, &F, r - 5.0) };
    z.copysign(q)
}

/// One polynomial over another, coefficients from the constant upward.
fn ratio(above: &[f64; 8], below: &[f64; 8], r: f64) -> f64 {
    let at = |coefficients: &[f64; 8]| coefficients.iter().rev().fold(0.0, |sum, c| sum * r + c);
    at(above) / at(below)
}

// Coefficients as the paper prints them, named as there; the denominators begin with 1.
#[expect(clippy::excessive_precision, reason = "digits as printed, so that they can be compared")]
const A: [f64; 8] = [
    3.387_132_872_796_366_608,
    133.141_667_891_784_377_45,
    1_971.590_950_306_551_442_7,
    13_731.693_765_509_461_125,
    45_921.953_931_549_871_457,
    67_265.770_927_008_700_853,
    33_430.575_583_588_128_105,
    2_509.080_928_730_122_672_7,
];
#[expect(clippy::excessive_precision, reason = "digits as printed, so that they can be compared")]
const B: [f64; 8] = [
    1.0,
    42.313_330_701_600_911_252,
    687.187_007_492_057_908_3,
    5_394.196_021_424_751_107_7,
    21_213.794_301_586_595_867,
    39_307.895_800_092_710_61,
    28_729.085_735_721_942_674,
    5_226.495_278_852_854_561,
];
#[expect(clippy::excessive_precision, reason = "digits as printed, so that they can be compared")]
const C: [f64; 8] = [
    1.423_437_110_749_683_577_34,
    4.630_337_846_156_545_295_9,
    5.769_497_221_460_691_405_5,
    3.647_848_324_763_204_605_04,
    1.270_458_252_452_368_382_58,
    0.241_780_725_177_450_611_77,
    0.022_723_844_989_269_184_583_3,
    7.745_450_142_783_414_076_4e-4,
];
#[expect(clippy::excessive_precision, reason = "digits as printed, so that they can be compared")]
const D: [f64; 8] = [
    1.0,
    2.053_191_626_637_758_821_87,
    1.676_384_830_183_803_849_4,
    0.689_767_334_985_100_004_55,
    0.148_103_976_427_480_074_59,
    0.015_198_666_563_616_457_196_6,
    5.475_938_084_995_344_946e-4,
    1.050_750_071_644_416_843_24e-9,
];
#[expect(clippy::excessive_precision, reason = "digits as printed, so that they can be compared")]
const E: [f64; 8] = [
    6.657_904_643_501_103_777_2,
    5.463_784_911_164_114_369_9,
    1.784_826_539_917_291_335_8,
    0.296_560_571_828_504_891_23,
    0.026_532_189_526_576_123_093,
    0.001_242_660_947_388_078_438_6,
    2.711_555_568_743_487_578_15e-5,
    2.010_334_399_292_288_132_65e-7,
];
#[expect(clippy::excessive_precision, reason = "digits as printed, so that they can be compared")]
const F: [f64; 8] = [
    1.0,
    0.599_832_206_555_887_937_69,
    0.136_929_880_922_735_805_31,
    0.014_875_361_290_850_614_852_5,
    7.868_691_311_456_132_591e-4,
    1.846_318_317_510_054_681_8e-5,
    1.421_511_758_316_445_888_7e-7,
    2.044_263_103_389_939_785_64e-15,
];

#[cfg(test)]
mod tests {
    use super::*;
    use crate::science::fade::rate::RateDistribution;

    #[test]
    fn the_quantile_agrees_with_a_second_implementation() {
        // Python 3.11 statistics.NormalDist().inv_cdf, run for this test; its digits hold across all three ranges.
        for (p, z) in [
            (0.1, -1.2815515655446008),
            (0.9, 1.2815515655446008),
            (0.025, -1.9599639845400538),
            (0.3, -0.5244005127080407),
            (0.975, 1.9599639845400536),
            (0.0001, -3.71901648545568),
            (1e-09, -5.9978070150076865),
            (1e-13, -7.3487961028006765),
            (1e-20, -9.262340089798405),
        ] {
            assert!((normal_quantile(p) - z).abs() < 1e-12 * z.abs().max(1.0), "{p}");
            if p > 1e-4 {
                assert!((normal_quantile(p) + normal_quantile(1.0 - p)).abs() < 1e-9, "{p}");
            }
        }
        assert_eq!(normal_quantile(0.5), 0.0);
    }

    #[test]
    fn a_range_read_back_at_its_ends_is_the_range() {
        let rate = RateDistribution::log_normal(0.0, sigma_of_range(5.0, 10.0));
        assert!((rate.quantile(0.9) / rate.quantile(0.1) - 2.0).abs() < 1e-12);
        assert!((rate.quantile(0.5) - 1.0).abs() < 1e-15);
    }

    #[test]
    fn a_client_without_returns_has_every_cause_of_doubt_once() {
        let all = rate_spread(DyeClass::Direct, None, StartFoundBy::Eye).sigma();
        let parts = [sigma_of_range(5.0, 10.0), BETWEEN_CLIENTS.value, HABITS.value, START_BY_EYE.value];
        assert!((all - parts.iter().map(|part| part * part).sum::<f64>().sqrt()).abs() < 1e-12);
    }

    #[test]
    fn knowing_less_makes_the_range_wider() {
        let sigma = |habit, start| rate_spread(DyeClass::Direct, habit, start).sigma();
        assert!(sigma(None, StartFoundBy::Instrument) < sigma(None, StartFoundBy::Eye));
        assert!(sigma(None, StartFoundBy::Eye) < sigma(None, StartFoundBy::Name));
        assert!(sigma(Some((1.0, 3.0)), StartFoundBy::Eye) > sigma(None, StartFoundBy::Eye));
        assert!(sigma(Some((2.0, 2.1)), StartFoundBy::Eye) >= sigma(None, StartFoundBy::Eye));
    }

    #[test]
    #[should_panic(expected = "between 0 and 1")]
    fn certainty_has_no_quantile() {
        let _ = normal_quantile(1.0);
    }
}
