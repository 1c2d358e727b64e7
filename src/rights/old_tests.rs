//! Alert tests that are on record longer than the salon keeps one, taken out of their files.

use crate::form;
use crate::pipeline::OldTests;
use crate::workspace::{self, Failure};

use super::House;

/// Takes the tests out of their files, byte for byte the rest stays; gives the files in which they are written so that a person has to.
///
/// # Errors
/// When the machine refuses; each file is then the old one or the new one.
pub fn drop_old_tests(house: &House<'_>, old: &[OldTests]) -> Result<Vec<String>, Failure> {
    let mut left = Vec::new();
    for one in old {
        let mut sources = house.texts.clients.iter().chain(&house.texts.records);
        let source = sources.find(|source| source.name == one.file);
        let gone: Vec<usize> = one.tests.iter().map(|(number, _)| *number).collect();
        match source.and_then(|source| form::without_sections(source, &["health", "alert_test"], &gone)) {
            Some(text) => workspace::store(&house.folder.join(&one.file), text.as_bytes())?,
            None => left.push(one.file.clone()),
        }
    }
    Ok(left)
}
