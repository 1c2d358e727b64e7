//! Clients that were forgotten: which files are about one, and who came back with a backup.

use std::collections::BTreeSet;

use chrono::Days;
use chrono::NaiveDate;

use super::Read;
use crate::diagnostic::{Diagnostic, Report, SourceText};
use crate::page::link::forgotten_mark;
use crate::record::{self, ClientCode, Health};
use crate::salon::Salon;
use crate::schedule::diary::read_bookings;
use crate::workspace::{Secret, Texts};

/// The texts about one client: the client's file and every record, those at fault included as far as they name the client.
#[must_use]
pub fn files_about<'a>(texts: &'a Texts, code: &ClientCode) -> Vec<&'a SourceText> {
    let about = |source: &&SourceText| record::client_named_in(source).as_ref() == Some(code);
    texts.clients.iter().chain(&texts.records).filter(about).collect()
}

/// The clients among the texts that were forgotten before, with a caution for each of their files.
#[must_use]
pub fn came_back(texts: &Texts, secret: &Secret) -> (BTreeSet<ClientCode>, Report) {
    let (mut codes, mut report) = (BTreeSet::new(), Report::default());
    if texts.forgotten.is_empty() {
        return (codes, report);
    }
    let own = texts.clients.iter().chain(&texts.records);
    let own = own.filter_map(|source| Some((source, record::client_named_in(source)?)));
    let booked = texts.bookings.iter().flat_map(|source| {
        let diary = read_bookings(source).value.unwrap_or_default();
        let clients: BTreeSet<ClientCode> = diary.appointments.into_iter().map(|one| one.client).collect();
        clients.into_iter().map(move |client| (source, client))
    });
    for (source, code) in own.chain(booked) {
        if !texts.forgotten.contains(&forgotten_mark(secret.bytes(), &code)) {
            continue;
        }
        let caution = Diagnostic::caution(
            &source.name,
            "this file is about a client who was forgotten; a backup may have brought it back",
        );
        report.push(caution.hint("Remove everything about this client again: afterhue forget --again"));
        codes.insert(code);
    }
    (codes, report)
}

/// The alert tests in one file that were applied longer ago than the salon keeps one.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct OldTests {
    /// The client's file or a visit.
    pub file: String,
    /// Which of the file's tests, counted from 0, and when each was applied.
    pub tests: Vec<(usize, NaiveDate)>,
}

/// Every client file and visit with such tests; none where the salon has set no time.
#[must_use]
pub fn old_tests(read: &Read, salon: &Salon, today: NaiveDate) -> Vec<OldTests> {
    let Some(days) = salon.retention.alert_test_days else { return Vec::new() };
    let from = today.checked_sub_days(Days::new(days.into())).unwrap_or(NaiveDate::MIN);
    let files = read.histories.iter().flat_map(|history| {
        let visits = history.visits.iter().map(|visit| (&visit.file, &visit.health));
        std::iter::once((&history.client.file, &history.client.health)).chain(visits)
    });
    let of = |(file, health): (&String, &Health)| {
        let applied = health.alert_tests.iter().map(|test| test.applied).enumerate();
        let tests: Vec<(usize, NaiveDate)> = applied.filter(|(_, applied)| *applied < from).collect();
        (!tests.is_empty()).then(|| OldTests { file: file.clone(), tests })
    };
    files.filter_map(of).collect()
}

/// A caution for each client file or visit with an alert test applied longer ago than the salon keeps one.
#[must_use]
pub fn tests_past_keeping(read: &Read, salon: &Salon, today: NaiveDate) -> Report {
    let days = salon.retention.alert_test_days.unwrap_or_default();
    let caution = |old: OldTests| {
        let first = old.tests.iter().map(|(_, applied)| *applied).min()?;
        let message = format!("an alert test of {first} is on record, longer than the {days} days the salon keeps one");
        Some(Diagnostic::caution(&old.file, message).hint("Remove what is too old: afterhue forget --old-tests"))
    };
    Report { items: old_tests(read, salon, today).into_iter().filter_map(caution).collect() }
}
