//! The due list as a table: for the salon only, because what holds a client back may be a health fact.
//!
//! In: the due list, the diary, words. Out: [`DueTable`], the same rows for people, CSV and JSON. Knows nothing of: how it is printed.

use chrono::{Days, NaiveDate};
use serde::Serialize;

use super::words::{Words, list};
use crate::plan::{Gate, RootsReason, VisitPart};
use crate::salon::Salon;
use crate::schedule::diary::{Appointment, Diary, Purpose, State};
use crate::schedule::due::{Due, DueVisit, Held, Reason, lead_days};
use crate::schedule::span::{Kind, Person, spans};
use crate::units::Worded;

/// Everybody's due list.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct DueTable {
    /// The day it is of.
    pub today: NaiveDate,
    /// One row a client and visit, overdue first.
    pub rows: Vec<DueRow>,
}

/// One visit or alert test of one client; or why there is none.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct DueRow {
    /// The client's code.
    pub client: String,
    /// What for, in words; empty when nothing can be booked.
    pub needs: String,
    /// As which service, the code of the salon's file.
    pub service: Option<&'static str>,
    /// The first day of its window.
    pub earliest: Option<NaiveDate>,
    /// The best day.
    pub best: Option<NaiveDate>,
    /// The last day.
    pub latest: Option<NaiveDate>,
    /// Chair time, buffer included, minutes.
    pub minutes: Option<u16>,
    /// Consultation, hands-on, developing, hands-on and buffer, minutes.
    pub spans: Option<[u16; 5]>,
    /// The code of the client's own stylist.
    pub stylist: Option<String>,
    /// Why then, in words.
    pub reason: String,
    /// The last day is behind.
    pub overdue: bool,
    /// "proposed" or "booked", when it has a time.
    pub state: Option<&'static str>,
    /// The day of that time.
    pub date: Option<NaiveDate>,
    /// That time, "10:15".
    pub time: Option<String>,
    /// With whom.
    pub with: Option<String>,
    /// Why it cannot be booked, or not all of it, in words.
    pub held: Option<String>,
}

/// The due list as rows.
#[must_use]
pub fn due_table(due: &[Due], diary: &Diary, salon: &Salon, today: NaiveDate, words: &dyn Words) -> DueTable {
    let told = Telling { diary, salon, today, words };
    DueTable { today, rows: due.iter().flat_map(|due| told.rows(due)).collect() }
}

struct Telling<'a> {
    diary: &'a Diary,
    salon: &'a Salon,
    today: NaiveDate,
    words: &'a dyn Words,
}

impl Telling<'_> {
    fn rows(&self, due: &Due) -> Vec<DueRow> {
        let held = due.held.as_ref().map(|held| self.words.pattern(held_key(held)));
        let mut rows: Vec<DueRow> = Vec::new();
        // The test comes before the visit it is for.
        rows.extend(due.test.map(|test| self.test(due, test.by)));
        let booked = self.of(due, Purpose::Visit);
        rows.extend(due.visits.iter().enumerate().map(|(at, visit)| {
            // A booking is for what is due next.
            self.visit(due, visit, booked.filter(|_| at == 0), held.as_ref())
        }));
        if rows.is_empty() {
            rows.push(DueRow { held, ..self.bare(due) });
        }
        rows
    }

    fn of(&self, due: &Due, purpose: Purpose) -> Option<&Appointment> {
        let ahead = self.diary.ahead(&due.client, purpose, self.today);
        ahead.or_else(|| self.diary.standing(&due.client, purpose, self.today))
    }

    fn bare(&self, due: &Due) -> DueRow {
        DueRow {
            client: due.client.to_string(),
            needs: String::new(),
            service: None,
            earliest: None,
            best: None,
            latest: None,
            minutes: None,
            spans: None,
            stylist: due.stylist.clone(),
            reason: String::new(),
            overdue: false,
            state: None,
            date: None,
            time: None,
            with: None,
            held: None,
        }
    }

    /// The alert test: before the time there is for the visit, else as soon as may be.
    fn test(&self, due: &Due, by: NaiveDate) -> DueRow {
        let visit = self.of(due, Purpose::Visit);
        let before = |at: &Appointment| at.date.checked_sub_days(Days::new(lead_days(self.salon)));
        let by = visit.and_then(before).unwrap_or_else(|| by.max(self.today));
        let person = Person::of(&due.shareable, self.salon, &due.plan);
        let spans = spans(Kind::AlertTest, &[], &person, &due.plan, self.salon, by);
        let row = DueRow {
            needs: self.words.pattern("due.alert-test"),
            service: Some(Kind::AlertTest.word()),
            latest: Some(by),
            minutes: Some(spans.occupied()),
            spans: Some([spans.consultation, spans.hands_on, spans.developing, spans.finishing, spans.buffer]),
            reason: self.words.pattern("due.before-colour"),
            overdue: by < self.today,
            ..self.bare(due)
        };
        timed(row, self.of(due, Purpose::AlertTest))
    }

    fn visit(&self, due: &Due, visit: &DueVisit, at: Option<&Appointment>, held: Option<&String>) -> DueRow {
        let parts: Vec<String> = visit.parts.iter().map(|part| self.words.pattern(part_key(*part))).collect();
        let none = visit.parts.is_empty();
        let spans = visit.spans;
        let not_lightened = if visit.not_lightened {
            Some(self.words.pattern("due.not-lightened"))
        } else {
            due.gates.contains(&Gate::WeakHair).then(|| self.words.pattern("due.weak"))
        };
        let row = DueRow {
            needs: if none { self.words.pattern("visit.roots") } else { list(self.words, &parts) },
            service: (!none).then(|| visit.kind.word()),
            earliest: Some(visit.window.earliest),
            best: Some(visit.window.best),
            latest: Some(visit.window.latest),
            minutes: (!none).then_some(spans.occupied()),
            spans: (!none).then_some([
                spans.consultation,
                spans.hands_on,
                spans.developing,
                spans.finishing,
                spans.buffer,
            ]),
            reason: self.words.pattern(reason_key(visit.reason)),
            overdue: visit.overdue,
            held: held.cloned().or(not_lightened),
            ..self.bare(due)
        };
        timed(row, at)
    }
}

fn timed(row: DueRow, at: Option<&Appointment>) -> DueRow {
    let Some(at) = at else { return row };
    DueRow {
        state: Some(if at.state == State::Booked { "booked" } else { "proposed" }),
        date: Some(at.date),
        time: Some(at.time.format("%H:%M").to_string()),
        with: Some(at.stylist.clone()),
        ..row
    }
}

pub(super) const fn part_key(part: VisitPart) -> &'static str {
    match part {
        VisitPart::Refresh => "visit.refresh",
        VisitPart::Roots => "visit.roots",
        VisitPart::Trim => "visit.trim",
    }
}

pub(super) const fn reason_key(reason: Reason) -> &'static str {
    match reason {
        Reason::Turns => "due.turns",
        Reason::NearlyBack => "due.nearly-back",
        Reason::Practised => "due.practised",
        Reason::Roots(RootsReason::ScalpLightener) => "due.scalp-lightener",
        Reason::Roots(RootsReason::Tint) => "due.tint",
        Reason::Roots(RootsReason::WhiteCover) => "due.white-cover",
        Reason::Roots(RootsReason::Foils) => "due.foils",
        Reason::Roots(RootsReason::Freehand) => "due.freehand",
        Reason::TwoStage => "due.two-stage",
        Reason::Trim => "due.trim",
    }
}

const fn held_key(held: &Held) -> &'static str {
    match held {
        Held::AgeNotConfirmed => "due.age",
        Held::NothingPlanned => "due.nothing",
        Held::PastReaction => "due.reaction",
        Held::BlackHenna => "due.black-henna",
        Held::NotLightened => "due.only-lightening",
    }
}
