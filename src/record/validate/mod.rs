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
use super::{ClientFile, ServiceRecord};
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

/// Reads a visit record. What other files tell is checked by [`super::histories`].
#[must_use]
pub fn read_visit(source: &SourceText) -> Checked<ServiceRecord> {
    let (filled, mut findings) = form::read(source, &VISIT);
    let visit = filled.and_then(|filled| visit::visit(&filled, &mut findings));
    findings.check(visit)
}
