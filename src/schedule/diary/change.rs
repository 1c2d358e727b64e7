//! Saying yes, moving and calling off: each a new diary, or a refusal with the reason.
//!
//! In: a wish, the due list, the diary, what is free. Out: the diary after it and one sentence about it. Knows nothing of: files.

use chrono::{Days, NaiveDate, NaiveTime};

use super::appointment::{Diary, Proposal, Purpose, State};
use super::busy::Busy;
use super::free::{Refusal, does, refusal};
use super::hours::{minute_of, not_there};
use crate::plan::{Gate, Window, day_in_words, weekday_in_words};
use crate::salon::{Salon, Stylist};
use crate::schedule::due::{Due, Held, lead_days};
use crate::schedule::span::{Kind, Spans, lightens, spans};

/// What lies on the desk when somebody asks for a time.
#[derive(Debug, Clone, Copy)]
pub struct Desk<'a> {
    /// The salon.
    pub salon: &'a Salon,
    /// The due list.
    pub due: &'a [Due],
    /// The diary.
    pub diary: &'a Diary,
    /// Busy times of other calendars.
    pub busy: &'a Busy,
    /// Today.
    pub today: NaiveDate,
}

/// A wish of a client.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Change {
    /// Yes to a time, proposed or not.
    Accept {
        /// The client.
        client: String,
        /// The day.
        date: NaiveDate,
        /// The local time.
        time: NaiveTime,
        /// With whom; without it the proposal's, else the own stylist, else whoever is free.
        stylist: Option<String>,
    },
    /// Another time in place of the one booked or proposed.
    Move {
        /// The client.
        client: String,
        /// The new day.
        date: NaiveDate,
        /// The new local time.
        time: NaiveTime,
        /// With whom; as for a yes.
        stylist: Option<String>,
    },
    /// The client is not coming on a day.
    Cancel {
        /// The client.
        client: String,
        /// The day.
        date: NaiveDate,
    },
}

impl Change {
    /// The client it is about, as written.
    #[must_use]
    pub fn client(&self) -> &str {
        match self {
            Self::Accept { client, .. } | Self::Move { client, .. } | Self::Cancel { client, .. } => client,
        }
    }
}

/// Makes a change.
///
/// # Errors
/// Why it cannot be made; the diary stays as it was.
pub fn change(desk: &Desk<'_>, wish: &Change) -> Result<(Diary, String), Refusal> {
    match wish {
        Change::Accept { client, date, time, stylist } => accept(desk, client, (*date, *time), stylist.as_deref()),
        Change::Move { client, date, time, stylist } => moved(desk, client, (*date, *time), stylist.as_deref()),
        Change::Cancel { client, date } => cancel(desk, client, *date),
    }
}

fn accept(
    desk: &Desk<'_>,
    code: &str,
    when: (NaiveDate, NaiveTime),
    with: Option<&str>,
) -> Result<(Diary, String), Refusal> {
    let due = desk.client(code)?;
    let (date, time) = when;
    let at = |one: &&crate::schedule::diary::Appointment| {
        one.client == due.client && one.state == State::Proposed && (one.date, one.time) == when
    };
    let test = desk.diary.appointments.iter().find(at).filter(|one| one.purpose == Purpose::AlertTest);
    let purpose = if test.is_some() { Purpose::AlertTest } else { Purpose::Visit };
    if let Some(booked) = desk.diary.ahead(&due.client, purpose, desk.today) {
        let why = format!("{code} is booked already, on {}", spelt(booked.date, booked.time));
        return Err(Refusal::new(
            why,
            format!("To take the new time instead: --move {code} {date} {}", time.format("%H:%M")),
        ));
    }
    let new = match test {
        Some(test) => desk.placed(due, purpose, test.kind, test.spans, when, with)?,
        None => desk.visit(due, when, with)?,
    };
    let mut diary = desk.diary.clone();
    let today = desk.today;
    let standing = |one: &&mut super::Appointment| {
        one.client == new.client && one.purpose == purpose && one.state == State::Proposed && one.date >= today
    };
    match diary.appointments.iter_mut().find(standing) {
        Some(one) => one.take(&new, State::Booked, desk.today),
        None => diary.add(&new, State::Booked, desk.today),
    }
    let told = format!("{code} is booked on {} with {}.", spelt(date, time), new.stylist);
    Ok((diary, told + &desk.test_before(due, &new)))
}

fn moved(
    desk: &Desk<'_>,
    code: &str,
    when: (NaiveDate, NaiveTime),
    with: Option<&str>,
) -> Result<(Diary, String), Refusal> {
    let due = desk.client(code)?;
    let ahead = desk
        .diary
        .ahead(&due.client, Purpose::Visit, desk.today)
        .or_else(|| desk.diary.standing(&due.client, Purpose::Visit, desk.today));
    let Some(old) = ahead else {
        let hint = format!("To book it: --accept {code} {} {}", when.0, when.1.format("%H:%M"));
        return Err(Refusal::new(format!("{code} has no appointment ahead that could be moved"), hint));
    };
    let with = with.or(Some(old.stylist.as_str()).filter(|code| desk.works(code, when.0)));
    let new = desk.visit(due, when, with)?;
    let mut diary = desk.diary.clone();
    if let Some(one) = diary.appointments.iter_mut().find(|one| one.number == old.number) {
        one.take(&new, State::Booked, desk.today);
    }
    let (from, to) = (spelt(old.date, old.time), spelt(when.0, when.1));
    let told = format!("{code} is moved from {from} to {to} with {}.", new.stylist);
    Ok((diary, told + &desk.test_before(due, &new)))
}

fn cancel(desk: &Desk<'_>, code: &str, date: NaiveDate) -> Result<(Diary, String), Refusal> {
    let mut diary = desk.diary.clone();
    let on = |one: &&mut super::Appointment| {
        one.client.as_str() == code && one.date == date && one.state != State::Cancelled
    };
    let Some(one) = diary.appointments.iter_mut().find(on) else {
        let of_client = desk.diary.appointments.iter().filter(|one| one.client.as_str() == code);
        let days: Vec<String> = of_client
            .filter(|one| one.state != State::Cancelled && one.date >= desk.today)
            .map(|one| format!("{} (--cancel {code} {})", weekday_in_words(one.date), one.date))
            .collect();
        let hint = if days.is_empty() {
            "The client has none ahead".to_owned()
        } else {
            format!("The client has one on: {}", days.join(", "))
        };
        return Err(Refusal::new(format!("{code} has no appointment on {}", weekday_in_words(date)), hint));
    };
    let (when, time, minutes) = (spelt(one.date, one.time), one.time.format("%H:%M").to_string(), one.spans.occupied());
    one.set(State::Cancelled, desk.today);
    Ok((diary, format!("{code} on {when} is called off. Who could come instead: --fill {date} {time} {minutes}")))
}

/// "Tuesday 1 December 2026 at 10:15".
fn spelt(date: NaiveDate, time: NaiveTime) -> String {
    format!("{} at {}", weekday_in_words(date), time.format("%H:%M"))
}

impl Desk<'_> {
    fn client(&self, code: &str) -> Result<&Due, Refusal> {
        let due = self.due.iter().find(|due| due.client.as_str() == code);
        due.ok_or_else(|| {
            Refusal::new(
                format!("no client \"{code}\" has a visit on record"),
                "The codes are the names of the files in clients/",
            )
        })
    }

    /// What a booked colour still asks for: its alert test, by when, and that this is today when no later day is left.
    fn test_before(&self, due: &Due, booked: &Proposal) -> String {
        let by = booked.date.checked_sub_days(Days::new(lead_days(self.salon)));
        match by.filter(|_| due.test.is_some() && booked.purpose == Purpose::Visit) {
            Some(by) if by <= self.today => " The alert test has to be made today, or the day cannot stay.".to_owned(),
            Some(by) => format!(" Alert test by {} at the latest.", weekday_in_words(by)),
            None => String::new(),
        }
    }

    fn works(&self, code: &str, day: NaiveDate) -> bool {
        self.salon.stylists.iter().any(|one| one.code == code && not_there(self.salon, one, day).is_none())
    }

    /// Nothing is booked in the past.
    fn not_past(&self, date: NaiveDate) -> Result<(), Refusal> {
        if date < self.today {
            return Err(Refusal::new(format!("{} is past", day_in_words(date)), "Take a day from today on"));
        }
        Ok(())
    }

    /// The next visit of a client at a time.
    fn visit(&self, due: &Due, when: (NaiveDate, NaiveTime), with: Option<&str>) -> Result<Proposal, Refusal> {
        self.not_past(when.0)?;
        if let Some(held) = &due.held {
            return Err(Refusal::new(
                format!("{} cannot be booked: {}", due.client, why_held(held)),
                "Settle that first, and write it into the client's file",
            ));
        }
        let Some(next) = due.next() else {
            return Err(Refusal::new(
                format!("nothing is due for {}", due.client),
                "Add the record of the last visit first",
            ));
        };
        let (date, _) = when;
        let gap = due.gates.iter().find_map(|gate| match gate {
            Gate::RelightenGap { from } if lightens(&next.parts, &due.plan) => Some(*from),
            _ => None,
        });
        if let Some(from) = gap.filter(|from| date < *from) {
            return Err(Refusal::new(
                format!("the same hair is not lightened again before {}", weekday_in_words(from)),
                "Take a later day",
            ));
        }
        let spans = spans(next.kind, &next.parts, &due.person, &due.plan, self.salon, date);
        let first = self.today.checked_add_days(Days::new(lead_days(self.salon))).unwrap_or(self.today);
        if due.test.is_some() && date < first {
            let hours = self.salon.practice.alert_test_lead_hours;
            return Err(Refusal::new(
                format!("an alert test is due, at least {hours:.0} hours before"),
                format!("The first day that leaves time for it is {}", weekday_in_words(first)),
            ));
        }
        self.placed(due, Purpose::Visit, next.kind, spans, when, with)
    }

    /// A free place for an appointment, with the stylist asked for or the best one who is free.
    fn placed(
        &self,
        due: &Due,
        purpose: Purpose,
        kind: Kind,
        spans: Spans,
        (date, time): (NaiveDate, NaiveTime),
        with: Option<&str>,
    ) -> Result<Proposal, Refusal> {
        self.not_past(date)?;
        let stylists = self.stylists(due, purpose, (date, time), kind, with)?;
        let from = minute_of(date, time, self.salon.time_zone);
        let mut first = None;
        for stylist in stylists {
            match refusal(self.salon, self.diary, self.busy, &due.client, (stylist, kind), (from, spans)) {
                None => {
                    let stylist = stylist.code.clone();
                    return Ok(Proposal { client: due.client.clone(), purpose, kind, date, time, stylist, spans });
                }
                Some(why) => first = first.or(Some(why)),
            }
        }
        Err(first
            .unwrap_or_else(|| Refusal::new("nobody who does this works here", "Look at [[stylist]] in salon.toml")))
    }

    /// Whom to try, in order.
    fn stylists(
        &self,
        due: &Due,
        purpose: Purpose,
        when: (NaiveDate, NaiveTime),
        kind: Kind,
        with: Option<&str>,
    ) -> Result<Vec<&Stylist>, Refusal> {
        let all = &self.salon.stylists;
        if let Some(code) = with {
            let codes: Vec<&str> = all.iter().map(|one| one.code.as_str()).collect();
            let one = all.iter().find(|one| one.code == code);
            let unknown = || {
                Refusal::new(
                    format!("there is no stylist \"{code}\""),
                    format!("The stylists are: {}", codes.join(", ")),
                )
            };
            return one.map(|one| vec![one]).ok_or_else(unknown);
        }
        let standing = self.diary.standing(&due.client, purpose, self.today);
        let proposed = standing.filter(|one| (one.date, one.time) == when).map(|one| one.stylist.as_str());
        let mut order: Vec<&Stylist> = all.iter().filter(|one| does(one, kind)).collect();
        let rank = |one: &&Stylist| (Some(one.code.as_str()) != proposed, Some(&one.code) != due.stylist.as_ref());
        order.sort_by_key(rank);
        Ok(order)
    }
}

/// Why a client is held, for the person at the desk.
pub(in crate::schedule) const fn why_held(held: &Held) -> &'static str {
    match held {
        Held::AgeNotConfirmed => "age 16 is not confirmed",
        Held::NothingPlanned => "no visit is planned",
        Held::PastReaction => "a reaction is on record",
        Held::BlackHenna => "a black henna tattoo is on record, and a doctor has to say yes first",
        Held::NotLightened => "only lightening is due, and this hair must not be lightened",
    }
}

/// Whether a day lies in a window or after it.
pub(super) fn open_by(window: Window, day: NaiveDate) -> bool {
    window.earliest <= day
}
