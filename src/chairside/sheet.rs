//! A draft as the form shows it: parts in the order of the work, each with what was decided so far in one line.
//!
//! In: a draft, the salon. Out: plain data for the templates. Knows nothing of: requests, files.

use serde_json::{Value, json};

use crate::diagnostic::Severity;
use crate::form::{Typed, typed_count};
use crate::record::VISIT;

use super::draft::Draft;
use super::fields::{FieldView, told_at, told_view, view};
use super::house::Opened;
use super::look::{Look, look};
use super::{ahead, questions, said, swatch};

type Asked<'a> = &'a [(&'a str, &'a str)];

/// Asked first in the chair: what changes between two visits.
const HAIR: Asked<'_> = &[("regrowth_mm", "New growth"), ("trimmed_mm", "Cut off"), ("length_mm", "Length now")];
const HAIR_MORE: Asked<'_> = &[
    ("texture", "A single hair is"),
    ("curl", "Curl"),
    ("density", "How much hair"),
    ("natural_depth", "Natural depth, 1 black to 10 lightest"),
    ("white_percent", "White hair"),
    ("scalp_oil", "Scalp"),
    ("left_untouched_mm", "Left alone from the scalp"),
    ("growth_mm_per_day", "Own growth, when measured"),
];
const PLACEMENT: Asked<'_> = &[("kind", "Where"), ("area", "Part of the head"), ("share_percent", "Share of all hair")];
const ZONE: Asked<'_> = &[("name", "Zone"), ("from_mm", "From the scalp"), ("to_mm", "To")];
const ZONE_MORE: Asked<'_> =
    &[("porosity", ""), ("elasticity", "Wet and stretched"), ("lightened_before", "Lightened before, times")];
const COLOUR: Asked<'_> = &[
    ("colour.name", "Name"),
    ("colour.hex", "Matched by eye, as #rrggbb"),
    ("colour.lab", "Measured, as L*, a*, b*"),
    ("colour.found", "How it was found"),
];
const LIGHTENING: Asked<'_> = &[
    ("zones", "On which zones; none ticked means all"),
    ("minutes", "Time"),
    ("developer_percent", "Developer"),
    ("stage_reached", "Stage reached"),
    ("on_scalp", "On the scalp"),
    ("heat", "With heat"),
];
const LIGHTENING_MORE: Asked<'_> = &[("confirmed_as_used", "Over 12 % and really used")];
const TONING: Asked<'_> = &[
    ("dye", "Dye"),
    ("zones", "On which zones; none ticked means all"),
    ("minutes", "Time"),
    ("grams", "Mixed"),
    ("target", "Aimed at"),
    ("dilution", "Colour to clear, as 1:4"),
    ("took", "How it took"),
];
const TONING_MORE: Asked<'_> = &[
    ("mix", "Colour to what it was mixed with, as 1:2"),
    ("ph", "Acid or alkaline"),
    ("developer_percent", "Developer"),
    ("confirmed_as_used", "Over 12 % and really used"),
];
const HABITS: Asked<'_> = &[
    ("washes_per_week", "Washes a week"),
    ("water", "Water"),
    ("shampoo", "Shampoo"),
    ("sun_hours_per_week", "Hours of sun a week"),
    ("heat_tools.days_per_week", "Days with hot tools a week"),
];
const HABITS_MORE: Asked<'_> = &[
    ("rinse_days_per_week", "Days with a rinse only"),
    ("colour_conditioner.uses_per_week", "Colour conditioner, times a week"),
    ("colour_conditioner.shade", "Its shade"),
    ("heat_tools.celsius", "Hot tools at"),
    ("swims_per_week", "Swims a week"),
    ("swims_in", "In"),
    ("water_hardness", "Water at home"),
    ("copper_in_water", "Copper in it"),
    ("sport_days_per_week", "Days of sport a week"),
];
const TEST: Asked<'_> = &[
    ("product", "Tested with"),
    ("applied", "Applied"),
    ("read", "Read"),
    ("clear", "Nothing was seen"),
    ("read_by", "Read by"),
];
const REACTION: Asked<'_> = &[("to", "To what"), ("date", "When"), ("note", "What happened")];
const SEEN: Asked<'_> = &[
    ("washes_since", "Washes since the last visit"),
    ("rinses_since", "Days with a rinse only since"),
    ("colour_conditioner_uses", "Colour conditioner since, times"),
];
const LAST: Asked<'_> = &[
    ("note", "A note to the client, shown on the page"),
    ("advice", "Advice given, a line each"),
    ("price", "Price"),
    ("minutes_taken", "Time taken"),
    ("start", "Begun"),
    ("end", "Ended"),
];
const WISHES: Asked<'_> = &[("after", "Afterwards"), ("event", "A day to look best on")];

/// What a tap offers where a number is most often one of a few. Common practice, no source.
const TAPS: [(&str, &[&str]); 4] = [
    ("health.left_open", &["Did not want to say", "No consent to keep health facts"]),
    ("habits.washes_per_week", &["1", "2", "3", "4", "7"]),
    ("habits.sun_hours_per_week", &["0", "2", "5", "10", "20"]),
    ("habits.heat_tools.days_per_week", &["0", "1", "2", "4", "7"]),
];

struct Sheet<'a> {
    typed: &'a Typed,
    look: &'a Look,
    /// The zone that was pressed last.
    zone: Option<usize>,
}

/// Where the form lies open.
#[derive(Debug, Clone, Copy, Default)]
pub(super) struct Open<'a> {
    /// The part; empty for the first to ask.
    pub(super) part: &'a str,
    /// The zone in it.
    pub(super) zone: Option<usize>,
    /// Whether finishing was tried.
    pub(super) tried: bool,
}

impl Sheet<'_> {
    fn fields(&self, below: &str, asked: Asked<'_>) -> Vec<Value> {
        asked.iter().map(|(name, label)| self.field(&format!("{below}{name}"), label)).collect()
    }

    fn field(&self, place: &str, label: &str) -> Value {
        let field: FieldView = view(&VISIT, self.typed, &self.look.told, place, label);
        let taps = TAPS.iter().find(|(name, _)| *name == place).map(|(_, taps)| *taps);
        let taps: Vec<Value> =
            taps.unwrap_or_default().iter().map(|tap| json!({ "value": tap, "chosen": field.value == *tap })).collect();
        let mut value = json!(field);
        value["taps"] = json!(taps);
        value
    }

    fn told(&self, place: &str) -> Value {
        json!(told_at(&self.look.told, place))
    }

    fn zone(&self, at: &str, number: usize, of: usize) -> Value {
        let zone = format!("{at}.zone.{number}");
        let stage = said::text(self.typed, &format!("{zone}.stage"));
        let mut stages = swatch::stages();
        if !stage.is_empty() && stages.iter().all(|one| one.value != stage) {
            stages.push(swatch::StageSwatch {
                words: "as typed".to_owned(),
                hex: base_hex(self.typed, &zone),
                value: stage.clone(),
            });
        }
        let named = said::text(self.typed, &format!("{zone}.colour.name"));
        let free = ["lab", "hex"].iter().any(|way| !said::text(self.typed, &format!("{zone}.colour.{way}")).is_empty());
        let shades = swatch::base_of(self.typed, &zone).map(|base| swatch::on_base(&base));
        json!({
            "place": zone, "said": said::zone(self.typed, &zone), "number": number, "last": number + 1 == of, "alone": of == 1, "dom": dom(&zone),
            "fields": self.fields(&format!("{zone}."), ZONE), "more": self.fields(&format!("{zone}."), ZONE_MORE),
            "colour": self.fields(&format!("{zone}."), COLOUR),
            "stage": stage, "stages": stages, "stage_told": self.told(&format!("{zone}.stage")), "told": self.told(&zone),
            "colour_told": self.told(&format!("{zone}.colour")),
            "shades": shades.map(|shades| shades.as_ref().clone()),
            "shade": if free { String::new() } else { named.clone() }, "free": free.then_some(named),
        })
    }

    /// The zone that lies open: the one asked for, else the first at fault, else the first.
    fn open_zone(&self, at: &str, zones: usize) -> usize {
        let faulty = (0..zones).find(|zone| {
            let begins = format!("{at}.zone.{zone}");
            let own = |place: &str| place == begins || place.starts_with(&format!("{begins}."));
            self.look
                .told
                .iter()
                .any(|(place, told)| own(place) && told.iter().any(|one| one.severity == Severity::Fault))
        });
        self.zone.or(faulty).unwrap_or(0)
    }

    fn placement(&self, number: usize, of: usize) -> Value {
        let at = format!("placement.{number}");
        let zones = typed_count(self.typed, &format!("{at}.zone"));
        let steps = |list: &str, asked: Asked<'_>, more: Asked<'_>| -> Vec<Value> {
            (0..typed_count(self.typed, &format!("{at}.{list}")))
                .map(|step| {
                    let place = format!("{at}.{list}.{step}");
                    json!({ "place": place, "number": step, "dom": dom(&place), "fields": self.fields(&format!("{place}."), asked),
                            "more": self.fields(&format!("{place}."), more), "told": self.told(&place) })
                })
                .collect()
        };
        let (lightening, toning) =
            (steps("lightening", LIGHTENING, LIGHTENING_MORE), steps("toning", TONING, TONING_MORE));
        json!({
            "place": at, "number": number, "alone": of == 1, "kind": said::text(self.typed, &format!("{at}.kind")), "where": said::place(self.typed, &at), "open": self.open_zone(&at, zones), "told": self.told(&at),
            "said": said::placement(self.typed, &at), "worked": said::work(self.typed, &at),
            "fields": self.fields(&format!("{at}."), PLACEMENT),
            "zones": (0..zones).map(|zone| self.zone(&at, zone, zones)).collect::<Vec<_>>(),
            "lightening": lightening, "toning": toning,
        })
    }
}

fn base_hex(typed: &Typed, zone: &str) -> String {
    let base = swatch::base_of(typed, zone);
    base.map_or_else(|| "#ffffff".to_owned(), |base| crate::science::colour::srgb::from_lab(base.bare()).to_hex())
}

/// A place as a mark in a page.
fn dom(place: &str) -> String {
    place.replace('.', "-")
}

/// The part of the form in which a button stands.
pub(super) fn part_of(word: &str) -> String {
    let place = word.split(':').nth(1).unwrap_or_default();
    let mut parts = place.split('.');
    match (parts.next(), parts.next(), parts.next()) {
        (Some("placement"), Some(number), Some("lightening" | "toning")) if number.len() < 4 => {
            format!("work-{}", number.parse::<u16>().unwrap_or(0))
        }
        (Some("placement"), number, _) => {
            format!("place-{}", number.and_then(|number| number.parse::<u16>().ok()).unwrap_or(0))
        }
        (Some("habits"), ..) => "habits".to_owned(),
        (Some("health"), ..) => "tests".to_owned(),
        (Some("seen"), ..) => "seen".to_owned(),
        (Some("price" | "minutes_taken"), ..) => "last".to_owned(),
        _ => "hair".to_owned(),
    }
}

/// Everything the form shows of a draft.
pub(super) fn sheet(draft: &Draft, opened: &Opened, csrf: &str, open: Open<'_>) -> Value {
    let look = look(draft, opened);
    let sheet = Sheet { typed: &draft.typed, look: &look, zone: open.zone };
    let known = opened.clients.get(&draft.client);
    let placements = typed_count(&draft.typed, "placement");
    let tests = typed_count(&draft.typed, "health.alert_test");
    let tests: Vec<Value> = (0..tests)
        .map(|number| {
            let place = format!("health.alert_test.{number}");
            json!({ "place": place, "told": sheet.told(&place), "fields": sheet.fields(&format!("{place}."), TEST) })
        })
        .collect();
    let reactions: Vec<Value> = (0..typed_count(&draft.typed, "health.reaction"))
        .map(|number| {
            let place = format!("health.reaction.{number}");
            json!({ "place": place, "told": sheet.told(&place), "fields": sheet.fields(&format!("{place}."), REACTION) })
        })
        .collect();
    let known_answers = questions::on_record(draft, opened);
    let asked: Vec<Value> = questions::ANSWERS
        .into_iter()
        .map(|(name, _, label)| {
            let known =
                known_answers.get(name).map(|answer| if *answer { ", on record: yes" } else { ", on record: no" });
            sheet.field(&questions::place(name), &format!("{label}{}", known.unwrap_or_default()))
        })
        .collect();
    let unasked = questions::not_recorded(draft, opened);
    let tests_said = match (unasked.is_empty(), draft.corrects(), tests.len()) {
        (false, false, _) => format!("not recorded: {}", unasked.join(", ")),
        (.., 0) => "asked; no test today".to_owned(),
        (.., count) => format!("asked; {count} today"),
    };
    let still: Vec<Value> = questions::still(draft, opened)
        .into_iter()
        .map(|one| json!({ "part": one.part, "message": one.message }))
        .collect();
    let unsaid: Vec<String> =
        (0..placements).flat_map(|number| said::lightening(&draft.unsaid, &format!("placement.{number}"))).collect();
    let stylists = opened
        .house()
        .map(|(salon, _)| salon.stylists.iter().map(|one| (one.code.clone(), one.name.clone())).collect::<Vec<_>>());
    let stylist = said::text(&draft.typed, "stylist");
    let stylists: Vec<Value> = stylists
        .unwrap_or_default()
        .into_iter()
        .map(|(code, name)| json!({ "value": code, "words": name, "chosen": code == stylist }))
        .collect();
    let faults: Vec<Value> = look
        .told
        .iter()
        .flat_map(|(place, told)| told.iter().map(move |one| (place, one)))
        .filter(|(_, one)| one.severity == Severity::Fault)
        .map(|(place, one)| json!({ "part": part_of(&format!(":{place}")), "dom": dom(place), "message": one.message }))
        .collect();
    let cautions: Vec<Value> = look
        .told
        .values()
        .flatten()
        .filter(|one| one.severity == Severity::Caution)
        .map(|one| json!(told_view(one)))
        .collect();
    let visits = known.map_or(0, |known| known.visits.iter().filter(|visit| visit.file != draft.file).count());
    let name = known.and_then(|known| known.client.first_name.clone()).unwrap_or_else(|| draft.client.clone());
    let part = if open.part.is_empty() { if visits > 0 { "hair" } else { "place-0" } } else { open.part };
    let correctors: Vec<Value> = opened
        .house()
        .map(|(salon, _)| salon.stylists.iter())
        .into_iter()
        .flatten()
        .map(|one| json!({ "value": one.code, "words": one.name, "chosen": one.code == draft.by }))
        .collect();
    let day = said::text(&draft.typed, "date");
    json!({
        "corrects": draft.corrects().then(|| day.parse().map_or(day, ahead::day)), "correctors": correctors, "by": draft.by,
        "title": format!("Visit of {name}"), "csrf": csrf, "id": draft.id, "code": draft.client, "name": name, "seen": draft.change,
        "open": part, "tried": open.tried, "again": visits > 0, "date": sheet.field("date", "Day"), "stylists": stylists,
        "stylist_told": sheet.told("stylist"),
        "hair": sheet.fields("hair.", HAIR), "hair_more": sheet.fields("hair.", HAIR_MORE), "hair_said": said::all(&draft.typed, "hair.", HAIR),
        "placements": (0..placements).map(|number| sheet.placement(number, placements)).collect::<Vec<_>>(),
        "habits": sheet.fields("habits.", HABITS), "habits_more": sheet.fields("habits.", HABITS_MORE), "habits_said": said::all(&draft.typed, "habits.", HABITS),
        "seen_fields": sheet.fields("seen.", SEEN), "seen_told": sheet.told("seen"), "seen_said": said::all(&draft.typed, "seen.", SEEN),
        "tests": tests, "reactions": reactions, "asked": asked, "unchanged": !known_answers.is_empty(), "left_open": sheet.field("health.left_open", "Left open, because"),
        "tests_said": tests_said, "still": still, "unsaid": unsaid, "must_say": !draft.unsaid.is_empty(),
        "last": sheet.fields("", LAST), "wishes": sheet.fields("wishes.", WISHES),
        "told": sheet.told(""), "faults": faults, "cautions": cautions,
        "ahead": look.plan.as_ref().map(|plan| ahead::ahead(plan, opened)),
    })
}
