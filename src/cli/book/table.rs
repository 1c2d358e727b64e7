//! The due list as text, CSV and JSON.

use std::fmt::Write as _;

use afterhue::page::due_table::{DueRow, DueTable};
use chrono::NaiveDate;

use super::spreadsheet;

/// The columns of `--csv`; the README says what each holds.
const COLUMNS: [&str; 17] = [
    "client",
    "needs",
    "service",
    "earliest",
    "best",
    "latest",
    "overdue",
    "minutes",
    "hands_on_minutes",
    "developing_minutes",
    "stylist",
    "reason",
    "state",
    "date",
    "time",
    "with",
    "held",
];

/// The due list for people.
pub(crate) fn text(table: &DueTable) -> String {
    let mut rows: Vec<[String; 6]> =
        vec![["client", "due for", "best day", "window", "min", "with"].map(str::to_owned)];
    rows.extend(table.rows.iter().map(cells));
    let widths: Vec<usize> =
        (0..6).map(|column| rows.iter().map(|row| row[column].chars().count()).max().unwrap_or(0)).collect();
    let line = |row: &[String; 6]| {
        let cells = row.iter().zip(&widths).enumerate().map(|(at, (cell, width))| {
            // Minutes stand under one another by their last digit.
            if at == 4 { format!("{cell:>width$}") } else { format!("{cell:<width$}") }
        });
        cells.collect::<Vec<_>>().join("  ").trim_end().to_owned() + "\n"
    };
    let mut out = line(&rows[0]);
    for (row, cells) in table.rows.iter().zip(&rows[1..]) {
        out.push_str(&line(cells));
        let why: Vec<String> = [Some(row.reason.clone()).filter(|why| !why.is_empty()), row.held.clone(), time(row)]
            .into_iter()
            .flatten()
            .collect();
        if !why.is_empty() {
            let _ = writeln!(out, "{:1$}  {2}", "", widths[0], why.join("; "));
        }
    }
    out
}

fn cells(row: &DueRow) -> [String; 6] {
    let day = |date: Option<NaiveDate>| date.map(|date| date.to_string()).unwrap_or_default();
    let window = match (row.earliest, row.latest) {
        (Some(from), Some(to)) => format!("{from} to {to}"),
        (None, Some(to)) => format!("by {to}"),
        _ => String::new(),
    };
    let needs = if row.overdue { format!("{}, overdue", row.needs) } else { row.needs.clone() };
    [
        row.client.clone(),
        if row.needs.is_empty() { "–".to_owned() } else { needs },
        day(row.best),
        window,
        row.minutes.map(|minutes| minutes.to_string()).unwrap_or_default(),
        row.stylist.clone().unwrap_or_default(),
    ]
}

/// "booked 2026-12-15 10:15 with ines".
fn time(row: &DueRow) -> Option<String> {
    Some(format!("{} {} {} with {}", row.state?, row.date?, row.time.as_ref()?, row.with.as_ref()?))
}

/// The due list as CSV.
pub(crate) fn csv(table: &DueTable) -> String {
    spreadsheet::csv(COLUMNS, table.rows.iter().map(record))
}

fn record(row: &DueRow) -> [String; 17] {
    let day = |date: Option<NaiveDate>| date.map(|date| date.to_string()).unwrap_or_default();
    let minutes = |span: usize| row.spans.map(|spans| spans[span].to_string()).unwrap_or_default();
    let hands = row.spans.map(|spans| (spans[1] + spans[3]).to_string()).unwrap_or_default();
    [
        row.client.clone(),
        row.needs.clone(),
        row.service.unwrap_or_default().to_owned(),
        day(row.earliest),
        day(row.best),
        day(row.latest),
        if row.overdue { "yes" } else { "no" }.to_owned(),
        row.minutes.map(|minutes| minutes.to_string()).unwrap_or_default(),
        hands,
        minutes(2),
        row.stylist.clone().unwrap_or_default(),
        row.reason.clone(),
        row.state.unwrap_or_default().to_owned(),
        day(row.date),
        row.time.clone().unwrap_or_default(),
        row.with.clone().unwrap_or_default(),
        row.held.clone().unwrap_or_default(),
    ]
}
