//! CIE standard illuminant D65, average daylight.
//!
//! | item | |
//! |------|--|
//! | source | ISO/CIE 11664-2 and CIE 015:2018 ([`ISO_CIE_11664_2`](crate::science::bibliography::ISO_CIE_11664_2)) |
//! | step | 5 nm |
//! | truncation | 380 to 780 nm; the standard runs from 300 to 830 nm, which matters to fluorescence only |
//!
//! Colour seen under salon lamps differs; the forecast speaks of daylight throughout.

use std::sync::LazyLock;

use super::spectrum;
use super::spectrum::Spectrum;

/// Relative spectral power of D65, 100 at 560 nm.
pub static D65: LazyLock<Spectrum> = LazyLock::new(|| {
    let [power] = spectrum::table(include_str!("data/d65.csv"));
    power
});

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_power_is_100_at_560_nanometres() {
        assert_eq!((spectrum::wavelength(36), D65.0[36]), (560.0, 100.0));
    }
}
