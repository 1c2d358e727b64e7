//! Typed colour names from lightness, chroma and hue. The words themselves are the catalogue's business.

use super::cielab::Lab;

/// A hue family as the trade says it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Hue {
    /// Pink to rose.
    Rose,
    /// Red.
    Red,
    /// Peach or, deeper, copper.
    Peach,
    /// Orange.
    Orange,
    /// Golden, the warm yellow of lightened hair.
    Gold,
    /// Yellow.
    Yellow,
    /// Yellow-green.
    YellowGreen,
    /// Green.
    Green,
    /// Mint or, deeper, teal: blue-green.
    Teal,
    /// Blue.
    Blue,
    /// Violet.
    Violet,
    /// Magenta, plum.
    Magenta,
    /// Too little chroma for a hue: neutral, silver, grey, or beige when it leans warm.
    Neutral,
}

/// How deep a colour is, by lightness.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Depth {
    /// Black to very dark.
    VeryDark,
    /// Dark.
    Dark,
    /// Medium.
    Medium,
    /// Light.
    Light,
    /// Very light.
    Pale,
}

/// How strong a colour is, by chroma.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Strength {
    /// Hardly any.
    Greyed,
    /// Soft.
    Soft,
    /// Clear.
    Clear,
    /// Vivid.
    Vivid,
}

/// A colour in words, typed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct ColourName {
    /// The hue family.
    pub hue: Hue,
    /// The depth.
    pub depth: Depth,
    /// The strength.
    pub strength: Strength,
}

/// Names a colour by the documented rule.
#[must_use]
pub fn name(_lab: Lab) -> ColourName {
    todo!()
}
