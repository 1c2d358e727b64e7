//! Results of a law kept by the numbers they were computed from.
//!
//! In: a key of numbers, a law. Out: what the law gives, from memory when it was asked before. Knows nothing of: which law.
//!
//! A law is a function of its numbers alone, so a kept result is the very same bits as a new one.

use std::collections::HashMap;
use std::sync::{PoisonError, RwLock};

/// Results by the bits of the numbers they came from; never more than a bound.
pub(super) struct Memo<const N: usize, T> {
    kept: RwLock<Option<HashMap<[u64; N], T>>>,
    bound: usize,
}

impl<const N: usize, T: Copy> Memo<N, T> {
    /// An empty memory for at most so many results.
    pub(super) const fn new(bound: usize) -> Self {
        Self { kept: RwLock::new(None), bound }
    }

    /// The result for a key, by the law only when it is not kept.
    pub(super) fn get(&self, numbers: [f64; N], law: impl FnOnce() -> T) -> T {
        let key = numbers.map(f64::to_bits);
        let kept = self.kept.read().unwrap_or_else(PoisonError::into_inner);
        if let Some(known) = kept.as_ref().and_then(|kept| kept.get(&key)) {
            return *known;
        }
        drop(kept);
        let new = law();
        let mut kept = self.kept.write().unwrap_or_else(PoisonError::into_inner);
        let kept = kept.get_or_insert_default();
        // A full memory is emptied: simpler than counting uses, and a salon rarely has so many different results.
        if kept.len() >= self.bound {
            kept.clear();
        }
        kept.insert(key, new);
        new
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_result_is_computed_once_and_the_memory_stays_within_its_bound() {
        static MEMO: Memo<1, f64> = Memo::new(10);
        let mut asked = 0;
        for round in 0..3 {
            for number in 0..8 {
                let number = f64::from(number);
                let got = MEMO.get([number], || {
                    asked += 1;
                    number * 2.0
                });
                assert!((got - number * 2.0).abs() < 1e-12, "{round}");
            }
        }
        assert_eq!(asked, 8);
        for number in 0..100 {
            MEMO.get([f64::from(number)], || 0.0);
        }
        assert!(MEMO.kept.read().expect("not poisoned").as_ref().expect("filled").len() <= 10);
    }
}
