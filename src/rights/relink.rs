//! A new link: the number in the client's file raised, and what is public under the old one gone.

use std::collections::BTreeSet;
use std::path::Path;

use crate::form;
use crate::page::link::Link;
use crate::record::ClientFile;
use crate::site;
use crate::workspace::{self, Failure};

use super::{House, public_files, single_card};

/// The highest link number a client's file takes.
const HIGHEST: u32 = 9999;

/// Raises the number in a client's file by one; nothing when it cannot be raised.
///
/// # Errors
/// When the machine refuses.
pub fn raise(house: &House<'_>, client: &ClientFile) -> Result<Option<ClientFile>, Failure> {
    let number = client.link_number + 1;
    let source = house.texts.clients.iter().find(|source| source.name == client.file);
    let text = source
        .filter(|_| number <= HIGHEST)
        .and_then(|source| form::with_value(source, &["link_number"], &number.to_string()));
    let Some(text) = text else { return Ok(None) };
    workspace::store(&house.folder.join(&client.file), text.as_bytes())?;
    Ok(Some(ClientFile { link_number: number, ..client.clone() }))
}

/// Removes what is public under old links, and the cards that show them; gives what was there.
///
/// # Errors
/// When the machine refuses.
pub fn take_away<'a>(
    folder: &Path,
    old: impl IntoIterator<Item = &'a Link>,
    codes: impl IntoIterator<Item = &'a str>,
) -> Result<BTreeSet<String>, Failure> {
    let pages = old.into_iter().flat_map(public_files);
    let names = pages.chain(codes.into_iter().map(single_card)).collect();
    site::remove(folder, &names).map_err(|failure| Failure::io("remove", &failure.path, &failure.error))
}

/// The same where the secret has gone from which the old links followed: every page and calendar that looks like ours, and the cards.
///
/// # Errors
/// When the machine refuses.
pub fn take_away_all<'a>(folder: &Path, codes: impl IntoIterator<Item = &'a str>) -> Result<BTreeSet<String>, Failure> {
    let pages = site::pages_by_their_form(folder).into_iter();
    let names = pages.chain(codes.into_iter().map(single_card)).collect();
    site::remove(folder, &names).map_err(|failure| Failure::io("remove", &failure.path, &failure.error))
}
