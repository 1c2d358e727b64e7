//! A client's hair story, for the salon only: visits in time, colour then and now, fibre history, returns, tests.
//!
//! In: a client's history. Out: one page. Knows nothing of: drafts.

use serde_json::{Value, json};

use crate::forecast::{ZoneForecast, forecast, lightening_overlap};
use crate::page::words::colour;
use crate::pipeline::words_of_house;
use crate::record::{AlertTest, FinishedColour, History, ServiceRecord, Zone};
use crate::science::colour::naming::name;
use crate::science::colour::srgb;
use crate::science::hair::porosity::Porosity;
use crate::units::Worded;

use super::ahead::day;
use super::condition::trend;
use super::house::{House, Opened};
use super::reply::{Asked, Reply, words_of};
use super::said::{placed, zone_of};
use super::{correct, page};

/// Paces closer than this are told as usual: the first decimal would not show them. Common practice, no source.
const AS_USUAL: f64 = 1.1;

fn counted(count: usize, one: &str, many: &str) -> String {
    format!("{count} {}", if count == 1 { one } else { many })
}

/// The page.
pub(super) fn story(house: &House, asked: &Asked, code: &str) -> Reply {
    let opened = match house.opened() {
        Ok(opened) => opened,
        Err(failure) => return page::plain(500, "The salon cannot be read", &words_of(&failure)),
    };
    let history = opened.read.histories.iter().find(|history| history.client.code.as_str() == code);
    match (history, opened.house(), opened.clients.get(code)) {
        (Some(history), Some(_), _) => {
            let mut data = data(history, &opened, asked, house.today(&opened));
            data["visits"] = history.visits.iter().rev().map(|visit| visit_view(visit, house, &opened)).collect();
            page::page(200, "story.html", &data)
        }
        (_, _, Some(known)) => {
            let name = known.client.first_name.clone().unwrap_or_else(|| code.to_owned());
            page::page(200, "nostory.html", &json!({ "title": name, "name": name, "code": code }))
        }
        _ => page::plain(404, "There is no story of that client", "Nothing is on record under that code."),
    }
}

fn data(history: &History, opened: &Opened, asked: &Asked, today: chrono::NaiveDate) -> Value {
    let (salon, _) = opened.house().expect("looked at before");
    let words = words_of_house(salon);
    let shareable = history.shareable();
    let law = forecast(&shareable, salon);
    let since = (today - history.latest().date).num_days().max(0);
    let several = law.has_several_placements();
    let named = |zone: &ZoneForecast| zone_of(several, zone.kind, zone.area, zone.name);
    // A count of days, far below 2^52.
    let dose = crate::units::Days::try_new(since as f64).map(|days| law.clock.dose_on(days));
    let now: Vec<Value> = law
        .zones
        .iter()
        .map(|zone| {
            let then = zone.finished;
            let seen = dose.map_or(then, |dose| zone.colour_after(dose));
            let left = dose.and_then(|dose| zone.share_after(dose)).map(|share| format!("{:.0} %", share.to_fraction() * 100.0));
            json!({ "name": named(zone), "then": srgb::from_lab(then).to_hex(), "now": srgb::from_lab(seen).to_hex(),
                    "then_words": colour(words, name(then)), "now_words": colour(words, name(seen)), "left": left, "returns": zone.returns })
        })
        .collect();
    let overlaps: Vec<String> = lightening_overlap(&shareable, salon)
        .iter()
        .map(|one| {
            let placement = history.latest().placements.get(one.placement).filter(|_| several);
            let place = placement.map(|placement| placed(placement.kind, placement.area) + ": ").unwrap_or_default();
            format!(
                "{place}{:.0} mm lightened {} times, from {:.0} to {:.0} mm",
                one.length(),
                one.times,
                one.from.to_mm(),
                one.to.to_mm()
            )
        })
        .collect();
    let tests = history
        .client
        .health
        .alert_tests
        .iter()
        .chain(history.visits.iter().flat_map(|visit| &visit.health.alert_tests));
    let mut tests: Vec<&AlertTest> = tests.collect();
    tests.sort_by_key(|test| std::cmp::Reverse(test.applied));
    let tests: Vec<String> = tests.into_iter().map(test_line).collect();
    let title = history.client.first_name.clone().unwrap_or_else(|| history.client.code.to_string());
    let learned: Vec<String> = law
        .zones
        .iter()
        .filter(|zone| zone.returns > 0)
        .map(|zone| {
            let (before, after) = (zone.prior.median(), zone.rate.median());
            let by = (after / before).max(before / after);
            let pace = match (by < AS_USUAL, after > before) {
                (true, _) => "leaves as usual".to_owned(),
                (false, true) => format!("leaves {by:.1} times as quickly as usual"),
                (false, false) => format!("holds {by:.1} times as long as usual"),
            };
            format!("{}: {pace}, by {} on record", named(zone), counted(zone.returns, "return", "returns"))
        })
        .collect();
    json!({ "title": format!("{title}: the hair's story"), "name": title, "code": history.client.code.as_str(), "csrf": asked.session.csrf,
            "now": now, "condition": trend(&history.visits), "overlaps": overlaps, "tests": tests, "learned": learned,
            "lead": crate::schedule::due::lead_days(salon), "since": since })
}

fn visit_view(visit: &ServiceRecord, house: &House, opened: &Opened) -> Value {
    let zones: Vec<Value> = visit
        .placements
        .iter()
        .flat_map(|placement| placement.zones.iter().map(move |zone| (placement, zone)))
        .map(|(placement, zone)| {
            let hex = zone.colour.as_ref().map(|colour| srgb::from_lab(colour.lab).to_hex());
            let lightened = zone.lightened_before.map(u32::from);
            let today = placement.lightening.iter().any(|step| step.zones.is_empty() || step.zones.contains(&zone.name));
            let name = zone_of(visit.placements.len() > 1, placement.kind, placement.area, zone.name);
            json!({ "words": zone_line(&name, zone), "hex": hex, "lightened": lightened.map(|before| counted((before + u32::from(today)) as usize, "time", "times")) })
        })
        .collect();
    json!({ "day": format!("{} {}", day(visit.date), visit.date.format("%Y")), "file": visit.file, "zones": zones, "stylist": visit.stylist,
            "corrected": correct::told(visit, opened), "earlier": correct::earlier(visit, house) })
}

/// "ends: rose pastel on 10, over-porous, part return".
fn zone_line(name: &str, zone: &Zone) -> String {
    let shade = |colour: &FinishedColour| colour.name.clone().unwrap_or_else(|| "a matched colour".to_owned());
    let colour = zone.colour.as_ref().map_or_else(|| "no colour".to_owned(), shade);
    let stage = zone.stage.map(|stage| format!(" on {}", stage.value())).unwrap_or_default();
    let state = [zone.porosity.map(Porosity::word), zone.elasticity.map(Worded::word)];
    let state: String = state.into_iter().flatten().map(|word| format!(", {word}")).collect();
    format!("{name}: {colour}{stage}{state}")
}

fn test_line(test: &AlertTest) -> String {
    let product = test.product.as_deref().unwrap_or("not told with what");
    let outcome = match (test.read, test.clear) {
        (Some(read), Some(true)) => format!("read {}, nothing was seen", day(read)),
        (Some(read), Some(false)) => format!("read {}, something was seen", day(read)),
        _ => "not read yet".to_owned(),
    };
    format!("{} {}: {product}, {outcome}", day(test.applied), test.applied.format("%Y"))
}
