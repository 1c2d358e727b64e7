//! Every page of a salon whose every text is hostile, beside the same salon of harmless words.

use std::collections::BTreeMap;

use afterhue::diagnostic::Severity;
use afterhue::pipeline;
use afterhue::schedule::diary::Busy;
use afterhue::schedule::fit::Effort;
use afterhue::workspace::{Secret, Texts};
use proptest::prelude::*;

use super::filled::{Words, filled};
use super::tree::tree;
use crate::privacy::in_memory::{demo, only};
use crate::salon_copy::TODAY;

/// A few clients who differ most: a pastel with returns, somebody under 16, an alert test due, lightener on the scalp.
const FEW: [&str; 4] = ["wren-04", "robin-24", "walnut-09", "plum-03"];

/// Every page of a salon, public and private, name → HTML; and the picture of a look back.
fn pages(texts: &Texts) -> BTreeMap<String, String> {
    let read = pipeline::read(texts);
    let faults: Vec<_> = read.report.items.iter().filter(|item| item.severity == Severity::Fault).collect();
    assert!(faults.is_empty(), "a text that is looked up belongs into LOOKED_UP: {faults:#?}");
    let (salon, theme) = read.house.as_ref().expect("a salon");
    let (secret, today) = (Secret::from_bytes([7; 32]), TODAY.parse().expect("a day"));
    let diary = read.diary.as_ref().expect("a diary");
    let mut files = pipeline::build(&read, salon, theme, &secret, today).expect("the shipped theme has no fault").files;
    let due = pipeline::due_list(&read, salon, diary, today);
    let busy = Busy::default();
    let effort = Effort { rounds: 30, packings: 30, attempts: 2_000, nodes: 200, ..Effort::USUAL };
    let book = pipeline::fitted(salon, &due, diary, &busy, (today, 4), &effort);
    files.extend(
        pipeline::book_files(&read, (salon, theme), &secret, &due, (&book, &busy), (today, 4)).expect("no fault"),
    );
    let html = |bytes: Vec<u8>| String::from_utf8(bytes).expect("text");
    let mut pages: BTreeMap<String, String> = files
        .into_iter()
        .filter(|(name, _)| name.ends_with(".html"))
        .map(|(name, bytes)| (name, html(bytes)))
        .collect();
    let (_, picture) = pipeline::look_back_at(&read, salon, diary, today);
    pages.insert("a look back".to_owned(), format!("<!DOCTYPE html><title>x</title>{picture}"));
    pages
}

/// What would end the attribute, the paragraph and the page if a sign were written into them as it is.
const HOSTILE_SIGN: &str = "\"><b title='x'>&quot;&gt;&lt;i></svg></p></main><h1>' & %22 %3Cb%3E # {{ title }}";

/// The salon with a sign that says something.
fn signed(mut texts: Texts, said: &str) -> Texts {
    assert!(!texts.pictures.is_empty(), "the demo has a sign");
    let sign = format!("<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 40 40\"><title>{said}</title></svg>");
    texts.pictures.values_mut().for_each(|bytes| *bytes = sign.clone().into_bytes());
    texts
}

/// How two salons' pages differ as trees, and how many of the texts stand on the pages as they were written.
fn compared(seed: u64, few: &[&str]) -> usize {
    let texts = only(demo(), few);
    let (mut hostile, mut harmless) = (Words::new(seed, false), Words::new(seed, true));
    let one = pages(&signed(filled(&texts, &mut hostile), HOSTILE_SIGN));
    let other = pages(&signed(filled(&texts, &mut harmless), "a sign"));
    assert_eq!(one.keys().collect::<Vec<_>>(), other.keys().collect::<Vec<_>>());
    let mut said = String::new();
    for (name, html) in &one {
        let (hostile, harmless) = (tree(html), tree(&other[name]));
        let (hostile_lines, harmless_lines) = (hostile.outline(""), harmless.outline(""));
        let differs = hostile_lines.lines().zip(harmless_lines.lines()).find(|(one, other)| one != other);
        assert!(hostile_lines == harmless_lines, "{name}: {differs:?}");
        assert_eq!(hostile.forgiven, Vec::<String>::new(), "{name}");
        said += &hostile.whole_text();
    }
    hostile.written.iter().filter(|text| text.contains('<') && said.contains(*text)).count()
}

#[test]
fn every_page_of_the_demo_keeps_its_tree_whatever_its_texts_are() {
    let all: Vec<String> =
        demo().clients.iter().map(|source| source.name.replace("clients/", "").replace(".toml", "")).collect();
    let all: Vec<&str> = all.iter().map(String::as_str).collect();
    let shown = compared(1, &all);
    assert!(shown > 60, "the texts stand on the pages as they were written: {shown}");
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::with_cases(8) })]

    #[test]
    fn no_text_of_any_field_changes_the_tree_of_a_page(seed in any::<u64>()) {
        prop_assert!(compared(seed, &FEW) > 5);
    }
}
