//! What is fed with any bytes: each reader alone, and the whole way to a page.
//!
//! A target fails by a panic, by an answer that is out of bounds, and under `cargo fuzz` also by its time and memory limits.

#[path = "../../suite/dice.rs"]
#[expect(dead_code, reason = "the tests' own generator, of which little is needed here")]
mod dice;
#[path = "../../suite/hostile/mutations.rs"]
mod mutations;

use std::path::{Path, PathBuf};
use std::sync::OnceLock;

use afterhue::care::Passage;
use afterhue::diagnostic::{Report, SourceText, render};
use afterhue::pipeline;
use afterhue::record::{read_client, read_visit};
use afterhue::salon::read_salon;
use afterhue::schedule::diary::{read_bookings, read_busy};
use afterhue::workspace::{Secret, Texts, read_folder};
use chrono::NaiveDate;

/// Makes the program of a target: fed by libFuzzer, or driven over the corpus and its mutations.
#[macro_export]
macro_rules! target {
    ($name:literal, $run:path) => {
        #[cfg(fuzzing)]
        libfuzzer_sys::fuzz_target!(|bytes: &[u8]| $run(bytes));

        #[cfg(not(fuzzing))]
        fn main() {
            $crate::driven($name, $run);
        }
    };
}

fn source(name: &str, bytes: &[u8]) -> Option<SourceText> {
    SourceText::from_bytes(name, bytes).ok()
}

/// The reader tells a hundred faults and says that there are more; what the fields mean together adds to that.
const MOST_MESSAGES: usize = 300;

fn answered(report: &Report, source: SourceText) {
    assert!(report.items.len() <= MOST_MESSAGES, "{} messages", report.items.len());
    let _ = render(report, &[source]);
}

/// A visit record.
pub fn visit(bytes: &[u8]) {
    if let Some(source) = source("records/x.toml", bytes) {
        answered(&read_visit(&source).report, source);
    }
}

/// A client file.
pub fn client(bytes: &[u8]) {
    if let Some(source) = source("clients/wren-04.toml", bytes) {
        answered(&read_client(&source).report, source);
    }
}

/// `salon.toml`.
pub fn salon(bytes: &[u8]) {
    if let Some(source) = source("salon.toml", bytes) {
        answered(&read_salon(&source).report, source);
    }
}

/// A passage.
pub fn passage(bytes: &[u8]) {
    if let Some(source) = source("content/x.md", bytes) {
        answered(&Passage::read(&source).report, source);
    }
}

/// The bookings file.
pub fn bookings(bytes: &[u8]) {
    if let Some(source) = source("private/bookings.toml", bytes) {
        answered(&read_bookings(&source).report, source);
    }
}

/// Another calendar.
pub fn calendar(bytes: &[u8]) {
    if let Some(source) = source("busy.ics", bytes) {
        let (from, to) = (day(2026, 11, 25), day(2027, 1, 20));
        let zone = "Europe/London".parse().expect("a zone");
        answered(&read_busy(&source, zone, from, to, &|_| false).report, source);
    }
}

/// The whole way: the first byte says which file of a small salon the others are.
pub fn pages(bytes: &[u8]) {
    let Some((kind, bytes)) = bytes.split_first() else { return };
    let Some(text) = source("x", bytes).map(|source| source.text) else { return };
    let mut texts = small();
    match kind % 6 {
        0 => texts.salon = Some(SourceText::new("salon.toml", text)),
        1 => texts.clients[0].text = text,
        2 => texts.records[0].text = text,
        3 => texts.bookings = Some(SourceText::new("private/bookings.toml", text)),
        4 => texts.content = vec![SourceText::new("content/x.md", text)],
        _ => {
            texts.records[0].text =
                texts.records[0].text.replacen("format = 1\n", &format!("format = 1\nnote = '''{text}'''\n"), 1)
        }
    }
    let read = pipeline::read(&texts);
    if let Some((salon, theme)) = read.house.as_ref() {
        let built = pipeline::build(&read, salon, theme, &Secret::from_bytes([7; 32]), day(2026, 11, 25));
        for (name, bytes) in built.expect("the shipped theme has no fault").files {
            assert!(bytes.len() < 128 * 1024, "{name}: {} bytes", bytes.len());
        }
    }
}

fn day(year: i32, month: u32, day: u32) -> NaiveDate {
    NaiveDate::from_ymd_opt(year, month, day).expect("a day")
}

/// One client of the demo with one visit.
fn small() -> Texts {
    static DEMO: OnceLock<Vec<SourceText>> = OnceLock::new();
    let sources = DEMO.get_or_init(|| {
        let demo = read_folder(&root().join("site-demo")).expect("the demo is there");
        let of =
            |list: Vec<SourceText>| list.into_iter().find(|one| one.name.ends_with("fern-07.toml")).expect("a file");
        vec![demo.salon.expect("a salon"), of(demo.clients), of(demo.records)]
    });
    let [salon, client, record] = &sources[..] else { unreachable!("three files") };
    Texts {
        salon: Some(SourceText::new("salon.toml", salon.text.replace("logo = \"logo.svg\"\n", ""))),
        clients: vec![client.clone()],
        records: vec![record.clone()],
        ..Texts::default()
    }
}

fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../..")
}

/// Runs a target over its corpus, and over so many mutations of it (the first argument; 2,000 when there is none).
pub fn driven(name: &str, run: fn(&[u8])) {
    let many: u64 = std::env::args().nth(1).and_then(|text| text.parse().ok()).unwrap_or(2_000);
    let folder = root().join("tests/fuzz/corpus").join(name);
    let mut files: Vec<PathBuf> =
        std::fs::read_dir(&folder).expect("a corpus").map(|entry| entry.expect("an entry").path()).collect();
    files.sort();
    let corpus: Vec<Vec<u8>> = files.iter().map(|path| std::fs::read(path).expect("a file")).collect();
    corpus.iter().for_each(|bytes| run(bytes));
    for seed in 0..many {
        let mut dice = dice::Dice(seed);
        let text = String::from_utf8_lossy(&corpus[dice.below(corpus.len())]).into_owned();
        run(mutations::slipped(&text, &mut dice).as_bytes());
    }
    println!("{name}: {} of the corpus and {many} mutations, no fault", corpus.len());
}
