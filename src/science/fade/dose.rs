//! The dose a week: what habits amount to in washes.
//!
//! In: habits as numbers a week. Out: a dose; one is what one ordinary lukewarm shampoo wash does. Knows nothing of: dyes and dates.
//!
//! No benefit is credited that nobody measured: a gentle shampoo counts as an ordinary one, soft water as medium.

use crate::science::bibliography;
use crate::science::parameter::Parameter;
use crate::units::{PerWeek, Washes, worded};

worded! {
    /// Warmth of the wash water.
    Warmth, "water warmth" {
        /// Cool.
        Cool = "cool" ["cold"],
        /// Lukewarm.
        Lukewarm = "lukewarm" ["warm"],
        /// Hot.
        Hot = "hot",
    }
}

worded! {
    /// Kind of shampoo.
    Shampoo, "shampoo kind" {
        /// A gentle shampoo for coloured hair.
        Gentle = "gentle" ["colour care", "sulfate-free"],
        /// An ordinary shampoo.
        Ordinary = "ordinary" ["normal"],
        /// A deep-cleaning shampoo.
        Clarifying = "clarifying" ["chelating", "deep cleansing"],
        /// A medicated or anti-dandruff shampoo.
        Medicated = "medicated" ["anti-dandruff"],
    }
}

worded! {
    /// Hardness of the water at home.
    WaterHardness, "water hardness" {
        /// Soft.
        Soft = "soft",
        /// Medium.
        Medium = "medium",
        /// Hard.
        Hard = "hard" ["copper"],
    }
}

/// The habits that wear colour, as numbers a week.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Wear {
    /// Shampoo washes.
    pub washes: PerWeek,
    /// Days with a rinse only.
    pub rinses: PerWeek,
    /// Warmth of the water.
    pub warmth: Warmth,
    /// The shampoo.
    pub shampoo: Shampoo,
    /// Hours of sun on the hair.
    pub sun_hours: f64,
    /// Swims in a pool.
    pub pool_swims: PerWeek,
    /// Days with a hot tool.
    pub heat_days: PerWeek,
    /// Water hardness.
    pub hardness: WaterHardness,
    /// Whether the water carries copper. It wears no more at a wash, but loosens oxidative colour made in hair that holds it: [`in_copper_hair`](super::kinetics::Leaving::in_copper_hair).
    pub copper: bool,
}

impl Default for Wear {
    /// Two lukewarm washes with an ordinary shampoo in medium water; nothing else.
    fn default() -> Self {
        Self {
            washes: PerWeek::from_per_week(2.0),
            rinses: PerWeek::from_per_week(0.0),
            warmth: Warmth::Lukewarm,
            shampoo: Shampoo::Ordinary,
            sun_hours: 0.0,
            pool_swims: PerWeek::from_per_week(0.0),
            heat_days: PerWeek::from_per_week(0.0),
            hardness: WaterHardness::Medium,
            copper: false,
        }
    }
}

/// A rinse without shampoo ([`CONSUMER_NZ_2015`](crate::science::bibliography::CONSUMER_NZ_2015)). Water itself is a main cause, and no shampoo was shown to wear less than water alone.
pub const RINSE: Parameter = Parameter::assumed(
    "dose of a rinse only",
    0.5,
    0.2,
    1.0,
    "wash",
    "plain water changed dyed hair least of 26 washes compared, but it did change it (Consumer NZ, 2015: a ranking, no numbers)",
);

/// Cool water.
pub const WARMTH_COOL: Parameter = warmth("cool water", 0.9, 0.5, 1.0);
/// Lukewarm water: the reference.
pub const WARMTH_LUKEWARM: Parameter = warmth("lukewarm water (the reference)", 1.0, 1.0, 1.0);
/// Hot water.
pub const WARMTH_HOT: Parameter = warmth("hot water", 1.25, 1.0, 2.0);

/// A gentle shampoo: no more than an ordinary one, for want of evidence.
pub const SHAMPOO_GENTLE: Parameter = Parameter::assumed(
    "gentle shampoo",
    1.0,
    0.9,
    1.0,
    "1",
    "no colour-care shampoo beat an ordinary or a baby shampoo (Consumer NZ, 2015); no study of sulfates alone was found",
);
/// An ordinary shampoo: the reference.
pub const SHAMPOO_ORDINARY: Parameter = shampoo("ordinary shampoo (the reference)", 1.0, 1.0, 1.0);
/// A clarifying shampoo.
pub const SHAMPOO_CLARIFYING: Parameter = shampoo("clarifying shampoo", 1.3, 1.0, 2.0);
/// A medicated shampoo.
pub const SHAMPOO_MEDICATED: Parameter = shampoo("medicated shampoo", 1.2, 1.0, 1.6);

/// Soft water: as medium, for want of numbers.
pub const WATER_SOFT: Parameter = water("soft water", 1.0, 0.8, 1.0);
/// Medium water: the reference.
pub const WATER_MEDIUM: Parameter = water("medium water (the reference)", 1.0, 1.0, 1.0);
/// Hard water ([`FUJII_2017`](crate::science::bibliography::FUJII_2017)).
pub const WATER_HARD: Parameter = water("hard water", 1.2, 1.0, 1.5);

/// What an hour of weatherometer light takes of a dye. Fitted: [`super::measured`].
pub const LAMP_HOUR: Parameter = Parameter::published(
    "rate at which weatherometer light takes dye",
    0.0225,
    0.008,
    0.050,
    "1/h",
    &bibliography::LOCKE_JACHOWICZ_2005,
);
/// An hour of sun against an hour of weatherometer.
pub const SUN_AGAINST_LAMP: Parameter = Parameter::assumed(
    "an hour of sun against an hour of weatherometer light",
    0.5,
    0.2,
    1.0,
    "1",
    "a weatherometer is set to about a clear midday sun, but sun falls on the upper side of the hair only",
);
/// A swim in a pool.
pub const POOL_SWIM: Parameter = Parameter::assumed(
    "dose of a swim in a pool",
    1.0,
    0.5,
    3.0,
    "wash",
    "a long wetting at least; chlorine lightens and yellows every hair type, but no change per swim was found",
);
/// A day with a hot tool.
pub const HEAT_DAY: Parameter = Parameter::assumed(
    "dose of a day with a hot tool",
    0.1,
    0.0,
    0.4,
    "wash",
    "hot tools break dye down (Evans & Wickett 2012, p. 518); the curve could not be read",
);

/// Every number of this module.
pub const PARAMETERS: &[&Parameter] = &[
    &RINSE,
    &WARMTH_COOL,
    &WARMTH_LUKEWARM,
    &WARMTH_HOT,
    &SHAMPOO_GENTLE,
    &SHAMPOO_ORDINARY,
    &SHAMPOO_CLARIFYING,
    &SHAMPOO_MEDICATED,
    &WATER_SOFT,
    &WATER_MEDIUM,
    &WATER_HARD,
    &LAMP_HOUR,
    &SUN_AGAINST_LAMP,
    &POOL_SWIM,
    &HEAT_DAY,
];

const fn warmth(name: &'static str, value: f64, low: f64, high: f64) -> Parameter {
    Parameter::assumed(
        name,
        value,
        low,
        high,
        "1",
        "hot against cold was not measured for dye; the ends are the doubling in 10 K of protein loss (Wagner & Joekes 2005), a proxy",
    )
}

const fn shampoo(name: &'static str, value: f64, low: f64, high: f64) -> Parameter {
    Parameter::common_practice(name, value, low, high, "1")
}

const fn water(name: &'static str, value: f64, low: f64, high: f64) -> Parameter {
    Parameter::assumed(
        name,
        value,
        low,
        high,
        "1",
        "tap water fades faster than distilled and calcium is a cause (Fujii 2017, abstract), by how much was not read",
    )
}

impl Warmth {
    /// How much a wetting at this warmth wears, against lukewarm.
    #[must_use]
    pub const fn factor(self) -> f64 {
        match self {
            Self::Cool => WARMTH_COOL.value,
            Self::Lukewarm => WARMTH_LUKEWARM.value,
            Self::Hot => WARMTH_HOT.value,
        }
    }
}

impl Shampoo {
    /// How much a wash with this shampoo wears, against an ordinary one.
    #[must_use]
    pub const fn factor(self) -> f64 {
        match self {
            Self::Gentle => SHAMPOO_GENTLE.value,
            Self::Ordinary => SHAMPOO_ORDINARY.value,
            Self::Clarifying => SHAMPOO_CLARIFYING.value,
            Self::Medicated => SHAMPOO_MEDICATED.value,
        }
    }
}

impl WaterHardness {
    /// How much a wetting with this water wears, against medium water.
    #[must_use]
    pub const fn factor(self) -> f64 {
        match self {
            Self::Soft => WATER_SOFT.value,
            Self::Medium => WATER_MEDIUM.value,
            Self::Hard => WATER_HARD.value,
        }
    }
}

/// The dose of one week.
///
/// ```text
/// D = (n·s + r·ρ)·w·h + p·c + g·d
/// ```
///
/// | symbol | meaning | unit | range |
/// |---|---|---|---|
/// | `n`, `r` | shampoo washes, rinse-only days | 1/week | 0 to 21 |
/// | `s` | shampoo | 1 | [`Shampoo::factor`] |
/// | `ρ` | a rinse | wash | [`RINSE`] |
/// | `w`, `h` | warmth, hardness of the water | 1 | [`Warmth::factor`], [`WaterHardness::factor`] |
/// | `p`, `c` | a swim; swims | wash; 1/week | [`POOL_SWIM`] |
/// | `g`, `d` | a day with a hot tool; days | wash; 1/week | [`HEAT_DAY`] |
///
/// Porosity is not in it: it bends the rate ([`super::kinetics`]), so one dose serves every zone of a head. Light is not in it either: it is a dose of its own, [`light`].
///
/// # Validity
/// Causes add up. That they do more than add was not measured well enough to be in it.
///
/// # Uncertainty
/// The range of each parameter; in the forecast, the habit part of [`super::uncertainty`].
///
/// # Source
/// The sum is chosen here; its parts are [`PARAMETERS`].
#[must_use]
pub fn weekly(wear: &Wear) -> Washes {
    let wetting = wear.washes.to_per_week() * wear.shampoo.factor() + wear.rinses.to_per_week() * RINSE.value;
    let water = wetting * wear.warmth.factor() * wear.hardness.factor();
    let pool = POOL_SWIM.value * wear.pool_swims.to_per_week();
    let heat = HEAT_DAY.value * wear.heat_days.to_per_week();
    Washes::from_washes(water + pool + heat)
}

/// ℓ, what light takes in a week, for each unit of that week's dose.
///
/// ```text
/// ℓ = μ·σ·t / D
/// ```
///
/// | symbol | meaning | unit | range |
/// |---|---|---|---|
/// | `μ` | rate at which weatherometer light takes dye | 1/h | [`LAMP_HOUR`] |
/// | `σ` | an hour of sun against an hour of weatherometer | 1 | [`SUN_AGAINST_LAMP`] |
/// | `t` | hours of sun | h/week | ≥ 0 |
/// | `D` | dose of the week | wash/week | [`weekly`] |
///
/// Light bleaches a dye where it sits, water carries it off; so an hour of light takes the same share of every class and band, however well it stands washing. Told for each wash, because the forecast counts in washes; without any washing there is no count, and nought.
///
/// # Validity
/// Measured on oxidative auburn and red on white hair only. That other classes lose the same share an hour is assumed. Washing and light together wear more than either alone; that they do more than add is not in it.
///
/// # Uncertainty
/// The ranges of both parameters. Ultraviolet makes 63 % of the effect of 16 h and 27 % of that of 48 h, so no filter against it is credited with stopping fade.
///
/// # Source
/// Locke & Jachowicz 2005, p. 416; μ fitted, see [`super::measured`].
#[must_use]
pub fn light(wear: &Wear) -> f64 {
    let dose = weekly(wear).to_washes();
    if dose <= 0.0 {
        return 0.0;
    }
    LAMP_HOUR.value * SUN_AGAINST_LAMP.value * wear.sun_hours.max(0.0) / dose
}

#[cfg(test)]
mod tests {
    use super::*;

    fn dose(change: impl FnOnce(&mut Wear)) -> f64 {
        let mut wear = Wear::default();
        change(&mut wear);
        weekly(&wear).to_washes()
    }

    #[test]
    fn two_ordinary_washes_are_a_dose_of_two() {
        assert!((dose(|_| ()) - 2.0).abs() < 1e-12);
    }

    #[test]
    fn no_habit_is_no_dose() {
        assert_eq!(dose(|wear| wear.washes = PerWeek::from_per_week(0.0)), 0.0);
    }

    #[test]
    fn every_habit_wears_and_none_is_credited_without_evidence() {
        let usual = dose(|_| ());
        assert!(dose(|wear| wear.rinses = PerWeek::from_per_week(1.0)) > usual);
        assert!(dose(|wear| wear.pool_swims = PerWeek::from_per_week(1.0)) > usual);
        assert!(dose(|wear| wear.heat_days = PerWeek::from_per_week(3.0)) > usual);
        assert!(dose(|wear| wear.warmth = Warmth::Hot) > usual);
        assert!(dose(|wear| wear.hardness = WaterHardness::Hard) > usual);
        assert!((dose(|wear| wear.copper = true) - usual).abs() < 1e-12);
        assert!((dose(|wear| wear.shampoo = Shampoo::Gentle) - usual).abs() < 1e-12);
        assert!((dose(|wear| wear.hardness = WaterHardness::Soft) - usual).abs() < 1e-12);
    }

    #[test]
    fn a_week_of_sun_takes_the_same_however_often_the_hair_is_washed() {
        for washes in [0.5, 2.0, 7.0] {
            let wear = Wear { washes: PerWeek::from_per_week(washes), sun_hours: 10.0, ..Wear::default() };
            let week = light(&wear) * weekly(&wear).to_washes();
            assert!((week - 10.0 * LAMP_HOUR.value * SUN_AGAINST_LAMP.value).abs() < 1e-12);
        }
        assert_eq!(light(&Wear::default()), 0.0);
    }

    #[test]
    fn water_alone_wears_no_faster_than_any_shampoo() {
        // Consumer NZ, 2015: plain water changed the colour least.
        let rinses =
            |wear: &mut Wear| (wear.washes, wear.rinses) = (PerWeek::from_per_week(0.0), PerWeek::from_per_week(2.0));
        for shampoo in [Shampoo::Gentle, Shampoo::Ordinary, Shampoo::Clarifying, Shampoo::Medicated] {
            assert!(dose(rinses) <= dose(|wear| wear.shampoo = shampoo));
        }
    }
}
