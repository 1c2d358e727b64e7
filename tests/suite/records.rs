//! The salon's files: what reads, and what every fault says.
//!
//! `records_bad/KIND/*.toml`: the file's name is the fault, the snapshot is the whole message a stylist gets.

use std::fs;
use std::path::Path;

use afterhue::diagnostic::{Report, SourceText, render, summary};
use afterhue::record::{read_client, read_visit};
use afterhue::salon::read_salon;
use proptest::prelude::*;

fn told(kind: &str, source: &SourceText) -> Report {
    match kind {
        "salon" => read_salon(source).report,
        "client" => read_client(source).report,
        "visit" => read_visit(source).report,
        other => panic!("no such kind of file: {other}"),
    }
}

/// The text of a file under the name it would have in a salon folder.
fn source(path: &Path) -> (String, SourceText) {
    let kind = path.parent().and_then(Path::file_name).expect("a folder").to_string_lossy().into_owned();
    let name = match kind.as_str() {
        "salon" => "salon.toml".to_owned(),
        "client" => "clients/wren-04.toml".to_owned(),
        _ => "records/2026-11-20-wren-04.toml".to_owned(),
    };
    let bytes = fs::read(path).expect("a file");
    let source = SourceText::from_bytes(&name, &bytes).expect("a text");
    (kind, source)
}

#[test]
fn every_bad_file_says_all_that_is_wrong_and_what_to_write_instead() {
    let mut seen = 0;
    insta::glob!("records_bad/*/*.toml", |path| {
        let (kind, source) = source(path);
        let report = told(&kind, &source);
        assert!(!report.items.is_empty(), "{} says nothing", path.display());
        for item in &report.items {
            assert!(!item.hints.is_empty(), "{}: \"{}\" does not say what to do", path.display(), item.message);
        }
        let text = render(&report, std::slice::from_ref(&source)) + &summary(&report);
        for jargon in ["string", "integer", "boolean", "parse", "deserial", "struct", "null", "array"] {
            assert!(
                !text.to_lowercase().contains(jargon),
                "{}: \"{jargon}\" is no salon's word\n{text}",
                path.display()
            );
        }
        insta::assert_snapshot!(text);
    });
    for kind in ["salon", "client", "visit"] {
        let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/suite/records_bad").join(kind);
        seen += fs::read_dir(folder).expect("a folder").count();
    }
    assert!(seen >= 40, "{seen} bad files");
}

#[test]
fn every_good_file_reads_without_a_fault() {
    insta::glob!("records_good/*/*.toml", |path| {
        let (kind, source) = source(path);
        let report = told(&kind, &source);
        assert!(!report.has_fault(), "{}", render(&report, std::slice::from_ref(&source)));
    });
}

#[test]
fn a_first_visit_fits_in_under_fifteen_lines() {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/suite/records_good/visit/minimal.toml");
    let text = fs::read_to_string(path).expect("a file");
    assert!(text.lines().count() < 15, "{text}");
}

/// Pieces from which texts near to a record are put together.
const PIECES: [&str; 24] = [
    "format = 1\n",
    "client = \"wren-04\"\n",
    "date = 2026-11-20\n",
    "[hair]\n",
    "[[placement]]\n",
    "[[placement.zone]]\n",
    "[habits]\n",
    "from_mm = ",
    "to_mm = ",
    "stage = ",
    "colour = { ",
    "name = \"",
    "rose pastel",
    "\" }\n",
    "kind = ",
    "0",
    "-1",
    "1e400",
    "\"",
    "[",
    "]",
    "{",
    "=",
    "é\t\r\n",
];

proptest! {
    #[test]
    fn no_text_makes_a_reader_panic(text in "\\PC{0,300}", pieces in prop::collection::vec(0..PIECES.len(), 0..40)) {
        let near: String = pieces.iter().map(|piece| PIECES[*piece]).collect();
        for text in [text, near] {
            for kind in ["salon", "client", "visit"] {
                let source = SourceText::new("records/any.toml", text.clone());
                let report = told(kind, &source);
                let _ = render(&report, &[source]);
            }
        }
    }
}
