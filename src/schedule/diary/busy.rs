//! Busy times from other calendars: any standard iCalendar file, recurring events and their exceptions included.
//!
//! In: the text of an `.ics` file. Out: stretches in which somebody is busy. Knows nothing of: whose file it is.
//!
//! The `icalendar` crate reads the file and brings the `rrule` crate, which repeats events. Rules are given to it in a named zone,
//! so that no machine's own zone can shift them. Left out: `RANGE=THISANDFUTURE`, which is told as a caution.

use std::collections::{BTreeMap, BTreeSet};
use std::str::FromStr;

use chrono::{Datelike, Days, Duration, NaiveDate, NaiveDateTime, NaiveTime, Utc};
use chrono_tz::Tz;
use icalendar::{Calendar, Component, Event, Property, RRule, RRuleSet};

use super::hours::{Minute, Stretch, minute_of};
use crate::diagnostic::{Checked, Diagnostic, Report, SourceText};

/// Repeats of all events that are looked at, from the first of each on: four thousand events of ten years, each week.
const MOST_STEPS: u32 = 2_000_000;

/// What a series costs that ends in the time asked for: how far it was searched for another repeat cannot be known.
const ONE_END: u32 = 1_000;

/// Stretches that one calendar may take: more than one every ten minutes for a year.
const MOST_STRETCHES: usize = 60_000;

/// Events that cannot be understood and are told one by one.
const MOST_FAULTS: usize = 20;

/// The deepest that parts of a calendar stand in each other: an alarm in an event in a calendar is three.
const DEEPEST: usize = 8;

/// The longest name of an event that a message quotes, characters.
const LONGEST_NAME: usize = 60;

/// The longest an event may last for its repeats from before to be looked for, days.
const LONGEST_DAYS: u64 = 60;

/// When the house and its people are busy elsewhere.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Busy {
    /// Nobody works.
    pub house: Vec<Stretch>,
    /// One stylist does not, by code.
    pub stylists: BTreeMap<String, Vec<Stretch>>,
}

impl Busy {
    /// The stretches in which a stylist cannot work.
    pub fn of<'a>(&'a self, stylist: &str) -> impl Iterator<Item = Stretch> + 'a {
        self.house.iter().chain(self.stylists.get(stylist).into_iter().flatten()).copied()
    }
}

/// The busy stretches of a calendar between two days, in order.
///
/// Events that are cancelled or do not take time (`TRANSP:TRANSPARENT`) are free. `ours` tells identifiers of our own appointments, which are no other calendar's.
/// A floating time and a whole day are read in `zone`, and so is a time zone that nobody knows, with a caution.
#[must_use]
pub fn read_busy(
    source: &SourceText,
    zone: Tz,
    from: NaiveDate,
    to: NaiveDate,
    ours: &dyn Fn(&str) -> bool,
) -> Checked<Vec<Stretch>> {
    let mut report = Report::default();
    let calendar = match Some(&source.text).filter(|text| is_calendar(text)).map(|text| Calendar::from_str(text)) {
        Some(Ok(calendar)) => calendar,
        _ => {
            let fault = Diagnostic::fault(&source.name, "this is no calendar that can be read");
            report.push(fault.hint("Export it again as an iCalendar file (.ics)"));
            return Checked::new(None, report);
        }
    };
    let events: Vec<&Event> = calendar.events().filter(|event| !event.get_uid().is_some_and(ours)).collect();
    let mut reading = Reading { zone, from, to, moved: BTreeMap::new(), steps: MOST_STEPS };
    let mut stretches = Vec::new();
    for event in &events {
        reading.note_moved(event, &source.name, &mut report);
    }
    let mut not_understood = 0;
    for event in &events {
        match reading.event(event, &source.name, &mut report) {
            Some(found) => stretches.extend(found),
            None => {
                not_understood += 1;
                let fault = not_understood_event(event, &source.name);
                if !report.items.contains(&fault) {
                    report.push(fault);
                }
            }
        }
        if not_understood > MOST_FAULTS {
            // A rule that finds nothing is searched far, so that no more than a few are.
            let message = format!("more than {MOST_FAULTS} events of this calendar cannot be understood");
            report.push(Diagnostic::fault(&source.name, message).hint("Export it again as an iCalendar file (.ics)"));
            break;
        }
        if reading.steps == 0 || stretches.len() > MOST_STRETCHES {
            let message = "this calendar repeats its events more often than can be followed";
            let hint = "Look for an event that repeats every few minutes; or export the coming months only";
            report.push(Diagnostic::fault(&source.name, message).hint(hint));
            break;
        }
    }
    stretches.sort();
    stretches.dedup();
    Checked::new(Some(stretches).filter(|_| !report.has_fault()), report)
}

fn not_understood_event(event: &Event, file: &str) -> Diagnostic {
    let name: String = event.get_summary().unwrap_or("without a name").chars().take(LONGEST_NAME).collect();
    let fault = Diagnostic::fault(file, format!("the times of the event \"{name}\" cannot be understood"));
    fault.hint("Correct or remove it in that calendar, and export it again")
}

/// Whether a text may be given to the parser: a calendar whose parts do not stand in each other without end.
fn is_calendar(text: &str) -> bool {
    let mut depth = 0_usize;
    let mut deepest = 0;
    for line in text.lines() {
        let begins = |word: &str| line.get(..word.len()).is_some_and(|begin| begin.eq_ignore_ascii_case(word));
        if begins("BEGIN:") {
            depth += 1;
        } else if begins("END:") {
            depth = depth.saturating_sub(1);
        }
        deepest = deepest.max(depth);
    }
    text.contains("BEGIN:VCALENDAR") && deepest <= DEEPEST
}

/// What a calendar is read for.
struct Reading {
    zone: Tz,
    from: NaiveDate,
    to: NaiveDate,
    /// By identifier, the repeats that stand elsewhere.
    moved: BTreeMap<String, BTreeSet<Minute>>,
    /// Steps that are left.
    steps: u32,
}

/// A moment as a file writes it.
#[derive(Clone, Copy)]
struct Moment {
    local: NaiveDateTime,
    zone: Tz,
    whole_day: bool,
}

impl Moment {
    fn minute(self) -> Minute {
        minute_of(self.local.date(), self.local.time(), self.zone)
    }

    fn in_rule(self) -> chrono::DateTime<icalendar::Tz> {
        let moment = chrono::DateTime::from_timestamp(self.minute() * 60, 0).unwrap_or_default();
        moment.with_timezone(&self.zone.into())
    }
}

impl Reading {
    /// Notes which repeat of a series an event stands for.
    fn note_moved(&mut self, event: &Event, file: &str, report: &mut Report) {
        let id = event.properties().get("RECURRENCE-ID");
        if let (Some(uid), Some(moment)) = (event.get_uid(), id.and_then(|id| self.moment(id, file, report))) {
            self.moved.entry(uid.to_owned()).or_default().insert(moment.minute());
        }
    }

    /// Takes steps from those that are left.
    fn step(&mut self, many: u32) {
        self.steps = self.steps.saturating_sub(many);
    }

    /// The stretches of one event; nothing when its times cannot be understood.
    fn event(&mut self, event: &Event, file: &str, report: &mut Report) -> Option<Vec<Stretch>> {
        self.step(1);
        let value = |name: &str| event.property_value(name).unwrap_or_default().to_ascii_uppercase();
        if value("STATUS") == "CANCELLED" || value("TRANSP") == "TRANSPARENT" {
            return Some(Vec::new());
        }
        let start = self.moment(event.properties().get("DTSTART")?, file, report)?;
        let length = self.length(event, start, file, report)?;
        let (first, last) = (self.day(self.from), self.day(self.to));
        let starts = if event.property_value("RECURRENCE-ID").is_some() {
            let later = event.properties().get("RECURRENCE-ID").is_some_and(|id| id.params().contains_key("RANGE"));
            if later && report.items.len() < MOST_FAULTS {
                let caution = Diagnostic::caution(file, "a change of all later repeats is read as a change of one");
                report.push(caution.hint("Look at the week in that calendar before you rely on it"));
            }
            vec![start.minute()]
        } else {
            self.starts(event, start, file, report)?
        };
        let stretch = |from: Minute| Stretch { from, to: from + length };
        let whole_days = |from: Minute| {
            // A whole day ends at the next midnight, an hour sooner or later when the clocks change in it.
            let local = super::hours::local(from, start.zone);
            let days = (length / (24 * 60)).max(1) as u64;
            let end = local.date().checked_add_days(Days::new(days)).unwrap_or(local.date());
            Stretch { from, to: minute_of(end, NaiveTime::MIN, start.zone) }
        };
        let found = starts.into_iter().map(|from| if start.whole_day { whole_days(from) } else { stretch(from) });
        Some(found.filter(|stretch| stretch.from < last && first < stretch.to && stretch.from < stretch.to).collect())
    }

    /// Where an event and its repeats begin, exceptions and replaced repeats left out.
    fn starts(&mut self, event: &Event, start: Moment, file: &str, report: &mut Report) -> Option<Vec<Minute>> {
        let multi = |name: &str| event.multi_properties().get(name).cloned().unwrap_or_default();
        let (rule, extra) = (event.property_value("RRULE"), multi("RDATE"));
        if rule.is_none() && extra.is_empty() {
            return Some(vec![start.minute()]);
        }
        let before = self.day(self.from.checked_sub_days(Days::new(LONGEST_DAYS))?);
        let mut found: BTreeSet<Minute> = self.moments(&extra, file, report)?.into_iter().map(Moment::minute).collect();
        match rule {
            Some(rule) => found.append(&mut self.repeats(rule, start, before)?),
            None => {
                found.insert(start.minute());
            }
        }
        let mut left_out: BTreeSet<Minute> =
            self.moments(&multi("EXDATE"), file, report)?.into_iter().map(Moment::minute).collect();
        left_out.extend(event.get_uid().and_then(|uid| self.moved.get(uid)).into_iter().flatten());
        let (first, last) = (before, self.day(self.to));
        Some(found.into_iter().filter(|at| (first..=last).contains(at) && !left_out.contains(at)).collect())
    }

    /// The repeats of a rule from a minute on; nothing when it is none, or never ends finding nothing.
    fn repeats(&mut self, rule: &str, start: Moment, before: Minute) -> Option<BTreeSet<Minute>> {
        let begins = start.in_rule();
        let rule = RRule::from_str(&until_in_utc(rule, start)?).ok()?.validate(begins).ok()?;
        let minute = |moment: &chrono::DateTime<icalendar::Tz>| moment.with_timezone(&Utc).timestamp().div_euclid(60);
        let (until, count) = (rule.get_until().map(minute), rule.get_count());
        let mut found = BTreeSet::new();
        if until.is_some_and(|until| until < before) {
            return Some(found);
        }
        let last = self.day(self.to);
        let (set, mut seen) = (RRuleSet::new(begins).rrule(rule).limit(), 0);
        for moment in &set {
            self.step(1);
            seen += 1;
            let minute = minute(&moment);
            if minute > last || self.steps == 0 {
                return Some(found);
            }
            if minute >= before {
                found.insert(minute);
            }
        }
        self.step(if until.is_some() { ONE_END } else { 0 });
        // A rule without an end that stops was given up by the crate.
        (until.is_some() || count == Some(seen)).then_some(found)
    }

    fn moments(&self, properties: &[Property], file: &str, report: &mut Report) -> Option<Vec<Moment>> {
        let mut moments = Vec::new();
        for property in properties {
            for value in property.value().split(',') {
                // A period names its start first.
                let value = value.split('/').next().unwrap_or(value);
                moments.push(self.read(value, property, file, report)?);
            }
        }
        Some(moments)
    }

    fn moment(&self, property: &Property, file: &str, report: &mut Report) -> Option<Moment> {
        self.read(property.value(), property, file, report)
    }

    /// A day, a UTC, a zoned or a floating time (RFC 5545 §3.3.4, §3.3.5). A year has four digits there.
    fn read(&self, value: &str, property: &Property, file: &str, report: &mut Report) -> Option<Moment> {
        self.read_any_year(value, property, file, report).filter(|moment| (1..=9999).contains(&moment.local.year()))
    }

    fn read_any_year(&self, value: &str, property: &Property, file: &str, report: &mut Report) -> Option<Moment> {
        let value = value.trim();
        if let Ok(day) = NaiveDate::parse_from_str(value, "%Y%m%d") {
            return Some(Moment { local: day.and_time(NaiveTime::MIN), zone: self.zone, whole_day: true });
        }
        if let Some(utc) = value.strip_suffix('Z') {
            let local = NaiveDateTime::parse_from_str(utc, "%Y%m%dT%H%M%S").ok()?;
            return Some(Moment { local, zone: Tz::UTC, whole_day: false });
        }
        let local = NaiveDateTime::parse_from_str(value, "%Y%m%dT%H%M%S").ok()?;
        let zone = match property.params().get("TZID").map(|zone| zone.value().trim_matches('"')) {
            None => self.zone,
            Some(name) => name.parse().unwrap_or_else(|_| {
                let name: String = name.chars().take(LONGEST_NAME).collect();
                let message = format!("there is no time zone \"{name}\"");
                let caution = Diagnostic::caution(file, message);
                let caution = caution.hint(format!("Its times are read in the salon's own zone, {}", self.zone.name()));
                if report.items.len() < MOST_FAULTS && !report.items.contains(&caution) {
                    report.push(caution);
                }
                self.zone
            }),
        };
        Some(Moment { local, zone, whole_day: false })
    }

    /// Minutes from start to end: DTEND, DURATION, else a day for a day and nothing for a time (RFC 5545 §3.6.1).
    fn length(&self, event: &Event, start: Moment, file: &str, report: &mut Report) -> Option<Minute> {
        if let Some(end) = event.properties().get("DTEND") {
            let end = self.moment(end, file, report)?;
            let days = (end.local.date() - start.local.date()).num_days();
            return Some(if start.whole_day { days * 24 * 60 } else { end.minute() - start.minute() });
        }
        if let Some(duration) = event.property_value("DURATION") {
            return duration_of(duration).map(|duration| duration.num_minutes());
        }
        Some(if start.whole_day { 24 * 60 } else { 0 })
    }

    fn day(&self, day: NaiveDate) -> Minute {
        minute_of(day, NaiveTime::MIN, self.zone)
    }
}

/// A rule whose end is a UTC time, as the standard wants it beside a zoned start; many calendars write a day.
fn until_in_utc(rule: &str, start: Moment) -> Option<String> {
    let parts = rule.split(';').map(|part| {
        let Some(until) = part.strip_prefix("UNTIL=").filter(|until| !until.ends_with('Z')) else {
            return Some(part.to_owned());
        };
        let local = NaiveDate::parse_from_str(until, "%Y%m%d")
            .map(|day| day.and_hms_opt(23, 59, 59).unwrap_or_else(|| day.and_time(NaiveTime::MIN)))
            .or_else(|_| NaiveDateTime::parse_from_str(until, "%Y%m%dT%H%M%S"))
            .ok()?;
        let minute = minute_of(local.date(), local.time(), start.zone);
        let utc = chrono::DateTime::from_timestamp(minute * 60 + 59, 0)?;
        Some(format!("UNTIL={}", utc.format("%Y%m%dT%H%M%SZ")))
    });
    parts.collect::<Option<Vec<_>>>().map(|parts| parts.join(";"))
}

/// A duration (RFC 5545 §3.3.6): "P1W", "P1DT2H", "PT45M".
fn duration_of(text: &str) -> Option<Duration> {
    let rest = text.trim().trim_start_matches('+').strip_prefix('P')?;
    let (mut total, mut number) = (Duration::zero(), String::new());
    for c in rest.chars() {
        if c.is_ascii_digit() {
            number.push(c);
            continue;
        }
        let count = || number.parse::<i64>().ok();
        match c {
            'T' => {}
            'W' => total = total.checked_add(&Duration::try_weeks(count()?)?)?,
            'D' => total = total.checked_add(&Duration::try_days(count()?)?)?,
            'H' => total = total.checked_add(&Duration::try_hours(count()?)?)?,
            'M' => total = total.checked_add(&Duration::try_minutes(count()?)?)?,
            'S' => total = total.checked_add(&Duration::try_seconds(count()?)?)?,
            _ => return None,
        }
        number.clear();
    }
    Some(total)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::schedule::diary::hours::local;

    fn day(text: &str) -> NaiveDate {
        text.parse().expect("a day")
    }

    fn busy(events: &str, from: &str, to: &str) -> Vec<String> {
        let text = format!(
            "BEGIN:VCALENDAR\r\nVERSION:2.0\r\nPRODID:test\r\n{}END:VCALENDAR\r\n",
            events.replace('\n', "\r\n")
        );
        let zone = chrono_tz::Europe::London;
        let checked = read_busy(&SourceText::new("busy.ics", text), zone, day(from), day(to), &|_| false);
        let told = |stretch: &Stretch| {
            let (from, to) = (local(stretch.from, zone), local(stretch.to, zone));
            format!("{} {}-{}", from.format("%d.%m."), from.format("%H:%M"), to.format("%H:%M"))
        };
        checked.value.unwrap_or_else(|| panic!("{:?}", checked.report)).iter().map(told).collect()
    }

    /// The example of RFC 5545 §3.8.5.3 "Daily until December 24, 1997", with its first and last instance, and the clock change in it.
    #[test]
    fn the_standards_own_example_is_repeated_across_the_clock_change() {
        let events = "BEGIN:VEVENT\nUID:a\nDTSTAMP:19970101T000000Z\nDTSTART;TZID=America/New_York:19970902T090000\nDURATION:PT1H\nRRULE:FREQ=DAILY;UNTIL=19971224T000000Z\nEND:VEVENT\n";
        let found = busy(events, "1997-09-01", "1998-01-01");
        assert_eq!(found.len(), 113, "September 2 to December 23");
        assert_eq!(found[0], "02.09. 14:00-15:00");
        // New York's clocks go back on 26 October 1997 with London's.
        assert_eq!(found.last().map(String::as_str), Some("23.12. 14:00-15:00"));
    }

    #[test]
    fn exceptions_moved_repeats_free_and_cancelled_events_are_as_the_standard_says() {
        let events = "BEGIN:VEVENT\nUID:w\nDTSTAMP:20261101T000000Z\nDTSTART;TZID=Europe/London:20261201T100000\nDTEND;TZID=Europe/London:20261201T113000\nRRULE:FREQ=WEEKLY;COUNT=4\nEXDATE;TZID=Europe/London:20261208T100000\nEND:VEVENT\n\
            BEGIN:VEVENT\nUID:w\nDTSTAMP:20261101T000000Z\nRECURRENCE-ID;TZID=Europe/London:20261215T100000\nDTSTART;TZID=Europe/London:20261216T140000\nDTEND;TZID=Europe/London:20261216T150000\nEND:VEVENT\n\
            BEGIN:VEVENT\nUID:f\nDTSTAMP:20261101T000000Z\nDTSTART:20261202T090000Z\nDTEND:20261202T100000Z\nTRANSP:TRANSPARENT\nEND:VEVENT\n\
            BEGIN:VEVENT\nUID:c\nDTSTAMP:20261101T000000Z\nDTSTART:20261203T090000Z\nDTEND:20261203T100000Z\nSTATUS:CANCELLED\nEND:VEVENT\n\
            BEGIN:VEVENT\nUID:d\nDTSTAMP:20261101T000000Z\nDTSTART;VALUE=DATE:20261204\nEND:VEVENT\n";
        let found = busy(events, "2026-12-01", "2026-12-31");
        assert_eq!(found, ["01.12. 10:00-11:30", "04.12. 00:00-00:00", "16.12. 14:00-15:00", "22.12. 10:00-11:30",]);
    }

    #[test]
    fn what_is_no_calendar_or_no_time_is_a_fault_and_an_unknown_zone_a_caution() {
        let read = |text: &str| {
            let zone = chrono_tz::Europe::London;
            read_busy(&SourceText::new("b.ics", text), zone, day("2026-12-01"), day("2026-12-31"), &|_| false)
        };
        assert!(read("format = 1\n").report.has_fault());
        let event = |start: &str| {
            format!(
                "BEGIN:VCALENDAR\r\nVERSION:2.0\r\nPRODID:x\r\nBEGIN:VEVENT\r\nUID:x\r\nDTSTAMP:20260101T000000Z\r\n{start}\r\nEND:VEVENT\r\nEND:VCALENDAR\r\n"
            )
        };
        assert!(read(&event("DTSTART:tomorrow")).report.has_fault());
        let unknown = read(&event("DTSTART;TZID=Sample Standard Time:20261202T100000\r\nDURATION:PT1H"));
        assert!(!unknown.report.has_fault() && unknown.report.items.len() == 1, "{:?}", unknown.report);
        assert_eq!(unknown.value.map(|stretches| stretches.len()), Some(1));
    }
}
