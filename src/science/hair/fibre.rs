//! Kubelka–Munk colour of a thick bundle of fibres.

use crate::science::colour::spectrum::Spectrum;

/// K/S of a reflectance: q = (1 − R)² / 2R.
#[must_use]
pub fn absorption_ratio(_reflectance: f64) -> f64 {
    todo!()
}

/// Reflectance of K/S: R = 1 + q − √(q² + 2q).
#[must_use]
pub fn reflectance(_absorption_ratio: f64) -> f64 {
    todo!()
}

/// Reflectance of a bundle whose K/S is the sum of the hair's own and the dye's.
#[must_use]
pub fn bundle(_base: &Spectrum, _dye: &Spectrum) -> Spectrum {
    todo!()
}
