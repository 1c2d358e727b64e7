//! The two distributions that learning needs beside the normal quantile.
//!
//! | law | source |
//! |---|---|
//! | [`normal_cdf`] | [`WEST_2005`](crate::science::bibliography::WEST_2005), after [`HART_1968`](crate::science::bibliography::HART_1968) |
//! | [`student_cdf`] | closed form for four degrees of freedom |
//!
//! In: a standardised value. Out: a probability. Knows nothing of: what is being measured.

/// The standard normal distribution function Φ(x).
///
/// A ratio of two polynomials for |x| below 5√2, a continued fraction beyond.
///
/// | symbol | meaning | unit | range |
/// |---|---|---|---|
/// | `x` | standardised value | σ | any |
/// | `Φ` | probability below it | 1 | 0 to 1 |
///
/// # Uncertainty
/// Held against a second implementation to 10⁻¹⁴.
///
/// # Source
/// G. West, Better approximations to cumulative normal functions, Wilmott Magazine (2005), after J. F. Hart, Computer Approximations (1968), algorithm 5666; coefficients from memory, checked by the test below.
#[must_use]
pub fn normal_cdf(x: f64) -> f64 {
    let z = x.abs();
    let tail = if z > 37.0 {
        0.0
    } else {
        let e = (-z * z / 2.0).exp();
        if z < 5.0 * std::f64::consts::SQRT_2 {
            e * polynomial(&ABOVE, z) / polynomial(&BELOW, z)
        } else {
            let fraction = [4.0, 3.0, 2.0, 1.0].into_iter().fold(z + 0.65, |sum, n| z + n / sum);
            e / fraction / (2.0 * std::f64::consts::PI).sqrt()
        }
    };
    if x > 0.0 { 1.0 - tail } else { tail }
}

/// Coefficients from the constant upward.
fn polynomial(coefficients: &[f64], x: f64) -> f64 {
    coefficients.iter().rev().fold(0.0, |sum, c| sum * x + c)
}

const ABOVE: [f64; 7] = [
    220.206_867_912_376,
    221.213_596_169_931,
    112.079_291_497_871,
    33.912_866_078_383,
    6.373_962_203_531_65,
    0.700_383_064_443_688,
    0.035_262_496_599_891_1,
];
const BELOW: [f64; 8] = [
    440.413_735_824_752,
    793.826_512_519_948,
    637.333_633_378_831,
    296.564_248_779_674,
    86.780_732_202_946_1,
    16.064_177_579_207,
    1.755_667_163_182_64,
    0.088_388_347_648_318_4,
];

/// The distribution function of Student's t with four degrees of freedom.
///
/// ```text
/// F(t) = 1/2 + 3/8 · u · (1 − u²/12)      u = t / √(1 + t²/4)
/// ```
///
/// | symbol | meaning | unit | range |
/// |---|---|---|---|
/// | `t` | standardised value | 1 | any, also infinite |
/// | `F` | probability below it | 1 | 0 to 1 |
///
/// Its tails fall as t⁻⁴ and not as exp(−t²/2): an observation far off is not impossible, so it cannot drag the estimate along.
///
/// # Validity
/// Four degrees of freedom only.
///
/// # Uncertainty
/// Rounding.
///
/// # Source
/// The closed form for an even number of degrees of freedom (textbook; from memory), checked against table values by the test below.
#[must_use]
pub fn student_cdf(t: f64) -> f64 {
    if t.is_infinite() {
        return if t > 0.0 { 1.0 } else { 0.0 };
    }
    let u = t / (1.0 + t * t / 4.0).sqrt();
    0.5 + 0.375 * u * (1.0 - u * u / 12.0)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::science::fade::uncertainty::normal_quantile;

    #[test]
    fn the_normal_distribution_agrees_with_a_second_implementation() {
        // Python 3.11 statistics.NormalDist().cdf, run for this test.
        for (x, p) in [
            (0.0, 0.5),
            (0.5, 0.691_462_461_274_013),
            (-1.0, 0.158_655_253_931_457_07),
            (1.959_963_984_540_053_6, 0.975),
            (-3.0, 0.001_349_898_031_630_094_6),
        ] {
            assert!((normal_cdf(x) - p).abs() < 1e-14, "{x}: {}", normal_cdf(x));
        }
    }

    #[test]
    fn distribution_and_quantile_are_inverse() {
        for step in 1..200 {
            let p = f64::from(step) / 200.0;
            assert!((normal_cdf(normal_quantile(p)) - p).abs() < 1e-13, "{p}");
        }
        assert!(normal_cdf(-8.0) > 0.0 && normal_cdf(-8.0) < 1e-14);
        assert_eq!((normal_cdf(-40.0), normal_cdf(40.0)), (0.0, 1.0));
    }

    #[test]
    fn the_t_distribution_meets_the_printed_percentage_points() {
        // Percentage points of t with 4 degrees of freedom as printed in every table of it: 90, 95, 97.5, 99, 99.5 %.
        for (t, p) in [(1.533, 0.9), (2.132, 0.95), (2.776, 0.975), (3.747, 0.99), (4.604, 0.995)] {
            assert!((student_cdf(t) - p).abs() < 1e-4, "{t}");
            assert!((student_cdf(t) + student_cdf(-t) - 1.0).abs() < 1e-12);
        }
        assert_eq!((student_cdf(f64::INFINITY), student_cdf(f64::NEG_INFINITY)), (1.0, 0.0));
    }
}
