//! Reflectance to tristimulus values by plain 5 nm summation, and linear maps of tristimulus values.
//!
//! | law | source |
//! |-----|--------|
//! | [`of_reflectance`] | CIE 015:2018, 7.1 |
//! | [`white`] | the same sums of the perfect diffuser |
//!
//! Knows nothing of: hair, screens, or any other observer and illuminant than the program's one pair.

use std::sync::LazyLock;

use super::illuminant::D65;
use super::observer::CIE_1931_2_DEGREE;
use super::spectrum::{SAMPLES, Spectrum};

/// Tristimulus values, the perfect diffuser having Y = 100.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Xyz {
    /// X.
    pub x: f64,
    /// Y, luminance.
    pub y: f64,
    /// Z.
    pub z: f64,
}

impl Xyz {
    /// Chromaticity x, y.
    ///
    /// ```
    /// use afterhue::science::colour::tristimulus;
    /// let (x, y) = tristimulus::white().chromaticity();
    /// assert!((x - 0.31272).abs() < 1e-5 && (y - 0.32903).abs() < 1e-5); // D65, CIE 015:2018
    /// ```
    #[must_use]
    pub fn chromaticity(self) -> (f64, f64) {
        let sum = self.x + self.y + self.z;
        (self.x / sum, self.y / sum)
    }
}

/// Observer, illuminant and the factor k folded into one weight for each sample, so that the sum over a
/// reflectance, the innermost loop of every deposit fit, is three multiplications a sample.
static WEIGHTS: LazyLock<[[f64; SAMPLES]; 3]> = LazyLock::new(|| {
    let observer = &*CIE_1931_2_DEGREE;
    let power = &*D65;
    let luminance: f64 = power.0.iter().zip(&observer.y_bar.0).map(|(s, y)| s * y).sum();
    let k = 100.0 / luminance;
    [&observer.x_bar, &observer.y_bar, &observer.z_bar].map(|bar| std::array::from_fn(|i| k * power.0[i] * bar.0[i]))
});

/// Samples summed side by side: a processor adds them at once.
const ABREAST: usize = 4;

static WHITE: LazyLock<Xyz> = LazyLock::new(|| of_reflectance(&Spectrum([1.0; SAMPLES])));

/// Returns the tristimulus values of a reflectance under D65 for the 2° observer.
///
/// ```text
/// X = k Σ R(λ) S(λ) x̄(λ)      (Y and Z with ȳ and z̄)      k = 100 / Σ S(λ) ȳ(λ)
/// ```
///
/// | symbol | meaning | unit | range |
/// |--------|---------|------|-------|
/// | `R` | reflectance | – | 0 to 1 |
/// | `S` | relative power of D65 | – | > 0 |
/// | `x̄ ȳ z̄` | colour-matching functions | – | ≥ 0 |
/// | `X Y Z` | tristimulus values | – | 0 to about 109 |
///
/// # Validity
/// Non-fluorescent surfaces. The sum runs over 380 to 780 nm at 5 nm, as the standard permits for smooth spectra.
///
/// # Uncertainty
/// Against 1 nm summation the smooth spectra of hair and dye differ by a few hundredths of a CIELAB unit, far below
/// the 1.3 units by which re-measuring the same tress scatters.
///
/// # Source
/// [`CIE_015_2018`](crate::science::bibliography::CIE_015_2018), 7.1.
///
/// # Example
/// ```
/// use afterhue::science::colour::{spectrum::Spectrum, tristimulus};
/// let white = tristimulus::of_reflectance(&Spectrum::from_law(|_| 1.0));
/// assert!((white.x - 95.043).abs() < 5e-4); // the sums of the two standard tables
/// assert!((white.y - 100.0).abs() < 1e-9);
/// assert!((white.z - 108.880).abs() < 5e-4);
/// ```
#[must_use]
pub fn of_reflectance(reflectance: &Spectrum) -> Xyz {
    let [x, y, z] = WEIGHTS.each_ref().map(|weights| sum_of_products(&reflectance.0, weights));
    Xyz { x, y, z }
}

fn sum_of_products(one: &[f64; SAMPLES], other: &[f64; SAMPLES]) -> f64 {
    let ((these, rest), (those, other_rest)) = (one.as_chunks::<ABREAST>(), other.as_chunks::<ABREAST>());
    let mut sums = [0.0; ABREAST];
    for (this, that) in these.iter().zip(those) {
        for (sum, (one, other)) in sums.iter_mut().zip(this.iter().zip(that)) {
            *sum += one * other;
        }
    }
    sums.iter().sum::<f64>() + rest.iter().zip(other_rest).map(|(one, other)| one * other).sum::<f64>()
}

/// The white point: the perfect diffuser by the same sums.
#[must_use]
pub fn white() -> Xyz {
    *WHITE
}

/// A linear map of three colour coordinates, by rows.
pub(super) type Matrix = [[f64; 3]; 3];

/// The map applied to a column of three.
pub(super) const fn apply(m: &Matrix, v: [f64; 3]) -> [f64; 3] {
    [
        m[0][0] * v[0] + m[0][1] * v[1] + m[0][2] * v[2],
        m[1][0] * v[0] + m[1][1] * v[1] + m[1][2] * v[2],
        m[2][0] * v[0] + m[2][1] * v[1] + m[2][2] * v[2],
    ]
}

/// The map that undoes another: adjugate over determinant.
pub(super) const fn inverse(m: &Matrix) -> Matrix {
    let c00 = m[1][1] * m[2][2] - m[1][2] * m[2][1];
    let c01 = m[1][2] * m[2][0] - m[1][0] * m[2][2];
    let c02 = m[1][0] * m[2][1] - m[1][1] * m[2][0];
    let d = m[0][0] * c00 + m[0][1] * c01 + m[0][2] * c02;
    [
        [c00 / d, (m[0][2] * m[2][1] - m[0][1] * m[2][2]) / d, (m[0][1] * m[1][2] - m[0][2] * m[1][1]) / d],
        [c01 / d, (m[0][0] * m[2][2] - m[0][2] * m[2][0]) / d, (m[0][2] * m[1][0] - m[0][0] * m[1][2]) / d],
        [c02 / d, (m[0][1] * m[2][0] - m[0][0] * m[2][1]) / d, (m[0][0] * m[1][1] - m[0][1] * m[1][0]) / d],
    ]
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn sums_are_linear_in_the_reflectance() {
        let half = of_reflectance(&Spectrum([0.5; SAMPLES]));
        let full = white();
        assert!((half.x * 2.0 - full.x).abs() < 1e-10);
        assert!((half.y - 50.0).abs() < 1e-10);
    }

    #[test]
    fn an_inverse_undoes_its_map() {
        const M: Matrix = [[2.0, -1.0, 0.5], [0.25, 3.0, 1.0], [0.0, 1.5, 4.0]];
        let there = apply(&M, [0.3, 0.5, 0.7]);
        let back = apply(&inverse(&M), there);
        for (left, right) in back.iter().zip([0.3, 0.5, 0.7]) {
            assert!((left - right).abs() < 1e-14);
        }
    }
}
