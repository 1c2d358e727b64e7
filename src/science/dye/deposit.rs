//! What was deposited: the least loads that turn a base into a finished colour.

use super::band::Loads;
use crate::science::colour::cielab::Lab;
use crate::science::hair::{base::Base, stage::LightenedStage};

/// The fitted deposit.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Deposit {
    /// The loads.
    pub loads: Loads,
    /// The colour they give on the base.
    pub colour: Lab,
    /// ΔE00 between that and the colour wished.
    pub residual: f64,
}

/// A shade the base cannot carry.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct TooWarm {
    /// The palest-needed stage on which the shade is within reach, when there is one.
    pub reachable_from: Option<LightenedStage>,
}

/// Fits the deposit of a finished colour on a base.
#[must_use]
pub fn fit(_base: &Base, _finished: Lab) -> Deposit {
    todo!()
}

/// Says whether a fit leaves too much, and which paler stage would reach the shade.
#[must_use]
pub fn too_warm(_base: &Base, _finished: Lab, _deposit: &Deposit) -> Option<TooWarm> {
    todo!()
}
