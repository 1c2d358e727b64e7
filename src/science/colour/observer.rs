//! The CIE 1931 2° standard observer.
//!
//! | item | |
//! |------|--|
//! | source | CIE 015:2018 and ISO/CIE 11664-1 ([`ISO_CIE_11664_1`](crate::science::bibliography::ISO_CIE_11664_1)) |
//! | step | 5 nm |
//! | truncation | 380 to 780 nm; the standard runs from 360 to 830 nm, where the values left out stay below 0.000 14 |
//!
//! Why 2° and not 10°: a swatch on a telephone and a strand in the hand are both seen small, and sRGB is defined
//! for the 2° observer, so what is computed and what is shown stay in one space.

use std::sync::LazyLock;

use super::spectrum;
use super::spectrum::Spectrum;

/// The colour-matching functions.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Observer {
    /// x̄(λ).
    pub x_bar: Spectrum,
    /// ȳ(λ), the luminous efficiency.
    pub y_bar: Spectrum,
    /// z̄(λ).
    pub z_bar: Spectrum,
}

/// The CIE 1931 2° standard observer on the program's grid.
pub static CIE_1931_2_DEGREE: LazyLock<Observer> = LazyLock::new(|| {
    let [x_bar, y_bar, z_bar] = spectrum::table(include_str!("data/cie_1931_2_degree.csv"));
    Observer { x_bar, y_bar, z_bar }
});

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn luminous_efficiency_peaks_with_one_at_555_nanometres() {
        let peak = CIE_1931_2_DEGREE.y_bar.0.iter().copied().fold(0.0, f64::max);
        assert_eq!([peak, CIE_1931_2_DEGREE.y_bar.0[35], spectrum::wavelength(35)], [1.0, 1.0, 555.0]);
    }

    /// The three functions are scaled to equal areas (CIE 015:2018): equal-energy white is x = y = 1/3.
    #[test]
    fn the_three_functions_have_equal_areas() {
        let area = |values: &Spectrum| values.0.iter().sum::<f64>();
        let observer = &*CIE_1931_2_DEGREE;
        let y = area(&observer.y_bar);
        assert!((area(&observer.x_bar) / y - 1.0).abs() < 5e-4);
        assert!((area(&observer.z_bar) / y - 1.0).abs() < 5e-4);
    }
}
