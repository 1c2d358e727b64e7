//! What a tone lies on: lightened, natural or part-white hair.
//!
//! In: the pigmented fibres, the share of white ones, a dye's K/S. Out: reflectance and colour. Knows nothing of: which dye.

use std::sync::LazyLock;

use super::{depth, depth::NaturalDepth, fibre, stage, stage::LightenedStage};
use crate::science::colour::{cielab, cielab::Lab, spectrum::Spectrum};
use crate::science::memo::Memo;
use crate::science::parameter::Parameter;
use crate::units::Fraction;

/// The hair under the colour.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Base {
    /// The pigmented fibres.
    pub pigment: Pigment,
    /// The share of fibres that are white: reflectances mix by this share.
    pub white: Fraction,
}

/// The pigmented fibres of a base.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Pigment {
    /// Lightened to a stage.
    Lightened(LightenedStage),
    /// Natural, untouched.
    Natural(NaturalDepth),
}

/// Flat absorption of white hair.
pub const WHITE_FLAT: Parameter = Parameter::assumed(
    "flat K/S of white hair",
    0.06,
    0.03,
    0.12,
    "1",
    "a little duller than the palest lightened stage",
);
/// Yellow cast of white hair.
pub const WHITE_YELLOW: Parameter = Parameter::assumed(
    "yellow K/S of white hair",
    0.15,
    0.05,
    0.4,
    "1",
    "half the yellow of the palest lightened stage; white hair is not neutral",
);

/// Every number of this module.
pub const PARAMETERS: &[&Parameter] = &[&WHITE_FLAT, &WHITE_YELLOW];

impl Pigment {
    /// K/S of the pigmented fibres without dye.
    #[must_use]
    pub fn absorption(self) -> Spectrum {
        // Asked for at every colour of every zone, for a few dozen stages and depths.
        static KEPT: Memo<2, Spectrum> = Memo::new(4096);
        match self {
            Self::Lightened(stage) => KEPT.get([0.0, stage.value()], || stage::absorption(stage)),
            Self::Natural(depth) => KEPT.get([1.0, depth.value()], || depth::absorption(depth)),
        }
    }
}

/// K/S of white fibres without dye: a flat part and a faint yellow edge.
///
/// # Source
/// Assumed: [`PARAMETERS`].
#[must_use]
pub fn white_absorption() -> Spectrum {
    static WHITE: LazyLock<Spectrum> =
        LazyLock::new(|| Spectrum::from_law(|λ| WHITE_FLAT.value + WHITE_YELLOW.value * stage::yellow_edge(λ)));
    *WHITE
}

/// The hair of a base as it meets any dye: what its fibres absorb, looked up once.
#[derive(Debug, Clone, PartialEq)]
pub struct Fibres {
    pigmented: Spectrum,
    /// The share of white fibres, 0 to 1, with what they absorb; nothing when there are none.
    white: Option<(f64, Spectrum)>,
}

impl Fibres {
    /// The reflectance with a dye of this K/S in it.
    #[must_use]
    pub fn reflectance_under(&self, dye: &Spectrum) -> Spectrum {
        let pigmented = fibre::bundle(&self.pigmented, dye);
        let Some((w, white)) = &self.white else { return pigmented };
        let white = fibre::bundle(white, dye);
        let mut mixed = pigmented;
        for (mixed, white) in mixed.0.iter_mut().zip(&white.0) {
            *mixed = (1.0 - w) * *mixed + w * white;
        }
        mixed
    }

    /// The colour with a dye of this K/S in it.
    #[must_use]
    pub fn colour_under(&self, dye: &Spectrum) -> Lab {
        cielab::of_reflectance(&self.reflectance_under(dye))
    }
}

impl Base {
    /// Its hair, for many dyes.
    #[must_use]
    pub fn fibres(&self) -> Fibres {
        let w = self.white.to_fraction();
        Fibres { pigmented: self.pigment.absorption(), white: (w > 0.0).then(|| (w, white_absorption())) }
    }

    /// Hair lightened to a stage, none of it white.
    #[must_use]
    pub const fn lightened(stage: LightenedStage) -> Self {
        Self { pigment: Pigment::Lightened(stage), white: Fraction::from_fraction(0.0) }
    }

    /// Untouched hair, none of it white.
    #[must_use]
    pub const fn natural(depth: NaturalDepth) -> Self {
        Self { pigment: Pigment::Natural(depth), white: Fraction::from_fraction(0.0) }
    }

    /// Reflectance of this base under a dye whose K/S is given (all zero for bare hair).
    ///
    /// ```text
    /// R(λ) = (1 − w)·R_KM(q_pigment + q_dye) + w·R_KM(q_white + q_dye)
    /// ```
    ///
    /// | symbol | meaning | unit | range |
    /// |---|---|---|---|
    /// | `w` | share of white fibres | 1 | 0 to 1 |
    /// | `q` | absorption over scattering | 1 | ≥ 0 |
    ///
    /// # Validity
    /// White and pigmented fibres lie side by side and take the same dye: light mixes, pigment does not.
    ///
    /// # Uncertainty
    /// The colour of white hair is assumed: [`PARAMETERS`].
    ///
    /// # Source
    /// [`fibre::bundle`]; mixing by area is additive.
    #[must_use]
    pub fn reflectance_under(&self, dye: &Spectrum) -> Spectrum {
        self.fibres().reflectance_under(dye)
    }

    /// CIELAB of this base under a dye.
    #[must_use]
    pub fn colour_under(&self, dye: &Spectrum) -> Lab {
        cielab::of_reflectance(&self.reflectance_under(dye))
    }

    /// CIELAB of the bare base.
    #[must_use]
    pub fn bare(&self) -> Lab {
        self.colour_under(&Spectrum::from_law(|_| 0.0))
    }
}
