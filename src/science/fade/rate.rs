//! The rate of one zone as a distribution: where its middle is and how far it may be off.
//!
//! In: what is believed of ln rate. Out: the median multiplier, and the rate at a probability against it. Knows nothing of: how the belief came about.
//!
//! A date needs no simulation: a rate r times the median reaches a dose's effect at the dose over r.

use super::uncertainty::normal_quantile;

/// Number of probabilities at which the departure from a log-normal is kept.
const NODES: usize = 25;
/// The outermost of them, as normal quantiles.
const REACH: f64 = 3.0;
/// Their distance.
const STEP: f64 = 2.0 * REACH / (NODES - 1) as f64;

/// The distribution of a zone's rate against the usual rate of its class.
///
/// ```text
/// ln r(p) = c + σ·z(p) + b(z(p))
/// ```
///
/// | symbol | meaning | unit | range |
/// |---|---|---|---|
/// | `p` | probability of a slower rate | 1 | 0 to 1, ends excluded |
/// | `z` | standard normal quantile | 1 | any |
/// | `c` | ln of the median multiplier | 1 | any |
/// | `σ` | spread, read between the 10 % and the 90 % point | 1 | ≥ 0 |
/// | `b` | departure from a log-normal, straight between nodes a quarter σ apart | 1 | nought without returns |
///
/// # Validity
/// Beyond ±3 σ the departure is held; no date here is asked for beyond 10 % and 90 %.
///
/// # Source
/// Chosen here. Without a return `b` is nought everywhere and this *is* the log-normal of [`super::uncertainty::rate_spread`].
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct RateDistribution {
    centre: f64,
    sigma: f64,
    bend: [f64; NODES],
}

impl RateDistribution {
    /// A log-normal rate: ln rate has this centre and this σ.
    #[must_use]
    pub const fn log_normal(centre: f64, sigma: f64) -> Self {
        Self { centre, sigma, bend: [0.0; NODES] }
    }

    /// The distribution whose ln rate at each normal quantile is given by a function that goes up.
    #[must_use]
    pub fn through(ln_rate: impl Fn(f64) -> f64) -> Self {
        let (low, centre, high) = (ln_rate(normal_quantile(0.1)), ln_rate(0.0), ln_rate(normal_quantile(0.9)));
        let sigma = (high - low) / (2.0 * normal_quantile(0.9));
        let bend = std::array::from_fn(|node| {
            let z = -REACH + STEP * node as f64;
            ln_rate(z) - centre - sigma * z
        });
        Self { centre, sigma, bend }
    }

    /// The median rate, against the usual rate of the class.
    #[must_use]
    pub fn median(&self) -> f64 {
        self.centre.exp()
    }

    /// The spread of ln rate, read between the 10 % and the 90 % point.
    #[must_use]
    pub const fn sigma(&self) -> f64 {
        self.sigma
    }

    /// The rate at a probability, against the median: 1 at one half.
    ///
    /// Ten per cent of clients fade slower than `quantile(0.1)` times the median, ten per cent faster than `quantile(0.9)` times.
    ///
    /// # Panics
    /// When the probability is not between 0 and 1.
    #[must_use]
    pub fn quantile(&self, probability: f64) -> f64 {
        let z = normal_quantile(probability);
        (self.sigma * z + self.bend(z)).exp()
    }

    fn bend(&self, z: f64) -> f64 {
        let at = ((z + REACH) / STEP).clamp(0.0, (NODES - 1) as f64);
        let node = (at as usize).min(NODES - 2);
        let part = at - node as f64;
        self.bend[node] * (1.0 - part) + self.bend[node + 1] * part
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_log_normal_has_its_closed_form() {
        let rate = RateDistribution::log_normal(0.2, 0.4);
        assert_eq!(rate.quantile(0.5), 1.0);
        assert_eq!(rate.quantile(0.9), (0.4 * normal_quantile(0.9)).exp());
        assert!((rate.median() - 0.2_f64.exp()).abs() < 1e-15);
    }

    #[test]
    fn a_distribution_given_by_its_quantiles_gives_them_back() {
        // Skewed: each half its own spread.
        let skewed = |z: f64| 0.1 + if z < 0.0 { 0.2 * z } else { 0.5 * z };
        let rate = RateDistribution::through(skewed);
        for p in [0.01, 0.1, 0.25, 0.5, 0.8, 0.9, 0.99] {
            let wanted = skewed(normal_quantile(p)) - 0.1;
            assert!((rate.quantile(p).ln() - wanted).abs() < 0.02, "{p}");
        }
        let mut last = 0.0;
        for p in 1..100 {
            let now = rate.quantile(f64::from(p) / 100.0);
            assert!(now > last);
            last = now;
        }
    }
}
