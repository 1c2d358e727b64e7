//! Nearly right texts of every kind, alone and on the whole way to a page: always an answer, never more of it than a bound.
//!
//! Steps are bounded where they are taken: faults a file, slips of writing, readings over a slip, nesting, repeats of a calendar,
//! attempts of a fit. What comes of it is counted here: messages, files, bytes. No clock is asked.

use afterhue::care::Passage;
use afterhue::diagnostic::{Report, SourceText};
use afterhue::pipeline;
use afterhue::schedule::diary::read_bookings;
use afterhue::workspace::{Secret, Texts};
use proptest::prelude::*;

use super::mutations::slipped;
use super::told_about;
use crate::dice::Dice;
use crate::privacy::in_memory::{demo, only};
use crate::salon_copy::TODAY;

/// The most messages about one file: the reader tells a hundred faults and says that there are more; what the fields mean
/// together adds to that.
const MOST_MESSAGES: usize = 300;

/// The largest page of the demo has not half of it, bytes.
const LARGEST_PAGE: usize = 128 * 1024;

const PASSAGE: &str = include_str!("../../../content-templates/en/wash-water.md");
const CALENDAR: &str = include_str!("../../../site-demo/busy-kofi.ics");

fn answered(report: &Report, source: SourceText) {
    assert!(report.items.len() <= MOST_MESSAGES, "{}", report.items.len());
    told_about(report, &[source]);
}

/// The whole way from texts to every file.
fn built(texts: &Texts) {
    let read = pipeline::read(texts);
    let files = texts.clients.len() + texts.records.len() + texts.content.len() + texts.themes.len() + 3;
    assert!(read.report.items.len() <= files * MOST_MESSAGES, "{}", read.report.items.len());
    super::told(texts);
    let Some((salon, theme)) = read.house.as_ref() else { return };
    let today = TODAY.parse().expect("a day");
    let Ok(built) = pipeline::build(&read, salon, theme, &Secret::from_bytes([7; 32]), today) else { return };
    for (name, bytes) in built.files {
        assert!(bytes.len() <= LARGEST_PAGE, "{name}: {}", bytes.len());
        assert!(!name.contains("..") && !name.starts_with('/') && !name.contains(['\\', '\0']), "{name}");
    }
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::with_cases(300) })]

    #[test]
    fn a_bookings_file_with_slips_is_answered(seed in any::<u64>()) {
        let text = demo_bookings();
        let source = SourceText::new("private/bookings.toml", slipped(&text, &mut Dice(seed)));
        answered(&read_bookings(&source).report, source);
    }

    #[test]
    fn a_passage_with_slips_is_answered(seed in any::<u64>()) {
        let source = SourceText::new("content/wash-water.md", slipped(PASSAGE, &mut Dice(seed)));
        answered(&Passage::read(&source).report, source);
    }

    #[test]
    fn any_text_is_answered_as_bookings_passage_and_calendar(text in "\\PC{0,200}") {
        for text in [text.clone(), format!("+++\n{text}\n+++\n{text}"), format!("BEGIN:VCALENDAR\r\n{text}\r\nEND:VCALENDAR\r\n")] {
            let source = SourceText::new("x", text);
            answered(&read_bookings(&source).report, source.clone());
            answered(&Passage::read(&source).report, source.clone());
            calendar(&source);
        }
    }

    #[test]
    fn a_calendar_with_slips_is_answered(seed in any::<u64>()) {
        calendar(&SourceText::new("busy.ics", slipped(CALENDAR, &mut Dice(seed))));
    }
}

fn demo_bookings() -> String {
    demo().bookings.map(|source| source.text.chars().take(4_000).collect()).unwrap_or_default()
}

fn calendar(source: &SourceText) {
    let (from, to) = (TODAY.parse().expect("a day"), "2027-01-20".parse().expect("a day"));
    let zone = "Europe/London".parse().expect("a zone");
    let checked = afterhue::schedule::diary::read_busy(source, zone, from, to, &|_| false);
    answered(&checked.report, source.clone());
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::with_cases(48) })]

    #[test]
    fn a_salon_with_slips_in_any_file_is_answered_up_to_its_pages(seed in any::<u64>()) {
        let mut texts = only(demo(), &["fern-07"]);
        texts.records.truncate(1);
        texts.content = vec![SourceText::new("content/wash-water.md", PASSAGE)];
        let mut dice = Dice(seed);
        let slip = |source: &mut SourceText, dice: &mut Dice| source.text = slipped(&source.text, dice);
        match dice.below(5) {
            0 => slip(texts.salon.as_mut().expect("a salon"), &mut dice),
            1 => slip(&mut texts.clients[0], &mut dice),
            2 => slip(&mut texts.records[0], &mut dice),
            3 => slip(texts.bookings.as_mut().expect("bookings"), &mut dice),
            _ => slip(&mut texts.content[0], &mut dice),
        }
        built(&texts);
    }
}
