//! Hunter L, a, b: the colour scale of older instruments, and the total difference on it.
//!
//! In: tristimulus values. Out: Hunter coordinates, only to compare with measurements told on this scale. Knows nothing of: CIELAB, which everything else here uses.

use super::tristimulus::{Xyz, white};

/// The coefficient of a for D65 and the 2° observer.
const K_A: f64 = 172.30;
/// The coefficient of b.
const K_B: f64 = 67.20;

/// A colour on the Hunter scale.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Hunter {
    /// Lightness, 0 to 100.
    pub l: f64,
    /// Red above, green below nought.
    pub a: f64,
    /// Yellow above, blue below nought.
    pub b: f64,
}

impl Hunter {
    /// The colour of tristimulus values under D65.
    ///
    /// ```text
    /// L = 100·√(Y/Yₙ)   a = Kₐ·(X/Xₙ − Y/Yₙ)/√(Y/Yₙ)   b = K_b·(Y/Yₙ − Z/Zₙ)/√(Y/Yₙ)
    /// ```
    ///
    /// | symbol | meaning | unit | range |
    /// |---|---|---|---|
    /// | `X Y Z` | tristimulus values | 1 | Y > 0 |
    /// | `Xₙ Yₙ Zₙ` | those of white | 1 | D65, 2° |
    /// | `Kₐ`, `K_b` | coefficients of the illuminant | 1 | 172.30, 67.20 |
    ///
    /// # Validity
    /// A square root where CIELAB has a cube root: dark colours lie nearer together here, so differences on the two scales are not the same number.
    ///
    /// # Uncertainty
    /// The coefficients are rounded; the white here is the program's own, 0.02 from the one the coefficients were made for.
    ///
    /// # Source
    /// [`HUNTERLAB_2008`](crate::science::bibliography::HUNTERLAB_2008), as carried by an open implementation.
    ///
    /// # Example
    /// The open implementation's own example:
    /// ```
    /// use afterhue::science::colour::{hunter::Hunter, tristimulus::Xyz};
    /// let found = Hunter::of(Xyz { x: 20.654_008, y: 12.197_225, z: 5.136_952 });
    /// assert!((found.l - 34.925).abs() < 0.001);
    /// assert!((found.a - 47.062).abs() < 0.03 && (found.b - 14.386).abs() < 0.03);
    /// ```
    #[must_use]
    pub fn of(xyz: Xyz) -> Self {
        let n = white();
        let (x, y, z) = (xyz.x / n.x, xyz.y / n.y, xyz.z / n.z);
        let root = y.sqrt();
        Self { l: 100.0 * root, a: K_A * (x - y) / root, b: K_B * (y - z) / root }
    }

    /// The total difference, ΔE on this scale.
    #[must_use]
    pub fn difference(self, other: Self) -> f64 {
        ((self.l - other.l).powi(2) + (self.a - other.a).powi(2) + (self.b - other.b).powi(2)).sqrt()
    }
}
