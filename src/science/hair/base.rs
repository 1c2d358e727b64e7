//! What a tone lies on: lightened, natural or part-white hair.

use super::{depth::NaturalDepth, stage::LightenedStage};
use crate::science::colour::{cielab::Lab, spectrum::Spectrum};
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

impl Base {
    /// Reflectance of this base under a dye whose K/S is given (all zero for bare hair).
    #[must_use]
    pub fn reflectance_under(&self, _dye: &Spectrum) -> Spectrum {
        todo!()
    }

    /// CIELAB of this base under a dye.
    #[must_use]
    pub fn colour_under(&self, _dye: &Spectrum) -> Lab {
        todo!()
    }
}
