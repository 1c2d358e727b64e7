//! A spectrum on the program's one wavelength grid.

/// Number of samples: 380 to 780 nm in steps of 5 nm.
pub const SAMPLES: usize = 81;

/// Values at 380, 385, … 780 nm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Spectrum(pub [f64; SAMPLES]);

/// The wavelength of sample `index`, nm.
#[must_use]
pub fn wavelength(index: usize) -> f64 {
    380.0 + 5.0 * index as f64
}

impl Spectrum {
    /// A spectrum from a law of the wavelength in nm.
    #[must_use]
    pub fn from_law(law: impl Fn(f64) -> f64) -> Self {
        Self(std::array::from_fn(|index| law(wavelength(index))))
    }

    /// Sample by sample.
    #[must_use]
    pub fn map(self, law: impl Fn(f64) -> f64) -> Self {
        Self(self.0.map(law))
    }
}
