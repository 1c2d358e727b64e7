//! What a draft leads to, as the strip at the foot of the form shows it: the colour of every zone along the weeks, and its dates.
//!
//! In: a plan. Out: plain data with finished drawings. Knows nothing of: requests.

use std::fmt::Write as _;

use chrono::NaiveDate;
use serde_json::{Value, json};

use crate::page::escape;
use crate::page::words::colour;
use crate::pipeline::words_of_house;
use crate::plan::{DateRange, Plan, RibbonZone, Standing};
use crate::science::colour::srgb;
use crate::units::Worded;

use super::house::Opened;

/// What is ahead.
pub(super) fn ahead(plan: &Plan, opened: &Opened) -> Value {
    let Some((salon, _)) = opened.house() else { return Value::Null };
    let words = words_of_house(salon);
    if plan.standing != Standing::Planned {
        return json!({ "held": "Age 16 or over is not confirmed: there is no plan, and the page holds help only." });
    }
    let zones: Vec<Value> = plan
        .ribbon
        .iter()
        .map(|zone| {
            let law = &plan.forecast.zones[zone.zone];
            let now = zone.steps.first().map(|step| colour(words, step.name)).unwrap_or_default();
            let then = zone.steps.last().map(|step| colour(words, step.name)).unwrap_or_default();
            let label = format!("{}: {now}, at last {then}", law.name.word());
            let warm = law.too_warm.map(|warm| match warm.reachable_from {
                Some(stage) => {
                    format!("this base is too warm for that shade; stage {} or paler would carry it", stage.value())
                }
                None => "no stage carries that shade".to_owned(),
            });
            json!({ "name": law.name.word(), "now": now, "then": then, "svg": strip(zone, &label), "warm": warm })
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

/// A day that may be in another year: "27 November 2029".
pub(super) fn dated(date: NaiveDate) -> String {
    date.format("%-d %B %Y").to_string()
}

/// "about Tue 1 Dec, from Sat 28 Nov to Fri 4 Dec".
fn told(range: DateRange) -> String {
    let say = |date: Option<NaiveDate>| date.map_or_else(|| "beyond half a year".to_owned(), day);
    match (range.earliest, range.usual, range.latest) {
        (None, None, None) => "not within half a year".to_owned(),
        (from, usual, to) if from == usual && usual == to => say(usual),
        (from, usual, to) => format!("about {}, from {} to {}", say(usual), say(from), say(to)),
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
