//! The scale of natural depths and its computed colour.
//!
//! In: a depth. Out: the K/S of untouched hair. Knows nothing of: lightened stages, which are another scale.

use super::fibre;
use super::melanin::{eumelanin_relative, pheomelanin_relative};
use crate::science::bibliography;
use crate::science::colour::spectrum::Spectrum;
use crate::science::parameter::Parameter;

/// A natural depth, 1 (black) to 10 (lightest blonde).
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct NaturalDepth(f64);

impl NaturalDepth {
    /// The darkest depth.
    pub const LOW: f64 = 1.0;
    /// The lightest depth.
    pub const HIGH: f64 = 10.0;

    /// A depth, or nothing when out of range.
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

/// Melanin K/S at 550 nm of depth 3, dark brown.
pub const DARK_BROWN: Parameter = Parameter::assumed(
    "melanin K/S at 550 nm of natural depth 3",
    25.0,
    15.0,
    40.0,
    "1",
    "set so that depth 3 comes near the dark brown tress measured in J. Cosmet. Sci. 51 (2000)",
);
/// How much more melanin one depth darker holds.
pub const DEPTH_RATIO: Parameter = Parameter::assumed(
    "melanin ratio of one natural depth to the next lighter",
    1.85,
    1.6,
    2.1,
    "1",
    "equal steps of a scale graded by eye are taken as equal ratios; set so that depth 1 comes near measured black hair and depth 10 is a light blonde",
);
/// Share of pheomelanin.
pub const PHEOMELANIN_SHARE: Parameter = Parameter::assumed(
    "pheomelanin share of natural absorption at 550 nm",
    0.1,
    0.0,
    0.3,
    "1",
    "a little, as in hair that is not red; red-haired clients are outside the scale",
);
/// Flat absorption of the fibre without pigment.
pub const KERATIN: Parameter = Parameter::assumed(
    "flat K/S of a fibre without pigment",
    0.04,
    0.02,
    0.08,
    "1",
    "the flat part of the palest lightened stage",
);
/// Light reflected by the surface of the bundle before it meets pigment.
pub const SURFACE: Parameter =
    Parameter::published("surface reflectance of a bundle", 0.020, 0.010, 0.026, "1", &bibliography::HAIR_LUSTRE_2000);

/// Every number of this module.
pub const PARAMETERS: &[&Parameter] = &[&DARK_BROWN, &DEPTH_RATIO, &PHEOMELANIN_SHARE, &KERATIN, &SURFACE];

/// K/S of natural, untouched hair, as it looks.
///
/// ```text
/// c(d)  = c₃ · g^(3 − d)
/// q(λ)  = k + c·[(1 − p)·(λ/550)^−3.33 + p·(λ/550)^−4.75]
/// R(λ)  = s + (1 − s)·R_KM(q)
/// K/S   = (1 − R)² / 2R
/// ```
///
/// | symbol | meaning | unit | range |
/// |---|---|---|---|
/// | `d` | natural depth | 1 | 1 to 10 |
/// | `c₃` | melanin K/S at 550 nm of depth 3 | 1 | [`DARK_BROWN`] |
/// | `g` | ratio from one depth to the next | 1 | [`DEPTH_RATIO`] |
/// | `p` | pheomelanin share | 1 | [`PHEOMELANIN_SHARE`] |
/// | `k` | flat absorption | 1 | [`KERATIN`] |
/// | `s` | surface reflectance | 1 | [`SURFACE`] |
///
/// The surface is needed: black hair measures L* 18.4 and nearly neutral, which is the 2.6 % of light that never entered it. Without it the melanin law alone makes dark brown hair three times as yellow as measured.
///
/// # Validity
/// Hair that is not red. The trade's scale has no measured table that was reached.
///
/// # Uncertainty
/// Against the measured dark brown tress (L* 23.0, a* 4.0, b* 4.7) depth 3 differs by ΔE00 under 4, about three times the noise of re-measuring one tress (1.3). Those tresses were measured for the 10° observer, this program computes for 2°.
///
/// # Source
/// Melanin: [`super::melanin`]. Anchors: J. Cosmet. Sci. 51, 293 and 299 (2000).
#[must_use]
pub fn absorption(depth: NaturalDepth) -> Spectrum {
    let c = DARK_BROWN.value * DEPTH_RATIO.value.powf(3.0 - depth.value());
    let p = PHEOMELANIN_SHARE.value;
    let s = SURFACE.value;
    Spectrum::from_law(|λ| {
        let q = KERATIN.value + c * ((1.0 - p) * eumelanin_relative(λ) + p * pheomelanin_relative(λ));
        fibre::absorption_ratio(s + (1.0 - s) * fibre::reflectance(q))
    })
}
