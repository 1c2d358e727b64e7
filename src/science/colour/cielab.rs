//! CIELAB.

use super::{spectrum::Spectrum, tristimulus::Xyz};

/// A colour in CIELAB, white point as [`super::tristimulus::white`].
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Lab {
    /// Lightness, 0 to 100.
    pub l: f64,
    /// Green to red.
    pub a: f64,
    /// Blue to yellow.
    pub b: f64,
}

impl Lab {
    /// A colour by its coordinates.
    #[must_use]
    pub const fn new(l: f64, a: f64, b: f64) -> Self {
        Self { l, a, b }
    }

    /// Chroma C*ab.
    #[must_use]
    pub fn chroma(self) -> f64 {
        self.a.hypot(self.b)
    }

    /// Hue angle h_ab in degrees, 0 to 360.
    #[must_use]
    pub fn hue(self) -> f64 {
        self.b.atan2(self.a).to_degrees().rem_euclid(360.0)
    }
}

/// CIELAB of tristimulus values.
#[must_use]
pub fn from_xyz(_xyz: Xyz) -> Lab {
    todo!()
}

/// Tristimulus values of a CIELAB colour.
#[must_use]
pub fn to_xyz(_lab: Lab) -> Xyz {
    todo!()
}

/// CIELAB of a reflectance.
#[must_use]
pub fn of_reflectance(_reflectance: &Spectrum) -> Lab {
    todo!()
}
