//! The demo salon as texts in memory, so that a property may build it a hundred times.

use std::collections::BTreeMap;
use std::path::Path;

use afterhue::diagnostic::SourceText;
use afterhue::pipeline;
use afterhue::workspace::{Secret, Texts, read_folder};

use crate::salon_copy::TODAY;

/// The secret of every salon here.
pub(crate) const SECRET: Secret = Secret::from_bytes([7; 32]);

/// The texts of the demo salon.
pub(crate) fn demo() -> Texts {
    read_folder(&Path::new(env!("CARGO_MANIFEST_DIR")).join("site-demo")).expect("the demo salon is there")
}

/// Only these clients of a salon, with their visits.
pub(crate) fn only(texts: Texts, codes: &[&str]) -> Texts {
    let of = |mut list: Vec<SourceText>| {
        list.retain(|source| codes.iter().any(|code| source.name.ends_with(&format!("{code}.toml"))));
        list
    };
    Texts { clients: of(texts.clients), records: of(texts.records), ..texts }
}

/// Every public file of a salon, built in memory. A fault in a file is a fault of the test: then nothing would be compared.
pub(crate) fn public(texts: &Texts) -> BTreeMap<String, Vec<u8>> {
    let read = pipeline::read(texts);
    let faults: Vec<_> =
        read.report.items.iter().filter(|item| item.severity == afterhue::diagnostic::Severity::Fault).collect();
    assert!(faults.is_empty(), "{faults:#?}");
    let (salon, theme) = read.house.as_ref().expect("a salon");
    let today = TODAY.parse().expect("a day");
    let built = pipeline::build(&read, salon, theme, &SECRET, today).expect("the shipped theme has no fault");
    built.files.into_iter().filter(|(name, _)| name.starts_with("public/")).collect()
}
