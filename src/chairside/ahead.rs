//! What a draft leads to, as the strip at the foot of the form shows it: the colour of every zone along the weeks, and its dates.
//!
//! In: a plan. Out: plain data with finished drawings. Knows nothing of: requests.

use std::fmt::Write as _;

use chrono::{Datelike, NaiveDate};
use serde_json::{Value, json};

use crate::page::escape;
use crate::page::words::colour;
use crate::pipeline::words_of_house;
use crate::plan::{DateRange, Plan, RibbonZone, Standing};
use crate::science::colour::srgb;

use super::house::Opened;
use super::said::zone_of;

/// What is ahead.
pub(super) fn ahead(plan: &Plan, opened: &Opened) -> Value {
    let Some((salon, _)) = opened.house() else { return Value::Null };
    let words = words_of_house(salon);
    if plan.standing != Standing::Planned {
        return json!({ "held": "Age 16 or over is not confirmed: there is no plan, and the page holds help only." });
    }
    let several = plan.forecast.has_several_placements();
    let zones: Vec<Value> = plan
        .ribbon
        .iter()
        .map(|zone| {
            let law = &plan.forecast.zones[zone.zone];
            let now = zone.steps.first().map(|step| colour(words, step.name)).unwrap_or_default();
            let then = zone.steps.last().map(|step| colour(words, step.name)).unwrap_or_default();
            let name = zone_of(several, law.kind, law.area, law.name);
            let label = format!("{name}: {now}, at last {then}");
            let warm = law.too_warm.map(|warm| match warm.reachable_from {
                Some(stage) => {
                    format!("this base is too warm for that shade; stage {} or paler would carry it", stage.value())
                }
                None => "no stage carries that shade".to_owned(),
            });
            json!({ "name": name, "now": now, "then": then, "svg": strip(zone, &label), "warm": warm })
        })
        .collect();
    json!({
        "zones": zones, "turns": plan.turns.map(told), "back": plan.nearly_back.map(told),
        "first_wash": day(plan.first_wash), "every": plan.rhythm.every_days,
        "next": plan.next_visit().map(|visit| json!({ "best": day(visit.window.best), "from": day(visit.window.earliest), "to": day(visit.window.latest) })),
        "last_day": plan.ribbon.first().and_then(|zone| zone.steps.last()).map(|step| day(step.date)),
    })
}

/// A day on the wall of a salon: "Tue 1 Dec".
pub(super) fn day(date: NaiveDate) -> String {
    date.format("%a %-d %b").to_string()
}

/// "about Tue 1 Dec, from 28 Nov to 4 Dec": short, as a phone has a line for it.
fn told(range: DateRange) -> String {
    const BEYOND: &str = "beyond half a year";
    let short = |date: NaiveDate| date.format("%-d %b").to_string();
    match (range.earliest, range.usual, range.latest) {
        (None, None, None) => "not within half a year".to_owned(),
        (Some(from), Some(usual), Some(to)) if from == to => day(usual),
        (Some(from), Some(usual), Some(to)) if (from.year(), from.month()) == (to.year(), to.month()) => {
            format!("about {}, from {} to {}", day(usual), from.day(), short(to))
        }
        (from, usual, to) => {
            let [from, to] = [from, to].map(|date| date.map_or_else(|| BEYOND.to_owned(), short));
            let usual = usual.map_or_else(String::new, |usual| format!("about {}, ", day(usual)));
            format!("{usual}from {from} to {to}")
        }
    }
}

/// One zone from the day of the service on: computed colours at computed days, nothing invented between.
fn strip(zone: &RibbonZone, label: &str) -> String {
    let last = zone.steps.last().map_or(1, |step| step.day.max(1));
    let mut svg = format!(
        "<svg class=\"hair\" role=\"img\" aria-label=\"{}\" viewBox=\"0 0 100 10\" preserveAspectRatio=\"none\"><linearGradient id=\"z{}\">",
        escape(label),
        zone.zone
    );
    for step in &zone.steps {
        let at = f64::from(step.day) / f64::from(last) * 100.0;
        let _ = write!(svg, "<stop offset=\"{at:.1}%\" stop-color=\"{}\"/>", srgb::from_lab(step.colour).to_hex());
    }
    let _ = write!(svg, "</linearGradient><path fill=\"url(#z{})\" d=\"M0 0h100v10H0z\"/></svg>", zone.zone);
    svg
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_range_is_told_in_the_fewest_words_that_are_clear() {
        let day = |text: &str| (!text.is_empty()).then(|| text.parse::<NaiveDate>().expect("a day"));
        for (earliest, usual, latest, wanted) in [
            ("2026-12-09", "2026-12-15", "2026-12-23", "about Tue 15 Dec, from 9 to 23 Dec"),
            ("2026-12-09", "2026-12-29", "2027-01-04", "about Tue 29 Dec, from 9 Dec to 4 Jan"),
            ("2026-12-09", "2026-12-09", "2026-12-09", "Wed 9 Dec"),
            ("2026-12-09", "", "", "from 9 Dec to beyond half a year"),
            ("", "", "", "not within half a year"),
        ] {
            let range = DateRange { earliest: day(earliest), usual: day(usual), latest: day(latest) };
            assert_eq!(told(range), wanted);
        }
    }
}
