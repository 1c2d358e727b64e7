//! What a stylist reads when something in the folder is not what it seems. The snapshots were read before they were accepted.

use afterhue::diagnostic::SourceText;
use afterhue::pipeline;
use afterhue::workspace::{Secret, Texts, read_calendar, read_folder};

use super::{told, told_about};
use crate::privacy::in_memory::{demo, only};
use crate::salon_copy::{SalonCopy, TODAY};

/// One client of the demo with one visit.
fn small() -> Texts {
    let mut texts = only(demo(), &["fern-07"]);
    texts.bookings = None;
    texts.records.truncate(1);
    texts
}

/// The same with text put in place of other text of the visit.
fn visit_with(from: &str, into: &str) -> Texts {
    let mut texts = small();
    let visit = &mut texts.records[0];
    assert!(visit.text.contains(from), "{}", visit.text);
    visit.text = visit.text.replacen(from, into, 1);
    texts
}

fn theme_with(file: &str, text: &str) -> Texts {
    let mut texts = small();
    let salon = texts.salon.as_mut().expect("a salon");
    salon.text =
        salon.text.lines().filter(|line| !line.starts_with("theme =")).map(|line| format!("{line}\n")).collect();
    salon.text = salon.text.replacen("format = 1\n", "format = 1\ntheme = \"mine\"\n", 1);
    texts.themes = vec![SourceText::new(format!("themes/mine/{file}"), text)];
    texts
}

fn snapshot(name: &str, text: &str) {
    let mut settings = insta::Settings::clone_current();
    settings.set_omit_expression(true);
    settings.set_prepend_module_to_snapshot(false);
    settings.set_snapshot_path("../snapshots");
    settings.bind(|| insta::assert_snapshot!(format!("hostile {name}"), text));
}

#[test]
fn ten_thousand_zones_are_told_in_one_message() {
    let zones = format!("zone = [{}]\n", "{ to_mm = 1 }, ".repeat(10_000));
    let text =
        format!("format = 1\nclient = \"fern-07\"\ndate = 2026-11-20\n[[placement]]\nkind = \"full head\"\n{zones}");
    let mut texts = small();
    texts.records[0] = SourceText::new("records/2026/fern-07.toml", text);
    snapshot("ten thousand zones", &told(&texts));
}

#[test]
fn a_note_that_would_grow_without_end_is_told() {
    let bomb = format!(
        "date = 2026-01-10\nnote = \"{}\\n\\n[a]: https://x.example/{}\"\n",
        "[a]".repeat(1_600),
        "b".repeat(4_000)
    );
    let mut texts = small();
    let kept: Vec<String> =
        texts.records[0].text.lines().filter(|line| !line.starts_with("note")).map(str::to_owned).collect();
    let date = kept.iter().find(|line| line.starts_with("date")).expect("a date").clone();
    texts.records[0].text = kept.join("\n").replacen(&date, &bomb.replace("date = 2026-01-10", &date), 1) + "\n";
    snapshot("a note that grows", &told(&texts));
    texts.records[0].text = texts.records[0].text.replacen(&"[a]".repeat(1_600), &">".repeat(400), 1);
    snapshot("a note quoted without end", &told(&texts));
}

#[test]
fn a_theme_that_includes_a_file_of_the_machine_finds_none() {
    for (name, path) in [("climbing out", "../../../../etc/passwd"), ("from the root", "/etc/passwd")] {
        let text = format!("<!DOCTYPE html>{{% include \"{path}\" %}}");
        snapshot(&format!("include {name}"), &told(&theme_with("missing.html", &text)));
    }
}

#[test]
fn a_theme_that_takes_escaping_off_is_told_with_its_file_and_place() {
    let paper = afterhue::site::theme::shipped("paper").expect("shipped");
    let client = &paper.iter().find(|text| text.name.ends_with("/client.html")).expect("a page").text;
    let unsafe_name = client.replace("{{ first.salon }}", "{{ first.salon | safe }}");
    snapshot("theme without escaping", &told(&theme_with("client.html", &unsafe_name)));
    let unquoted = client.replace("<p class=\"for\">", "<p title={{ first.client }}>");
    snapshot("theme without quotation marks", &told(&theme_with("client.html", &unquoted)));
}

#[test]
fn links_that_leave_the_folder_are_told_and_not_followed() {
    #[cfg(unix)]
    {
        use std::os::unix::fs::symlink;
        let salon = SalonCopy::new();
        let out = |name: &str| salon.path(name);
        std::fs::remove_dir_all(out("clients")).expect("removed");
        std::fs::remove_dir_all(out("records")).expect("removed");
        std::fs::create_dir_all(out("records")).expect("a folder");
        symlink("/etc", out("clients")).expect("a link");
        symlink("/etc/hostname", out("records/2026-wren-04.toml")).expect("a link");
        symlink("/usr", out("records/2025")).expect("a link");
        std::fs::create_dir_all(out("themes")).expect("a folder");
        symlink("/usr/share", out("themes/mine")).expect("a link");
        let texts = read_folder(&salon.path("")).expect("the folder is there");
        snapshot("links out of the folder", &told(&texts));
    }
}

#[test]
fn a_file_name_of_hidden_signs_is_told_harmlessly() {
    let mut texts = small();
    texts
        .records
        .push(SourceText::new("records/\u{1b}[2Jred\u{202e}lmot.toml", "format = 1\nclient = \"\u{1b}[31mx\"\n"));
    let text = told(&texts);
    let hidden = text.chars().find(|c| c.is_control() && *c != '\n' || *c == '\u{202e}');
    assert_eq!(hidden, None, "{text:?}");
}

/// What is said about another calendar.
fn calendar(events: &str) -> String {
    let text =
        format!("BEGIN:VCALENDAR\r\nVERSION:2.0\r\nPRODID:test\r\n{}END:VCALENDAR\r\n", events.replace('\n', "\r\n"));
    let source = SourceText::new("busy.ics", text);
    let texts = demo();
    let read = pipeline::read(&texts);
    let (salon, diary) = (&read.house.as_ref().expect("a salon").0, read.diary.as_ref().expect("a diary"));
    let span = (TODAY.parse().expect("a day"), 4);
    told_about(&pipeline::busy_times(&source, salon, diary, &Secret::from_bytes([7; 32]), span).report, &[source])
}

/// An event with lines of its own.
fn event(lines: &str) -> String {
    format!("BEGIN:VEVENT\nUID:a\nSUMMARY:Yoga\nDTSTAMP:20261101T000000Z\n{lines}END:VEVENT\n")
}

#[test]
fn calendars_that_repeat_without_end_are_told() {
    let every_second = event("DTSTART:19700101T000000Z\nDURATION:PT1S\nRRULE:FREQ=SECONDLY\n");
    snapshot("calendar of every second", &calendar(&every_second));
    snapshot(
        "calendar of many minutes",
        &calendar(&event("DTSTART:20261101T000000Z\nRRULE:FREQ=MINUTELY\n").repeat(40)),
    );
    let never = event("DTSTART:20261101T000000Z\nRRULE:FREQ=DAILY;BYMONTH=2;BYMONTHDAY=30\n");
    snapshot("calendar of a day that never comes", &calendar(&never));
    snapshot("calendar of many such days", &calendar(&never.repeat(50)));
    let long = event(&format!("DTSTART:20261101T000000Z\nDURATION:P{0}WP{0}DT{0}H\n", 9_000_000_000_000_u64));
    snapshot("calendar of an endless event", &calendar(&long));
    let far = event("DTSTART:+2621431231T235959\nDTEND:+2621431231T235959\n");
    snapshot("calendar of a far year", &calendar(&far));
    let deep = format!("{}{}", "BEGIN:VEVENT\n".repeat(50_000), "END:VEVENT\n".repeat(50_000));
    snapshot("calendar of events in events", &calendar(&deep));
}

#[test]
fn another_calendar_is_read_from_an_ordinary_file_only() {
    let told = |path: &str| told_about(&read_calendar(std::path::Path::new(path)).report, &[]);
    #[cfg(unix)]
    snapshot("calendar that is a device", &told("/dev/null"));
    assert!(told("no-such-calendar.ics").contains("could not be read"));
}

#[test]
fn appointments_at_the_end_of_time_are_told() {
    let mut texts = small();
    let text = "format = 1\nlast_number = 1\n\n[[appointment]]\nnumber = 1\nclient = \"../fern-07\"\nfor = \"visit\"\nservice = \"refresh\"\nstate = \"booked\"\ndate = 9999-12-31\ntime = 10:00:00\nstylist = \"-rf\"\nminutes = [15, inf, nan, 45, 15]\nlightener = false\nsequence = 0\nchanged = 2026-11-20\n";
    texts.bookings = Some(SourceText::new("private/bookings.toml", text));
    snapshot("bookings at the end of time", &told(&texts));
}

#[test]
fn a_visit_with_numbers_that_are_none_leaves_no_page() {
    let texts = visit_with("to_mm = ", "to_mm = nan #");
    assert!(pipeline::read(&texts).histories.is_empty());
    assert!(told(&texts).contains("fault"));
}
