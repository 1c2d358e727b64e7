//! Dye classes as the trade sells them.

use crate::units::worded;

worded! {
    /// A dye class.
    DyeClass, "dye class" {
        /// Washes out in one or two washes.
        Temporary = "temporary",
        /// Direct dye: pastels and vivids, no developer.
        Direct = "direct" ["semi-permanent", "semi"],
        /// Oxidative without lift: toners and glosses.
        Demi = "demi-permanent" ["demi", "quasi-permanent", "quasi", "toner", "gloss"],
        /// Oxidative with lift.
        Permanent = "permanent" ["tint", "oxidative"],
    }
}
