//! What the program writes into its own handbook, held against the program: the table of measurements, the figures, and the sources.
//!
//! `UPDATE_HANDBOOK=1 cargo test --test suite handbook` writes anew; look at the difference before it is kept.

use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};

use afterhue::science::bibliography;
use afterhue::science::fade::measured::report;
use afterhue::science::handbook::figures::FIGURES;

const BEGIN: &str = "<!-- measured:begin -->\n";
const END: &str = "<!-- measured:end -->\n";

fn root() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR"))
}

/// Compares a file with what it should hold, or writes it when asked to.
fn keep(path: &Path, wanted: &str) {
    if std::env::var_os("UPDATE_HANDBOOK").is_some() {
        fs::write(path, wanted).expect("the handbook can be written");
        return;
    }
    let kept = fs::read_to_string(path).unwrap_or_else(|error| panic!("{}: {error}", path.display()));
    let differs = kept.lines().zip(wanted.lines()).find(|(kept, wanted)| kept != wanted);
    assert!(
        kept == wanted,
        "{} is not what the program writes; UPDATE_HANDBOOK=1 writes it. First: {differs:#?}",
        path.display()
    );
}

#[test]
fn the_table_of_measurements_is_the_one_the_model_gives() {
    keep(&root().join("src/science/fade/measured/table.md"), &report::markdown());
}

#[test]
fn developers_md_holds_the_same_table() {
    let path = root().join("DEVELOPERS.md");
    let text = fs::read_to_string(&path).expect("DEVELOPERS.md");
    let (before, rest) = text.split_once(BEGIN).expect("the marker where the table begins");
    let (_, after) = rest.split_once(END).expect("the marker where it ends");
    keep(&path, &format!("{before}{BEGIN}\n{}\n{END}{after}", report::markdown()));
}

#[test]
fn every_figure_is_the_one_the_laws_draw() {
    for (file, draw) in FIGURES {
        keep(&root().join("src/science/handbook").join(file), &draw());
    }
}

/// Every file below a folder with this ending, but the bibliography itself.
fn sources(folder: &Path, ending: &str, found: &mut Vec<String>) {
    for entry in fs::read_dir(folder).expect("a folder of sources") {
        let path = entry.expect("an entry").path();
        if path.is_dir() {
            sources(&path, ending, found);
        } else if path.extension().is_some_and(|kind| kind == ending) && !path.ends_with("bibliography.rs") {
            found.push(fs::read_to_string(&path).expect("text in UTF-8"));
        }
    }
}

/// Whether a name stands in a text as a whole word.
fn names(text: &str, name: &str) -> bool {
    let word = |c: char| c.is_ascii_alphanumeric() || c == '_';
    text.match_indices(name).any(|(at, _)| !text[..at].ends_with(word) && !text[at + name.len()..].starts_with(word))
}

/// Whether a passage of home care names this source: the first word of its short name, and its year and page.
fn named_by_a_passage(short: &str, passages: &[String]) -> bool {
    let words: Vec<&str> = short.split(|c: char| !c.is_alphanumeric()).filter(|word| word.len() > 2).collect();
    let (numbers, names): (Vec<&str>, Vec<&str>) =
        words.iter().partition(|word| word.starts_with(|c: char| c.is_ascii_digit()));
    passages.iter().flat_map(|text| text.lines()).filter(|line| line.starts_with("source")).any(|line| {
        names.first().is_some_and(|name| line.contains(name)) && numbers.iter().all(|number| line.contains(number))
    })
}

#[test]
fn every_source_of_the_bibliography_is_cited_by_a_law_or_a_passage() {
    let mut texts = Vec::new();
    sources(&root().join("src"), "rs", &mut texts);
    let mut passages = Vec::new();
    sources(&root().join("content-templates"), "md", &mut passages);
    let bibliography = fs::read_to_string(root().join("src/science/bibliography.rs")).expect("the bibliography");
    let constants: Vec<&str> = bibliography
        .lines()
        .filter_map(|line| line.strip_prefix("    ")?.split_once(": \"").map(|(name, _)| name))
        .filter(|name| name.chars().all(|c| c.is_ascii_uppercase() || c.is_ascii_digit() || c == '_'))
        .collect();
    assert_eq!(constants.len(), bibliography::ALL.len(), "every constant is found");
    let orphans: Vec<&str> = constants
        .iter()
        .zip(bibliography::ALL)
        .filter(|(name, source)| {
            !texts.iter().any(|text| names(text, name)) && !named_by_a_passage(source.short, &passages)
        })
        .map(|(name, _)| *name)
        .collect();
    assert!(orphans.is_empty(), "cited by nothing: {orphans:?}");
}

#[test]
fn every_source_a_law_names_stands_in_the_bibliography() {
    // A citation reads "Somebody 1999", "Somebody & Somebody 1999" or "Somebody (1999)", or names a journal and its year.
    let mut texts = Vec::new();
    sources(&root().join("src/science"), "rs", &mut texts);
    let known: Vec<String> =
        bibliography::ALL.iter().map(|source| format!("{} {}", source.short, source.full)).collect();
    let mut missing = BTreeSet::new();
    for text in &texts {
        for (words, year) in citations(text) {
            if !known.iter().any(|source| source.contains(&words) && source.contains(&year)) {
                missing.insert(format!("{words} {year}"));
            }
        }
    }
    assert!(missing.is_empty(), "cited, but not in the bibliography: {missing:?}");
}

/// Surname and year of every citation in the comments and words of a text; of a journal, its first word.
fn citations(text: &str) -> Vec<(String, String)> {
    let mut found = Vec::new();
    for line in text.lines() {
        for (at, _) in line.char_indices().filter(|(_, c)| *c == '1' || *c == '2') {
            let (before, rest) = line.split_at(at);
            let year: String = rest.chars().take_while(char::is_ascii_digit).collect();
            let plausible = year.parse::<u16>().is_ok_and(|year| (1900..=2030).contains(&year));
            if year.len() != 4
                || !plausible
                || before.ends_with(|c: char| c.is_ascii_alphanumeric() || ".-_,'".contains(c))
            {
                continue;
            }
            let before = before.trim_end_matches(['(', ' ', ',']);
            let before = before.strip_suffix("et al.").map_or(before, str::trim_end);
            let surname: String = before
                .chars()
                .rev()
                .take_while(|c| c.is_alphabetic() || *c == '-')
                .collect::<Vec<_>>()
                .into_iter()
                .rev()
                .collect();
            // Standards and tables are named by a year too: "CIE 1931", "Table III (2021)".
            let name = surname.starts_with(char::is_uppercase) && surname.len() > 2;
            if name && !["CIE", "CIELAB", "III"].contains(&surname.as_str()) {
                found.push((surname, year));
            }
        }
    }
    found
}

/// The doc comments of functions that hold an equation: the function's name and its comment.
fn laws(text: &str) -> Vec<(String, String)> {
    let mut found = Vec::new();
    let mut comment = String::new();
    for line in text.lines().map(str::trim_start) {
        if let Some(words) = line.strip_prefix("///") {
            comment.push_str(words);
            comment.push('\n');
        } else if !line.starts_with("#[") {
            let name = line
                .strip_prefix("pub ")
                .and_then(|rest| rest.strip_prefix("const ").unwrap_or(rest).strip_prefix("fn "));
            if let Some(name) = name.filter(|_| comment.contains("```text")) {
                found.push((name.split('(').next().unwrap_or_default().to_owned(), comment.clone()));
            }
            comment.clear();
        }
    }
    found
}

#[test]
fn every_law_has_its_symbols_validity_uncertainty_and_source() {
    let mut texts = Vec::new();
    sources(&root().join("src/science"), "rs", &mut texts);
    let all: Vec<(String, String)> = texts.iter().flat_map(|text| laws(text)).collect();
    assert!(all.len() >= 30, "{} laws", all.len());
    for (name, comment) in all {
        for part in ["| symbol |", "# Validity", "# Uncertainty", "# Source"] {
            assert!(comment.contains(part), "{name} has no {part}");
        }
    }
}

#[test]
fn a_citation_is_read_wherever_it_stands() {
    let found = citations("/// Somebody & Other (1999), after Else et al. 2004, p. 1998; 12 washes; 1e-2005");
    assert_eq!(found, [("Other".to_owned(), "1999".to_owned()), ("Else".to_owned(), "2004".to_owned())]);
}
