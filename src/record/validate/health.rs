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
        left_open: section.owned("left_open"),
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
    if !health.tells_nothing() && consents.health_data.is_none() {
        findings.caution(
            file.span_of("health"),
            "health facts are kept without a recorded consent",
            "since when may they be kept?",
            "Ask, and write the day under [consents]: `health_data = 2026-01-12`; or take the health facts out",
        );
    }
    let asked = &health.answers;
    let questions = [
        ("black_henna", "black henna", asked.black_henna),
        ("medicine", "medicine", asked.medicine),
        ("pregnancy", "pregnancy", asked.pregnancy),
        ("scalp_condition", "scalp", asked.scalp_condition),
        ("breathing", "breathing", asked.breathing),
    ];
    // An empty list is how a file says "asked, and there was none".
    let no_reactions = !section.is_some_and(|section| section.is_written("reaction"));
    let open: Vec<&str> = [("alert tests", health.alert_tests.is_empty()), ("earlier reactions", no_reactions)]
        .into_iter()
        .chain(questions.iter().map(|(_, what, answer)| (*what, answer.is_none())))
        .filter_map(|(what, open)| open.then_some(what))
        .collect();
    if open.is_empty() {
        return;
    }
    let unanswered: Vec<&str> =
        questions.iter().filter(|(_, _, answer)| answer.is_none()).map(|(name, ..)| *name).collect();
    let block = block(section, no_reactions, &unanswered);
    let hint = if block.is_empty() {
        "After the next test write it down under [[health.alert_test]]: `applied`, `read`, `clear`, `read_by`"
            .to_owned()
    } else {
        format!("Ask, and write what the client answers:\n{block}")
    };
    findings.caution_about_file(format!("health facts not recorded: {}", open.join(", ")), hint);
}

/// The lines that answer what is open, with a heading only where the file has none yet.
///
/// No answer stands there ready to be pasted unasked: a line without one is a fault.
fn block(section: Option<&Filled>, no_reactions: bool, unanswered: &[&str]) -> String {
    let mut lines: Vec<String> = Vec::new();
    if no_reactions {
        lines.extend([
            "[health]".to_owned(),
            "reaction = []  # only if there never was one; else [[health.reaction]]".to_owned(),
        ]);
    }
    if !unanswered.is_empty() {
        lines.push("[health.answers]".to_owned());
        lines.extend(unanswered.iter().map(|name| format!("{name} =  # true or false")));
    }
    let there = |heading: &str| match heading {
        "[health]" => section.is_some(),
        _ => section.is_some_and(|section| section.section("answers").is_some()),
    };
    let told = lines.into_iter().map(|line| {
        if line.starts_with('[') && there(&line) {
            format!("{line}  # this line is there: write below it")
        } else {
            line
        }
    });
    told.collect::<Vec<_>>().join("\n")
}
