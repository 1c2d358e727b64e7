//! Windows of days.

use chrono::{Days, NaiveDate, TimeDelta};

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

/// The same window with its best day on an open one: the open day nearest to it inside the window, else the first one after it,
/// to which the window then reaches. Of two equally near, the earlier: waiting costs colour.
///
/// A salon that is closed for more than [`LONGEST_CLOSED`] days keeps the day as it was: no day can be promised there.
pub(super) fn on_open_day(window: Window, open: &impl Fn(NaiveDate) -> bool) -> Window {
    let Window { earliest, best, latest } = window;
    let far = (best - earliest).max(latest - best).num_days();
    let aside = (1..=far).flat_map(|days| [best - TimeDelta::days(days), best + TimeDelta::days(days)]);
    let mut from_best = std::iter::once(best).chain(aside).filter(|day| (earliest..=latest).contains(day));
    let after = || latest.iter_days().skip(1).take(LONGEST_CLOSED).find(|day| open(*day));
    let nearest = from_best.find(|day| open(*day)).or_else(after);
    nearest.map_or(window, |best| Window { best, latest: window.latest.max(best), ..window })
}

/// Days after a window among which an open one is looked for.
const LONGEST_CLOSED: usize = 60;

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
    fn the_best_day_is_an_open_one_the_nearest_in_the_window_or_the_first_after_it() {
        let window = |best, latest| Window { earliest: day(2), best: day(best), latest: day(latest) };
        // 1 November 2026 is a Sunday.
        let weekdays = |date: NaiveDate| chrono::Datelike::weekday(&date) != chrono::Weekday::Sun;
        assert_eq!(on_open_day(window(8, 20), &weekdays), window(7, 20), "of two equally near, the earlier");
        assert_eq!(on_open_day(window(9, 20), &weekdays), window(9, 20));
        assert_eq!(on_open_day(window(8, 20), &|date| date >= day(12)), window(12, 20));
        assert_eq!(on_open_day(window(8, 20), &|date| date >= day(23)), window(23, 23));
        assert_eq!(on_open_day(window(8, 20), &|_| false), window(8, 20), "never open: the day stays");
    }

    #[test]
    fn what_is_overdue_on_the_day_of_a_visit_opens_anew_and_not_tomorrow() {
        let window = within(Window { earliest: day(1), best: day(2), latest: day(4) }, day(2)).expect("a calendar day");
        assert_eq!(window, Window { earliest: day(9), best: day(16), latest: day(30) });
    }
}
