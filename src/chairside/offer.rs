//! The next visit offered: the best day that has a free time, and one other.
//!
//! In: a client's due visit, the diary, the hours. Out: [`Offer`]s. Knows nothing of: how one is booked.

use chrono::{Days, NaiveDate, NaiveTime};
use serde::Serialize;

use crate::salon::{Salon, Stylist};
use crate::schedule::diary::{Busy, Diary, Minute, does, local, refusal, working};
use crate::schedule::due::{Due, DueVisit};

/// A time that is free.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub(super) struct Offer {
    pub(super) date: NaiveDate,
    pub(super) time: NaiveTime,
    /// The stylist's code.
    pub(super) stylist: String,
    /// The stylist's name.
    pub(super) with: String,
}

/// At most two offers on different days, the one nearest to the best day first.
pub(super) fn offers(due: &Due, salon: &Salon, diary: &Diary, busy: &Busy, today: NaiveDate) -> Vec<Offer> {
    let Some(visit) = due.next() else { return Vec::new() };
    let window = visit.window;
    let first = window.earliest.max(today.checked_add_days(Days::new(1)).unwrap_or(today));
    // A window that is past, or full, still gets an offer: the days after it.
    let last = window.latest.max(first).checked_add_days(Days::new(14)).unwrap_or(window.latest);
    let mut days: Vec<NaiveDate> = first.iter_days().take_while(|day| *day <= last).collect();
    days.sort_by_key(|day| (*day > window.latest, (*day - window.best).num_days().abs(), *day));
    days.into_iter().filter_map(|day| on_day((due, visit), salon, (diary, busy), day)).take(2).collect()
}

/// The first free time of a day: with the client's own stylist if there is one, else with whoever is free.
fn on_day(
    (due, visit): (&Due, &DueVisit),
    salon: &Salon,
    (diary, busy): (&Diary, &Busy),
    day: NaiveDate,
) -> Option<Offer> {
    let own = |stylist: &&Stylist| due.stylist.as_deref() == Some(stylist.code.as_str());
    let able = || salon.stylists.iter().filter(|stylist| does(stylist, visit.kind));
    let (first, rest): (Vec<&Stylist>, Vec<&Stylist>) = able().partition(own);
    first.into_iter().chain(rest).find_map(|stylist| {
        let free = |from: &Minute| {
            let when = (*from, visit.spans);
            refusal(salon, diary, busy, &due.client, (stylist, visit.kind), when).is_none()
        };
        let step = usize::from(salon.book.step.max(5));
        let starts = working(salon, stylist, day).into_iter().flat_map(|one| (one.from..one.to).step_by(step));
        let at = local(starts.into_iter().find(free)?, salon.time_zone);
        Some(Offer { date: at.date(), time: at.time(), stylist: stylist.code.clone(), with: stylist.name.clone() })
    })
}
