//! Appointments, from the first proposal to the cancelled one, each with a number that never changes.

use std::collections::BTreeMap;

use chrono::{NaiveDate, NaiveTime};
use chrono_tz::Tz;

use super::hours::{Minute, Stretch, minute_of};
use crate::record::ClientCode;
use crate::schedule::span::{Kind, Spans};
use crate::units::worded;

worded! {
    /// Where an appointment stands.
    State, "state of an appointment" {
        /// Proposed by the fit; the client may have heard of it.
        Proposed = "proposed",
        /// The client said yes.
        Booked = "booked" ["accepted"],
        /// Called off.
        Cancelled = "cancelled" ["canceled"],
    }
}

worded! {
    /// What an appointment is for.
    Purpose, "purpose of an appointment" {
        /// The visit itself.
        Visit = "visit",
        /// The alert test before it.
        AlertTest = "alert-test",
    }
}

/// One appointment.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Appointment {
    /// Its number, never used again: the identifier in calendars comes from it.
    pub number: u32,
    /// The client.
    pub client: ClientCode,
    /// What for.
    pub purpose: Purpose,
    /// As which service.
    pub kind: Kind,
    /// Where it stands.
    pub state: State,
    /// The day.
    pub date: NaiveDate,
    /// The local time.
    pub time: NaiveTime,
    /// The stylist's code.
    pub stylist: String,
    /// How long.
    pub spans: Spans,
    /// Raised with every change (RFC 5545 §3.8.7.4).
    pub sequence: u32,
    /// The day of the last change.
    pub changed: NaiveDate,
}

impl Appointment {
    /// When it begins.
    #[must_use]
    pub fn begins(&self, zone: Tz) -> Minute {
        minute_of(self.date, self.time, zone)
    }

    /// The time it takes a chair, buffer included.
    #[must_use]
    pub fn stretch(&self, zone: Tz) -> Stretch {
        let from = self.begins(zone);
        Stretch { from, to: from + Minute::from(self.spans.occupied()) }
    }

    /// The times it takes its stylist's hands.
    #[must_use]
    pub fn hands(&self, zone: Tz, share_developing: bool) -> Vec<Stretch> {
        let from = self.begins(zone);
        let shift = |(a, b): (u16, u16)| Stretch { from: from + Minute::from(a), to: from + Minute::from(b) };
        self.spans.hands(share_developing).into_iter().map(shift).collect()
    }
}

/// A time proposed for a client, before it has a number.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Proposal {
    /// The client.
    pub client: ClientCode,
    /// What for.
    pub purpose: Purpose,
    /// As which service.
    pub kind: Kind,
    /// The day.
    pub date: NaiveDate,
    /// The local time.
    pub time: NaiveTime,
    /// The stylist's code.
    pub stylist: String,
    /// How long.
    pub spans: Spans,
}

/// A booked visit as a client's own page may tell it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Booked {
    /// The day.
    pub date: NaiveDate,
    /// The local time.
    pub time: NaiveTime,
    /// From sitting down to getting up, minutes.
    pub minutes: u16,
    /// What the visit is.
    pub kind: Kind,
}

/// Every appointment the salon knows of, by number.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Diary {
    /// The appointments, by number.
    pub appointments: Vec<Appointment>,
    /// The last number given out.
    pub last_number: u32,
}

/// The last of one client's booked visits after a service.
fn last_booked<'a>(own: impl Iterator<Item = &'a Appointment>, service: NaiveDate) -> Option<Booked> {
    let after = |one: &&Appointment| one.purpose == Purpose::Visit && one.state == State::Booked && one.date > service;
    let last = own.filter(after).max_by_key(|one| (one.date, one.time))?;
    Some(Booked { date: last.date, time: last.time, minutes: last.spans.served(), kind: last.kind })
}

impl Diary {
    /// The appointments that take time from a day on: booked ones.
    pub fn booked_from(&self, day: NaiveDate) -> impl Iterator<Item = &Appointment> {
        self.appointments.iter().filter(move |one| one.state == State::Booked && one.date >= day)
    }

    /// A client's next booked appointment for a purpose, from a day on.
    #[must_use]
    pub fn ahead(&self, client: &ClientCode, purpose: Purpose, from: NaiveDate) -> Option<&Appointment> {
        self.first(client, purpose, State::Booked, from)
    }

    /// The visit a client has booked after a service; of several, the last. Never a function of today.
    #[must_use]
    pub fn booked_after(&self, client: &ClientCode, service: NaiveDate) -> Option<Booked> {
        last_booked(self.appointments.iter().filter(|one| one.client == *client), service)
    }

    /// The same from a client's own places in the list, as [`by_client`](Self::by_client) has them.
    #[must_use]
    pub fn booked_among(&self, places: &[usize], service: NaiveDate) -> Option<Booked> {
        last_booked(places.iter().filter_map(|at| self.appointments.get(*at)), service)
    }

    /// Each client's appointments, by their places in the list: for whoever asks about every client.
    #[must_use]
    pub fn by_client(&self) -> BTreeMap<ClientCode, Vec<usize>> {
        let mut rows: BTreeMap<ClientCode, Vec<usize>> = BTreeMap::new();
        for (at, one) in self.appointments.iter().enumerate() {
            rows.entry(one.client.clone()).or_default().push(at);
        }
        rows
    }

    /// The same diary without a client's appointments; no number is given out twice.
    #[must_use]
    pub fn without(mut self, client: &ClientCode) -> Self {
        self.appointments.retain(|one| one.client != *client);
        self
    }

    /// A client's standing proposal for a purpose, from a day on.
    #[must_use]
    pub fn standing(&self, client: &ClientCode, purpose: Purpose, from: NaiveDate) -> Option<&Appointment> {
        self.first(client, purpose, State::Proposed, from)
    }

    fn first(&self, client: &ClientCode, purpose: Purpose, state: State, from: NaiveDate) -> Option<&Appointment> {
        let same = |one: &&Appointment| one.client == *client && one.purpose == purpose && one.state == state;
        self.appointments.iter().filter(same).filter(|one| one.date >= from).min_by_key(|one| (one.date, one.time))
    }

    /// The same diary with new proposals: what stands unchanged keeps its sequence, what moved raises it, what is no longer proposed is called off.
    ///
    /// Proposals and cancellations of days behind go; bookings stay, to be looked back on.
    #[must_use]
    pub fn with_proposals(&self, proposals: &[Proposal], today: NaiveDate) -> Self {
        let mut next = self.clone();
        next.appointments.retain(|one| one.state == State::Booked || one.date >= today);
        for one in next.appointments.iter_mut().filter(|one| one.state == State::Proposed) {
            match proposals.iter().find(|new| new.client == one.client && new.purpose == one.purpose) {
                Some(new) => one.take(new, State::Proposed, today),
                None => one.set(State::Cancelled, today),
            }
        }
        for new in proposals {
            if next.standing(&new.client, new.purpose, today).is_none() {
                next.add(new, State::Proposed, today);
            }
        }
        next
    }

    /// Adds an appointment under a new number.
    pub(super) fn add(&mut self, new: &Proposal, state: State, today: NaiveDate) {
        self.last_number += 1;
        self.appointments.push(Appointment {
            number: self.last_number,
            client: new.client.clone(),
            purpose: new.purpose,
            kind: new.kind,
            state,
            date: new.date,
            time: new.time,
            stylist: new.stylist.clone(),
            spans: new.spans,
            sequence: 0,
            changed: today,
        });
    }
}

impl Appointment {
    /// Takes over a time and a state; the sequence is raised only when something changed.
    pub(super) fn take(&mut self, new: &Proposal, state: State, today: NaiveDate) {
        let same = self.date == new.date
            && self.time == new.time
            && self.stylist == new.stylist
            && self.spans == new.spans
            && self.kind == new.kind
            && self.state == state;
        if !same {
            self.date = new.date;
            self.time = new.time;
            self.stylist.clone_from(&new.stylist);
            self.spans = new.spans;
            self.kind = new.kind;
            self.state = state;
            self.sequence += 1;
            self.changed = today;
        }
    }

    /// Changes the state.
    pub(super) fn set(&mut self, state: State, today: NaiveDate) {
        if self.state != state {
            self.state = state;
            self.sequence += 1;
            self.changed = today;
        }
    }
}
