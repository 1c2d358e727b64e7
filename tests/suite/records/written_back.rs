//! A value of a file written back: nothing but that value changes, in any file of the demo or of the good files.
//!
//! The outside view is `toml::Table`, the whole file as values, which the edit itself does not use.

use std::fs;
use std::path::{Path, PathBuf};

use afterhue::diagnostic::SourceText;
use afterhue::form::with_value;

/// Every salon, client and visit file that reads without fault.
fn files() -> Vec<PathBuf> {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let mut open = vec![root.join("site-demo"), root.join("tests/suite/records_good")];
    let mut found = Vec::new();
    while let Some(folder) = open.pop() {
        for entry in fs::read_dir(&folder).expect("a folder") {
            let path = entry.expect("an entry").path();
            if path.is_dir() {
                if !path.ends_with("public") && !path.ends_with("private") {
                    open.push(path);
                }
            } else if path.extension().is_some_and(|ending| ending == "toml") {
                found.push(path);
            }
        }
    }
    found
}

/// The places of all values that are no sections.
fn places(value: &toml::Value, here: &[String], found: &mut Vec<Vec<String>>) {
    let mut below = |name: String, value| places(value, &[here, &[name]].concat(), found);
    match value {
        toml::Value::Table(table) => table.iter().for_each(|(name, value)| below(name.clone(), value)),
        toml::Value::Array(items) if items.first().is_some_and(toml::Value::is_table) => {
            items.iter().enumerate().for_each(|(at, value)| below(at.to_string(), value));
        }
        _ => found.push(here.to_vec()),
    }
}

fn at<'a>(value: &'a mut toml::Value, place: &[String]) -> &'a mut toml::Value {
    place.iter().fold(value, |value, step| match value {
        toml::Value::Array(items) => &mut items[step.parse::<usize>().expect("a number")],
        other => &mut other[step.as_str()],
    })
}

fn parsed(text: &str) -> toml::Value {
    toml::Value::Table(text.trim_start_matches('\u{feff}').parse().expect("TOML"))
}

/// How many bytes two texts share at the front and at the back, without counting one twice.
fn shared(one: &str, other: &str) -> usize {
    let front = one.bytes().zip(other.bytes()).take_while(|(a, b)| a == b).count();
    let (one, other) = (&one.as_bytes()[front..], &other.as_bytes()[front..]);
    front + one.iter().rev().zip(other.iter().rev()).take_while(|(a, b)| a == b).count()
}

#[test]
fn one_value_of_any_file_changes_and_no_other_byte() {
    const OTHER: &str = "\"another value\"";
    let (mut seen, mut values) = (0, 0);
    for path in files() {
        let text = fs::read_to_string(&path).expect("text");
        let source = SourceText::new("x.toml", &text);
        let mut all = Vec::new();
        places(&parsed(&text), &[], &mut all);
        for place in all {
            let steps: Vec<&str> = place.iter().map(String::as_str).collect();
            let changed = with_value(&source, &steps, OTHER).unwrap_or_else(|| panic!("{}: {place:?}", path.display()));
            let mut wanted = parsed(&text);
            *at(&mut wanted, &place) = toml::Value::String("another value".to_owned());
            assert_eq!(parsed(&changed), wanted, "{}: {place:?}", path.display());
            // All that is not shared is the value: as much of the new text as `OTHER` is long, at most.
            let (kept, new) = (shared(&text, &changed), changed.len());
            assert!(new - kept <= OTHER.len(), "{}: {place:?} changes more than the value", path.display());
            let back_length = text.len() - (changed.len() - OTHER.len());
            let start = text.bytes().zip(changed.bytes()).take_while(|(a, b)| a == b).count();
            let begin = (0..=start).rev().find(|at| changed[*at..].starts_with(OTHER)).expect("the new value");
            let old = &text[begin..begin + back_length];
            assert_eq!(
                with_value(&SourceText::new("x.toml", &changed), &steps, old).as_deref(),
                Some(text.as_str()),
                "{}: {place:?} comes back byte for byte",
                path.display()
            );
            values += 1;
        }
        seen += 1;
    }
    assert!(seen > 60 && values > 1500, "{seen} files, {values} values");
}
