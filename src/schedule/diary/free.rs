//! Whether a time is free for a visit, and why not.
//!
//! In: the salon, bookings, busy times. Out: nothing, or the first reason against it. Knows nothing of: who is due.

use chrono::NaiveDate;

use super::appointment::{Appointment, Diary};
use super::busy::Busy;
use super::hours::{Minute, NotThere, Stretch, local, not_there, working};
use crate::plan::{day_in_words, weekday_in_words};
use crate::record::ClientCode;
use crate::salon::{Salon, Stylist};
use crate::schedule::span::{Kind, Spans};
use crate::units::Worded;

/// Why something cannot be booked, in a sentence without a full stop, and what to do instead.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Refusal {
    /// Why.
    pub why: String,
    /// What to do instead.
    pub hint: String,
}

impl Refusal {
    pub(super) fn new(why: impl Into<String>, hint: impl Into<String>) -> Self {
        Self { why: why.into(), hint: hint.into() }
    }
}

impl std::fmt::Display for Refusal {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "{}\n  help: {}", self.why, self.hint)
    }
}

/// Whether a stylist does a service.
#[must_use]
pub fn does(stylist: &Stylist, kind: Kind) -> bool {
    // A salon that lists no such service of its own lets everybody do it.
    stylist.skills.is_empty() || stylist.skills.iter().any(|skill| skill == kind.word())
}

/// Why a visit of some spans cannot begin at a minute with a stylist; nothing when it can.
#[must_use]
pub fn refusal(
    salon: &Salon,
    diary: &Diary,
    busy: &Busy,
    client: &ClientCode,
    (stylist, kind): (&Stylist, Kind),
    (from, spans): (Minute, Spans),
) -> Option<Refusal> {
    let zone = salon.time_zone;
    let day = local(from, zone).date();
    let name = &stylist.name;
    let whole = Stretch { from, to: from + Minute::from(spans.occupied()) };
    if !does(stylist, kind) {
        let others = salon.stylists.iter().filter(|other| does(other, kind)).map(|other| other.name.as_str());
        let others: Vec<&str> = others.collect();
        return Some(Refusal::new(
            format!("{name} does not do {}", kind.word()),
            format!("It is done by: {}", others.join(", ")),
        ));
    }
    if let Some(why) = not_there(salon, stylist, day) {
        return Some(absent(why, name, day));
    }
    let stretches = working(salon, stylist, day);
    if !stretches.iter().any(|stretch| stretch.holds(whole)) {
        let told: Vec<String> = stretches.iter().map(|stretch| span(*stretch, zone)).collect();
        return Some(Refusal::new(
            format!("it would take from {}, outside the hours of {name}", span(whole, zone)),
            format!("{name} works {}", told.join(" and ")),
        ));
    }
    let hands: Vec<Stretch> = spans
        .hands(salon.book.share_developing)
        .into_iter()
        .map(|(a, b)| Stretch { from: from + Minute::from(a), to: from + Minute::from(b) })
        .collect();
    if let Some(at) = busy.of(&stylist.code).find(|busy| whole.meets(*busy)) {
        let why = format!("{name} is busy from {} by another calendar", span(at, zone));
        return Some(Refusal::new(why, "Take another time or stylist"));
    }
    let others = || diary.booked_from(day.pred_opt().unwrap_or(day)).filter(|other| other.client != *client);
    let taken = |other: &&Appointment| {
        let theirs = other.hands(zone, salon.book.share_developing);
        other.stylist == stylist.code && theirs.iter().any(|one| hands.iter().any(|own| own.meets(*one)))
    };
    if let Some(other) = others().find(taken) {
        let why = format!("{name} is with {} from {}", other.client, span(other.stretch(zone), zone));
        return Some(Refusal::new(why, "Take another time or stylist"));
    }
    (most_at_once(others().map(|other| other.stretch(zone)), whole) >= usize::from(salon.chairs)).then(|| {
        Refusal::new(
            format!("no chair is free: the salon has {} and they are booked", salon.chairs),
            "Take another time",
        )
    })
}

fn absent(why: NotThere, name: &str, day: NaiveDate) -> Refusal {
    let why = match why {
        NotThere::ClosedDays | NotThere::ClosedWeekday => format!("the salon is closed on {}", weekday_in_words(day)),
        NotThere::DayOff => format!("{name} does not work on that day of the week"),
        NotThere::Away => format!("{name} is away on {}", weekday_in_words(day)),
        NotThere::Left => format!("{name} has left by {}", day_in_words(day)),
    };
    Refusal::new(why, "Take another day or stylist")
}

fn span(stretch: Stretch, zone: chrono_tz::Tz) -> String {
    let time = |minute| local(minute, zone).format("%H:%M").to_string();
    format!("{} to {}", time(stretch.from), time(stretch.to))
}

/// The most stretches that run at once inside a stretch.
fn most_at_once(stretches: impl Iterator<Item = Stretch>, inside: Stretch) -> usize {
    let met: Vec<Stretch> = stretches.filter(|stretch| stretch.meets(inside)).collect();
    // The count can only rise where one begins.
    let moments = met.iter().map(|stretch| stretch.from.max(inside.from));
    moments.map(|at| met.iter().filter(|one| one.from <= at && at < one.to).count()).max().unwrap_or(0)
}
