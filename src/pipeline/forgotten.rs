//! Clients that were forgotten: which files are about one, and who came back with a backup.

use std::collections::BTreeSet;

use crate::diagnostic::{Diagnostic, Report, SourceText};
use crate::page::link::forgotten_mark;
use crate::record::{self, ClientCode};
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
    for source in texts.clients.iter().chain(&texts.records) {
        let Some(code) = record::client_named_in(source) else { continue };
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
