//! How much chair time the coming weeks ask for, and how much there is.
//!
//! In: the due list, the diary, the salon. Out: [`WeekOfDemand`]s. Knows nothing of: charts.
//!
//! # Method
//! A booked visit takes its minutes in its week. Any other is spread over the weeks by the forecast's own distribution of its right day; what lies behind counts for this week.
//! Its alert test, when one is due, is spread with it. Clients come independently, so the variances of one client's minutes in a week add up; the range is ± 1.2816 standard deviations.
//!
//! # Validity
//! The visits after the next one are spread round their own windows, not moved by when the one before really happens.

use std::collections::BTreeMap;

use chrono::{Days, NaiveDate};

use super::diary::{Diary, Purpose, open, working};
use super::due::{Due, lead_days};
use super::fit::monday;
use super::loss::Ripeness;
use super::span::{Kind, kind, spans};
use crate::salon::Salon;

/// Weeks shown.
pub const WEEKS: u32 = 12;

/// Standard deviations from the middle to the 10 % and 90 % points of a normal distribution.
const EIGHTY: f64 = 1.2816;

/// The chair time of one week, in hours.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct WeekOfDemand {
    /// Its Monday.
    pub monday: NaiveDate,
    /// Expected.
    pub expected: f64,
    /// One week in ten asks for less.
    pub low: f64,
    /// One week in ten asks for more.
    pub high: f64,
    /// Hours the stylists work from today on, at most as many at once as there are chairs.
    pub open: f64,
}

/// The demand of the weeks from today's on.
#[must_use]
pub fn demand(due: &[Due], diary: &Diary, salon: &Salon, today: NaiveDate) -> Vec<WeekOfDemand> {
    let first = monday(today);
    let mondays: Vec<NaiveDate> =
        (0..u64::from(WEEKS)).filter_map(|week| first.checked_add_days(Days::new(week * 7))).collect();
    // Mean and variance of the minutes, week by week.
    let mut sums: BTreeMap<NaiveDate, (f64, f64)> = mondays.iter().map(|monday| (*monday, (0.0, 0.0))).collect();
    let mut add = |monday: NaiveDate, chance: f64, minutes: f64| {
        if let Some((mean, variance)) = sums.get_mut(&monday) {
            *mean += chance * minutes;
            *variance += chance * (1.0 - chance) * minutes * minutes;
        }
    };
    for one in diary.booked_from(today) {
        add(monday(one.date), 1.0, f64::from(one.spans.occupied()));
    }
    for due in due.iter().filter(|due| due.held.is_none()) {
        let booked = diary.ahead(&due.client, Purpose::Visit, today).is_some();
        for visit in due.plan.visits.iter().skip(usize::from(booked)) {
            let ripe = Ripeness::of_visit(&visit.parts, visit.window, &due.plan, due.shareable.latest());
            let kind = kind(&visit.parts, &due.plan);
            let mut weeks: BTreeMap<NaiveDate, (f64, NaiveDate)> = BTreeMap::new();
            for (chance, day) in ripe.days() {
                let day = day.max(today);
                weeks.entry(monday(day)).or_insert((0.0, day)).0 += chance;
            }
            for (monday, (chance, day)) in weeks {
                let minutes = spans(kind, &visit.parts, &due.person, &due.plan, salon, day).occupied();
                add(monday, chance, f64::from(minutes));
            }
            if kind.colours() && due.test.is_some() {
                let minutes = spans(Kind::AlertTest, &[], &due.person, &due.plan, salon, today).occupied();
                for (chance, day) in ripe.days() {
                    let before = day.checked_sub_days(Days::new(lead_days(salon))).unwrap_or(day).max(today);
                    add(monday(before), chance, f64::from(minutes));
                }
            }
        }
    }
    let week = |(monday, (mean, variance)): (NaiveDate, (f64, f64))| {
        let (expected, sd) = (mean / 60.0, variance.sqrt() / 60.0);
        WeekOfDemand {
            monday,
            expected,
            low: (expected - EIGHTY * sd).max(0.0),
            high: expected + EIGHTY * sd,
            open: (0..7)
                .filter_map(|day| monday.checked_add_days(Days::new(day)))
                .filter(|day| *day >= today)
                .map(|day| hours(salon, day))
                .sum(),
        }
    };
    sums.into_iter().map(week).collect()
}

/// The hours of work a day offers: what the stylists work, at most the opening hours on every chair.
#[must_use]
pub fn hours(salon: &Salon, day: NaiveDate) -> f64 {
    let minutes = |stretches: Vec<super::diary::Stretch>| stretches.iter().map(|one| one.to - one.from).sum::<i64>();
    let people: i64 = salon.stylists.iter().map(|one| minutes(working(salon, one, day))).sum();
    let chairs = minutes(open(salon, day)) * i64::from(salon.chairs);
    // Minutes of one day: exact.
    people.min(chairs) as f64 / 60.0
}
