//! What must be said before a visit is written: whether it was lightened today, and what the client answered.
//!
//! In: a draft, what is on record. Out: what is still to say, in `check`'s words. Knows nothing of: mark-up.
//!
//! A question may be left open, with the reason. What is on record is offered, never taken over unasked.

use std::collections::BTreeMap;

use crate::form::{Typed, typed_count};
use crate::record::Answers;

use super::draft::Draft;
use super::house::Opened;
use super::said;

/// A question of the consultation: its field, `check`'s word for it, how it is asked.
pub(super) const ANSWERS: [(&str, &str, &str); 5] = [
    ("black_henna", "black henna", "Ever a black henna tattoo"),
    ("medicine", "medicine", "A medicine or treatment that may change skin or hair"),
    ("pregnancy", "pregnancy", "Pregnant or breastfeeding"),
    ("scalp_condition", "scalp", "Scalp sore, broken or diseased"),
    ("breathing", "breathing", "Trouble breathing with lightener"),
];

/// Something still to say, and the part of the form where it is said.
pub(super) struct Still {
    pub(super) part: &'static str,
    pub(super) message: String,
}

/// The field of a question.
pub(super) fn place(name: &str) -> String {
    format!("health.answers.{name}")
}

fn answer(answers: &Answers, name: &str) -> Option<bool> {
    match name {
        "black_henna" => answers.black_henna,
        "medicine" => answers.medicine,
        "pregnancy" => answers.pregnancy,
        "scalp_condition" => answers.scalp_condition,
        _ => answers.breathing,
    }
}

/// The latest answer on record to each question, of the client's file and of every visit but this one.
pub(super) fn on_record(draft: &Draft, opened: &Opened) -> BTreeMap<&'static str, bool> {
    let Some(known) = opened.clients.get(&draft.client) else { return BTreeMap::new() };
    let visits = known.visits.iter().filter(|visit| visit.file != draft.file).map(|visit| &visit.health.answers);
    let all: Vec<&Answers> = [&known.client.health.answers].into_iter().chain(visits).collect();
    let latest = |name: &str| all.iter().rev().find_map(|answers| answer(answers, name));
    ANSWERS.into_iter().filter_map(|(name, ..)| Some((name, latest(name)?))).collect()
}

/// "Nothing changed": takes over what is on record where nothing was answered today.
pub(super) fn unchanged(typed: &mut Typed, on_record: &BTreeMap<&'static str, bool>) {
    for (name, answer) in on_record {
        if said::text(typed, &place(name)).is_empty() {
            typed.insert(place(name), answer.to_string());
        }
    }
}

/// `check`'s words for what nobody recorded; empty when everything was answered or left open with the reason.
pub(super) fn not_recorded(draft: &Draft, opened: &Opened) -> Vec<&'static str> {
    if !said::text(&draft.typed, "health.left_open").is_empty() {
        return Vec::new();
    }
    let known = opened.clients.get(&draft.client);
    let tests = known.is_some_and(|known| {
        let tests = known.visits.iter().map(|visit| &visit.health).chain([&known.client.health]);
        tests.into_iter().any(|health| !health.alert_tests.is_empty())
    });
    let tested = tests || typed_count(&draft.typed, "health.alert_test") > 0;
    let unanswered = ANSWERS.into_iter().filter(|(name, ..)| said::text(&draft.typed, &place(name)).is_empty());
    (!tested).then_some("alert tests").into_iter().chain(unanswered.map(|(_, word, _)| word)).collect()
}

/// Everything still to say. A record that is corrected was asked about on its own day.
pub(super) fn still(draft: &Draft, opened: &Opened) -> Vec<Still> {
    if draft.corrects() {
        return Vec::new();
    }
    let mut still = Vec::new();
    if !draft.unsaid.is_empty() {
        let message = "say whether it was lightened today; it was last time".to_owned();
        still.push(Still { part: "hair", message });
    }
    let open = not_recorded(draft, opened);
    if !open.is_empty() {
        still.push(Still { part: "tests", message: format!("not recorded: {}", open.join(", ")) });
    }
    still
}

/// What a button said about today's lightening: as last time, or none. Whether it said anything.
pub(super) fn press(draft: &mut Draft, word: &str, on_record: &BTreeMap<&'static str, bool>) -> bool {
    let places = typed_count(&draft.typed, "placement");
    match word {
        "lightened:same" => {
            let there = |place: &String| {
                place.split('.').nth(1).and_then(|at| at.parse().ok()).is_some_and(|at: usize| at < places)
            };
            draft.typed.extend(std::mem::take(&mut draft.unsaid).into_iter().filter(|(place, _)| there(place)));
            true
        }
        "lightened:none" => {
            draft.unsaid.clear();
            draft.typed.retain(|place, _| !is_lightening(place));
            true
        }
        "asked:unchanged" => {
            unchanged(&mut draft.typed, on_record);
            true
        }
        // Whoever adds a step of today has said it.
        _ if word.starts_with("add:") && word.ends_with(".lightening") => {
            draft.unsaid.clear();
            false
        }
        _ => false,
    }
}

/// Whether a place is in a lightening step.
pub(super) fn is_lightening(place: &str) -> bool {
    let mut parts = place.split('.');
    parts.next() == Some("placement") && parts.nth(1) == Some("lightening")
}
