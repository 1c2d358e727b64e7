//! Kubelka–Munk colour of a thick bundle of fibres.
//!
//! | law | source |
//! |---|---|
//! | [`absorption_ratio`] K/S of a reflectance | Kubelka & Munk 1931, the limit of infinite thickness |
//! | [`reflectance`] its inverse | the same |
//! | [`bundle`] dye on hair: K/S add | single-constant theory |
//!
//! In: K/S of the hair and of the dye. Out: reflectance. Knows nothing of: what the absorption comes from.

use crate::science::colour::spectrum::{SAMPLES, Spectrum};

/// K/S of the reflectance of an opaque layer.
///
/// ```text
/// q = K/S = (1 − R)² / 2R
/// ```
///
/// | symbol | meaning | unit | range |
/// |---|---|---|---|
/// | `R` | reflectance of a layer too thick to see through | 1 | > 0 to 1 |
/// | `q` | absorption over scattering | 1 | ≥ 0 |
///
/// # Validity
/// Diffuse light in a layer that scatters everywhere alike. A tress is not such a layer, yet K/S is in use as colour strength on dyed human hair ([`YUN_AHN_2023`](crate::science::bibliography::YUN_AHN_2023)).
///
/// # Uncertainty
/// Not known for hair: no measured K/S of one hair under several loads of one dye was read.
///
/// # Source
/// Kubelka & Munk, Z. tech. Phys. 12, 593–601 (1931), equation from memory.
///
/// # Example
/// ```
/// use afterhue::science::hair::fibre::absorption_ratio;
/// assert!((absorption_ratio(0.5) - 0.25).abs() < 1e-12);
/// ```
#[must_use]
pub fn absorption_ratio(reflectance: f64) -> f64 {
    (1.0 - reflectance).powi(2) / (2.0 * reflectance)
}

/// Reflectance of a layer with a given K/S.
///
/// ```text
/// R = 1 + q − √(q² + 2q) = 1 / (1 + q + √(q² + 2q))
/// ```
///
/// The two forms are equal; the second is computed, because the first subtracts two nearly equal numbers when `q` is large.
///
/// | symbol | meaning | unit | range |
/// |---|---|---|---|
/// | `q` | absorption over scattering | 1 | ≥ 0 |
/// | `R` | reflectance | 1 | > 0 to 1 |
///
/// # Validity
/// As [`absorption_ratio`].
///
/// # Uncertainty
/// As [`absorption_ratio`]; the inverse itself is good to 10⁻¹².
///
/// # Source
/// The inverse of [`absorption_ratio`].
#[must_use]
pub fn reflectance(absorption_ratio: f64) -> f64 {
    let q = absorption_ratio;
    1.0 / (1.0 + q + (q * (q + 2.0)).sqrt())
}

/// How the reflectance answers a change of K/S: dR/dq = −R / √(q² + 2q).
///
/// Infinite at q = 0, where the law has a vertical tangent; no hair reaches it.
#[must_use]
pub fn reflectance_slope(absorption_ratio: f64) -> f64 {
    let q = absorption_ratio;
    -reflectance(q) / (q * (q + 2.0)).sqrt()
}

/// Reflectance of a bundle whose K/S is the sum of the hair's own and the dye's.
///
/// ```text
/// q(λ) = q_base(λ) + q_dye(λ),   R(λ) = 1 / (1 + q + √(q² + 2q))
/// ```
///
/// | symbol | meaning | unit | range |
/// |---|---|---|---|
/// | `λ` | wavelength | nm | 380 to 780 |
/// | `q_base`, `q_dye` | absorption over scattering, of the hair and of the dye on it | 1 | ≥ 0 |
/// | `R` | reflectance of both together | 1 | > 0 to 1 |
///
/// # Validity
/// The dye absorbs and does not scatter: the scattering is the fibre's.
///
/// # Uncertainty
/// As [`absorption_ratio`].
///
/// # Source
/// Single-constant Kubelka–Munk theory.
#[must_use]
pub fn bundle(base: &Spectrum, dye: &Spectrum) -> Spectrum {
    let mut sum = [0.0; SAMPLES];
    for ((sum, base), dye) in sum.iter_mut().zip(&base.0).zip(&dye.0) {
        *sum = reflectance(base + dye);
    }
    Spectrum(sum)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_inverse_brings_every_reflectance_back() {
        for step in 1..=1000 {
            let r = f64::from(step) / 1000.0;
            assert!((reflectance(absorption_ratio(r)) - r).abs() < 1e-12, "{r}");
        }
    }

    #[test]
    fn a_very_dark_bundle_keeps_its_digits() {
        // For large q the law tends to R = 1 / (2(q + 1)).
        for q in [1e4, 1e8, 1e12] {
            assert!((reflectance(q) * 2.0 * (q + 1.0) - 1.0).abs() < 1e-7, "{q}");
        }
    }

    #[test]
    fn the_slope_is_that_of_the_law() {
        for q in [0.02, 0.3, 4.0, 50.0] {
            let h = 1e-6 * q;
            let measured = (reflectance(q + h) - reflectance(q - h)) / (2.0 * h);
            assert!((reflectance_slope(q) / measured - 1.0).abs() < 1e-6, "{q}");
        }
    }
}
