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

/// The same window with its three days in order and none before the day after a visit.
pub(super) fn within(window: Window, visit: NaiveDate) -> Option<Window> {
    let first = visit.succ_opt()?;
    let latest = window.latest.max(first);
    let earliest = window.earliest.clamp(first, latest);
    Some(Window { earliest, best: window.best.clamp(earliest, latest), latest })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_window_is_put_in_order_and_never_reaches_back_past_the_visit() {
        let day = |d| NaiveDate::from_ymd_opt(2026, 11, d).expect("a day of November");
        let window =
            within(Window { earliest: day(1), best: day(30), latest: day(20) }, day(9)).expect("a calendar day");
        assert_eq!(window, Window { earliest: day(10), best: day(20), latest: day(20) });
    }
}
