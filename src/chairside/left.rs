//! What is left of the last colour: for each zone the computed colour at every step, to tap the one that matches.
//!
//! In: the visits before this one. Out: steps to show, and what a tap writes. Knows nothing of: mark-up.

use std::collections::BTreeMap;

use chrono::NaiveDate;
use serde_json::{Value, json};

use crate::forecast::{ZoneForecast, forecast};
use crate::form::{Typed, typed_count};
use crate::page::words::{Words, base_words, steps_left};
use crate::pipeline::words_of_house;
use crate::record::{History, ServiceRecord};
use crate::science::colour::srgb;
use crate::units::{Fraction, Washes, Worded};

use super::draft::Draft;
use super::house::Opened;
use super::said::text;

/// What a step writes, in percent: "42 to 60".
fn written(least: f64, most: f64) -> String {
    format!("{:.0} to {:.0}", least * 100.0, most * 100.0)
}

/// Every zone that was coloured at the visit before, with its steps.
pub(super) fn zones(draft: &Draft, opened: &Opened) -> Vec<Value> {
    let (Some(known), Some((salon, _))) = (opened.clients.get(&draft.client), opened.house()) else {
        return Vec::new();
    };
    // What came after a visit that is corrected tells nothing of what was left then.
    let day: Option<NaiveDate> = draft.typed.get("date").and_then(|date| date.trim().parse().ok());
    let earlier = |visit: &&ServiceRecord| visit.file != draft.file && day.is_none_or(|day| visit.date < day);
    let visits: Vec<_> = known.visits.iter().filter(earlier).cloned().collect();
    if visits.is_empty() {
        return Vec::new();
    }
    let before = History { client: known.client.clone(), visits };
    let forecast = forecast(&before.shareable(), salon);
    let mut shown = BTreeMap::new();
    for zone in &forecast.zones {
        let key = (zone.placement + 1, zone.name.word());
        shown.entry(key).or_insert_with(|| view(zone, key, &draft.typed, words_of_house(salon)));
    }
    shown.into_values().collect()
}

/// The steps are the ribbon's, in its words, so that the stylist taps what the client has read.
fn view(zone: &ZoneForecast, (placement, name): (usize, &'static str), typed: &Typed, words: &dyn Words) -> Value {
    let told = told(typed).get(&(placement, name.to_owned())).cloned().unwrap_or_default();
    let base = base_words(words, zone);
    let left = steps_left(words, zone.refresh_share.to_fraction(), &base);
    let steps: Vec<Value> = left
        .iter()
        .filter_map(|(said, least, most)| {
            let colour = zone.colour_after(dose_at(zone, Fraction::try_new(f64::midpoint(*least, *most))?)?);
            let value = written(*least, *most);
            Some(json!({ "value": value, "words": said, "hex": srgb::from_lab(colour).to_hex(), "chosen": value == told }))
        })
        .collect();
    let other = !told.is_empty() && left.iter().all(|(_, least, most)| written(*least, *most) != told);
    json!({ "field": format!("left.{placement}.{name}"), "placement": placement, "name": name, "steps": steps,
            "told": told, "other": other })
}

/// The dose after which a share of the colour is left at the usual rate; nothing when the zone has no share.
fn dose_at(zone: &ZoneForecast, share: Fraction) -> Option<Washes> {
    let (mut low, mut high) = (0.0, 400.0);
    for _ in 0..40 {
        let middle = f64::midpoint(low, high);
        let left = zone.share_after(Washes::try_new(middle)?)?;
        if left > share { low = middle } else { high = middle }
    }
    Washes::try_new(low)
}

/// What is told of each zone, by placement and name.
fn told(typed: &Typed) -> BTreeMap<(usize, String), String> {
    (0..typed_count(typed, "seen.zone"))
        .filter_map(|at| {
            let say = |field: &str| text(typed, &format!("seen.zone.{at}.{field}"));
            Some(((say("placement").parse().ok()?, say("zone")), say("left_percent")))
        })
        .filter(|(_, left)| !left.is_empty())
        .collect()
}

/// Takes the taps on the steps into the typed fields.
pub(super) fn take(typed: &mut Typed, posted: &[(String, String)]) {
    let taps: Vec<(usize, &str, &str)> = posted
        .iter()
        .filter_map(|(name, left)| {
            let (placement, zone) = name.strip_prefix("left.")?.split_once('.')?;
            let placement = placement.parse().ok().filter(|number| (1..=30).contains(number))?;
            crate::record::ZoneName::from_word(zone).map(|_| (placement, zone, left.as_str()))
        })
        .collect();
    if taps.is_empty() {
        return;
    }
    let mut all = told(typed);
    for (placement, zone, left) in taps {
        all.insert((placement, zone.to_owned()), left.to_owned());
    }
    typed.retain(|place, _| !place.starts_with("seen.zone."));
    for (at, ((placement, zone), left)) in all.into_iter().filter(|(_, left)| !left.is_empty()).enumerate() {
        typed.insert(format!("seen.zone.{at}.placement"), placement.to_string());
        typed.insert(format!("seen.zone.{at}.zone"), zone);
        typed.insert(format!("seen.zone.{at}.left_percent"), left);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_tap_writes_what_was_seen_and_another_takes_it_back() {
        let tap = |name: &str, left: &str| vec![(name.to_owned(), left.to_owned())];
        let mut typed = Typed::new();
        take(&mut typed, &tap("left.1.ends", "8 to 20"));
        take(&mut typed, &tap("left.1.roots", "40 to 65"));
        assert_eq!(told(&typed).len(), 2);
        assert_eq!(typed["seen.zone.0.zone"], "ends");
        take(&mut typed, &tap("left.1.ends", ""));
        assert_eq!(typed["seen.zone.0.zone"], "roots");
        for nonsense in ["left.0.ends", "left.1.nose", "left.x.ends", "left", "left.99.ends"] {
            take(&mut typed, &tap(nonsense, "1"));
        }
        assert_eq!(told(&typed).len(), 1);
    }
}
