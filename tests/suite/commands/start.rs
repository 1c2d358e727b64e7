//! `start`: the new folder, and its schemas against an outside validator (the crate `jsonschema`, JSON Schema 2020-12).

use std::collections::BTreeMap;
use std::fs;

use assert_cmd::Command;
use serde_json::Value;
use tempfile::TempDir;

use super::stderr;
use crate::salon_copy::SalonCopy;

fn afterhue(folder: &TempDir, arguments: &[&str]) -> std::process::Output {
    let mut run = Command::cargo_bin("afterhue").expect("the program is built");
    run.current_dir(folder.path()).args(arguments).output().expect("it runs")
}

fn started() -> TempDir {
    let folder = tempfile::tempdir().expect("a folder");
    let output = afterhue(&folder, &["start", "new"]);
    assert_eq!(output.status.code(), Some(0), "{}", stderr(&output));
    assert!(output.stdout.is_empty());
    folder
}

#[test]
fn a_new_folder_passes_check_and_makes_a_page() {
    let folder = started();
    let output = afterhue(&folder, &["check", "new"]);
    assert_eq!(output.status.code(), Some(0), "{}", stderr(&output));
    let said = stderr(&output);
    assert!(said.contains("1 client file and 1 visit record read, no faults."), "{said}");
    assert!(said.contains("\n1 caution in 1 file\n"), "only the health questions are open: {said}");
    let output = afterhue(&folder, &["pages", "new"]);
    assert!(stderr(&output).contains("1 page in"), "{}", stderr(&output));
    let ignored = fs::read_to_string(folder.path().join("new/.gitignore")).expect("it is there");
    assert!(ignored.lines().any(|line| line == "public/") && ignored.lines().any(|line| line == "private/"));
}

#[test]
fn a_salon_folder_is_never_written_over() {
    let folder = started();
    let salon = folder.path().join("new/salon.toml");
    fs::write(&salon, "mine").expect("written");
    let output = afterhue(&folder, &["start", "new"]);
    assert_eq!(output.status.code(), Some(2));
    assert!(stderr(&output).contains("afterhue check new"), "{}", stderr(&output));
    assert_eq!(fs::read_to_string(&salon).expect("it is there"), "mine");
}

/// A new file names every field there is: each line that begins with `# name = ` still reads when its mark is taken away alone.
#[test]
fn every_comment_of_the_settings_is_toml_that_can_be_used() {
    let folder = started();
    let text = fs::read_to_string(folder.path().join("new/salon.toml")).expect("it is there");
    let all: String = text
        .lines()
        .map(|line| {
            line.strip_prefix("# ").filter(|rest| rest.contains(" = ") || rest.starts_with('[')).unwrap_or(line)
        })
        .filter(|line| !line.starts_with("logo"))
        .collect::<Vec<_>>()
        .join("\n");
    let count = |text: &str| text.lines().filter(|line| !line.starts_with('#') && line.contains(" = ")).count();
    assert!(count(&all) > count(&text) + 40, "the settings are there as comments");
    fs::write(folder.path().join("new/salon.toml"), all).expect("written");
    let output = afterhue(&folder, &["check", "new"]);
    assert_eq!(output.status.code(), Some(0), "{}", stderr(&output));
}

/// TOML as JSON: a day and a time become strings, as in every converter.
fn json(text: &str) -> Value {
    fn of(value: toml::Value) -> Value {
        match value {
            toml::Value::Datetime(moment) => Value::String(moment.to_string()),
            toml::Value::Array(items) => items.into_iter().map(of).collect(),
            toml::Value::Table(table) => table.into_iter().map(|(key, value)| (key, of(value))).collect(),
            other => serde_json::to_value(other).expect("a plain value"),
        }
    }
    of(toml::Value::Table(text.trim_start_matches('\u{feff}').parse().expect("TOML")))
}

fn validators(folder: &TempDir) -> BTreeMap<&'static str, jsonschema::Validator> {
    ["salon", "client", "visit"]
        .map(|kind| {
            let text = fs::read_to_string(folder.path().join(format!("new/schema/{kind}.schema.json"))).expect("there");
            let schema: Value = serde_json::from_str(&text).expect("JSON");
            assert!(jsonschema::draft202012::meta::is_valid(&schema), "{kind}: not a schema of draft 2020-12");
            (kind, jsonschema::draft202012::new(&schema).expect("a schema"))
        })
        .into()
}

#[test]
fn every_file_of_the_demo_is_valid_by_the_schema_it_names() {
    let (folder, salon) = (started(), SalonCopy::new());
    let validators = validators(&folder);
    let mut seen = 0;
    let mut check = |kind: &str, name: &str, text: &str| {
        let value = json(text);
        let errors: Vec<String> =
            validators[kind].iter_errors(&value).map(|error| format!("{} {error}", error.instance_path())).collect();
        assert!(errors.is_empty(), "{name}: {errors:?}");
        seen += 1;
    };
    check("salon", "salon.toml", &salon.read("salon.toml"));
    for (part, kind) in [("clients", "client"), ("records", "visit")] {
        for (name, bytes) in salon.files(part) {
            check(kind, &name, std::str::from_utf8(&bytes).expect("text"));
        }
    }
    let good = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/suite/records_good");
    for kind in ["salon", "client", "visit"] {
        let text = fs::read_to_string(good.join(kind).join("every-field.toml")).expect("it is there");
        check(kind, "every-field.toml", &text);
    }
    assert!(seen > 60, "{seen} files");
}

#[test]
fn what_the_reader_refuses_field_by_field_the_schema_refuses_too() {
    let validators = validators(&started());
    let bad = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/suite/records_bad");
    let cases = [
        ("visit", "a-list-where-a-section-stands"),
        ("visit", "client-and-date-missing"),
        ("visit", "client-code-with-capitals"),
        ("visit", "colour-hex-too-short"),
        ("visit", "dye-class-misspelt"),
        ("visit", "field-in-the-wrong-section"),
        ("visit", "field-misspelt"),
        ("visit", "field-unheard-of"),
        ("visit", "format-missing"),
        ("visit", "format-of-a-newer-version"),
        ("visit", "format-zero"),
        ("visit", "lab-with-two-numbers"),
        ("visit", "mix-without-a-colon"),
        ("visit", "note-is-not-text"),
        ("visit", "number-as-text"),
        ("visit", "placement-without-zones"),
        ("visit", "porosity-not-a-word"),
        ("visit", "section-misspelt"),
        ("visit", "single-brackets-for-a-placement"),
        ("visit", "stage-eleven"),
        ("visit", "twin-twice"),
        ("visit", "wash-count-not-a-number"),
        ("visit", "zones-not-a-list"),
        ("visit", "zones-too-many"),
        ("client", "age-as-a-number"),
        ("client", "consent-as-yes"),
        ("client", "first-name-of-several-lines"),
        ("client", "history-word-unknown"),
        ("client", "link-number-zero"),
        ("client", "phone-as-a-number"),
        ("client", "phone-without-a-plus"),
        ("client", "incident-without-words"),
        ("salon", "accent-not-a-colour"),
        ("salon", "alert-test-lead-too-short"),
        ("salon", "country-in-words"),
        ("salon", "day-misspelt"),
        ("salon", "emergency-missing"),
        ("salon", "name-missing"),
        ("salon", "price-one-number"),
        ("salon", "unknown-practice"),
    ];
    for (kind, name) in cases {
        let text = fs::read_to_string(bad.join(kind).join(format!("{name}.toml"))).expect("it is there");
        assert!(!validators[kind].is_valid(&json(&text)), "{kind}/{name} passes the schema");
    }
}

#[test]
fn of_two_names_for_one_field_the_schema_takes_either_but_not_both() {
    let validators = validators(&started());
    let hair = |fields: &str| {
        let text = "format = 1\nclient = \"wren-04\"\ndate = 2026-11-20\nplacement = []\n[hair]\n";
        validators["visit"].is_valid(&json(&(text.to_owned() + fields)))
    };
    assert!(hair("natural_depth = 6") && hair("natural_level = 6") && hair(""));
    assert!(!hair("natural_depth = 6\nnatural_level = 6"));
}
