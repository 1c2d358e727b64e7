//! A seeded generator for simulations: the same numbers on every machine.

use afterhue::science::fade::learning::{EYE_FLOOR, perceived};
use afterhue::science::fade::uncertainty::normal_quantile;

/// A seeded generator, `SplitMix64` (Steele, Lea & Flood 2014).
pub(crate) struct Dice(pub(crate) u64);

impl Dice {
    pub(crate) fn uniform(&mut self) -> f64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        ((z ^ (z >> 31)) >> 11) as f64 / (1_u64 << 53) as f64
    }

    pub(crate) fn between(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * self.uniform()
    }

    /// A whole number below a limit.
    pub(crate) fn below(&mut self, limit: usize) -> usize {
        (self.uniform() * limit as f64) as usize
    }

    pub(crate) fn normal(&mut self, sigma: f64) -> f64 {
        sigma * normal_quantile(self.uniform().clamp(1e-15, 1.0 - 1e-15))
    }

    /// Student's t with four degrees of freedom: a normal over the root of a mean of four squares.
    pub(crate) fn student(&mut self, scale: f64) -> f64 {
        let squares: f64 = (0..4).map(|_| self.normal(1.0).powi(2)).sum();
        scale * self.normal(1.0) / (squares / 4.0).sqrt()
    }

    /// A share as an eye sees it whose error is heavy-tailed.
    pub(crate) fn eye(&mut self, share: f64, scale: f64) -> f64 {
        let off = self.student(scale);
        off_by(share, off)
    }
}

/// A share that an eye takes for another: off by so much on its own scale, g(s) = ln((s + ε)/(1 − s + ε)) undone.
pub(crate) fn off_by(share: f64, off: f64) -> f64 {
    let odds = (perceived(share) + off).exp();
    let floor = EYE_FLOOR.value;
    ((odds * (1.0 + floor) - floor) / (1.0 + odds)).clamp(0.0, 1.0)
}
