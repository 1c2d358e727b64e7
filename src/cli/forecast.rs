//! `forecast`: one client's colour as numbers.

use std::fmt::Write as _;

use afterhue::forecast::forecast;
use afterhue::page::explain::{explain, explain_text};
use afterhue::page::forecast_table::{Dates, ForecastTable, ZoneTable, forecast_table};
use afterhue::page::gates::gate_lines;
use afterhue::page::last_time::last_time;
use afterhue::page::next_visit::next_visit_lines;
use afterhue::page::words::Words;
use afterhue::pipeline;
use afterhue::plan::{day_in_words, gates, on_day, plan, span_in_words};
use afterhue::schedule::due::tested;
use afterhue::units::PerWeek;
use afterhue::workspace;

use super::args::ForecastArguments;
use super::{End, at_fault, terminal};

/// Prints the forecast of one client.
pub(crate) fn run(arguments: &ForecastArguments) -> End {
    let texts = match workspace::read_folder(&arguments.folder) {
        Ok(texts) => texts,
        Err(failure) => return End::Machine(failure.to_string()),
    };
    let read = pipeline::read(&texts);
    let Some((salon, _)) = &read.house else {
        terminal::tell_faults(&read.report, &texts.all(), &arguments.folder);
        return at_fault(&texts);
    };
    let Some(history) = read.histories.iter().find(|history| history.client.code.as_str() == arguments.client) else {
        if read.at_fault.contains(&arguments.client) {
            terminal::tell_faults(&read.report, &texts.all(), &arguments.folder);
            return at_fault(&texts);
        }
        return End::WrongUse(pipeline::no_such_client(&read, &arguments.client));
    };
    let full = history;
    let history = history.shareable();
    let mut found = forecast(&history, salon);
    if let Some(washes) = arguments.washes {
        match PerWeek::try_new(washes) {
            Some(washes) => found = found.with_washes(washes),
            None => return End::WrongUse(format!("--washes wants a number from 0 to 21, not {washes}")),
        }
    }
    if let Some(uses) = arguments.conditioner {
        match PerWeek::try_new(uses) {
            Some(uses) => found = found.with_conditioner(uses),
            None => return End::WrongUse(format!("--conditioner wants a number from 0 to 21, not {uses}")),
        }
    }
    let words = pipeline::words(&history, salon);
    let table = forecast_table(&history, &found, words);
    let text = if arguments.explain {
        explain_text(&explain(&history, &found, words))
    } else if arguments.json {
        serde_json::to_string_pretty(&table).expect("a table is always JSON") + "\n"
    } else if arguments.csv {
        csv(&table)
    } else {
        let plan = plan(&history, salon, &found);
        let today = arguments.today.unwrap_or_else(|| workspace::today(salon.time_zone));
        let heading = words.pattern("gate.heading");
        let stand = on_day(gates(full, salon, &plan), today);
        let mut lines = gate_lines(&stand, tested(full, &stand), &plan, words);
        lines.push(words.pattern("gate.that-day"));
        let listed = |lines: Vec<&String>| lines.into_iter().map(|line| format!("  {line}\n")).collect::<String>();
        let mut out = text(&table);
        let next = next_visit_lines(&history, salon, &plan, words);
        if !next.is_empty() {
            out += &format!("\n{}\n{}", words.pattern("next-visit.heading"), listed(next.iter().collect()));
        }
        let before = last_time(full, salon, words);
        out + &format!("\n{heading}\n{}", listed(lines.iter().collect()))
            + &format!("\n{}\n{}", words.pattern("last-time.heading"), listed(before.lines().collect()))
    };
    terminal::print(&text);
    terminal::tell_in_a_line(&read.report, &arguments.folder);
    End::Done
}

/// The columns of `--csv`, one row a zone and step; the README says what each holds.
const COLUMNS: [&str; 19] = [
    "client",
    "placement",
    "technique",
    "zone",
    "from_mm",
    "to_mm",
    "date",
    "day",
    "washes",
    "hex",
    "l",
    "a",
    "b",
    "colour",
    "left_percent",
    "left_low_percent",
    "left_high_percent",
    "grey_scale",
    "grade",
];

fn csv(table: &ForecastTable) -> String {
    let mut writer = csv::WriterBuilder::new().terminator(csv::Terminator::CRLF).from_writer(Vec::new());
    let kept = "writing to memory does not fail";
    writer.write_record(COLUMNS).expect(kept);
    for zone in &table.zones {
        for step in &zone.steps {
            let percent = |share: Option<f64>| share.map(|share| share.to_string()).unwrap_or_default();
            let row = [
                table.client.clone(),
                zone.placement.to_string(),
                zone.technique.to_owned(),
                zone.zone.to_owned(),
                zone.from_mm.to_string(),
                zone.to_mm.to_string(),
                step.date.to_string(),
                step.day.to_string(),
                step.washes.to_string(),
                step.hex.clone(),
                step.l.to_string(),
                step.a.to_string(),
                step.b.to_string(),
                step.colour.clone(),
                percent(step.left_percent),
                percent(step.left_low_percent),
                percent(step.left_high_percent),
                step.grey_scale.to_string(),
                step.grade.to_owned(),
            ];
            writer.write_record(&row).expect(kept);
        }
    }
    String::from_utf8(writer.into_inner().expect(kept)).expect("every field is text")
}

fn text(table: &ForecastTable) -> String {
    let mut out = format!(
        "{}, service of {}\n{} washes a week, where the client's page counts on the rhythm it advises; with water, swims and heat a wear of {} washes a week\n",
        table.client,
        day_in_words(table.service),
        table.washes_per_week,
        table.dose_per_week
    );
    if table.sun_percent_per_week > 0.0 {
        let _ = writeln!(out, "sun takes {} % of the colour a week beside", table.sun_percent_per_week);
    }
    if table.zones.is_empty() {
        out.push_str("No zone was coloured at this visit, so there is nothing to forecast.\n");
    }
    let _ = write!(out, "turns        {}\nnearly back  {}\n", days(table.turns), days(table.nearly_back));
    for zone in &table.zones {
        zone_text(&mut out, zone);
    }
    out
}

fn zone_text(out: &mut String, zone: &ZoneTable) {
    let loads: Vec<String> = zone.loads.iter().map(|(band, load)| format!("{band} {load}")).collect();
    let _ = writeln!(
        out,
        "\n{} {}, {}: {} to {} mm, {}, on {} {}",
        zone.technique, zone.placement, zone.zone, zone.from_mm, zone.to_mm, zone.dye, zone.base, zone.base_hex
    );
    let _ = writeln!(out, "  laid down: {} (fit within {} ΔE00)", loads.join(", "), zone.residual);
    if zone.too_warm {
        out.push_str("  this base is too warm for that shade\n");
    }
    if zone.too_dark {
        out.push_str("  this base is too deep for that shade\n");
    }
    let _ = writeln!(out, "  turns {}; nearly back {}", days(zone.turns), days(zone.nearly_back));
    let _ = writeln!(
        out,
        "  {:<10}  {:>6}  {:<7}  {:<40} {:>14}  {:>5}",
        "date", "washes", "screen", "colour", "left, %", "grey"
    );
    for step in &zone.steps {
        let left = match (step.left_percent, step.left_low_percent, step.left_high_percent) {
            (Some(left), Some(low), Some(high)) => format!("{left:.0} ({low:.0} to {high:.0})"),
            _ => "–".to_owned(),
        };
        let _ = writeln!(
            out,
            "  {:<10}  {:>6.1}  {:<7}  {:<40} {left:>14}  {:>5}",
            step.date.to_string(),
            step.washes,
            step.hex,
            step.colour,
            step.grade
        );
    }
}

/// "15 December 2026 (8 to 26 December 2026)".
fn days(dates: Dates) -> String {
    let day = |date: Option<chrono::NaiveDate>| date.map_or_else(|| "later".to_owned(), day_in_words);
    match (dates.earliest, dates.usual, dates.latest) {
        (None, None, None) => "not within half a year".to_owned(),
        (Some(from), usual, Some(to)) => format!("{} ({})", day(usual), span_in_words(from, to)),
        (earliest, usual, latest) => format!("{} ({} to {})", day(usual), day(earliest), day(latest)),
    }
}
