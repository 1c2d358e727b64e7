//! Oklab, the space in which pages mix and shift colours.

use super::cielab::Lab;

/// A colour in Oklab.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Oklab {
    /// Lightness, 0 to 1.
    pub l: f64,
    /// Green to red.
    pub a: f64,
    /// Blue to yellow.
    pub b: f64,
}

/// Oklab of a CIELAB colour.
#[must_use]
pub fn from_lab(_lab: Lab) -> Oklab {
    todo!()
}

/// CIELAB of an Oklab colour.
#[must_use]
pub fn to_lab(_oklab: Oklab) -> Lab {
    todo!()
}
