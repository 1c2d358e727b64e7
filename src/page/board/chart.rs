//! The bars of the board: a day's load, and the demand of the coming weeks with its range beside the hours open.
//!
//! In: hours. Out: SVG and the same numbers as a table. Knows nothing of: appointments.

use serde::Serialize;

use crate::page::escape;
use crate::page::words::{Dates, Words};
use crate::schedule::demand::WeekOfDemand;

/// The chart of demand.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Chart {
    /// "Chair hours the next 12 weeks ask for".
    pub heading: String,
    /// How to read it.
    pub lead: String,
    /// The picture.
    pub chart_svg: String,
    /// Headings of the columns: week, expected, range, open.
    pub columns: [String; 4],
    /// The same numbers, a row a week.
    pub rows: Vec<ChartRow>,
}

/// One week in words.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct ChartRow {
    /// "30 November".
    pub week: String,
    /// Expected hours.
    pub expected: String,
    /// "31 to 52".
    pub range: String,
    /// Hours worked.
    pub open: String,
}

/// Hours with at most one place: "5.5", "18".
pub(super) fn told(hours: f64) -> String {
    let rounded = (hours * 10.0).round() / 10.0 + 0.0;
    if rounded.fract() == 0.0 { format!("{rounded:.0}") } else { format!("{rounded:.1}") }
}

/// A day's load as a bar 100 long; what is over the hours worked stands out at its end.
pub(super) fn load_bar(taken: f64, worked: f64) -> String {
    let share = if worked > 0.0 { taken / worked } else { f64::from(u8::from(taken > 0.0)) };
    let width = (share.min(1.0) * 100.0).round();
    format!(
        "<svg class=\"load\" aria-hidden=\"true\" viewBox=\"0 0 102 10\" width=\"102\" height=\"10\"><rect class=\"frame\" x=\".5\" y=\".5\" width=\"101\" height=\"9\"/><rect class=\"taken\" x=\"1\" y=\"1\" width=\"{width}\" height=\"8\"/></svg>"
    )
}

/// Size of the picture and where its axes stand, in its own units.
const WIDTH: f64 = 720.0;
const HEIGHT: f64 = 260.0;
const LEFT: f64 = 44.0;
const BOTTOM: f64 = 214.0;
const TOP: f64 = 12.0;

pub(super) fn chart(weeks: &[WeekOfDemand], words: &dyn Words, dates: Dates<'_>) -> Chart {
    let most = weeks.iter().map(|week| week.high.max(week.open)).fold(1.0, f64::max);
    // Lines at round hours, about five of them.
    let step = [1.0, 2.0, 5.0, 10.0, 20.0, 50.0, 100.0].into_iter().find(|step| most / step <= 6.0).unwrap_or(200.0);
    let top = (most / step).ceil() * step;
    let y = |hours: f64| BOTTOM - hours / top * (BOTTOM - TOP);
    let mut out = String::new();
    let mut line = 0.0;
    while line <= top + 1e-9 {
        let at = y(line);
        out.push_str(&format!(
            "<path class=\"grid\" d=\"M{LEFT} {at:.1}H{WIDTH}\"/><text x=\"{:.0}\" y=\"{:.1}\" text-anchor=\"end\">{}</text>",
            LEFT - 6.0,
            at + 4.0,
            told(line)
        ));
        line += step;
    }
    let pace = (WIDTH - LEFT) / weeks.len().max(1) as f64;
    for (index, week) in weeks.iter().enumerate() {
        let x = LEFT + pace * index as f64;
        let bar = |out: &mut String, class: &str, from: f64, width: f64, hours: f64| {
            out.push_str(&format!(
                "<rect class=\"{class}\" x=\"{from:.1}\" y=\"{:.1}\" width=\"{width:.1}\" height=\"{:.1}\"/>",
                y(hours),
                BOTTOM - y(hours)
            ));
        };
        bar(&mut out, "open", x + pace * 0.52, pace * 0.32, week.open);
        bar(&mut out, "expected", x + pace * 0.12, pace * 0.32, week.expected);
        let middle = x + pace * 0.28;
        let (low, high) = (y(week.low), y(week.high));
        out.push_str(&format!(
            "<path class=\"range\" d=\"M{middle:.1} {low:.1}V{high:.1}M{:.1} {low:.1}h8M{:.1} {high:.1}h8\"/>",
            middle - 4.0,
            middle - 4.0
        ));
        let (day, month) = {
            use chrono::Datelike;
            (week.monday.day().to_string(), words.pattern(&format!("month.{}", week.monday.month())))
        };
        let short: String = month.chars().take(3).collect();
        let centre = x + pace * 0.48;
        out.push_str(&format!(
            "<text x=\"{centre:.1}\" y=\"{:.1}\" text-anchor=\"middle\">{day}</text><text x=\"{centre:.1}\" y=\"{:.1}\" text-anchor=\"middle\">{}</text>",
            BOTTOM + 16.0,
            BOTTOM + 31.0,
            escape(&short)
        ));
    }
    let heading = words.pattern("board.demand");
    let row = |week: &WeekOfDemand| ChartRow {
        week: dates.day(week.monday),
        expected: told(week.expected),
        range: words.say("board.from-to", &[("from", &told(week.low)), ("to", &told(week.high))]),
        open: told(week.open),
    };
    Chart {
        chart_svg: format!(
            "<svg class=\"demand\" role=\"img\" aria-label=\"{}\" viewBox=\"0 0 {WIDTH:.0} {HEIGHT:.0}\">{out}</svg>",
            escape(&heading)
        ),
        heading,
        lead: words.pattern("board.demand-lead"),
        columns: ["board.column-week", "board.column-expected", "board.column-range", "board.column-open"]
            .map(|key| words.pattern(key)),
        rows: weeks.iter().map(row).collect(),
    }
}
