//! The law of leaving: a loose and a held pool.

use crate::science::dye::{band::Loads, class::DyeClass};
use crate::science::hair::porosity::Porosity;
use crate::units::{Fraction, Washes};

/// The constants of one zone's leaving.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Leaving {
    /// φ, the share in the loose pool, 0 to 1.
    pub loose: f64,
    /// τ, dose in which the loose pool falls to 1/e, washes.
    pub tau: f64,
    /// κ, rate of the held pool, per wash, one for each band.
    pub kappa: [f64; 5],
}

/// The constants for a dye class on hair of this damage.
#[must_use]
pub fn leaving(_class: DyeClass, _lightened: bool, _porosity: Porosity) -> Leaving {
    todo!()
}

impl Leaving {
    /// f(D) of one band.
    #[must_use]
    pub fn remaining(&self, _band: usize, _dose: Washes) -> Fraction {
        todo!()
    }

    /// The loads left after a dose.
    #[must_use]
    pub fn loads_after(&self, _fresh: &Loads, _dose: Washes) -> Loads {
        todo!()
    }
}
