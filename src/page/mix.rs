//! The mix that brings a zone's colour back, in words a stylist can weigh by.
//!
//! In: a zone, its placement, the wear until the visit, words. Out: sentences. Knows nothing of: which sheet they stand on.

use super::words::Words;
use crate::forecast::{ZoneForecast, top_up};
use crate::record::Placement;
use crate::science::dye::class::DyeClass;
use crate::units::Washes;

/// The top-up of a zone after a dose, from this client's last mix.
pub(super) fn mix(words: &dyn Words, zone: &ZoneForecast, placement: &Placement, dose: Washes) -> String {
    let found = top_up(zone, placement, dose, None, None);
    let Some(clear) = found.parts_clear else { return words.pattern("mix.nothing") };
    let mut said = vec![if clear > 0.0 {
        words.say("mix.parts", &[("clear", &clear.to_string())])
    } else {
        words.pattern("mix.no-clear")
    }];
    if matches!(zone.class, DyeClass::Demi | DyeClass::Permanent) {
        said.push(words.pattern("mix.strand"));
    }
    if found.top_up.falls_short() {
        // What cannot be brought back by the same colour is said, not hidden.
        said.push(words.pattern("mix.misses"));
    }
    said.join(" ")
}
