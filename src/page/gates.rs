//! What to settle before a client's next service, in words: for the salon only, because it may name health facts.
//!
//! In: gates, words. Out: lines, the gravest first. Knows nothing of: public pages.

use super::words::{Dates, Words};
use crate::plan::{Gate, Plan};

/// The gates of a client as lines; a test that was made after the last colour is told as made, and clears nothing.
#[must_use]
pub fn gate_lines(gates: &[Gate], tested: bool, plan: &Plan, words: &dyn Words) -> Vec<String> {
    let dates = Dates::of_service(words, plan.service);
    let mut lines: Vec<String> = Vec::new();
    let mut not_recorded: Vec<&str> = Vec::new();
    for gate in gates {
        let line = match gate {
            Gate::AgeNotConfirmed => words.pattern("gate.age"),
            Gate::PastReaction { to } => words.say("gate.reaction", &[("to", to)]),
            Gate::Incident => words.pattern("gate.incident"),
            Gate::PeroxideOverLimit => words.pattern("gate.peroxide"),
            Gate::BlackHenna => words.pattern("gate.black-henna"),
            Gate::AskAgain { about } => words.say("gate.ask-again", &[("about", about)]),
            Gate::AlertTestUnread { applied } => words.say("gate.test-unread", &[("date", &dates.weekday(*applied))]),
            Gate::AlertTestDue { .. } if tested => words.pattern("gate.test-made"),
            Gate::AlertTestDue { by: Some(by) } => words.say("gate.test-by", &[("date", &dates.weekday(*by))]),
            Gate::AlertTestDue { by: None } => words.pattern("gate.test"),
            Gate::WeakHair => words.pattern("gate.weak-hair"),
            Gate::RelightenGap { from } => words.say("gate.relighten", &[("date", &dates.weekday(*from))]),
            Gate::IncompatibilityTest => words.pattern("gate.incompatibility"),
            Gate::NotRecorded { what } => {
                not_recorded.push(what);
                continue;
            }
        };
        lines.push(line);
    }
    if !not_recorded.is_empty() {
        lines.push(words.say("gate.not-recorded", &[("what", &not_recorded.join("; "))]));
    }
    lines
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::page::catalogue::Catalogue;
    use crate::page::sample::{day, plan};

    #[test]
    fn every_gate_has_words_and_what_nobody_recorded_is_told_once() {
        let gates = [
            Gate::AgeNotConfirmed,
            Gate::PastReaction { to: "permanent".to_owned() },
            Gate::Incident,
            Gate::PeroxideOverLimit,
            Gate::BlackHenna,
            Gate::AskAgain { about: "medicine" },
            Gate::AlertTestUnread { applied: day(2) },
            Gate::AlertTestDue { by: Some(day(20)) },
            Gate::AlertTestDue { by: None },
            Gate::WeakHair,
            Gate::RelightenGap { from: day(28) },
            Gate::IncompatibilityTest,
            Gate::NotRecorded { what: "medicine" },
            Gate::NotRecorded { what: "pregnancy" },
        ];
        let lines = gate_lines(&gates, false, &plan(), Catalogue::shipped("en").expect("English is shipped"));
        assert_eq!(lines.len(), gates.len() - 1);
        assert!(lines.iter().all(|line| !line.contains('{')), "{lines:?}");
        assert!(lines[13 - 1].contains("medicine; pregnancy"), "{lines:?}");
    }

    #[test]
    fn a_test_that_was_made_is_not_asked_for_again_and_clears_nothing() {
        let words = Catalogue::shipped("en").expect("English is shipped");
        let gates = [Gate::AlertTestDue { by: Some(day(20)) }, Gate::WeakHair];
        let told = |tested| gate_lines(&gates, tested, &plan(), words);
        assert!(told(false)[0].starts_with("Alert test by "), "{:?}", told(false));
        assert!(told(true)[0].contains("was made") && told(true)[0].contains("no guarantee"), "{:?}", told(true));
        assert_eq!(told(true)[1..], told(false)[1..], "whatever else forbids the service still does");
    }
}
