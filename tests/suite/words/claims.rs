//! What a page never claims and always says.
//!
//! Never: Regulation (EU) 655/2013 on claims (truth, evidence, honesty); the UK advertising body on "repair" and "stronger";
//! the EU scientific committee of 2019 on alert tests; health-service texts on medical claims.
//! Always: label rules for hair dye in the EU, the US regulator's advice to consumers, common practice.

use afterhue::care::{CareLevel, Evidence, Library, Passage, Section, never_said};
use afterhue::diagnostic::{Severity, SourceText};

use super::{everything, filled, library, texts};

/// One sentence for each claim that must never be made, as someone might write it.
const CLAIMS: [&str; 26] = [
    "A damage-free blonde.",
    "There is no damage to your hair.",
    "A healthy bleach for all.",
    "This mask repairs hair.",
    "It rebuilds bonds.",
    "It makes hair stronger.",
    "The colour is guaranteed to last 6 weeks.",
    "Cold water closes the cuticle.",
    "It seals colour.",
    "It is safe for everybody.",
    "A hypoallergenic dye.",
    "It is PPD-free, so there is no reaction.",
    "You passed the patch test so you are safe.",
    "Colour is safe in pregnancy.",
    "It treats dandruff.",
    "It stops hair loss.",
    "It cures an itchy scalp.",
    "Stop your medicated shampoo.",
    "A UV-proof spray.",
    "A chlorine-proof cap.",
    "It is normal to burn a little.",
    "Ignore the sting.",
    "A chemical-free colour.",
    "It is approved by the regulator.",
    "You get the same result every time.",
    "It will match the picture.",
];

#[test]
fn each_forbidden_claim_is_recognised() {
    for claim in CLAIMS {
        assert!(!never_said(claim).is_empty(), "{claim}");
    }
}

#[test]
fn no_word_of_ours_makes_such_a_claim() {
    for (place, text) in everything() {
        let found = never_said(&text);
        assert!(found.is_empty(), "{place}: {:?} in {text}", found[0].1.words);
    }
}

#[test]
fn a_claim_in_a_salons_own_passage_is_a_caution_with_the_reason() {
    let text = "+++\nid = \"ours\"\nsection = \"each-week\"\norder = 1\nheading = \"Our mask\"\nuniversal = true\nevidence = \"common practice\"\nsource = \"Ours\"\n+++\nIt repairs hair.\n";
    let (library, report) = library().with_own(&[SourceText::new("content/ours.md", text)]);
    assert!(library.passages().any(|passage| passage.id == "ours"), "a caution does not take the passage away");
    let [caution] = report.items.as_slice() else { panic!("{report:?}") };
    assert_eq!((caution.severity, caution.hints.len()), (Severity::Caution, 1));
    assert_eq!(&text[caution.span.clone().expect("a place")], "repairs hair");
}

/// What every page says, each as words that must stand in one and the same passage for everybody.
pub(super) const ALWAYS: [(&str, &[&str]); 10] = [
    ("the leaflet wins", &["follow the leaflet", "leaflet wins"]),
    ("the stylist's own advice and local rules", &["your stylist told you in person", "local rules"]),
    ("no medical advice", &["not medical advice", "pharmacist", "doctor", "emergency"]),
    ("an estimate", &["estimate", "hair, water, sun and washing change it"]),
    ("what to tell the salon", &["reaction", "medicine", "pregnancy", "black henna", "colour used at home"]),
    ("the alert test", &["allergy alert test", "48 hours before", "leaflet says", "not a guarantee"]),
    ("age", &["not meant for people under 16"]),
    ("no colour at home", &["do not lighten or dye over it at home", "ask us first"]),
    ("review, contact and end", &["last reviewed", "contact rook and reed", "ends on"]),
    ("rinse a sore scalp at once", &["burns or itches", "rinse with plenty of lukewarm water now"]),
];

#[test]
fn what_must_always_be_said_stands_in_passages_for_everybody() {
    let library = library();
    let universal: Vec<String> =
        for_everybody(&library).map(|passage| texts(passage).join(" ").to_lowercase()).collect();
    for (what, words) in ALWAYS {
        let said = universal.iter().any(|text| words.iter().all(|word| text.contains(word)));
        assert!(said, "{what}: {words:?}");
    }
}

fn for_everybody(library: &Library) -> impl Iterator<Item = &Passage> {
    library.passages().filter(|passage| passage.when.is_none())
}

#[test]
fn health_is_spoken_of_to_everybody_or_to_nobody() {
    let about_health = ["pregnan", "medicine", "medicated", "asthma", "black henna", "henna tattoo", "dandruff"];
    for passage in library().passages() {
        let said = texts(passage).join(" ").to_lowercase();
        let found = about_health.iter().find(|word| said.contains(**word));
        assert!(found.is_none() || passage.when.is_none(), "{}: {found:?}", passage.id);
    }
}

#[test]
fn the_three_care_boxes_are_for_everybody_and_say_how_urgent_they_are() {
    let library = library();
    let boxes: Vec<&Passage> = for_everybody(&library).filter(|p| p.section == Section::CareBoxes).collect();
    let levels: Vec<Option<CareLevel>> = boxes.iter().map(|passage| passage.level).collect();
    assert_eq!(levels, [Some(CareLevel::Emergency), Some(CareLevel::Urgent), Some(CareLevel::Tell)]);
    assert!(library.passages().filter(|p| p.section == Section::CareBoxes).all(|p| p.when.is_none()));
    for (one, urgency) in boxes.iter().zip(["now if", "today if", "tell us"]) {
        assert!(filled(&one.heading).to_lowercase().contains(urgency), "{}", one.id);
    }
}

#[test]
fn every_passage_carries_its_evidence_and_a_source_without_a_link() {
    let mut marks = std::collections::BTreeSet::new();
    for passage in library().passages() {
        marks.insert(passage.evidence);
        let source = passage.source.to_lowercase();
        assert!(source.len() >= 9, "{}: {source}", passage.id);
        assert!(
            !source.contains("http") && !source.contains("www.") && !source.contains('{'),
            "{}: {source}",
            passage.id
        );
        if passage.evidence == Evidence::Published {
            assert!(
                source.contains(|c: char| c.is_ascii_digit()) || source.contains("study"),
                "{}: no year",
                passage.id
            );
        }
        if matches!(passage.evidence, Evidence::CommonPractice | Evidence::FromMemory) {
            let said = filled(&passage.body).to_lowercase();
            assert!(!said.contains("study") && !said.contains("studies"), "{}: {said}", passage.id);
        }
    }
    assert_eq!(marks.len(), 5, "every mark is used: {marks:?}");
}
