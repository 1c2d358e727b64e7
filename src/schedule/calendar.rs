//! Whole days as iCalendar files, one event each, for a client's own calendar.
//!
//! In: a day, or a first day, a rhythm and an end, and words for it. Out: the text of an `.ics` file. Knows nothing of: files, the clock, who the client is.
//!
//! Calendars are copied to other services, so nothing personal and no address goes in.
//! A whole day needs no time zone (RFC 5545 §3.3.4), and a fixed stamp keeps the file the same on every run.

use chrono::{Datelike, NaiveDate};
use data_encoding::HEXLOWER;
use sha2::{Digest, Sha256};

/// Longest line in octets, without its line break (RFC 5545 §3.1).
const LINE_OCTETS: usize = 75;

/// One whole-day event in a calendar of its own.
///
/// `seed` must be hard to guess, such as the token of a link: the identifier is a hash of it, so it looks random
/// and leads nowhere. `stamp` is the day the event was decided, never today.
#[must_use]
pub fn whole_day_event(day: NaiveDate, stamp: NaiveDate, seed: &str, summary: &str) -> String {
    event(day, stamp, &identifier(seed, day), summary, None)
}

/// A whole-day event that comes again every few days, up to and with a last day, in a calendar of its own.
///
/// `seed` and `stamp` as for [`whole_day_event`]. The rule ends by a date (RFC 5545 §3.3.10, `UNTIL` as a date when the
/// start is one), so no reminder outlives the plan it came from.
#[must_use]
pub fn recurring_days(
    first: NaiveDate,
    every_days: u32,
    until: NaiveDate,
    stamp: NaiveDate,
    seed: &str,
    summary: &str,
) -> String {
    let rule = format!("RRULE:FREQ=DAILY;INTERVAL={};UNTIL={}", every_days.max(1), compact(until));
    event(first, stamp, &identifier(&format!("{seed} again"), first), summary, Some(rule))
}

fn compact(date: NaiveDate) -> String {
    format!("{:04}{:02}{:02}", date.year(), date.month(), date.day())
}

fn event(day: NaiveDate, stamp: NaiveDate, identifier: &str, summary: &str, rule: Option<String>) -> String {
    let end = day.succ_opt().unwrap_or(day);
    let before = [
        "BEGIN:VCALENDAR".to_owned(),
        "VERSION:2.0".to_owned(),
        "PRODID:-//afterhue//care page//EN".to_owned(),
        "BEGIN:VEVENT".to_owned(),
        format!("UID:{identifier}"),
        format!("DTSTAMP:{}T000000Z", compact(stamp)),
        format!("DTSTART;VALUE=DATE:{}", compact(day)),
        format!("DTEND;VALUE=DATE:{}", compact(end)),
    ];
    let after = [
        format!("SUMMARY:{}", escape(summary)),
        "TRANSP:TRANSPARENT".to_owned(),
        "END:VEVENT".to_owned(),
        "END:VCALENDAR".to_owned(),
    ];
    before.iter().chain(&rule).chain(&after).map(|line| fold(line)).collect()
}

/// An identifier in the shape of a UUID: version 8 (RFC 9562 §5.8, from memory), which leaves its bits to the maker.
fn identifier(seed: &str, day: NaiveDate) -> String {
    let digest = Sha256::new().chain_update(b"afterhue calendar\0").chain_update(seed).chain_update(b"\0");
    let mut bytes: [u8; 32] = digest.chain_update(day.to_string()).finalize().into();
    bytes[6] = 0x80 | (bytes[6] & 0x0f);
    bytes[8] = 0x80 | (bytes[8] & 0x3f);
    let hex = HEXLOWER.encode(&bytes[..16]);
    format!("{}-{}-{}-{}-{}", &hex[..8], &hex[8..12], &hex[12..16], &hex[16..20], &hex[20..])
}

/// A text value (RFC 5545 §3.3.11). Other control characters are not allowed and become spaces.
pub(super) fn escape(text: &str) -> String {
    let mut out = String::new();
    for c in text.replace("\r\n", "\n").chars() {
        match c {
            '\\' | ';' | ',' => out.extend(['\\', c]),
            '\n' => out.push_str("\\n"),
            c if c.is_control() => out.push(' '),
            c => out.push(c),
        }
    }
    out
}

/// A content line with its line breaks, folded between characters.
pub(super) fn fold(line: &str) -> String {
    if line.len() <= LINE_OCTETS {
        return [line, "\r\n"].concat();
    }
    let mut out = String::new();
    let mut octets = 0;
    for c in line.chars() {
        if octets + c.len_utf8() > LINE_OCTETS {
            out.push_str("\r\n ");
            octets = 1;
        }
        out.push(c);
        octets += c.len_utf8();
    }
    out + "\r\n"
}

#[cfg(test)]
mod tests {
    use super::*;
    use icalendar::{Calendar, CalendarComponent, Component, DatePerhapsTime};

    fn day(year: i32, month: u32, day: u32) -> NaiveDate {
        NaiveDate::from_ymd_opt(year, month, day).expect("a date")
    }

    const HARD: &str =
        "Farbe, auffrischen; \"Grüße\" \\ 色を整える日です、ご予約の前にもう一度お読みください\nEND:VEVENT";

    /// The outside check is the parser of the `icalendar` crate.
    #[test]
    fn another_parser_reads_the_same_day_and_words() {
        for summary in ["Colour refresh", HARD] {
            let text = whole_day_event(day(2026, 12, 31), day(2026, 11, 28), "token", summary);
            let calendar: Calendar = text.parse().expect("a calendar");
            let events: Vec<_> = calendar.components.iter().filter_map(CalendarComponent::as_event).collect();
            assert_eq!(events.len(), 1);
            assert_eq!(events[0].get_start(), Some(DatePerhapsTime::Date(day(2026, 12, 31))));
            assert_eq!(events[0].get_end(), Some(DatePerhapsTime::Date(day(2027, 1, 1))));
            assert_eq!(events[0].get_summary().map(|s| s.replace("\\n", "\n")), Some(summary.to_owned()));
        }
    }

    /// The outside check is the parser of the `icalendar` crate; the browser suite expands the rule with another.
    #[test]
    fn another_parser_reads_the_rhythm_and_its_end() {
        let text = recurring_days(day(2026, 12, 1), 4, day(2026, 12, 21), day(2026, 11, 28), "token", "Wash hair");
        let calendar: Calendar = text.parse().expect("a calendar");
        let event = calendar.components.iter().find_map(CalendarComponent::as_event).expect("an event");
        assert_eq!(event.get_start(), Some(DatePerhapsTime::Date(day(2026, 12, 1))));
        assert_eq!(event.property_value("RRULE"), Some("FREQ=DAILY;INTERVAL=4;UNTIL=20261221"));
        let window = whole_day_event(day(2026, 12, 1), day(2026, 11, 28), "token", "Colour refresh");
        let of = |text: &str| text.lines().find(|line| line.starts_with("UID:")).map(str::to_owned);
        assert_ne!(of(&text), of(&window), "two events of one client on one day are not the same event");
    }

    #[test]
    fn lines_are_folded_between_characters_and_end_as_the_standard_says() {
        let text = whole_day_event(day(2026, 12, 22), day(2026, 11, 28), "token", HARD);
        assert_eq!(text.matches('\n').count(), text.matches("\r\n").count());
        assert!(text.ends_with("END:VCALENDAR\r\n"));
        assert!(text.split("\r\n").all(|line| line.len() <= LINE_OCTETS));
        assert_eq!(text.matches("\r\nEND:VEVENT").count(), 1, "a line break in the words ends no event");
    }

    #[test]
    fn the_identifier_is_lasting_differs_by_client_and_day_and_hides_the_seed() {
        let of = |seed, best| identifier(seed, best);
        let one = of("token-a", day(2026, 12, 22));
        assert_eq!(one, of("token-a", day(2026, 12, 22)));
        assert_ne!(one, of("token-b", day(2026, 12, 22)));
        assert_ne!(one, of("token-a", day(2026, 12, 23)));
        assert!(!one.contains("token"));
        assert_eq!(one.split('-').map(str::len).collect::<Vec<_>>(), [8, 4, 4, 4, 12]);
    }
}
