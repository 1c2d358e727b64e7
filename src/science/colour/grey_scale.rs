//! Grey-scale rating for change in colour (ISO 105-A05), 5 no change to 1.

use super::cielab::Lab;

/// The continuous rating GSc of `now` against `before`, 1 to 5.
#[must_use]
pub fn rating(_before: Lab, _now: Lab) -> f64 {
    todo!()
}

/// The rating rounded to the half steps of the scale, as written: "4-5".
#[must_use]
pub fn grade(_rating: f64) -> &'static str {
    todo!()
}
