//! Opening hours, closed days, stylists and services.

use chrono::{NaiveDate, Weekday};

use crate::diagnostic::did_you_mean;
use crate::form::{Filled, Findings};
use crate::salon::file::Day;
use crate::salon::{OpenHours, Pause, Service, Stylist};
use crate::units::{Minutes, Worded};

pub(super) fn hours(file: &Filled, findings: &mut Findings<'_>) -> Vec<OpenHours> {
    let hours = hours_in(file, "the salon", findings);
    if hours.is_empty() && !file.is_written("hours") {
        let hint = "Write [[hours]] with `days`, `open` and `close`; without them no appointment can be proposed";
        findings.caution_about_file("no opening hours are told", hint);
    }
    hours
}

/// The hours of the salon or of one stylist, by day and time.
fn hours_in(file: &Filled, whose: &str, findings: &mut Findings<'_>) -> Vec<OpenHours> {
    let mut hours: Vec<OpenHours> = Vec::new();
    for section in file.sections("hours") {
        let (Some(open), Some(close)) = (section.time("open"), section.time("close")) else { continue };
        if close <= open {
            let hint = format!("It opens at {open}; correct one of the two");
            let message = format!("{whose} closes before it opens");
            findings.fault(section.span_of("close"), message, "not after opening", hint);
        }
        for day in section.words::<Day>("days") {
            let weekday = day.weekday();
            if hours.iter().any(|other| other.day == weekday && other.open < close && open < other.close) {
                let hint = "Keep one of the two, or let the second begin when the first ends";
                findings.fault(
                    section.span_of("days"),
                    format!("two opening hours of {} overlap", day.word()),
                    "this day again",
                    hint,
                );
            }
            hours.push(OpenHours { day: weekday, open, close });
        }
    }
    hours.sort_by_key(|hours| (hours.day.num_days_from_monday(), hours.open));
    hours
}

pub(super) fn closures(file: &Filled, findings: &mut Findings<'_>) -> Vec<(NaiveDate, NaiveDate)> {
    file.sections("closed").iter().filter_map(|section| days(section, findings)).collect()
}

fn days(section: &Filled, findings: &mut Findings<'_>) -> Option<(NaiveDate, NaiveDate)> {
    let (from, to) = (section.date("from")?, section.date("to")?);
    if to < from {
        let hint = format!("The first day is {from}; for a single day write it twice");
        findings.fault(section.span_of("to"), "the last day is before the first", "too early", hint);
    }
    Some((from, to))
}

pub(super) fn services(file: &Filled, findings: &mut Findings<'_>) -> Vec<Service> {
    twice(file, "service", findings);
    file.sections("service").iter().filter_map(|section| service(section, findings)).collect()
}

fn service(section: &Filled, findings: &mut Findings<'_>) -> Option<Service> {
    let minutes = |field| section.quantity(field, Minutes::try_new);
    let none = Minutes::from_minutes(0.0);
    let price = section.numbers("price").and_then(|prices| Some((*prices.first()?, *prices.get(1)?)));
    if let Some((low, high)) = price
        && low > high
    {
        let hint = format!("Write `price = [{high}, {low}]`");
        findings.fault(section.span_of("price"), "the lowest price comes first", "this goes down", hint);
    }
    Some(Service {
        code: section.owned("code")?,
        name: section.owned("name")?,
        hands_on: minutes("hands_on_minutes")?,
        developing: minutes("developing_minutes").unwrap_or(none),
        finishing: minutes("finishing_minutes").unwrap_or(none),
        buffer: minutes("buffer_minutes").unwrap_or(none),
        price,
    })
}

pub(super) fn stylists(
    file: &Filled,
    services: &[Service],
    hours: &[OpenHours],
    findings: &mut Findings<'_>,
) -> Vec<Stylist> {
    twice(file, "stylist", findings);
    if !file.is_written("stylist") {
        let hint = "Write [[stylist]] with `code` and `name` for each; visit records name them by their code";
        findings.caution_about_file("no stylist is told", hint);
    }
    let codes: Vec<&str> = services.iter().map(|service| service.code.as_str()).collect();
    file.sections("stylist").iter().filter_map(|section| stylist(section, &codes, hours, findings)).collect()
}

fn stylist(section: &Filled, services: &[&str], hours: &[OpenHours], findings: &mut Findings<'_>) -> Option<Stylist> {
    for (skill, place) in section.texts("skills") {
        if !services.contains(&skill.as_str()) {
            let hint = did_you_mean(skill, services).map_or_else(
                || format!("The services are: {}", services.join(", ")),
                |near| format!("Did you mean \"{near}\"?"),
            );
            findings.missing(place.clone(), format!("there is no service \"{skill}\""), "not among the services", hint);
        }
    }
    let days: Vec<Day> = section.words("days");
    let closed = |day: &&Day| !hours.is_empty() && !hours.iter().any(|hours| hours.day == day.weekday());
    if let Some(day) = days.iter().find(closed) {
        let hint = "Add the day to [[hours]], or take it out here";
        findings.caution(
            section.span_of("days"),
            format!("the salon is closed on {}", day.word()),
            "works that day",
            hint,
        );
    }
    Some(Stylist {
        code: section.owned("code")?,
        name: section.owned("name")?,
        days: days.into_iter().map(Day::weekday).collect::<Vec<Weekday>>(),
        skills: section.texts("skills").iter().map(|(skill, _)| skill.clone()).collect(),
        hours: hours_in(section, "this stylist", findings),
        pauses: section.sections("pause").iter().flat_map(|pause| pauses(pause, findings)).collect(),
        leaves: section.date("leaves"),
        absences: section.sections("away").iter().filter_map(|away| self::days(away, findings)).collect(),
    })
}

fn pauses(section: &Filled, findings: &mut Findings<'_>) -> Vec<Pause> {
    let (Some(from), Some(to)) = (section.time("from"), section.time("to")) else { return Vec::new() };
    if to <= from {
        let hint = format!("It begins at {from}; correct one of the two");
        findings.fault(section.span_of("to"), "this break ends before it begins", "not after its beginning", hint);
    }
    let days: Vec<Day> = section.words("days");
    let days = if days.is_empty() { Day::WORDS.iter().map(|(day, ..)| *day).collect() } else { days };
    days.into_iter().map(|day| Pause { day: day.weekday(), from, to }).collect()
}

/// Two stylists or services of one code.
fn twice(file: &Filled, what: &str, findings: &mut Findings<'_>) {
    let sections = file.sections(what);
    for (index, section) in sections.iter().enumerate() {
        let Some(code) = section.text("code") else { continue };
        if let Some(first) = sections[..index].iter().find(|other| other.text("code") == Some(code)) {
            let hint = format!(
                "The first is on line {}; give one of them another code",
                findings.line_of(&first.span_of("code"))
            );
            findings.fault(
                section.span_of("code"),
                format!("two {what}s have the code \"{code}\""),
                "here again",
                hint,
            );
        }
    }
}
