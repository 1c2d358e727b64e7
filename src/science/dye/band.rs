//! Dyes by hue family: Gaussian absorption bands.

use crate::science::colour::spectrum::Spectrum;
use crate::units::worded;

worded! {
    /// The five bands, by the colour the dye looks.
    Band, "hue family" {
        /// 430 nm.
        Yellow = "yellow",
        /// 480 nm.
        Orange = "orange",
        /// 530 nm.
        PinkRed = "pink-red" ["pink", "red"],
        /// 560 nm.
        Violet = "violet",
        /// 620 nm.
        Blue = "blue",
    }
}

/// Load of each band, peak K/S, in the order of [`Band`]; never negative.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Loads(pub [f64; 5]);

/// K/S of the dye: the sum of load times band.
#[must_use]
pub fn absorption(_loads: &Loads) -> Spectrum {
    todo!()
}
