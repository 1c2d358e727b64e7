//! Reflectance to tristimulus values by plain 5 nm summation.

use super::spectrum::Spectrum;

/// Tristimulus values, the perfect diffuser having Y = 100.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Xyz {
    /// X.
    pub x: f64,
    /// Y, luminance.
    pub y: f64,
    /// Z.
    pub z: f64,
}

/// Tristimulus values of a reflectance (0 to 1 at each sample).
#[must_use]
pub fn of_reflectance(_reflectance: &Spectrum) -> Xyz {
    todo!()
}

/// The white point: the perfect diffuser by the same sums.
#[must_use]
pub fn white() -> Xyz {
    todo!()
}
