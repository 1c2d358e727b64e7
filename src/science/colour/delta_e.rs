//! Colour differences: ΔE*ab (1976) and CIEDE2000.

use super::cielab::Lab;

/// ΔE*ab, the Euclidean difference.
#[must_use]
pub fn cie76(_one: Lab, _other: Lab) -> f64 {
    todo!()
}

/// CIEDE2000, kL = kC = kH = 1.
#[must_use]
pub fn ciede2000(_one: Lab, _other: Lab) -> f64 {
    todo!()
}
