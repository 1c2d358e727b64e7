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

/// Each client's places in the diary.
pub(super) type Rows = BTreeMap<ClientCode, Vec<usize>>;

/// The keys of what was read.
#[derive(Debug)]
pub(super) struct Inputs {
    /// Of everything that is about no client: settings, estimate, passages, themes, pictures.
    house: Key,
    /// Of each client, in the order of the histories: their own file, their visits, their appointments.
    clients: Vec<Key>,
}

impl Inputs {
    pub(super) fn of(texts: &Texts, histories: &[History], diary: Option<(&Diary, &Rows)>) -> Self {
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
        let of = |history: &History| {
            let digest = |name: &str| text_key(by_name.get(name).expect("a history was read from these texts"));
            let mut visits: Vec<&str> = history.visits.iter().map(|visit| visit.file.as_str()).collect();
            visits.sort_unstable();
            let files = std::iter::once(history.client.file.as_str()).chain(visits);
            client_key(files.map(digest), diary, &history.client.code)
        };
        Self { house: house.finalize().into(), clients: histories.par_iter().map(of).collect() }
    }

    /// A client's own part of a key, by the client's place among the histories.
    pub(super) fn own(&self, at: usize) -> Key {
        self.clients[at]
    }

    /// The key of something about these clients, in this order, from their own parts; of what is about none, without any.
    pub(super) fn joined(&self, secret: &Secret, clients: impl IntoIterator<Item = Key>) -> Key {
        let mut all = Sha256::new();
        all.update(self.house);
        all.update(secret.bytes());
        clients.into_iter().for_each(|own| all.update(own));
        all.finalize().into()
    }
}

/// A client's own part of a key: the digests of their texts, their own file first and then the visits by name, and their rows of
/// the diary.
pub(super) fn client_key(texts: impl Iterator<Item = Key>, diary: Option<(&Diary, &Rows)>, code: &ClientCode) -> Key {
    let mut all = Sha256::new();
    texts.for_each(|digest| all.update(digest));
    let rows: Option<Vec<&Appointment>> = diary.and_then(|(diary, rows)| {
        let places = rows.get(code)?;
        Some(places.iter().map(|at| &diary.appointments[*at]).collect())
    });
    add(&mut all, format!("{rows:?}").as_bytes());
    all.finalize().into()
}

/// The digest of one text with its name.
pub(super) fn text_key(text: &SourceText) -> Key {
    let mut all = Sha256::new();
    add_text(&mut all, text);
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
