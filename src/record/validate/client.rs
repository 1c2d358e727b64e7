//! The client file.

use super::health;
use crate::diagnostic::{Diagnostic, SourceText};
use crate::form::{Filled, Findings};
use crate::record::{AgeCheck, ClientCode, ClientFile, Consents, Contact, HairHistoryEntry};

/// The code in a file's name, or a fault.
pub(super) fn code_of(source: &SourceText, findings: &mut Findings<'_>) -> Option<ClientCode> {
    let name = source.name.rsplit('/').next().unwrap_or_default();
    let stem = name.strip_suffix(".toml").unwrap_or(name);
    let code = ClientCode::try_new(stem);
    if code.is_none() {
        let message = format!("the file's name \"{stem}\" is not a client's code");
        let hint = "Name the file by a code of 2 to 32 small letters, digits or hyphens, never by the client's name: wren-04.toml";
        let meant = stem.to_lowercase().replace('_', "-");
        let fault = Diagnostic::fault(&source.name, message).hint(hint);
        findings.tell(match ClientCode::try_new(&meant) {
            Some(meant) => {
                fault.hint(format!("Name it {meant}.toml, and write `client = \"{meant}\"` in the visit records"))
            }
            None => fault,
        });
    }
    code
}

pub(super) fn client(file: &Filled, code: ClientCode, findings: &mut Findings<'_>) -> ClientFile {
    let consents = consents(file);
    let health = health::health(file.section("health"), findings);
    health::cautions(file, &health, &consents, findings);
    let contact = file.section("contact");
    ClientFile {
        file: findings.source().name.clone(),
        code,
        first_name: file.owned("first_name"),
        show_first_name: file.yes("show_first_name").unwrap_or(false),
        language: file.owned("language"),
        contact: Contact {
            phone: contact.and_then(|contact| contact.owned("phone")),
            email: contact.and_then(|contact| contact.owned("email")),
        },
        age: age(file, findings),
        consents,
        history: file.sections("history").iter().filter_map(history_entry).collect(),
        link_number: file.whole("link_number").unwrap_or(1),
        sealed: file.yes("sealed"),
        health,
    }
}

fn history_entry(entry: &Filled) -> Option<HairHistoryEntry> {
    Some(HairHistoryEntry {
        kind: entry.word("what")?,
        date: entry.date("date"),
        note: entry.owned("note"),
        span: entry.span(),
    })
}

fn consents(file: &Filled) -> Consents {
    let date = |field| file.section("consents").and_then(|consents| consents.date(field));
    Consents {
        service: date("service"),
        health_data: date("health_data"),
        photo: date("photo"),
        marketing: date("marketing"),
    }
}

/// Not recorded and under 16 are kept and flagged; neither gives a plan or a booking.
fn age(file: &Filled, findings: &mut Findings<'_>) -> AgeCheck {
    let Some(age) = file.section("age") else {
        if !file.is_written("age") {
            findings.caution_about_file(
                "it is not recorded whether the client is 16 or over",
                "Until it is, there is no plan and no booking. Write [age], sixteen_or_over = true, and confirmed = the day you asked",
            );
        }
        return AgeCheck::NotRecorded;
    };
    match (age.yes("sixteen_or_over"), age.date("confirmed")) {
        (Some(true), Some(day)) => AgeCheck::Confirmed(day),
        (Some(true), None) => {
            if !age.is_written("confirmed") {
                findings.caution(
                    age.span_of("sixteen_or_over"),
                    "the age is not confirmed",
                    "on which day?",
                    "Write the day you asked: `confirmed = 2026-01-12`. Until then there is no plan and no booking",
                );
            }
            AgeCheck::NotRecorded
        }
        (Some(false), _) => {
            findings.caution(
                age.span_of("sixteen_or_over"),
                "this client is under 16",
                "kept, and flagged",
                "Hair colour is not meant for anyone under 16; the page has help text only, and there is no plan and no booking",
            );
            AgeCheck::Under16
        }
        (None, _) => AgeCheck::NotRecorded,
    }
}
