//! When a forecast's range is too wide to book by: look at the colour first, or ask once.

use chrono::NaiveDate;

use super::window::{DateRange, Window, day_after, within};
use crate::forecast::{Forecast, HORIZON, Milestone};
use crate::science::parameter::{Parameter, Source};
use crate::units::Days;

/// How many times its first day the last day of a range may be.
pub(super) const TOO_WIDE: Parameter = Parameter {
    name: "last day over first day from which a range is too wide to book by",
    value: 2.5,
    low: 2.0,
    high: 3.5,
    unit: "1",
    source: Source::Assumed("a client told 2 to 5 weeks can plan; one told 2 to 6 has been told nothing"),
};

/// Returns after which a range should have narrowed.
pub(super) const RETURNS_THAT_TEACH: Parameter = Parameter {
    name: "returns after which a range that is still too wide calls for a colour check",
    value: 2.0,
    low: 2.0,
    high: 4.0,
    unit: "returns",
    source: Source::CommonPractice,
};

/// Days either side of the day of a colour check.
const EITHER_SIDE: f64 = 3.0;

/// What a plan does about a range too wide to book by.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Doubt {
    /// Even the client's own returns did not narrow it: a short visit to look at the colour.
    pub colour_check: Option<Window>,
    /// Nothing is known of the client yet: the ideal day is booked, and on this day one neutral message asks how the colour looks.
    pub message: Option<NaiveDate>,
}

/// Whether a range is too wide to book by; an end beyond the horizon counts as the horizon.
#[must_use]
pub fn too_wide(back: Milestone) -> bool {
    let day = |at: Option<Days>| at.unwrap_or(HORIZON).to_days().max(1.0);
    day(back.latest) > TOO_WIDE.value * day(back.earliest)
}

/// What to do about the range of the whole head, on the day on which the first client in ten is nearly back.
pub(super) fn doubt(service: NaiveDate, forecast: &Forecast, back: Option<DateRange>) -> Doubt {
    let (Some(milestone), Some(DateRange { earliest: Some(first), .. })) = (forecast.nearly_back, back) else {
        return Doubt::default();
    };
    if !too_wide(milestone) {
        return Doubt::default();
    }
    // A count of visits is far below 2^52.
    if (forecast.returns() as f64) < RETURNS_THAT_TEACH.value {
        return Doubt { message: Some(first), colour_check: None };
    }
    let earliest = first.checked_sub_days(chrono::Days::new(EITHER_SIDE as u64)).unwrap_or(first);
    let latest = day_after(first, EITHER_SIDE).unwrap_or(first);
    Doubt { colour_check: within(Window { earliest, best: first, latest }, service), message: None }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::Washes;

    #[test]
    fn a_range_is_too_wide_from_two_and_a_half_times_its_first_day() {
        let range = |earliest, latest: Option<f64>| Milestone {
            dose: Washes::from_washes(5.0),
            earliest: Some(Days::from_days(earliest)),
            usual: Some(Days::from_days(earliest)),
            latest: latest.map(Days::from_days),
        };
        assert!(!too_wide(range(14.0, Some(35.0))));
        assert!(too_wide(range(14.0, Some(35.1))));
        assert!(too_wide(range(70.0, None)) && !too_wide(range(80.0, None)));
    }
}
