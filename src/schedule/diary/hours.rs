//! When the salon is open and who works, in absolute minutes.
//!
//! In: the salon, a day. Out: stretches of time. Knows nothing of: appointments.

use chrono::{DateTime, Datelike, Days, Duration, LocalResult, NaiveDate, NaiveDateTime, NaiveTime, TimeZone, Utc};
use chrono_tz::Tz;

use crate::salon::{OpenHours, Salon, Stylist};

/// Minutes since the beginning of 1970 in UTC.
pub type Minute = i64;

/// A stretch of time, the end excluded.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Stretch {
    /// Where it begins.
    pub from: Minute,
    /// Where it ends.
    pub to: Minute,
}

impl Stretch {
    /// Whether two stretches share a minute.
    #[must_use]
    pub const fn meets(self, other: Self) -> bool {
        self.from < other.to && other.from < self.to
    }

    /// Whether another lies inside.
    #[must_use]
    pub const fn holds(self, other: Self) -> bool {
        self.from <= other.from && other.to <= self.to
    }

    /// What is left of some stretches when this one is taken out of them.
    fn out_of(self, stretches: Vec<Self>) -> Vec<Self> {
        let left = stretches.into_iter().flat_map(|whole| {
            let before = Self { from: whole.from, to: whole.to.min(self.from) };
            let after = Self { from: whole.from.max(self.to), to: whole.to };
            [before, after]
        });
        left.filter(|piece| piece.from < piece.to).collect()
    }
}

/// The minute of a local time. A time that the clocks skip is read as the hour after it, one that comes twice as the first.
#[must_use]
pub fn minute_of(date: NaiveDate, time: NaiveTime, zone: Tz) -> Minute {
    let wanted = date.and_time(time);
    // No zone ever skipped more than a day.
    let moment = (0..=48).find_map(|half_hours| {
        match zone.from_local_datetime(&(wanted + Duration::minutes(30 * half_hours))) {
            LocalResult::Single(moment) | LocalResult::Ambiguous(moment, _) => Some(moment.with_timezone(&Utc)),
            LocalResult::None => None,
        }
    });
    moment.unwrap_or_else(|| wanted.and_utc()).timestamp().div_euclid(60)
}

/// The local date and time of a minute.
#[must_use]
pub fn local(minute: Minute, zone: Tz) -> NaiveDateTime {
    DateTime::from_timestamp(minute * 60, 0).unwrap_or(DateTime::UNIX_EPOCH).with_timezone(&zone).naive_local()
}

/// Why somebody is not there on a day.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum NotThere {
    /// The salon is closed for some days.
    ClosedDays,
    /// The salon is never open on this weekday.
    ClosedWeekday,
    /// Not a working day of this stylist.
    DayOff,
    /// Away.
    Away,
    /// The last working day is behind.
    Left,
}

fn within(spans: &[(NaiveDate, NaiveDate)], day: NaiveDate) -> bool {
    spans.iter().any(|(from, to)| (*from..=*to).contains(&day))
}

/// Why a stylist is not there on a day; nothing when they work.
#[must_use]
pub fn not_there(salon: &Salon, stylist: &Stylist, day: NaiveDate) -> Option<NotThere> {
    let weekday = day.weekday();
    if within(&salon.closures, day) {
        Some(NotThere::ClosedDays)
    } else if !salon.hours.iter().any(|hours| hours.day == weekday) {
        Some(NotThere::ClosedWeekday)
    } else if stylist.leaves.is_some_and(|last| last < day) {
        Some(NotThere::Left)
    } else if !stylist.days.is_empty() && !stylist.days.contains(&weekday) {
        Some(NotThere::DayOff)
    } else if within(&stylist.absences, day) {
        Some(NotThere::Away)
    } else {
        None
    }
}

/// The stretches in which the salon is open on a day.
#[must_use]
pub fn open(salon: &Salon, day: NaiveDate) -> Vec<Stretch> {
    if within(&salon.closures, day) { Vec::new() } else { of_day(&salon.hours, day, salon.time_zone) }
}

fn of_day(hours: &[OpenHours], day: NaiveDate, zone: Tz) -> Vec<Stretch> {
    let today = hours.iter().filter(|hours| hours.day == day.weekday());
    let stretch =
        |hours: &OpenHours| Stretch { from: minute_of(day, hours.open, zone), to: minute_of(day, hours.close, zone) };
    // A clock change in the middle of the night may leave a stretch without a minute.
    today.map(stretch).filter(|stretch| stretch.from < stretch.to).collect()
}

/// The stretches in which a stylist works on a day, breaks taken out.
#[must_use]
pub fn working(salon: &Salon, stylist: &Stylist, day: NaiveDate) -> Vec<Stretch> {
    if not_there(salon, stylist, day).is_some() {
        return Vec::new();
    }
    let opened = open(salon, day);
    let own = of_day(&stylist.hours, day, salon.time_zone);
    let mut stretches = if own.is_empty() { opened } else { common(&own, &opened) };
    for pause in stylist.pauses.iter().filter(|pause| pause.day == day.weekday()) {
        let pause = Stretch {
            from: minute_of(day, pause.from, salon.time_zone),
            to: minute_of(day, pause.to, salon.time_zone),
        };
        stretches = pause.out_of(stretches);
    }
    stretches
}

/// What two lists of stretches have in common.
fn common(one: &[Stretch], other: &[Stretch]) -> Vec<Stretch> {
    let pairs = one.iter().flat_map(|a| other.iter().map(|b| Stretch { from: a.from.max(b.from), to: a.to.min(b.to) }));
    pairs.filter(|stretch| stretch.from < stretch.to).collect()
}

/// The days of some weeks from a day on.
pub(in crate::schedule) fn days(from: NaiveDate, weeks: u32) -> Vec<NaiveDate> {
    (0..u64::from(weeks) * 7).filter_map(|day| from.checked_add_days(Days::new(day))).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn day(text: &str) -> NaiveDate {
        text.parse().expect("a day")
    }

    fn at(hour: u32, minute: u32) -> NaiveTime {
        NaiveTime::from_hms_opt(hour, minute, 0).expect("a time")
    }

    /// Clock changes of London, 2026-03-29 and 2026-10-25 at 01:00 UTC: IANA time zone database.
    #[test]
    fn both_clock_changes_shift_the_instant_and_not_the_local_time() {
        let zone = chrono_tz::Europe::London;
        for (before, after, hours) in [("2026-03-28", "2026-03-29", 23), ("2026-10-24", "2026-10-25", 25)] {
            let (one, other) = (minute_of(day(before), at(9, 0), zone), minute_of(day(after), at(9, 0), zone));
            assert_eq!(other - one, hours * 60, "{before}");
            assert_eq!(local(other, zone), day(after).and_time(at(9, 0)));
        }
    }

    #[test]
    fn a_time_the_clocks_skip_is_read_after_the_gap_and_one_that_comes_twice_as_the_first() {
        let zone = chrono_tz::Europe::London;
        assert_eq!(local(minute_of(day("2026-03-29"), at(1, 30), zone), zone), day("2026-03-29").and_time(at(2, 0)));
        let (first, one) =
            (minute_of(day("2026-10-25"), at(1, 30), zone), minute_of(day("2026-10-25"), at(2, 0), zone));
        assert_eq!(one - first, 90);
    }

    #[test]
    fn a_break_is_taken_out_of_a_day() {
        let day = Stretch { from: 540, to: 1080 };
        let left = Stretch { from: 780, to: 810 }.out_of(vec![day]);
        assert_eq!(left, [Stretch { from: 540, to: 780 }, Stretch { from: 810, to: 1080 }]);
        assert_eq!(Stretch { from: 0, to: 2000 }.out_of(vec![day]), []);
    }
}
