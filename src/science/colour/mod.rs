//! Colorimetry of one observer and one illuminant: CIE 1931 2°, D65, 380–780 nm at 5 nm.

pub mod cielab;
pub mod delta_e;
pub mod grey_scale;
pub mod hunter;
pub mod illuminant;
pub mod naming;
pub mod nearby;
pub mod observer;
pub mod oklab;
pub mod spectrum;
pub mod srgb;
pub mod tristimulus;
