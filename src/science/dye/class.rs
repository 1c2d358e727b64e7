//! Dye classes as the trade sells them, and how many washes each is said to last.
//!
//! In: a word. Out: the class, its published life in washes. Knows nothing of: hair, hue.

use crate::science::bibliography;
use crate::science::parameter::Parameter;
use crate::units::worded;

worded! {
    /// A dye class.
    DyeClass, "dye class" {
        /// Washes out in one or two washes.
        Temporary = "temporary",
        /// Direct dye: pastels and vivids, no developer.
        Direct = "direct" ["semi-permanent", "semi"],
        /// Oxidative without lift: toners and glosses.
        Demi = "demi-permanent" ["demi", "quasi-permanent", "quasi", "toner", "gloss"],
        /// Oxidative with lift.
        Permanent = "permanent" ["tint", "oxidative"],
    }
}

/// Washes until a temporary colour is washed out.
pub const WASHES_TEMPORARY: Parameter = washes("washes until washed out, temporary", 1.25, 1.0, 2.0);
/// Washes until a direct dye is washed out of lightened, porous hair.
pub const WASHES_DIRECT: Parameter = washes("washes until washed out, direct", 7.2, 5.0, 10.0);
/// Washes until a demi-permanent colour is washed out: sources differ by a factor of two.
pub const WASHES_DEMI: Parameter = washes("washes until washed out, demi-permanent", 17.5, 10.0, 24.0);
/// What "washed out" is taken to mean.
pub const WASHED_OUT: Parameter = Parameter::assumed(
    "share of dye left when handbooks say washed out",
    0.10,
    0.05,
    0.20,
    "1",
    "no handbook says what washed out means; a tenth is hard to see on the hair",
);
/// Rate at which a permanent colour leaves the held pool of lightened or white hair. Fitted: `fade::measured`.
///
/// Handbooks say it grows out, yet fades. Undamaged hair slows it further.
pub const RATE_PERMANENT: Parameter = Parameter::published(
    "rate of the held pool, permanent",
    0.0227,
    0.010,
    0.045,
    "1/wash",
    &bibliography::COPPER_FADE_2021,
);

/// Every number of this module.
pub const PARAMETERS: &[&Parameter] = &[&WASHES_TEMPORARY, &WASHES_DIRECT, &WASHES_DEMI, &WASHED_OUT, &RATE_PERMANENT];

const fn washes(name: &'static str, value: f64, low: f64, high: f64) -> Parameter {
    Parameter::published(name, value, low, high, "wash", &bibliography::EVANS_WICKETT_2012)
}

impl DyeClass {
    /// The published life in washes; nothing for permanent colour, which grows out.
    #[must_use]
    pub const fn washes(self) -> Option<&'static Parameter> {
        match self {
            Self::Temporary => Some(&WASHES_TEMPORARY),
            Self::Direct => Some(&WASHES_DIRECT),
            Self::Demi => Some(&WASHES_DEMI),
            Self::Permanent => None,
        }
    }

    /// Whether its dyes are made in the hair by an oxidant.
    #[must_use]
    pub const fn is_oxidative(self) -> bool {
        matches!(self, Self::Demi | Self::Permanent)
    }
}
