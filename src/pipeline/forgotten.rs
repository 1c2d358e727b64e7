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

/// A caution for each client file or visit that holds an alert test applied longer ago than the salon keeps one.
#[must_use]
pub fn tests_past_keeping(read: &Read, salon: &Salon, today: NaiveDate) -> Report {
    let Some(days) = salon.retention.alert_test_days else { return Report::default() };
    let from = today.checked_sub_days(Days::new(days.into())).unwrap_or(NaiveDate::MIN);
    let files = read.histories.iter().flat_map(|history| {
        let visits = history.visits.iter().map(|visit| (&visit.file, &visit.health));
        std::iter::once((&history.client.file, &history.client.health)).chain(visits)
    });
    let caution = |(file, health): (&String, &Health)| {
        let old = health.alert_tests.iter().map(|test| test.applied).filter(|applied| *applied < from).min()?;
        let message = format!("an alert test of {old} is on record, longer than the {days} days the salon keeps one");
        Some(Diagnostic::caution(file, message).hint("Take its [[health.alert_test]] out of this file."))
    };
    Report { items: files.filter_map(caution).collect() }
}
