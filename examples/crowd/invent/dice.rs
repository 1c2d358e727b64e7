//! A seeded generator: the same numbers on every machine.

/// A seeded generator, `SplitMix64` (Steele, Lea & Flood 2014).
pub(super) struct Dice(u64);

impl Dice {
    /// The dice of one client of a crowd: independent of every other client's.
    pub(super) fn of(seed: u64, client: u64) -> Self {
        let mut dice = Self(seed);
        let start = dice.next() ^ client.wrapping_mul(0x9e37_79b9_7f4a_7c15);
        Self(start)
    }

    fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        z ^ (z >> 31)
    }

    /// A whole number from `low` to `high`, both included.
    pub(super) fn whole(&mut self, low: i64, high: i64) -> i64 {
        let width = (high - low + 1).unsigned_abs();
        low + i64::try_from(self.next() % width).unwrap_or(0)
    }

    /// Whether something of this probability, in percent, happens.
    pub(super) fn percent(&mut self, probability: i64) -> bool {
        self.whole(1, 100) <= probability
    }

    /// One of several.
    pub(super) fn one<T: Copy>(&mut self, of: &[T]) -> T {
        let last = i64::try_from(of.len()).expect("a short list") - 1;
        of[usize::try_from(self.whole(0, last)).expect("not below 0")]
    }
}
