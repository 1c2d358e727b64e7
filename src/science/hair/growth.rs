//! Growth of scalp hair.

use crate::units::{Days, Interval, Millimetres, MillimetresPerDay};

/// Length grown in a time.
#[must_use]
pub fn grown(_rate: MillimetresPerDay, _time: Days) -> Millimetres {
    todo!()
}

/// The usual rate with its spread (10 % to 90 %).
#[must_use]
pub fn usual() -> (MillimetresPerDay, Interval<MillimetresPerDay>) {
    todo!()
}
