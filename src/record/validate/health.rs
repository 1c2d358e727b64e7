//! Health facts, of the client and of a visit. Nothing here has a default.

use crate::form::{Filled, Findings};
use crate::record::{AlertTest, Answers, Consents, Health, Incident, Reaction};

pub(super) fn health(section: Option<&Filled>, findings: &mut Findings<'_>) -> Health {
    let Some(section) = section else {
        return Health::default();
    };
    Health {
        alert_tests: section.sections("alert_test").iter().filter_map(|test| alert_test(test, findings)).collect(),
        reactions: section.sections("reaction").iter().filter_map(reaction).collect(),
        answers: section.section("answers").map(answers).unwrap_or_default(),
        incidents: section.sections("incident").iter().filter_map(incident).collect(),
    }
}

fn alert_test(test: &Filled, findings: &mut Findings<'_>) -> Option<AlertTest> {
    let applied = test.date("applied")?;
    let read = test.date("read");
    if read.is_some_and(|read| read < applied) {
        let hint = format!("It was applied on {applied}; correct one of the two days");
        findings.fault(test.span_of("read"), "the test is read before it was applied", "this day", hint);
    }
    if !test.is_written("read") && test.has("clear") {
        let hint = "Write the day it was read: `read = 2026-01-12`; an unread test does not count as clear";
        findings.caution(
            test.span_of("clear"),
            "an alert test has a result and no day of reading",
            "who looked, and when?",
            hint,
        );
    }
    Some(AlertTest {
        product: test.owned("product"),
        applied,
        read,
        clear: test.yes("clear"),
        read_by: test.owned("read_by"),
    })
}

fn reaction(reaction: &Filled) -> Option<Reaction> {
    Some(Reaction { to: reaction.owned("to")?, date: reaction.date("date"), note: reaction.owned("note") })
}

fn incident(incident: &Filled) -> Option<Incident> {
    Some(Incident { date: incident.date("date"), note: incident.owned("note")? })
}

fn answers(answers: &Filled) -> Answers {
    Answers {
        black_henna: answers.yes("black_henna"),
        medicine: answers.yes("medicine"),
        pregnancy: answers.yes("pregnancy"),
        scalp_condition: answers.yes("scalp_condition"),
        breathing: answers.yes("breathing"),
    }
}

/// What a client file leaves open: what nobody recorded, and health facts kept without consent. One caution each.
pub(super) fn cautions(file: &Filled, health: &Health, consents: &Consents, findings: &mut Findings<'_>) {
    let section = file.section("health");
    if *health != Health::default() && consents.health_data.is_none() {
        findings.caution(
            file.span_of("health"),
            "health facts are kept without a recorded consent",
            "since when may they be kept?",
            "Ask, and write the day under [consents]: `health_data = 2026-01-12`; or take the health facts out",
        );
    }
    let asked = &health.answers;
    let open: Vec<&str> = [
        ("alert tests", health.alert_tests.is_empty()),
        // An empty list is how a file says "asked, and there was none".
        ("earlier reactions", !section.is_some_and(|section| section.is_written("reaction"))),
        ("black henna", asked.black_henna.is_none()),
        ("medicine", asked.medicine.is_none()),
        ("pregnancy", asked.pregnancy.is_none()),
        ("scalp", asked.scalp_condition.is_none()),
        ("breathing", asked.breathing.is_none()),
    ]
    .into_iter()
    .filter_map(|(what, open)| open.then_some(what))
    .collect();
    if !open.is_empty() {
        findings.caution_about_file(
            format!("not recorded: {}", open.join(", ")),
            "Ask, and write the answers under [health]; `reaction = []` says that there never was a reaction",
        );
    }
}
