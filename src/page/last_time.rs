//! What was done last time and what is on record beside it, in chair words: for the stylist's own sheet, because it names health facts.
//!
//! In: a history with health facts, the salon, words. Out: [`LastTime`]. Knows nothing of: public pages, and what comes next.

use serde::Serialize;

use super::words::{Dates, Words};
use crate::record::{History, LighteningStep, Placement, ServiceRecord, ToningPass, ZoneName};
use crate::salon::Salon;
use crate::units::{PeroxidePercent, Worded};

/// What a stylist reads before the next service, each a line.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct LastTime {
    /// The service: when, by whom, how long, on which hair, every step and pass, the advice given.
    pub chair: Vec<String>,
    /// The client: what was done elsewhere, home habits that bear on the mix, what was agreed to.
    pub client: Vec<String>,
    /// Tests, reactions and incidents. Never published.
    pub health: Vec<String>,
}

impl LastTime {
    /// Every line, in the order of a sheet.
    pub fn lines(&self) -> impl Iterator<Item = &String> {
        self.chair.iter().chain(&self.client).chain(&self.health)
    }
}

/// What is on record about the visit whose work is on the head, and about the client.
#[must_use]
pub fn last_time(history: &History, salon: &Salon, words: &dyn Words) -> LastTime {
    let visit = history.latest();
    let say = Saying { words, dates: Dates::of_service(words, visit.date) };
    let mut chair = vec![service(visit, salon, say)];
    chair.extend(hair(visit, say));
    for (at, placement) in visit.placements.iter().enumerate() {
        let head = format!("{} {}", placement.kind.word(), at + 1);
        chair.extend(placement.lightening.iter().map(|step| lightening(&head, placement, step, say)));
        chair.extend(placement.toning.iter().map(|pass| toning(&head, placement, pass, say)));
    }
    chair.extend(visit.advice.iter().map(|advice| words.say("last-time.advice", &[("advice", advice)])));
    LastTime { chair, client: client(history, visit, say), health: health(history, say) }
}

#[derive(Clone, Copy)]
struct Saying<'a> {
    words: &'a dyn Words,
    dates: Dates<'a>,
}

impl Saying<'_> {
    fn list(self, parts: Vec<String>) -> String {
        // The sentence brings its own full stop; a remark may have one already.
        parts.join(&self.words.pattern("list.comma")).trim_end_matches('.').to_owned()
    }

    fn one(self, key: &str, value: &str) -> String {
        self.words.say(key, &[("value", value)])
    }
}

/// A number as a stylist writes it: no more places than it has.
fn plain(number: f64) -> String {
    ((number * 100.0).round() / 100.0).to_string()
}

fn service(visit: &ServiceRecord, salon: &Salon, say: Saying<'_>) -> String {
    let mut parts = vec![say.dates.whole(visit.date)];
    if let Some(code) = &visit.stylist {
        let known = salon.stylists.iter().find(|stylist| stylist.code == *code);
        parts.push(say.one("last-time.stylist", known.map_or(code, |stylist| &stylist.name)));
    }
    match (visit.start, visit.end) {
        (Some(start), Some(end)) => {
            let clock = |time: chrono::NaiveTime| time.format("%H:%M").to_string();
            parts.push(say.words.say("last-time.hours", &[("from", &clock(start)), ("to", &clock(end))]));
        }
        (Some(only), None) | (None, Some(only)) => parts.push(only.format("%H:%M").to_string()),
        (None, None) => {}
    }
    parts.extend(visit.minutes_taken.map(|time| say.one("last-time.taken", &plain(time.to_minutes()))));
    let currency = salon.currency.as_deref().unwrap_or_default();
    parts.extend(visit.price.map(|price| format!("{} {currency}", plain(price)).trim_end().to_owned()));
    say.one("last-time.service", &say.list(parts))
}

fn hair(visit: &ServiceRecord, say: Saying<'_>) -> Option<String> {
    let hair = &visit.hair;
    let parts: Vec<String> = [
        hair.texture.map(|word| word.word().to_owned()),
        hair.curl.map(|word| word.word().to_owned()),
        hair.density.map(|word| say.one("last-time.density", word.word())),
        hair.length.map(|length| say.one("last-time.length", &plain(length.to_mm()))),
    ]
    .into_iter()
    .flatten()
    .collect();
    (!parts.is_empty()).then(|| say.one("last-time.hair", &say.list(parts)))
}

/// "foils 2, roots and ends".
fn place(head: &str, placement: &Placement, zones: &[ZoneName], say: Saying<'_>) -> String {
    let all: Vec<ZoneName> = placement.zones.iter().map(|zone| zone.name).collect();
    let zones = if zones.is_empty() { &all } else { zones };
    say.list(std::iter::once(head.to_owned()).chain(zones.iter().map(|zone| zone.word().to_owned())).collect())
}

fn developer(strength: Option<PeroxidePercent>, say: Saying<'_>) -> Option<String> {
    strength.map(|strength| say.one("last-time.developer", &plain(strength.to_percent())))
}

fn lightening(head: &str, placement: &Placement, step: &LighteningStep, say: Saying<'_>) -> String {
    let flag = |told: Option<bool>, key| (told == Some(true)).then(|| say.words.pattern(key));
    let parts = [
        developer(step.developer, say),
        step.minutes.map(|time| say.one("last-time.minutes", &plain(time.to_minutes()))),
        flag(step.on_scalp, "last-time.on-scalp"),
        flag(step.heat, "last-time.heat"),
        step.stage_reached.map(|stage| say.one("last-time.stage", &plain(stage.value()))),
    ];
    let how = say.list(parts.into_iter().flatten().collect());
    let key = if how.is_empty() { "last-time.lightened-bare" } else { "last-time.lightened" };
    say.words.say(key, &[("place", &place(head, placement, &step.zones, say)), ("how", &how)])
}

fn toning(head: &str, placement: &Placement, pass: &ToningPass, say: Saying<'_>) -> String {
    let ratio = |(one, other): (f64, f64)| format!("{}:{}", plain(one), plain(other));
    let parts = [
        Some(pass.dye.word().to_owned()),
        pass.ph.map(|ph| ph.word().to_owned()),
        pass.target.as_deref().map(|target| say.one("last-time.target", target)),
        pass.mix.map(|mix| say.one("last-time.mix", &ratio(mix))),
        pass.dilution.map(|dilution| say.one("last-time.clear", &ratio(dilution))),
        pass.grams.map(|grams| say.one("last-time.grams", &plain(grams.to_grams()))),
        developer(pass.developer, say),
        pass.minutes.map(|time| say.one("last-time.minutes", &plain(time.to_minutes()))),
        pass.took.map(|took| say.one("last-time.took", took.word())),
    ];
    let how = say.list(parts.into_iter().flatten().collect());
    say.words.say("last-time.toned", &[("place", &place(head, placement, &pass.zones, say)), ("how", &how)])
}

fn client(history: &History, visit: &ServiceRecord, say: Saying<'_>) -> Vec<String> {
    let mut lines = Vec::new();
    for entry in &history.client.history {
        let parts =
            [Some(entry.kind.word().to_owned()), entry.date.map(|date| say.dates.day_year(date)), entry.note.clone()];
        lines.push(say.one("last-time.before", &say.list(parts.into_iter().flatten().collect())));
    }
    if let Some(conditioner) = &visit.habits.conditioner {
        let shade = conditioner.shade.as_deref().unwrap_or_default();
        let uses = plain(conditioner.uses.to_per_week());
        let key = if shade.is_empty() { "last-time.conditioner" } else { "last-time.conditioner-shade" };
        lines.push(say.words.say(key, &[("uses", &uses), ("shade", shade)]));
    }
    if let Some(celsius) = visit.habits.heat.and_then(|heat| heat.temperature) {
        lines.push(say.one("last-time.tools", &plain(celsius.to_celsius())));
    }
    for (key, agreed) in [("photos", history.client.consents.photo), ("news", history.client.consents.marketing)] {
        lines.push(match agreed {
            Some(date) => say.one(&format!("last-time.{key}"), &say.dates.day_year(date)),
            None => say.words.pattern(&format!("last-time.no-{key}")),
        });
    }
    lines
}

fn health(history: &History, say: Saying<'_>) -> Vec<String> {
    let all = || std::iter::once(&history.client.health).chain(history.visits.iter().map(|visit| &visit.health));
    let mut lines = Vec::new();
    if let Some(test) = all().flat_map(|health| &health.alert_tests).max_by_key(|test| test.applied) {
        let read = match (test.read, test.clear) {
            (None, _) => say.words.pattern("last-time.test-unread"),
            (Some(day), clear) => {
                let key = match clear {
                    Some(true) => "last-time.test-clear",
                    Some(false) => "last-time.test-reacted",
                    None => "last-time.test-open",
                };
                say.one(key, &say.dates.day_year(day))
            }
        };
        let parts = [
            test.product.clone(),
            Some(say.one("last-time.test-applied", &say.dates.day_year(test.applied))),
            Some(read),
            test.read_by.as_deref().map(|who| say.one("last-time.test-by", who)),
        ];
        lines.push(say.one("last-time.test", &say.list(parts.into_iter().flatten().collect())));
    }
    for reaction in all().flat_map(|health| &health.reactions) {
        let parts =
            [Some(reaction.to.clone()), reaction.date.map(|date| say.dates.day_year(date)), reaction.note.clone()];
        lines.push(say.one("last-time.reaction", &say.list(parts.into_iter().flatten().collect())));
    }
    for incident in all().flat_map(|health| &health.incidents) {
        let parts = [incident.date.map(|date| say.dates.day_year(date)), Some(incident.note.clone())];
        lines.push(say.one("last-time.incident", &say.list(parts.into_iter().flatten().collect())));
    }
    lines
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::page::sample::Sample;

    #[test]
    fn what_nobody_recorded_makes_no_line() {
        let sample = Sample::rose();
        let found = last_time(&sample.history, &sample.salon, sample.words);
        assert!(
            found.lines().all(|line| !line.contains('{') && !line.contains(", ,") && !line.ends_with(": ")),
            "{found:?}"
        );
    }
}
