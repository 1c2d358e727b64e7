//! The look back as a table, CSV and JSON.

use std::fmt::Write as _;

use afterhue::plan::day_in_words;
use afterhue::schedule::review::{Missed, Returned, Review, Tally};
use afterhue::units::Worded;
use chrono::NaiveDate;
use serde_json::{Value, json};

use super::spreadsheet;

/// By stylist and service, for people; then who did not come.
pub(crate) fn text(review: &Review) -> String {
    let mut out = format!(
        "{:<10}  {:<12}  {:>7}  {:>9}  {:>8}  {:>9}  {:>7}  {:>6}\n",
        "stylist", "service", "returns", "in window", "days off", "predicted", "taken", "missed"
    );
    for ((stylist, service), of) in review.by_stylist_and_service() {
        let Tally { returns, kept, days_off, minutes, missed } = of;
        let minute = |of: Option<f64>| of.map_or_else(|| "–".to_owned(), |minutes| format!("{minutes:.0} min"));
        let _ = writeln!(
            out,
            "{:<10}  {:<12}  {returns:>7}  {kept:>9}  {:>8}  {:>9}  {:>7}  {missed:>6}",
            if stylist.is_empty() { "–" } else { &stylist },
            service.word(),
            days_off.map_or_else(|| "–".to_owned(), |days| format!("{days:+}")),
            minute(minutes.map(|pair| pair.0)),
            minute(minutes.map(|pair| pair.1)),
        );
    }
    for one in &review.missed {
        let day = day_in_words(one.date);
        let _ = writeln!(out, "missed: {} on {day} with {}, {}", one.client, one.stylist, one.service.word());
    }
    out
}

/// The columns; the README says what each holds.
const COLUMNS: [&str; 12] = [
    "client",
    "stylist",
    "service",
    "visit_before",
    "earliest",
    "best",
    "latest",
    "came",
    "days_off",
    "in_window",
    "minutes_predicted",
    "minutes_taken",
];

/// One row a return; a missed booking has no day on which the client came.
pub(crate) fn csv(review: &Review) -> String {
    spreadsheet::csv(COLUMNS, review.returns.iter().map(returned).chain(review.missed.iter().map(missed)))
}

fn returned(one: &Returned) -> [String; 12] {
    [
        one.client.to_string(),
        one.stylist.clone().unwrap_or_default(),
        one.service.word().to_owned(),
        one.before.to_string(),
        one.predicted.earliest.to_string(),
        one.predicted.best.to_string(),
        one.predicted.latest.to_string(),
        one.came.to_string(),
        one.days_off().to_string(),
        if one.kept() { "yes" } else { "no" }.to_owned(),
        format!("{:.0}", one.minutes_predicted),
        one.minutes_taken.map(|minutes| format!("{minutes:.0}")).unwrap_or_default(),
    ]
}

fn missed(one: &Missed) -> [String; 12] {
    let (date, empty) = (one.date.to_string(), String::new);
    [
        one.client.to_string(),
        one.stylist.clone(),
        one.service.word().to_owned(),
        empty(),
        date.clone(),
        date.clone(),
        date,
        empty(),
        empty(),
        "missed".to_owned(),
        empty(),
        empty(),
    ]
}

/// The look back as JSON: the table, every return, and who did not come.
pub(crate) fn json(review: &Review, today: NaiveDate) -> String {
    let groups = review.by_stylist_and_service().into_iter().map(|((stylist, service), of)| {
        json!({
            "stylist": Some(stylist).filter(|code| !code.is_empty()),
            "service": service.word(),
            "returns": of.returns,
            "in_window": of.kept,
            "days_off": of.days_off,
            "minutes_predicted": of.minutes.map(|pair| pair.0.round()),
            "minutes_taken": of.minutes.map(|pair| pair.1.round()),
            "missed": of.missed,
        })
    });
    let returns = review.returns.iter().map(|one| {
        json!({
            "client": one.client.as_str(),
            "stylist": one.stylist,
            "service": one.service.word(),
            "visit_before": one.before,
            "earliest": one.predicted.earliest,
            "best": one.predicted.best,
            "latest": one.predicted.latest,
            "came": one.came,
            "days_off": one.days_off(),
            "in_window": one.kept(),
            "minutes_predicted": one.minutes_predicted.round(),
            "minutes_taken": one.minutes_taken.map(f64::round),
        })
    });
    let missed = review.missed.iter().map(|one| {
        json!({"client": one.client.as_str(), "date": one.date, "stylist": one.stylist, "service": one.service.word()})
    });
    let whole = json!({
        "today": today,
        "by_stylist_and_service": groups.collect::<Vec<Value>>(),
        "returns": returns.collect::<Vec<Value>>(),
        "missed": missed.collect::<Vec<Value>>(),
    });
    serde_json::to_string_pretty(&whole).expect("plain values are always JSON") + "\n"
}
