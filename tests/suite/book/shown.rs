//! The book's calendar by two independent parsers, the board and the sheets.

use std::collections::BTreeMap;
use std::io::BufReader;
use std::str::FromStr;

use icalendar::{Calendar, Component};

use crate::salon_copy::{SalonCopy, TODAY};

fn run(salon: &SalonCopy, more: &[&str]) {
    salon.afterhue(&[&["book", "--today", TODAY][..], more].concat()).assert().success();
}

fn output(salon: &SalonCopy, more: &[&str]) -> (i32, String, String) {
    let output = salon.afterhue(&[&["book", "--today", TODAY][..], more].concat()).output().expect("it runs");
    let text = |bytes: Vec<u8>| String::from_utf8(bytes).expect("text");
    (output.status.code().expect("a code"), text(output.stdout), text(output.stderr))
}

/// Identifier → (start, sequence, status), by the `icalendar` crate.
fn by_icalendar(text: &str) -> BTreeMap<String, (String, String, String)> {
    let calendar = Calendar::from_str(text).expect("a calendar");
    let event = |event: &icalendar::Event| {
        let value = |name: &str| event.property_value(name).unwrap_or_default().to_owned();
        assert!(event.get_start().is_some() && event.get_end().is_some());
        (value("UID"), (value("DTSTART"), value("SEQUENCE"), value("STATUS")))
    };
    calendar.events().map(event).collect()
}

/// The same by the `ical` crate, another parser by other people.
fn by_ical(text: &str) -> BTreeMap<String, (String, String, String)> {
    let mut found = BTreeMap::new();
    for calendar in ical::IcalParser::new(BufReader::new(text.as_bytes())) {
        for event in calendar.expect("a calendar").events {
            let value = |name: &str| {
                let property = event.properties.iter().find(|property| property.name == name);
                property.and_then(|property| property.value.clone()).unwrap_or_default()
            };
            found.insert(value("UID"), (value("DTSTART"), value("SEQUENCE"), value("STATUS")));
        }
    }
    found
}

#[test]
fn two_parsers_read_the_calendar_alike_and_a_change_keeps_the_identifier_and_raises_the_sequence() {
    let salon = SalonCopy::new();
    run(&salon, &[]);
    let text = salon.read("private/book.ics");
    let first = by_icalendar(&text);
    assert_eq!(first, by_ical(&text));
    assert!(first.len() > 40 && first.values().all(|(start, ..)| start.ends_with('Z')), "UTC instants");
    for status in ["TENTATIVE", "CONFIRMED", "CANCELLED"] {
        assert!(first.values().any(|(_, _, other)| other == status), "{status}");
    }
    // London is on UTC in December: wren-04 is booked at 9.
    run(&salon, &["--move", "wren-04", "2026-12-18", "14:00"]);
    let second = by_icalendar(&salon.read("private/book.ics"));
    let changed: Vec<_> =
        first.iter().filter(|(uid, event)| second.get(*uid).is_some_and(|now| now != *event)).collect();
    let wren = changed.iter().find(|(_, event)| event.0 == "20261218T090000Z").expect("the moved visit");
    let now = &second[wren.0];
    assert_eq!(now.0, "20261218T140000Z");
    let sequence = |text: &str| text.parse::<u32>().expect("a number");
    assert_eq!(sequence(&now.1), sequence(&wren.1.1) + 1);
}

#[test]
fn the_calendar_holds_no_health_fact_and_only_wanted_names() {
    let salon = SalonCopy::new();
    run(&salon, &[]);
    let text = salon.read("private/book.ics").replace("\r\n ", "").to_lowercase();
    for word in ["alert", "test", "allerg", "reaction", "pregnan", "scalp", "lighten", "@example", "+44"] {
        assert!(!text.contains(word), "{word}");
    }
    for (name, bytes) in salon.files("clients") {
        let file = String::from_utf8(bytes).expect("text");
        let first =
            file.lines().find_map(|line| line.strip_prefix("first_name = \"")).map(|rest| rest.trim_end_matches('"'));
        if let Some(first) = first.filter(|_| !file.contains("show_first_name = true")) {
            assert!(!text.contains(&format!("\\, {}\\,", first.to_lowercase())), "{name}: {first}");
        }
    }
}

#[test]
fn the_board_says_in_words_what_its_outlines_say_and_names_who_does_not_fit() {
    let salon = SalonCopy::new();
    run(&salon, &[]);
    let board = salon.read("private/board.html");
    let count = |mark: &str| board.matches(&format!("<div class=\"slot {mark}")).count();
    let said = |words: &str| board.matches(&format!("<span class=\"state\">{words}</span>")).count();
    assert!(count("booked") >= 4 && count("proposed") >= 20);
    assert_eq!((count("booked"), count("proposed")), (said("booked"), said("proposed")));
    assert!(board.contains("quartz-26 does not fit"), "who does not fit");
    assert!(board.contains("The salon is closed."), "the closed week");
    assert!(!board.contains(" style=") && !board.contains("<script"), "what the policy forbids");
    // Twelve weeks, as bars and as rows of the table beside them.
    let rows = board.split("class=\"demand\"").nth(1).expect("a chart");
    assert_eq!(rows.matches("class=\"expected\"").count(), 12);
    assert_eq!(rows.matches("<tr><th scope=\"row\">").count(), 12);
}

#[test]
fn there_is_one_sheet_for_everybody_with_a_visit_ahead_and_nobody_else() {
    let salon = SalonCopy::new();
    run(&salon, &[]);
    let (board, sheets) = (salon.read("private/board.html"), salon.read("private/sheets.html"));
    let links: Vec<&str> =
        board.split("href=\"sheets.html#").skip(1).filter_map(|rest| rest.split('"').next()).collect();
    assert_eq!(sheets.matches("<article ").count(), links.len());
    for client in links {
        assert!(sheets.contains(&format!("<article id=\"{client}\">")), "{client}");
    }
    assert!(!sheets.contains("id=\"thistle-22\"") && !sheets.contains("id=\"clover-21\""));
    assert_eq!(
        sheets.matches("Whatever stands here: ask about the scalp").count(),
        sheets.matches("<article ").count()
    );
}

#[test]
fn a_board_and_sheets_never_reach_public_and_pages_leaves_them_alone() {
    let salon = SalonCopy::new();
    run(&salon, &[]);
    salon.build();
    assert!(salon.path("private/board.html").exists() && salon.path("private/sheets.html").exists());
    let public = salon.files("public");
    assert!(public.keys().all(|name| !name.contains("board") && !name.contains("sheet")));
}

#[test]
fn the_demo_shows_a_full_week_a_closed_one_one_who_does_not_fit_one_overdue_one_not_to_be_lightened_and_a_cancellation_filled()
 {
    let salon = SalonCopy::new();
    run(&salon, &[]);
    let board = salon.read("private/board.html");
    let week =
        board.split("Week of 30 November").nth(1).and_then(|rest| rest.split("Week of ").next()).expect("a week");
    let hours: Vec<(f64, f64)> = week
        .split("<p>")
        .filter_map(|text| text.split(" hours</p>").next()?.split_once(" of "))
        .filter_map(|(taken, worked)| Some((taken.parse().ok()?, worked.parse().ok()?)))
        .collect();
    let sum = |of: fn(&(f64, f64)) -> f64| hours.iter().map(of).sum::<f64>();
    assert_eq!(hours.len(), 5, "five open weekdays");
    assert!(sum(|day| day.0) >= 0.8 * sum(|day| day.1), "a full week: {hours:?}");
    let closed = board.split("Week of 28 December").nth(1).expect("a week");
    assert!(closed.split("Week of ").next().is_some_and(|week| week.contains("The salon is closed.")));
    let bookings = salon.read("private/bookings.toml");
    let (code, due, said) = output(&salon, &["--json"]);
    assert_eq!(code, 0, "{said}");
    let due: serde_json::Value = serde_json::from_str(&due).expect("JSON");
    let rows = |client: &str| {
        let all = due["due"].as_array().expect("rows").clone();
        all.into_iter().filter(move |row| row["client"] == *client).collect::<Vec<_>>()
    };
    assert!(due["does_not_fit"].as_array().is_some_and(|list| list.iter().any(|one| one["client"] == "quartz-26")));
    assert!(rows("otter-23").iter().any(|row| row["overdue"] == true), "one overdue");
    let held = rows("willow-18");
    let told =
        |row: &serde_json::Value| row["held"].as_str().is_some_and(|held| held.contains("must not be lightened"));
    assert!(held.iter().any(told), "one not to be lightened: {held:?}");
    let slot = "date = 2026-11-26\ntime = 14:00:00\nstylist = \"joss\"";
    let at = |client: &str, state: &str| {
        let of = |text: &&str| {
            text.contains(&format!("client = \"{client}\"")) && text.contains(&format!("state = \"{state}\""))
        };
        bookings.split("[[appointment]]").filter(of).any(|text| text.contains(slot))
    };
    assert!(at("ash-14", "cancelled") && at("fern-07", "booked"), "called off by one, taken by another");
}

#[test]
fn a_booked_page_tells_how_long_and_what_it_costs_and_hides_the_time_when_the_salon_says_so() {
    let salon = SalonCopy::new();
    salon.build();
    let wren = |salon: &SalonCopy| {
        let pages = salon.files("public");
        let texts = pages.into_iter().map(|(name, bytes)| (name, String::from_utf8_lossy(&bytes).into_owned()));
        texts.filter(|(name, text)| name.ends_with(".html") && text.contains("Booked: ")).collect::<Vec<_>>()
    };
    let booked = wren(&salon);
    assert!(booked.len() >= 4);
    for (name, text) in &booked {
        // The prices of the demo's own table, in words.
        let told = ["60 to 85 pounds", "72 to 140 pounds", "165 to 260 pounds", "55 to 68 pounds"];
        assert!(text.contains("Please allow ") && told.iter().any(|price| text.contains(price)), "{name}");
    }
    let times = |text: &str| text.matches("9am").count() + text.matches("2pm").count();
    assert!(booked.iter().any(|(_, text)| times(text) > 0));
    let house = salon.read("salon.toml");
    salon.write("salon.toml", &house.replacen("[book]\n", "[book]\nshow_time = false\n", 1));
    salon.build();
    let hidden = wren(&salon);
    assert_eq!(hidden.len(), booked.len());
    assert!(hidden.iter().all(|(_, text)| times(text) == 0), "a time is still told");
    for (name, bytes) in salon.files("public").into_iter().filter(|(name, _)| name.ends_with(".ics")) {
        let text = String::from_utf8(bytes).expect("text");
        assert!(!text.contains("appointment\\, ") && !text.contains("9am"), "{name}: {text}");
    }
    salon.write("salon.toml", &house.replace("price = [", "# price = ["));
    salon.build();
    assert!(wren(&salon).iter().all(|(_, text)| !text.contains("pounds") && text.contains("Please allow ")));
}
