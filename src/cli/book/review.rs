//! The look back as a table and as CSV.

use std::fmt::Write as _;

use afterhue::schedule::review::{Review, Tally};
use afterhue::units::Worded;

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
        let _ = writeln!(out, "missed: {} on {} with {}, {}", one.client, one.date, one.stylist, one.service.word());
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

/// One row a return (RFC 4180); a missed booking has no day on which the client came.
pub(crate) fn csv(review: &Review) -> String {
    let mut writer = csv::WriterBuilder::new().terminator(csv::Terminator::CRLF).from_writer(Vec::new());
    let kept = "writing to memory does not fail";
    writer.write_record(COLUMNS).expect(kept);
    for one in &review.returns {
        let record = [
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
        ];
        writer.write_record(&record).expect(kept);
    }
    for one in &review.missed {
        let (date, empty) = (one.date.to_string(), String::new);
        let record = [
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
        ];
        writer.write_record(&record).expect(kept);
    }
    String::from_utf8(writer.into_inner().expect(kept)).expect("every field is text")
}
