//! What shapes a page, as one digest: whole texts, so that nothing that may matter can be forgotten.
//!
//! In: the texts of a salon folder and what was read from them. Out: [`Inputs`], a key for each part of the site.
//! Knows nothing of: what any text says. The program is a part of every key too: `site::Writer` sees to that.

use std::collections::BTreeMap;

use rayon::prelude::*;
use sha2::{Digest, Sha256};

use crate::diagnostic::SourceText;
use crate::record::{ClientCode, History};
use crate::schedule::diary::{Appointment, Diary};
use crate::site::Key;
use crate::workspace::{Secret, Texts};

/// The keys of what was read.
#[derive(Debug)]
pub(super) struct Inputs {
    /// Of everything that is about no client: settings, estimate, passages, themes, pictures.
    house: Key,
    /// Of each client, in the order of the histories: their own file, their visits, their appointments.
    clients: Vec<Key>,
}

impl Inputs {
    pub(super) fn of(texts: &Texts, histories: &[History], diary: Option<&Diary>) -> Self {
        // Every list is named here, so that a new one cannot be left out of a key unseen.
        let Texts {
            salon,
            estimate,
            content,
            themes,
            pictures,
            clients,
            records,
            // By client, from the diary.
            bookings: _,
            // A client with one of these is at fault and has no page made.
            unread: _,
            // Only told.
            forgotten: _,
            report: _,
            refused: _,
        } = texts;
        let mut house = Sha256::new();
        salon.iter().chain(estimate).chain(content).chain(themes).for_each(|text| add_text(&mut house, text));
        for (name, bytes) in pictures {
            add(&mut house, name.as_bytes());
            add(&mut house, bytes);
        }
        let by_name: BTreeMap<&str, &SourceText> =
            clients.iter().chain(records).map(|text| (text.name.as_str(), text)).collect();
        let mut rows: BTreeMap<&ClientCode, Vec<&Appointment>> = BTreeMap::new();
        for one in diary.iter().flat_map(|diary| &diary.appointments) {
            rows.entry(&one.client).or_default().push(one);
        }
        let of = |history: &History| client(history, &by_name, rows.get(&history.client.code));
        Self { house: house.finalize().into(), clients: histories.par_iter().map(of).collect() }
    }

    /// The key of what is about no client.
    pub(super) fn of_house(&self, secret: &Secret) -> Key {
        self.joined(secret, [])
    }

    /// The key of a client's page and calendar files, by the client's place among the histories.
    pub(super) fn of_client(&self, at: usize, secret: &Secret) -> Key {
        self.joined(secret, [at])
    }

    /// The key of something about several clients, in this order.
    pub(super) fn of_clients(&self, at: impl IntoIterator<Item = usize>, secret: &Secret) -> Key {
        self.joined(secret, at)
    }

    fn joined(&self, secret: &Secret, clients: impl IntoIterator<Item = usize>) -> Key {
        let mut all = Sha256::new();
        all.update(self.house);
        all.update(secret.bytes());
        clients.into_iter().for_each(|at| all.update(self.clients[at]));
        all.finalize().into()
    }
}

/// A client's texts, whole, and their rows of the diary.
fn client(history: &History, texts: &BTreeMap<&str, &SourceText>, rows: Option<&Vec<&Appointment>>) -> Key {
    let mut all = Sha256::new();
    let files = history.visits.iter().map(|visit| visit.file.as_str());
    for name in files.chain([history.client.file.as_str()]) {
        add_text(&mut all, texts.get(name).expect("a history was read from these texts"));
    }
    add(&mut all, format!("{rows:?}").as_bytes());
    all.finalize().into()
}

fn add_text(all: &mut Sha256, text: &SourceText) {
    add(all, text.name.as_bytes());
    add(all, text.text.as_bytes());
}

/// Adds bytes with their number, so that no two lists run together into the same.
fn add(all: &mut Sha256, bytes: &[u8]) {
    all.update((bytes.len() as u64).to_le_bytes());
    all.update(bytes);
}
