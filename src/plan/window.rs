//! Windows of days.

use chrono::{Days, NaiveDate};

/// A window of days with a best one.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Window {
    /// The first day.
    pub earliest: NaiveDate,
    /// The best day, from the first to the last.
    pub best: NaiveDate,
    /// The last day.
    pub latest: NaiveDate,
}

/// The two dates of a forecast on the calendar; `None` means beyond half a year.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct DateRange {
    /// One client in ten sees it before this day.
    pub earliest: Option<NaiveDate>,
    /// The middle.
    pub usual: Option<NaiveDate>,
    /// One client in ten sees it after this day.
    pub latest: Option<NaiveDate>,
}

/// A whole number of days after a day; part days count down. Nothing beyond the calendar.
pub(super) fn day_after(day: NaiveDate, days: f64) -> Option<NaiveDate> {
    day.checked_add_days(Days::new(days.max(0.0) as u64))
}

/// Days after a visit on which something overdue at that visit is due: first, best and last.
///
/// The client was just there and it was not done, so tomorrow is no answer and neither is never. Common practice, no source.
const OVERDUE: (f64, f64, f64) = (7.0, 14.0, 28.0);

/// The same window with its three days in order and none before a week after a visit; one that is over by then opens anew.
pub(super) fn within(window: Window, visit: NaiveDate) -> Option<Window> {
    let (earliest, best, latest) =
        (day_after(visit, OVERDUE.0)?, day_after(visit, OVERDUE.1)?, day_after(visit, OVERDUE.2)?);
    if window.latest < earliest {
        return Some(Window { earliest, best, latest });
    }
    let latest = window.latest;
    let earliest = window.earliest.clamp(earliest, latest);
    Some(Window { earliest, best: window.best.clamp(earliest, latest), latest })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn day(d: u32) -> NaiveDate {
        NaiveDate::from_ymd_opt(2026, 11, d).expect("a day of November")
    }

    #[test]
    fn a_window_is_put_in_order_and_never_reaches_back_past_the_visit() {
        let window =
            within(Window { earliest: day(1), best: day(30), latest: day(20) }, day(9)).expect("a calendar day");
        assert_eq!(window, Window { earliest: day(16), best: day(20), latest: day(20) });
    }

    #[test]
    fn what_is_overdue_on_the_day_of_a_visit_opens_anew_and_not_tomorrow() {
        let window = within(Window { earliest: day(1), best: day(2), latest: day(4) }, day(2)).expect("a calendar day");
        assert_eq!(window, Window { earliest: day(9), best: day(16), latest: day(30) });
    }
}
