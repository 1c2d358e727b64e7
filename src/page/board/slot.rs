//! One visit on the board, with its spans as a strip.
//!
//! In: an appointment. Out: [`Slot`]. Knows nothing of: where it stands.

use serde::Serialize;

use super::BoardSources;
use crate::page::due_table::part_key;
use crate::page::escape;
use crate::page::words::{capital, list};
use crate::schedule::diary::{Appointment, Purpose, State};
use crate::units::Worded;

/// One visit.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Slot {
    /// "booked" or "proposed"; also a class of the style sheet.
    pub state: &'static str,
    /// The same in words.
    pub state_words: String,
    /// "10:15 to 13:05".
    pub time: String,
    /// The client's code, and the first name when the salon keeps it.
    pub client: String,
    /// What for.
    pub what: String,
    /// Where the client's sheet is; nothing for an alert test.
    pub sheet: Option<String>,
    /// Short: one span only, which needs no strip.
    pub short: bool,
    /// The spans in words: "15 talk, 60 hands-on, 40 developing, 45 hands-on, 15 kept free".
    pub spans: String,
    /// The same as a strip, as long as the visit.
    pub strip_svg: String,
}

/// Minutes between two lines of the hatching.
const HATCH: u32 = 6;

/// Lines keep their width where the strip is drawn wider than high; an attribute, because validators of CSS do not know it.
const STROKE: &str = "vector-effect=\"non-scaling-stroke\"";
/// Minutes to a pixel of the strip: six hours fill a column.
const SCALE: f64 = 0.65;

pub(super) fn slot(sources: &BoardSources<'_>, one: &Appointment) -> Slot {
    let words = sources.words;
    let booked = one.state == State::Booked;
    let name = sources.names.get(&one.client);
    let end = one.time + chrono::TimeDelta::minutes(i64::from(one.spans.served()));
    let (from, to) = (one.time.format("%H:%M").to_string(), end.format("%H:%M").to_string());
    Slot {
        state: if booked { "booked" } else { "proposed" },
        state_words: words.pattern(if booked { "board.booked" } else { "board.proposed" }),
        time: words.say("board.from-to", &[("from", &from), ("to", &to)]),
        client: name.map_or_else(|| one.client.to_string(), |name| format!("{name} ({})", one.client)),
        what: what(sources, one),
        sheet: (one.purpose == Purpose::Visit).then(|| format!("sheets.html#{}", one.client)),
        short: parts(one).len() < 2,
        spans: spans(sources, one),
        strip_svg: strip(one, &spans(sources, one)),
    }
}

/// What a visit is for: its parts when it is the next one due, else its service.
fn what(sources: &BoardSources<'_>, one: &Appointment) -> String {
    let words = sources.words;
    if one.purpose == Purpose::AlertTest {
        return capital(&words.pattern("due.alert-test"));
    }
    let due = sources.due.iter().find(|due| due.client == one.client);
    match due.and_then(|due| due.next()).filter(|next| next.kind == one.kind) {
        Some(next) => {
            let parts: Vec<String> = next.parts.iter().map(|part| words.pattern(part_key(*part))).collect();
            capital(&list(words, &parts))
        }
        None => {
            let service = sources.salon.services.iter().find(|service| service.code == one.kind.word());
            service.map_or_else(|| capital(one.kind.word()), |service| service.name.clone())
        }
    }
}

/// Each span that takes time, as key and minutes.
fn parts(one: &Appointment) -> Vec<(&'static str, u16)> {
    let of = &one.spans;
    let all = [
        ("consultation", of.consultation),
        ("hands-on", of.hands_on),
        ("developing", of.developing),
        ("hands-on", of.finishing),
        ("buffer", of.buffer),
    ];
    all.into_iter().filter(|(_, minutes)| *minutes > 0).collect()
}

fn spans(sources: &BoardSources<'_>, one: &Appointment) -> String {
    let words = sources.words;
    let told = parts(one).into_iter().map(|(part, minutes)| {
        let name = words.pattern(match part {
            "consultation" => "board.consultation",
            "hands-on" => "board.hands-on",
            "developing" => "board.developing",
            _ => "board.buffer",
        });
        format!("{minutes} {name}")
    });
    told.collect::<Vec<_>>().join(&words.pattern("list.comma"))
}

/// The strip: hands-on filled, talk and developing lighter, kept free open.
fn strip(one: &Appointment, name: &str) -> String {
    let mut at = 0;
    let mut out = String::new();
    for (part, minutes) in parts(one) {
        let minutes = u32::from(minutes);
        out.push_str(&format!(
            "<rect class=\"{part}\" x=\"{at}\" y=\"1\" width=\"{minutes}\" height=\"16\" {STROKE}/>"
        ));
        if part == "developing" {
            // Hatched, so that it is told from the other parts without colour.
            let lines = (1..minutes.div_ceil(HATCH)).map(|line| format!("M{} 1v16", at + line * HATCH));
            out.push_str(&format!("<path {STROKE} d=\"{}\"/>", lines.collect::<String>()));
        }
        at += minutes;
    }
    let width = (f64::from(at) * SCALE).round();
    format!(
        "<svg class=\"strip\" role=\"img\" aria-label=\"{}\" viewBox=\"0 0 {at} 18\" width=\"{width}\" height=\"14\" preserveAspectRatio=\"none\">{out}</svg>",
        escape(name)
    )
}
