//! The book as a calendar: one event an appointment, for the salon's own calendars.
//!
//! In: the diary, names. Out: the text of `private/book.ics` (RFC 5545). Knows nothing of: health, what a visit is for in detail.
//!
//! Calendars are copied to other services: an event holds the client's code or first name, the kind of chair time and the stylist, and no health fact.
//! An alert test is only "short visit".

use std::collections::BTreeMap;

use chrono::DateTime;
use chrono_tz::Tz;
use data_encoding::HEXLOWER;
use sha2::{Digest, Sha256};

use super::appointment::{Appointment, Diary, Purpose, State};
use super::hours::Minute;
use crate::record::ClientCode;
use crate::schedule::calendar::{escape, fold};

/// The identifier of an appointment in calendars: lasting, and telling nothing.
#[must_use]
pub fn identifier(seed: &[u8], number: u32) -> String {
    let digest = Sha256::new().chain_update(b"afterhue book\0").chain_update(seed).chain_update(number.to_be_bytes());
    let bytes: [u8; 32] = digest.finalize().into();
    format!("{}@afterhue", HEXLOWER.encode(&bytes[..16]))
}

/// Words of the calendar: how an appointment is called by what it is for, and how a proposal is marked.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct EventWords {
    /// A visit.
    pub visit: String,
    /// An alert test, without saying so.
    pub short: String,
    /// Behind the words of a proposal.
    pub proposed: String,
}

/// The calendar of a diary. `seed` keeps the identifiers unguessable; `names` are first names of clients who want them shown.
#[must_use]
pub fn book_calendar(
    diary: &Diary,
    zone: Tz,
    seed: &[u8],
    names: &BTreeMap<ClientCode, String>,
    words: &EventWords,
) -> String {
    let mut out: String = ["BEGIN:VCALENDAR", "VERSION:2.0", "PRODID:-//afterhue//book//EN", "METHOD:PUBLISH"]
        .iter()
        .map(|line| fold(line))
        .collect();
    for one in &diary.appointments {
        let name = names.get(&one.client).map_or_else(|| one.client.as_str(), String::as_str);
        out.extend(event(one, zone, seed, name, words).iter().map(|line| fold(line)));
    }
    out + &fold("END:VCALENDAR")
}

fn event(one: &Appointment, zone: Tz, seed: &[u8], name: &str, words: &EventWords) -> Vec<String> {
    let from = one.begins(zone);
    let to = from + Minute::from(one.spans.served().max(1));
    let what = match one.purpose {
        Purpose::Visit => &words.visit,
        Purpose::AlertTest => &words.short,
    };
    let mark = if one.state == State::Proposed { format!(" ({})", words.proposed) } else { String::new() };
    let (status, takes_time) = match one.state {
        State::Proposed => ("TENTATIVE", true),
        State::Booked => ("CONFIRMED", true),
        State::Cancelled => ("CANCELLED", false),
    };
    vec![
        "BEGIN:VEVENT".to_owned(),
        format!("UID:{}", identifier(seed, one.number)),
        format!("DTSTAMP:{}T000000Z", one.changed.format("%Y%m%d")),
        format!("DTSTART:{}", utc(from)),
        format!("DTEND:{}", utc(to)),
        format!("SEQUENCE:{}", one.sequence),
        format!("STATUS:{status}"),
        format!("SUMMARY:{}", escape(&format!("{what}, {name}, {}{mark}", one.stylist))),
        format!("TRANSP:{}", if takes_time { "OPAQUE" } else { "TRANSPARENT" }),
        "CLASS:PRIVATE".to_owned(),
        "END:VEVENT".to_owned(),
    ]
}

/// A UTC instant (RFC 5545 §3.3.5, form 2).
fn utc(minute: Minute) -> String {
    DateTime::from_timestamp(minute * 60, 0).unwrap_or_default().format("%Y%m%dT%H%M%SZ").to_string()
}
