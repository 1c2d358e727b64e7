//! From fields as read to a client file and a visit record: what the fields mean together.
//!
//! What happened can always be recorded: a fault is only what cannot be true or cannot be computed with; a risk is a caution.

mod client;
mod colour;
mod habits;
mod health;
mod placement;
mod steps;
mod visit;

use super::file::{CLIENT, VISIT};
use super::{ClientCode, ClientFile, ServiceRecord};
use crate::diagnostic::{Checked, SourceText};
use crate::form;

/// Reads a client file; the file's name is the client's code.
#[must_use]
pub fn read_client(source: &SourceText) -> Checked<ClientFile> {
    let (filled, mut findings) = form::read(source, &CLIENT);
    let code = client::code_of(source, &mut findings);
    let client = filled.zip(code).map(|(filled, code)| client::client(&filled, code, &mut findings));
    findings.check(client)
}

/// Reads a visit record. What other files tell is checked by [`super::histories()`].
#[must_use]
pub fn read_visit(source: &SourceText) -> Checked<ServiceRecord> {
    let (filled, mut findings) = form::read(source, &VISIT);
    let visit = filled.and_then(|filled| visit::visit(&filled, &mut findings));
    findings.check(visit)
}

/// The client a file is about, also when the file is at fault: a client file by its name, a record by what it names.
///
/// Nothing when not even that can be made out.
#[must_use]
pub fn client_named_in(source: &SourceText) -> Option<ClientCode> {
    if let Some(name) = source.name.strip_prefix("clients/") {
        return ClientCode::try_new(name.rsplit('/').next()?.strip_suffix(".toml")?);
    }
    form::read(source, &VISIT).0?.text("client").and_then(ClientCode::try_new)
}
