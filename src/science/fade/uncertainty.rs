//! How sure: the log-normal spread of the rate.

/// Spread of the rate about the forecast, σ of ln rate.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct RateSpread {
    /// σ of ln rate.
    pub sigma: f64,
}

impl RateSpread {
    /// The rate multiplier at a probability: exp(σ·z(p)).
    ///
    /// Ten per cent of clients fade slower than `quantile(0.1)`, ten per cent faster than `quantile(0.9)`.
    #[must_use]
    pub fn quantile(&self, _probability: f64) -> f64 {
        todo!()
    }
}
