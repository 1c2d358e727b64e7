//! Non-interference: whatever stands in private fields, `public/` is the same, byte for byte.

use afterhue::diagnostic::SourceText;
use afterhue::workspace::Texts;
use proptest::prelude::*;

use super::fields::Filler;
use super::in_memory::{demo, only, public};

/// A few clients who differ most: a pastel with returns, somebody under 16, an alert test due, a reaction on record.
const FEW: [&str; 6] = ["wren-04", "ember-05", "robin-24", "walnut-09", "thistle-22", "plum-03"];

/// The same salon with every private field filled at random, health facts among them.
fn varied(texts: &Texts, seed: u64) -> Texts {
    let mut filler = Filler::new(seed, false);
    let mut fill = |kind, source: &SourceText| SourceText::new(source.name.clone(), filler.filled(kind, &source.text));
    Texts {
        salon: texts.salon.as_ref().map(|source| fill("SALON", source)),
        bookings: texts.bookings.as_ref().map(|source| fill("BOOKINGS", source)),
        clients: texts.clients.iter().map(|source| fill("CLIENT", source)).collect(),
        records: texts.records.iter().map(|source| fill("VISIT", source)).collect(),
        estimate: texts.estimate.clone(),
        content: texts.content.clone(),
        themes: texts.themes.clone(),
        unread: Vec::new(),
        pictures: texts.pictures.clone(),
        forgotten: texts.forgotten.clone(),
        report: texts.report.clone(),
        refused: texts.refused.clone(),
    }
}

fn differ(before: &std::collections::BTreeMap<String, Vec<u8>>, texts: &Texts) -> Vec<String> {
    let after = public(texts);
    let names: std::collections::BTreeSet<&String> = before.keys().chain(after.keys()).collect();
    let differ = names.into_iter().filter(|name| before.get(*name) != after.get(*name));
    differ.map(|name| format!("{name}: {}", first_difference(before.get(name), after.get(name)))).collect()
}

fn first_difference(before: Option<&Vec<u8>>, after: Option<&Vec<u8>>) -> String {
    let (Some(before), Some(after)) = (before, after) else { return "there only once".to_owned() };
    let at = before.iter().zip(after).take_while(|(one, other)| one == other).count();
    let near =
        |bytes: &[u8]| String::from_utf8_lossy(&bytes[at.saturating_sub(60)..(at + 60).min(bytes.len())]).into_owned();
    format!("{:?} became {:?}", near(before), near(after))
}

#[test]
fn the_whole_demo_is_the_same_with_other_private_fields() {
    let texts = demo();
    let before = public(&texts);
    assert!(before.len() > 60, "{}", before.len());
    assert_eq!(differ(&before, &varied(&texts, 1)), Vec::<String>::new());
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::with_cases(48) })]

    #[test]
    fn no_private_field_moves_a_byte_of_what_is_public(seed in any::<u64>()) {
        let texts = only(demo(), &FEW);
        let before = public(&texts);
        prop_assert!(before.len() > 10);
        prop_assert_eq!(differ(&before, &varied(&texts, seed)), Vec::<String>::new());
    }
}
