//! A page answers a question once: whoever reads two places of it finds the same day and no colour turning into itself.

use chrono::{Datelike, NaiveDate, Weekday};

use crate::pages::words;
use crate::salon_copy::SalonCopy;

/// The words of every page with a plan, in lines.
fn pages() -> Vec<Vec<String>> {
    let salon = SalonCopy::new();
    salon.build();
    let pages = salon.files("public/c").into_iter().filter(|(name, _)| name.ends_with(".html"));
    let lines = pages.map(|(_, bytes)| {
        let text = words(&String::from_utf8(bytes).expect("text"));
        text.lines().map(str::to_owned).collect::<Vec<_>>()
    });
    let planned: Vec<Vec<String>> = lines.filter(|lines| lines.iter().any(|line| line == "Come back")).collect();
    assert!(planned.len() >= 20, "{}", planned.len());
    planned
}

/// What follows a beginning, on the first line that has it.
fn after<'a>(lines: &'a [String], beginning: &str) -> Option<&'a str> {
    lines.iter().find_map(|line| line.strip_prefix(beginning))
}

/// The line after the first one that reads so.
fn below<'a>(lines: &'a [String], line: &str) -> &'a str {
    let at = lines.iter().position(|other| other == line).expect("the line stands on the page");
    &lines[at + 1]
}

/// The day to come back: the booked one, or the best one and whether it is only proposed by the plan.
fn come_back(lines: &[String]) -> (&str, bool) {
    let said = below(lines, "Come back");
    said.strip_prefix("Booked: ").map_or((said, true), |booked| (booked.split(", ").next().unwrap_or(booked), false))
}

/// A day as pages write it: "Friday 18 December", with the year when it is not 2026.
fn day(text: &str) -> NaiveDate {
    let mut parts = text.split(' ').skip(1);
    let number: u32 = parts.next().expect("a day").parse().expect("a number");
    let month = parts.next().expect("a month");
    let year = parts.next().map_or(2026, |year| year.parse().expect("a year"));
    let month: chrono::Month = month.parse().expect("a month");
    NaiveDate::from_ymd_opt(year, month.number_from_month(), number).expect("a day of the calendar")
}

#[test]
fn every_place_that_names_the_refresh_names_one_day() {
    let mut refreshed = 0;
    for lines in pages() {
        let (first, planned) = come_back(&lines);
        // A booked visit says its own day and length first; what the plan would have said is told on the others.
        if !planned {
            assert!(lines.iter().any(|line| line.starts_with("Please allow ")), "{first}");
            let listed = lines.iter().find(|line| line.contains(": colour refresh") || line.contains(": roots"));
            assert!(listed.is_some_and(|line| line.starts_with(first)), "{listed:?} beside {first}");
            if let Some(refreshed) = listed.filter(|line| line.contains("colour refresh")) {
                assert!(
                    lines.iter().any(|line| *line == format!("Booked: {first}")),
                    "the ribbon says it: {refreshed}"
                );
                assert!(!lines.iter().any(|line| line.starts_with("Best day for the colour refresh")), "{first}");
            }
            continue;
        }
        let what = after(&lines, "For your ").expect("the first screen says what the visit is for");
        let ribbon = after(&lines, "Best day for the colour refresh: ");
        let listed: Vec<&String> = lines.iter().filter(|line| line.contains(": colour refresh")).collect();
        if what.starts_with("colour refresh") {
            assert_eq!(Some(first), ribbon, "the ribbon beside the first screen");
        } else if let Some(ribbon) = ribbon {
            let (_, later) = what.split_once("comes later, around ").expect("a refresh that is not next is told");
            assert!(ribbon.contains(later.trim_end_matches('.')), "{later} beside {ribbon}");
        }
        if let Some(ribbon) = ribbon {
            refreshed += 1;
            assert!(listed.first().is_some_and(|line| line.starts_with(ribbon)), "{listed:?} beside {ribbon}");
            for beginning in ["Best around ", "Let it soften as you like. Around "] {
                let about_roots =
                    beginning == "Best around " && !lines.iter().any(|line| line == "When do I refresh? Can it wait?");
                if let Some(said) = after(&lines, beginning).filter(|_| !about_roots) {
                    assert!(said.starts_with(ribbon), "{said} beside {ribbon}");
                }
            }
        }
    }
    assert!(refreshed >= 15, "{refreshed}");
}

#[test]
fn nobody_is_asked_to_come_on_a_day_the_salon_is_closed() {
    // The demo salon is closed on Sundays and Mondays, and over the turn of the year.
    let salon = SalonCopy::new();
    let settings = salon.read("salon.toml");
    assert!(!settings.contains("\"sunday\"") && !settings.contains("\"monday\""), "the demo's hours have changed");
    for lines in pages() {
        let come_back = day(come_back(&lines).0);
        let listed = lines
            .iter()
            .filter(|line| line.contains(": colour refresh") || line.contains(": roots") || line.contains(": trim"));
        let listed = listed.filter_map(|line| line.split(": ").next()).map(day);
        for date in std::iter::once(come_back).chain(listed) {
            assert!(!matches!(date.weekday(), Weekday::Sun | Weekday::Mon), "{date}");
        }
    }
}

#[test]
fn no_colour_turns_into_what_it_is_called_already() {
    let mut turns = 0;
    for lines in pages() {
        let Some(story) = lines.iter().find(|line| line.contains(" it turns to ")) else { continue };
        let turned = story.split(" it turns to ").nth(1).and_then(|rest| rest.split('.').next()).expect("a colour");
        let noun = turned.rsplit([' ', '-']).next().expect("a word");
        let fresh = lines.iter().find(|line| line.ends_with("all of it left")).expect("the first row");
        let drawn =
            lines.iter().find_map(|line| line.strip_prefix("[drawing: Your hair on ")).expect("the hair of the day");
        let called = drawn.split_once(": ").expect("a day and a shade").1;
        turns += 1;
        for words in [called.trim_end_matches(']'), fresh.trim_end_matches(", all of it left")] {
            let same = words.to_lowercase().split([' ', '-', ',', ':']).any(|word| word == noun);
            assert!(!same, "{words:?} turns to {turned:?}");
        }
    }
    assert!(turns >= 6, "{turns}");
}
