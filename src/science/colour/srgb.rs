//! sRGB (IEC 61966-2-1): the colours a screen shows.

use super::cielab::Lab;

/// An sRGB colour, 8 bits a channel.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Srgb {
    /// Red.
    pub r: u8,
    /// Green.
    pub g: u8,
    /// Blue.
    pub b: u8,
}

impl Srgb {
    /// As `#rrggbb`.
    #[must_use]
    pub fn to_hex(self) -> String {
        format!("#{:02x}{:02x}{:02x}", self.r, self.g, self.b)
    }

    /// From `#rrggbb` (either case).
    #[must_use]
    pub fn from_hex(_text: &str) -> Option<Self> {
        todo!()
    }

    /// Relative luminance, 0 to 1 (WCAG 2.2).
    #[must_use]
    pub fn relative_luminance(self) -> f64 {
        todo!()
    }
}

/// The nearest sRGB colour: outside the gamut, chroma is reduced at the same lightness and hue.
#[must_use]
pub fn from_lab(_lab: Lab) -> Srgb {
    todo!()
}

/// CIELAB of an sRGB colour.
#[must_use]
pub fn to_lab(_srgb: Srgb) -> Lab {
    todo!()
}

/// Contrast ratio of two colours, 1 to 21 (WCAG 2.2).
#[must_use]
pub fn contrast(_one: Srgb, _other: Srgb) -> f64 {
    todo!()
}
