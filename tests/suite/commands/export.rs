//! `export`: everything about one client, and nothing about another.

use super::{stderr, stdout};
use crate::salon_copy::{SalonCopy, TODAY};

#[test]
fn the_folder_holds_what_is_on_record_byte_for_byte_and_nobody_else() {
    let salon = SalonCopy::new();
    let record = salon.files("records").into_keys().find(|name| name.contains("wren-04")).expect("a record");
    salon.write("private/set-aside/older.toml", &salon.read(&record));
    salon.afterhue(&["relink", "wren-04", "--today", TODAY]).assert().success();
    salon.afterhue(&["book", "--today", TODAY]).assert().success();
    let output = salon.afterhue(&["export", "wren-04", "out"]).output().expect("it runs");
    assert_eq!(output.status.code(), Some(0), "{}", stderr(&output));
    let out = salon.files("out");
    let sources: Vec<(String, Vec<u8>)> = ["clients", "records"]
        .iter()
        .flat_map(|part| salon.files(part))
        .filter(|(name, _)| name.contains("wren-04"))
        .collect();
    assert!(sources.len() > 3);
    for (name, bytes) in &sources {
        assert_eq!(out.get(&format!("out/{name}")), Some(bytes), "{name}");
    }
    assert_eq!(out.len(), sources.len() + 10, "{:?}", out.keys());
    assert_eq!(out["out/set-aside/older.toml"], salon.read("private/set-aside/older.toml").into_bytes());
    let text = |name: &str| std::str::from_utf8(&out[name]).expect("text").to_owned();
    assert!(text("out/page.html").starts_with("<!DOCTYPE html>"));
    assert!(text("out/calendar.ics").parse::<icalendar::Calendar>().is_ok());
    let table: serde_json::Value = serde_json::from_str(&text("out/forecast.json")).expect("JSON");
    assert_eq!(table["client"], "wren-04");
    assert!(text("out/card.html").starts_with("<!DOCTYPE html>"));
    // The page's address now, and the one before it was moved.
    let links: Vec<String> = text("out/links.txt").lines().map(str::to_owned).collect();
    let sent = salon.afterhue(&["send", "wren-04", "--today", TODAY]).output().expect("it runs");
    assert!(links.len() == 2 && stdout(&sent).contains(&links[0]) && links[0] != links[1], "{links:?}");
    let booked: toml::Table = text("out/bookings.toml").parse().expect("TOML");
    let booked = booked["appointment"].as_array().expect("appointments");
    let mine = salon.read("private/bookings.toml").matches("client = \"wren-04\"").count();
    assert!(mine > 0 && booked.len() == mine);
    // This client came back: the rate is no longer what was expected of anybody.
    let learned: serde_json::Value = serde_json::from_str(&text("out/learned.json")).expect("JSON");
    let zones = learned.as_array().expect("zones");
    assert!(
        zones.iter().any(|zone| zone["returns"].as_u64() > Some(0) && zone["rate"] != zone["rate before"]),
        "{learned}"
    );
    let read_me = text("out/README.txt");
    for name in out.keys() {
        let top = name.trim_start_matches("out/").split('/').next().expect("a name");
        assert!(read_me.contains(top), "{top} is explained");
    }
    let codes: Vec<String> = salon.files("clients").keys().map(|name| name[8..name.len() - 5].to_owned()).collect();
    for (name, bytes) in &out {
        let text = String::from_utf8_lossy(bytes);
        assert!(codes.iter().all(|code| code == "wren-04" || !text.contains(code)), "{name} names another client");
    }
}

#[cfg(unix)]
#[test]
fn only_the_owner_may_read_what_was_exported() {
    use std::os::unix::fs::PermissionsExt;
    let salon = SalonCopy::new();
    salon.afterhue(&["export", "wren-04", "out"]).assert().success();
    for name in salon.files("out").keys() {
        let mode = std::fs::metadata(salon.path(name)).expect("a file").permissions().mode();
        assert_eq!(mode & 0o077, 0, "{name}");
    }
}

#[test]
fn a_client_without_visits_or_with_a_fault_gets_what_is_on_record_all_the_same() {
    let salon = SalonCopy::new();
    salon.write("clients/new-99.toml", "format = 1\n");
    let output = salon.afterhue(&["export", "new-99", "new"]).output().expect("it runs");
    assert_eq!(output.status.code(), Some(0), "{}", stderr(&output));
    assert_eq!(salon.files("new").into_keys().collect::<Vec<_>>(), ["new/README.txt", "new/clients/new-99.toml"]);
    let broken = salon.read("clients/plum-03.toml") + "weather = \"rain\"\n";
    salon.write("clients/plum-03.toml", &broken);
    let output = salon.afterhue(&["export", "plum-03", "plum"]).output().expect("it runs");
    assert_eq!(output.status.code(), Some(1), "{}", stderr(&output));
    assert_eq!(salon.files("plum")["plum/clients/plum-03.toml"], broken.as_bytes());
}

#[test]
fn nothing_is_written_over() {
    let salon = SalonCopy::new();
    salon.write("out/mine.txt", "mine");
    for arguments in [["export", "wren-04", "out"], ["export", "nobody-99", "new"]] {
        let output = salon.afterhue(&arguments).output().expect("it runs");
        assert_eq!(output.status.code(), Some(2), "{}", stderr(&output));
    }
    assert_eq!(salon.files("out").len(), 1);
    assert!(!salon.path("new").exists());
}
