//! Porosity: how easily dye enters a fibre and how easily it leaves.

use crate::units::worded;

worded! {
    /// Porosity of a zone, by the trade's finger test.
    Porosity, "porosity" {
        /// Smooth, takes colour slowly.
        Resistant = "resistant" ["low", "1"],
        /// Slight drag.
        Normal = "normal" ["medium", "average", "2"],
        /// Rough, takes colour fast and loses it fast.
        Porous = "porous" ["high", "3"],
        /// Very rough, grabs darker and empties first.
        OverPorous = "over-porous" ["very high", "4"],
    }
}
