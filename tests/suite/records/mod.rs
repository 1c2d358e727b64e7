//! The salon's files: each good one reads without fault, each bad one is told in words a stylist can act on.

mod good;
mod hostile;
mod together;
mod written_back;

use std::path::Path;

use afterhue::diagnostic::{Diagnostic, Report, SourceText, render, summary};
use afterhue::record::{read_client, read_visit};
use afterhue::salon::read_salon;

/// What `check` says about a file of a kind, from its bytes.
fn told(kind: &str, bytes: &[u8]) -> (Report, String) {
    let name = match kind {
        "client" => "clients/wren-04.toml",
        "visit" => "records/wren-04.toml",
        _ => "salon.toml",
    };
    let (report, sources) = match SourceText::from_bytes(name, bytes) {
        Err(fault) => (Report { items: vec![*fault] }, Vec::new()),
        Ok(source) => (read(kind, &source), vec![source]),
    };
    let text = format!("{}{}\n", render(&report, &sources), summary(&report));
    (report, text)
}

fn read(kind: &str, source: &SourceText) -> Report {
    let (there, report) = match kind {
        "client" => opened(read_client(source)),
        "visit" => opened(read_visit(source)),
        _ => opened(read_salon(source)),
    };
    assert_eq!(there, !report.has_fault(), "a value is there exactly when there is no fault");
    report
}

fn opened<T>(checked: afterhue::diagnostic::Checked<T>) -> (bool, Report) {
    (checked.value.is_some(), checked.report)
}

fn kind_of(path: &Path) -> String {
    path.parent().and_then(Path::file_name).map(|name| name.to_string_lossy().into_owned()).unwrap_or_default()
}

#[test]
fn every_bad_file_is_told_in_plain_words() {
    let mut settings = insta::Settings::clone_current();
    settings.set_omit_expression(true);
    settings.set_prepend_module_to_snapshot(false);
    settings.set_snapshot_path("../snapshots");
    settings.bind(|| {
        insta::glob!("../records_bad", "*/*.toml", |path| {
            let (report, text) = told(&kind_of(path), &std::fs::read(path).expect("the file of the test is there"));
            assert!(!report.items.is_empty(), "{} has nothing wrong", path.display());
            jargon_free(&report, path);
            insta::assert_snapshot!("bad", text);
        });
    });
}

/// Words of programmers that no message may hold, outside what it quotes.
fn jargon_free(report: &Report, path: &Path) {
    const JARGON: [&str; 14] = [
        "string",
        "integer",
        "float",
        "boolean",
        "parse",
        "deserial",
        "array",
        "toml error",
        "syntax",
        "token",
        "null",
        "invalid",
        "datetime",
        "unexpected",
    ];
    for Diagnostic { message, label, hints, .. } in &report.items {
        for text in [message, label].into_iter().chain(hints) {
            let lower = text.to_lowercase();
            assert_eq!(JARGON.iter().find(|word| lower.contains(**word)), None, "{}: {text}", path.display());
        }
        assert!(!hints.is_empty(), "{}: nothing is said to do about: {message}", path.display());
        assert!(!message.ends_with('.'), "{}: {message}", path.display());
    }
}

#[test]
fn one_of_forty_bad_files_and_more_is_here_for_each_kind() {
    let count = |kind: &str| {
        let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/suite/records_bad").join(kind);
        std::fs::read_dir(folder).expect("the folder is there").count()
    };
    assert!(count("visit") >= 40 && count("client") >= 10 && count("salon") >= 15);
}
