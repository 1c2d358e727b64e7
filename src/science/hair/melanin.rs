//! The melanin law: absorption of the natural pigments against wavelength.
//!
//! | law | source |
//! |---|---|
//! | [`eumelanin`] brown-black pigment | Donner & Jensen 2006 |
//! | [`pheomelanin`] red-yellow pigment | Donner & Jensen 2006 |
//!
//! In: a wavelength. Out: absorption of the pure pigment. Knows nothing of: how much of it a fibre holds.

use crate::science::bibliography;
use crate::science::parameter::Parameter;

/// Scale of the eumelanin law.
pub const EUMELANIN_SCALE: Parameter = published("scale of eumelanin absorption", 6.6e10, 5.0e10, 8.0e10, "nm^3.33/mm");
/// Exponent of the eumelanin law.
pub const EUMELANIN_EXPONENT: Parameter = published("exponent of eumelanin absorption", 3.33, 3.0, 3.6, "1");
/// Scale of the pheomelanin law.
pub const PHEOMELANIN_SCALE: Parameter =
    published("scale of pheomelanin absorption", 2.9e14, 2.0e14, 4.0e14, "nm^4.75/mm");
/// Exponent of the pheomelanin law.
pub const PHEOMELANIN_EXPONENT: Parameter = published("exponent of pheomelanin absorption", 4.75, 4.3, 5.2, "1");

/// Every number of this module.
pub const PARAMETERS: &[&Parameter] =
    &[&EUMELANIN_SCALE, &EUMELANIN_EXPONENT, &PHEOMELANIN_SCALE, &PHEOMELANIN_EXPONENT];

const fn published(name: &'static str, value: f64, low: f64, high: f64, unit: &'static str) -> Parameter {
    Parameter::published(name, value, low, high, unit, &bibliography::DONNER_JENSEN_2006)
}

/// Absorption coefficient of pure eumelanin, mm⁻¹.
///
/// ```text
/// μ(λ) = 6.6·10¹⁰ · λ^−3.33
/// ```
///
/// | symbol | meaning | unit | range |
/// |---|---|---|---|
/// | `λ` | wavelength | nm | 380 to 780 |
/// | `μ` | absorption coefficient | 1/mm | 15 to 170 |
///
/// # Validity
/// A fit for skin pigment, used here for the pigment of hair, for its shape against wavelength only.
///
/// # Uncertainty
/// The skin fit of [`JACQUES_1998`](crate::science::bibliography::JACQUES_1998) has the exponent 3.48; the range of the exponent covers it.
///
/// # Source
/// Donner & Jensen 2006, as coded in two open renderers; the paper itself was not read.
///
/// # Example
/// ```
/// use afterhue::science::hair::melanin::eumelanin;
/// assert!((eumelanin(550.0) - 49.447).abs() < 0.01);
/// ```
#[must_use]
pub fn eumelanin(wavelength: f64) -> f64 {
    EUMELANIN_SCALE.value * wavelength.powf(-EUMELANIN_EXPONENT.value)
}

/// Absorption coefficient of pure pheomelanin, mm⁻¹.
///
/// ```text
/// μ(λ) = 2.9·10¹⁴ · λ^−4.75
/// ```
///
/// | symbol | meaning | unit | range |
/// |---|---|---|---|
/// | `λ` | wavelength | nm | 380 to 780 |
/// | `μ` | absorption coefficient | 1/mm | 5 to 165 |
///
/// # Validity
/// As [`eumelanin`].
///
/// # Uncertainty
/// Between 450 and 650 nm it falls 5.7-fold where a measured extinction falls 6.6-fold.
///
/// # Source
/// Donner & Jensen 2006, as coded in two open renderers; the paper itself was not read.
///
/// # Example
/// ```
/// use afterhue::science::hair::melanin::pheomelanin;
/// assert!((pheomelanin(550.0) - 27.905).abs() < 0.01);
/// ```
#[must_use]
pub fn pheomelanin(wavelength: f64) -> f64 {
    PHEOMELANIN_SCALE.value * wavelength.powf(-PHEOMELANIN_EXPONENT.value)
}

/// The wavelength at which relative absorption is 1, nm: the middle of the eye's range.
const REFERENCE: f64 = 550.0;

/// Eumelanin absorption relative to 550 nm.
#[must_use]
pub fn eumelanin_relative(wavelength: f64) -> f64 {
    (wavelength / REFERENCE).powf(-EUMELANIN_EXPONENT.value)
}

/// Pheomelanin absorption relative to 550 nm.
#[must_use]
pub fn pheomelanin_relative(wavelength: f64) -> f64 {
    (wavelength / REFERENCE).powf(-PHEOMELANIN_EXPONENT.value)
}
