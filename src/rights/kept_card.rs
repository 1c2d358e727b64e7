//! The test-and-incident card of a client who is forgotten: what stands on it, when it is kept, when it goes.

use std::fmt::Write;

use chrono::{Days, NaiveDate};

use crate::page::link::forgotten_mark;
use crate::plan::day_in_words;
use crate::record::{self, ClientCode, Health, History};
use crate::salon::CardKept;
use crate::workspace::{self, Failure};

use super::House;

/// A card that will be kept.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Card {
    /// The day on which it goes.
    pub until: NaiveDate,
    /// What stands on it.
    pub text: String,
}

/// The card of a client; nothing where the salon keeps none, or where there is no test, reaction or incident.
pub(super) fn card_of(house: &House<'_>, code: &ClientCode, today: Option<NaiveDate>) -> Option<Card> {
    let (salon, _) = house.read.house.as_ref()?;
    let kept = salon.retention.card.as_ref()?;
    let name = format!("clients/{code}.toml");
    let client = house.texts.clients.iter().find(|source| source.name == name);
    let client = client.and_then(|source| record::read_client(source).value);
    let history = house.read.histories.iter().find(|history| history.client.code == *code);
    let mut facts = client.as_ref().map(|client| client.health.clone()).unwrap_or_default();
    for visit in history.iter().flat_map(|history| &history.visits) {
        facts.alert_tests.extend(visit.health.alert_tests.clone());
        facts.reactions.extend(visit.health.reactions.clone());
        facts.incidents.extend(visit.health.incidents.clone());
    }
    facts.alert_tests.sort_by_key(|test| test.applied);
    if facts.alert_tests.is_empty() && facts.reactions.is_empty() && facts.incidents.is_empty() {
        return None;
    }
    let today = today.unwrap_or_else(|| workspace::today(salon.time_zone));
    let until = today.checked_add_days(Days::new(kept.days.into()))?;
    let consent = client.as_ref().and_then(|client| client.consents.health_data);
    let first_name = client.as_ref().and_then(|client| client.first_name.as_deref());
    Some(Card { until, text: text(code, first_name, consent, &facts, (kept, until), history) })
}

fn text(
    code: &ClientCode,
    first_name: Option<&str>,
    consent: Option<NaiveDate>,
    facts: &Health,
    (kept, until): (&CardKept, NaiveDate),
    history: Option<&History>,
) -> String {
    let day = |date: Option<NaiveDate>| date.map_or_else(|| "day not recorded".to_owned(), day_in_words);
    let named = first_name.map(|name| format!(" ({name})")).unwrap_or_default();
    let mut out = format!("Tests and incidents of {code}{named}, who was forgotten\n");
    let _ = write!(
        out,
        "Kept because: {}\nUntil: {}\nConsent to keep facts about health: {}\n",
        kept.reason,
        day_in_words(until),
        day(consent)
    );
    if let Some(history) = history {
        let days: Vec<String> = history.visits.iter().map(|visit| day_in_words(visit.date)).collect();
        let _ = writeln!(out, "Visits: {}", days.join(", "));
    }
    for test in &facts.alert_tests {
        let result = match (test.read, test.clear) {
            (Some(read), Some(true)) => format!("read {}, nothing seen", day_in_words(read)),
            (Some(read), Some(false)) => format!("read {}, something was seen", day_in_words(read)),
            (Some(read), None) => format!("read {}, no result recorded", day_in_words(read)),
            (None, _) => "not read".to_owned(),
        };
        let by = test.read_by.as_deref().map(|who| format!(", by {who}")).unwrap_or_default();
        let product = test.product.as_deref().map(|what| format!(" of {what}")).unwrap_or_default();
        let _ = writeln!(out, "Alert test{product}: applied {}, {result}{by}", day_in_words(test.applied));
    }
    for reaction in &facts.reactions {
        let note = reaction.note.as_deref().unwrap_or("nothing more recorded");
        let _ = writeln!(out, "Reaction to {}, {}: {note}", reaction.to, day(reaction.date));
    }
    for incident in &facts.incidents {
        let _ = writeln!(out, "Incident, {}: {}", day(incident.date), incident.note);
    }
    out
}

/// The card kept of a client who was forgotten, and the day on which it goes.
///
/// # Errors
/// When the machine refuses, or the card is damaged.
pub fn card_of_forgotten(house: &House<'_>, code: &ClientCode) -> Result<Option<(NaiveDate, String)>, Failure> {
    workspace::kept_card(house.folder, house.secret, &forgotten_mark(house.secret.bytes(), code))
}
