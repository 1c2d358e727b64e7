//! The crowd that `examples/crowd` invents: valid, varied, and the same for the same seed.

#[path = "../../examples/crowd/invent/mod.rs"]
mod invent;

use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::Path;

use assert_cmd::Command;
use walkdir::WalkDir;

use crate::salon_copy::TODAY;

/// Writes a crowd and gives back every file of it.
fn crowd(number: u64, folder: &Path, seed: u64) -> BTreeMap<String, String> {
    let said = invent::write(number, folder, seed).expect("written");
    let files: BTreeMap<String, String> = WalkDir::new(folder)
        .into_iter()
        .map(|entry| entry.expect("an entry"))
        .filter(|entry| entry.file_type().is_file())
        .map(|entry| {
            let name = entry.path().strip_prefix(folder).expect("inside").to_string_lossy().into_owned();
            (name, fs::read_to_string(entry.path()).expect("text"))
        })
        .collect();
    assert_eq!(files.len() as u64, said);
    files
}

#[test]
fn a_seed_gives_the_same_bytes_again_and_a_client_is_the_same_in_a_larger_crowd() {
    let (one, two, larger, other) = (folder(), folder(), folder(), folder());
    let first = crowd(30, one.path(), 7);
    assert_eq!(crowd(30, two.path(), 7), first);
    let larger = crowd(45, larger.path(), 7);
    assert!(first.iter().all(|(name, text)| larger.get(name) == Some(text)));
    assert_ne!(crowd(30, other.path(), 8), first);
}

#[test]
fn a_crowd_has_no_fault_and_its_clients_differ_in_every_way_a_page_can_show() {
    let folder = folder();
    let files = crowd(120, folder.path(), 1);
    let mut check = Command::cargo_bin("afterhue").expect("the program is built");
    check.arg("check").arg(folder.path()).assert().success();

    let of = |key: &str| -> BTreeSet<&str> {
        files.values().flat_map(|text| text.lines()).filter(|line| line.starts_with(key)).collect()
    };
    assert!(of("target =").len() >= 15, "shades: {:?}", of("target ="));
    assert_eq!(of("kind =").len(), 6, "techniques: {:?}", of("kind ="));
    assert_eq!(of("dye =").len(), 4, "dye classes: {:?}", of("dye ="));
    let visits = |count: usize| {
        let mut by_client: BTreeMap<&str, usize> = BTreeMap::new();
        for line in files.values().flat_map(|text| text.lines()).filter(|line| line.starts_with("client =")) {
            *by_client.entry(line).or_default() += 1;
        }
        by_client.values().filter(|visits| **visits == count).count()
    };
    assert!((1..=4).all(|count| visits(count) >= 10), "one to four visits each");

    let mut pages = Command::cargo_bin("afterhue").expect("the program is built");
    pages.args(["pages", "--today", TODAY]).arg(folder.path()).assert().success();
    let mut ribbons = BTreeSet::new();
    let mut written = 0;
    for entry in WalkDir::new(folder.path().join("public/c")) {
        let entry = entry.expect("an entry");
        if entry.path().extension().is_some_and(|kind| kind == "html") {
            let html = fs::read_to_string(entry.path()).expect("text");
            ribbons.insert(html.split("<body").nth(1).expect("a body").to_owned());
            written += 1;
        }
    }
    assert_eq!((written, ribbons.len()), (120, 120), "a page each, and no two alike");
}

fn folder() -> tempfile::TempDir {
    tempfile::tempdir().expect("a folder")
}
