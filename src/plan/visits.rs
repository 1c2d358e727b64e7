//! The next visits, close ones merged.

use super::Window;

/// One visit to come.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Visit {
    /// When.
    pub window: Window,
    /// What for.
    pub parts: Vec<VisitPart>,
}

/// A reason to come.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum VisitPart {
    /// Refresh of the colour.
    Refresh,
    /// Top-up of the zones that are ahead.
    TopUp,
    /// Roots.
    Roots,
    /// Trim.
    Trim,
}
