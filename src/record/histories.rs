//! Clients and visits brought together: what no single file can tell.

use std::collections::BTreeMap;

use super::cautions;
use super::{ClientCode, ClientFile, History, ServiceRecord};
use crate::diagnostic::{Diagnostic, Report, did_you_mean};
use crate::units::PeroxidePercent;

/// What the rest of the salon folder tells a reader of records.
#[derive(Debug, Clone, PartialEq)]
pub struct Known<'a> {
    /// Codes of the salon's stylists; with none, no stylist is checked.
    pub stylists: &'a [String],
    /// Strongest peroxide the salon allows on the scalp.
    pub scalp_peroxide_max: PeroxidePercent,
    /// Codes of clients whose file is at fault: their visits wait, and that is not another fault.
    pub clients_at_fault: &'a [String],
}

/// Each client's visits in time, by code, and what only all files together tell.
///
/// A visit of an unknown client or stylist, or the second of a client on one day, is at fault and left out; the others go through.
/// A client without visits has no history.
#[must_use]
pub fn histories(clients: Vec<ClientFile>, visits: Vec<ServiceRecord>, known: &Known<'_>) -> (Vec<History>, Report) {
    let mut report = Report::default();
    let clients: Vec<ClientFile> = twins_left_out(clients, &mut report);
    let codes: Vec<&str> = clients.iter().map(|client| client.code.as_str()).collect();
    let mut by_client: BTreeMap<String, Vec<ServiceRecord>> = BTreeMap::new();
    let mut visits = visits;
    visits.sort_by(|one, other| (one.date, &one.file).cmp(&(other.date, &other.file)));
    for visit in visits {
        let stylist = unknown_stylist(&visit, known);
        let client = unknown_client(&visit, &codes, known);
        let usable = stylist.is_none() && client.is_none();
        [stylist, client].into_iter().flatten().for_each(|finding| report.push(finding));
        if usable {
            let earlier = by_client.entry(visit.client.as_str().to_owned()).or_default();
            match earlier.last().filter(|last| last.date == visit.date) {
                Some(last) => report.push(same_day(&visit, last)),
                None => earlier.push(visit),
            }
        }
    }
    let mut histories = Vec::new();
    for client in clients {
        if let Some(visits) = by_client.remove(client.code.as_str()) {
            let history = History { client, visits };
            report.extend(cautions::cautions(&history, known.scalp_peroxide_max));
            histories.push(history);
        }
    }
    (histories, report)
}

/// The clients by code. Of two files of one code, in different folders, the second by name is at fault.
fn twins_left_out(clients: Vec<ClientFile>, report: &mut Report) -> Vec<ClientFile> {
    let mut clients = clients;
    clients.sort_by(|one, other| one.file.cmp(&other.file));
    let mut kept: BTreeMap<ClientCode, ClientFile> = BTreeMap::new();
    for client in clients {
        match kept.get(&client.code) {
            Some(first) => report.push(
                Diagnostic::fault(&client.file, format!("two files are about the client \"{}\"", client.code))
                    .hint(format!("The other is {}; keep one, or give this client another code", first.file)),
            ),
            None => drop(kept.insert(client.code.clone(), client)),
        }
    }
    kept.into_values().collect()
}

fn unknown_client(visit: &ServiceRecord, codes: &[&str], known: &Known<'_>) -> Option<Diagnostic> {
    let code = visit.client.as_str();
    if codes.binary_search(&code).is_ok() {
        return None;
    }
    if known.clients_at_fault.iter().any(|other| other == code) {
        let note = Diagnostic::note(&visit.file, "this visit waits until the client's file is corrected");
        return Some(note.at(visit.client_span.clone(), "this client's file has a fault"));
    }
    let fault = Diagnostic::fault(&visit.file, format!("there is no client \"{code}\""))
        .at(visit.client_span.clone(), "no such client");
    // "maren" for "maren-11": the name without the number is the commoner slip.
    let begins = |other: &&&str| other.strip_prefix(code).is_some_and(|rest| rest.starts_with('-'));
    let fault = match codes.iter().find(begins).copied().or_else(|| did_you_mean(code, codes)) {
        Some(near) => fault.hint(format!("Did you mean \"{near}\"?")),
        None => fault,
    };
    Some(fault.hint(format!("A new client needs a file of their own: clients/{code}.toml")))
}

fn unknown_stylist(visit: &ServiceRecord, known: &Known<'_>) -> Option<Diagnostic> {
    let (code, span) = (visit.stylist.as_deref()?, visit.stylist_span.clone()?);
    if known.stylists.is_empty() || known.stylists.iter().any(|other| other == code) {
        return None;
    }
    let codes: Vec<&str> = known.stylists.iter().map(String::as_str).collect();
    let hint = did_you_mean(code, &codes).map_or_else(
        || format!("The stylists in salon.toml are: {}", codes.join(", ")),
        |near| format!("Did you mean \"{near}\"?"),
    );
    Some(
        Diagnostic::fault(&visit.file, format!("there is no stylist \"{code}\""))
            .at(span, "not in salon.toml")
            .hint(hint),
    )
}

fn same_day(visit: &ServiceRecord, first: &ServiceRecord) -> Diagnostic {
    let message = format!("the client \"{}\" has two visits on {}", visit.client, visit.date);
    Diagnostic::fault(&visit.file, message)
        .at(visit.date_span.clone(), "the same day")
        .hint(format!("The other is {}", first.file))
        .hint("Correct one of the days, or write both services into one record, each as a placement")
}
