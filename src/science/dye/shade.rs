//! Shades by name: the colour a word stands for when nobody measured it.

use crate::science::colour::cielab::Lab;

/// A named shade.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Shade {
    /// The name a person writes: "rose pastel".
    pub name: &'static str,
    /// The colour assumed.
    pub colour: Lab,
}

/// All named shades, by name.
#[must_use]
pub fn shades() -> &'static [Shade] {
    todo!()
}

/// The shade of a name; capitals, hyphens and order of words do not matter.
#[must_use]
pub fn by_name(_name: &str) -> Option<&'static Shade> {
    todo!()
}
