//! The tables of DEVELOPERS.md hold what the project holds: a test behind each promise, a reason for each crate.

use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};

fn root(name: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join(name)
}

/// The rows of the table below a heading, each as its cells.
fn rows(heading: &str) -> Vec<Vec<String>> {
    let text = fs::read_to_string(root("DEVELOPERS.md")).expect("it is there");
    let part = text.split(&format!("\n## {heading}\n")).nth(1).expect(heading).to_owned();
    let part = part.split("\n## ").next().unwrap_or_default();
    let lines = part.lines().filter(|line| line.starts_with('|')).skip(2);
    lines.map(|line| line.trim_matches('|').split('|').map(|cell| cell.trim().to_owned()).collect()).collect()
}

/// The name of every test in a folder.
fn tests_below(folder: &Path, names: &mut BTreeSet<String>) {
    for entry in fs::read_dir(folder).expect("a folder") {
        let path = entry.expect("an entry").path();
        if path.is_dir() {
            tests_below(&path, names);
        } else if path.extension().is_some_and(|kind| kind == "rs") {
            let text = fs::read_to_string(&path).expect("a source");
            let after = text.split("#[test]").skip(1);
            names.extend(after.filter_map(|rest| Some(rest.split("fn ").nth(1)?.split('(').next()?.to_owned())));
        }
    }
}

#[test]
fn every_promise_names_a_test_that_is_there() {
    let mut names = BTreeSet::new();
    ["src", "tests/suite"].iter().for_each(|part| tests_below(&root(part), &mut names));
    let promises = rows("Against whom, and what is promised");
    assert!(promises.len() >= 8);
    for row in promises {
        let named: Vec<&str> = row[2].split('`').skip(1).step_by(2).collect();
        assert!(!named.is_empty() && !row[3].is_empty(), "{row:?}");
        for name in named {
            assert!(names.contains(name), "{}: no test {name}", row[0]);
        }
    }
}

#[test]
fn every_crate_has_a_reason_and_no_reason_is_left_of_a_crate_that_went() {
    let manifest: toml::Table = fs::read_to_string(root("Cargo.toml")).expect("it is there").parse().expect("TOML");
    let used = |part: &str| manifest[part].as_table().expect(part).keys().cloned().collect::<BTreeSet<String>>();
    let word = |text: &str| text.trim().split([' ', '(']).next().unwrap_or_default().to_owned();
    let (mut told, mut told_for_tests) = (BTreeSet::new(), BTreeSet::new());
    for row in rows("Dependencies, each with its reason") {
        if let Some(list) = row[0].strip_prefix("for tests:") {
            // Remarks in brackets may hold commas.
            let plain: String = list.split('(').map(|part| part.split(')').next_back().unwrap_or_default()).collect();
            told_for_tests.extend(plain.split(',').map(word).filter(|name| !name.is_empty()));
        } else {
            assert!(!row[1].is_empty(), "{row:?}");
            let plain: String = row[0].split('(').map(|part| part.split(')').next_back().unwrap_or_default()).collect();
            told.extend(plain.split(',').map(word).filter(|name| !name.is_empty()));
        }
    }
    assert_eq!(told, used("dependencies"));
    assert_eq!(told_for_tests, used("dev-dependencies"));
}
