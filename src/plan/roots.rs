//! When new growth needs a visit, by technique.

use super::Window;
use crate::units::Millimetres;

/// A roots visit.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Roots {
    /// When.
    pub window: Window,
    /// Why then.
    pub reason: RootsReason,
    /// New growth expected on the best day, from what was left untouched.
    pub regrowth: Millimetres,
    /// New growth will be over the limit even on the best day: two-stage application, extra time.
    pub two_stage: bool,
}

/// Why a roots visit is due when it is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum RootsReason {
    /// On-scalp lightener: before growth leaves the warm zone by the scalp.
    ScalpLightener,
    /// Tint: contrast at the parting.
    Tint,
    /// White hair at the parting.
    WhiteCover,
    /// Foils.
    Foils,
    /// Freehand.
    Freehand,
}
