//! One megabyte of anything in any file: at most 64 MB of memory, and an answer.
//!
//! The real program, under a limit the system keeps (`ulimit -d`: heap, stacks and what else a process writes to). It counts
//! what was asked for, which is never less than what was used. Beside it the high-water mark of resident memory is read while it runs.

#![cfg(target_os = "linux")]

use std::process::{Command, Stdio};

use crate::salon_copy::{SalonCopy, TODAY};

/// The bound of the whole process, kB.
const MOST_KB: u64 = 64 * 1024;

/// What fills a file up to one megabyte.
fn filled(begin: &str, piece: impl Fn(usize) -> String, end: &str) -> String {
    let mut text = begin.to_owned();
    let mut number = 0;
    while text.len() + end.len() + 200 < 1 << 20 {
        text.push_str(&piece(number));
        number += 1;
    }
    text + end
}

/// What a file of a salon may be filled with: the first lines of its kind, then this.
fn fillings(begin: &str) -> Vec<(&'static str, String)> {
    let with = |piece: &dyn Fn(usize) -> String| filled(begin, piece, "");
    vec![
        ("fields nobody knows", with(&|number| format!("f{number}=1\n"))),
        ("lines that are no fields", with(&|_| "a b\n".to_owned())),
        ("brackets", with(&|_| "[".to_owned())),
        ("braces in braces", with(&|_| "a={".to_owned())),
        ("names in names", with(&|_| "a.".to_owned())),
        ("sections in sections", with(&|_| "[a.b.c.d.e.f.g.h]\n".to_owned())),
        ("sections nobody knows", with(&|number| format!("[s{number}]\n"))),
        ("zones", with(&|_| "[[placement]]\n[[placement.zone]]\nto_mm=1\n".to_owned())),
        ("placements", with(&|_| "[[placement]]\n".to_owned())),
        ("one text", filled(&format!("{begin}note = \"\"\""), |_| "<b>&[a](b)".to_owned(), "\"\"\"\n")),
        ("one list", filled(&format!("{begin}advice = ["), |_| "\"a\",".to_owned(), "]\n")),
        ("marks without end", with(&|_| "\"".to_owned())),
        ("remarks", with(&|_| "#\n".to_owned())),
        ("nothing", with(&|_| "\0".to_owned())),
        ("accents", with(&|_| "é".to_owned())),
    ]
}

/// Runs the program on a salon under the limit, and gives its exit code, what it said, and the most memory it was seen to hold, kB.
fn under_the_limit(salon: &SalonCopy, arguments: &str) -> (Option<i32>, String, u64) {
    let program = assert_cmd::cargo::cargo_bin("afterhue");
    let line = format!("ulimit -d {MOST_KB} && exec {} {arguments}", program.display());
    let mut child = Command::new("sh")
        .args(["-c", &line])
        .current_dir(salon.path(""))
        .stdin(Stdio::null())
        .stdout(Stdio::null())
        .stderr(std::fs::File::create(salon.path("said")).expect("a file"))
        .spawn()
        .expect("a shell");
    let status = format!("/proc/{}/status", child.id());
    let mut peak = 0;
    let code = loop {
        let text = std::fs::read_to_string(&status).unwrap_or_default();
        let line = text.lines().find_map(|line| line.strip_prefix("VmHWM:"));
        peak = peak.max(line.and_then(|line| line.split_whitespace().next()?.parse().ok()).unwrap_or(0));
        if let Some(done) = child.try_wait().expect("a child") {
            break done.code();
        }
        std::thread::yield_now();
    };
    (code, salon.read("said"), peak)
}

fn holds(salon: &SalonCopy, name: &str, what: &str, arguments: &str) {
    let (code, said, peak) = under_the_limit(salon, arguments);
    let end: String = said.lines().rev().take(3).collect::<Vec<_>>().join(" | ");
    assert!(matches!(code, Some(0 | 1)), "{name} of {what}: {code:?}: {end}");
    assert!(peak > 0 && peak <= MOST_KB, "{name} of {what}: {peak} kB");
    assert!(said.len() < 256 * 1024, "{name} of {what}: {} bytes said", said.len());
}

/// The salon with two clients, so that what is measured is the file.
fn small() -> SalonCopy {
    let salon = SalonCopy::new();
    for part in ["clients", "records"] {
        for name in salon.files(part).keys().filter(|name| !name.contains("fern-07") && !name.contains("wren-04")) {
            std::fs::remove_file(salon.path(name)).expect("removed");
        }
    }
    salon
}

#[test]
fn a_megabyte_of_anything_in_any_file_of_a_salon_takes_at_most_64_mb() {
    let visit = "format = 1\nclient = \"fern-07\"\ndate = 2026-11-20\n";
    for (name, begin) in [
        ("records/2026/big.toml", visit),
        ("clients/fern-07.toml", "format = 1\n"),
        ("salon.toml", "format = 1\nname = \"x\"\n"),
        ("private/bookings.toml", "format = 1\nlast_number = 1\n"),
        ("content/big.md", "+++\nid = \"big\"\n"),
    ] {
        let salon = small();
        for (what, text) in fillings(begin) {
            salon.write(name, &text);
            holds(&salon, name, what, "check");
        }
    }
}

#[test]
fn a_megabyte_of_appointments_or_of_another_calendar_takes_at_most_64_mb() {
    let salon = small();
    let one = |number: usize| {
        format!(
            "[[appointment]]\nnumber = {}\nclient = \"fern-07\"\nfor = \"visit\"\nservice = \"refresh\"\nstate = \"booked\"\ndate = 2026-12-10\ntime = 10:00:00\nstylist = \"ines\"\nminutes = [15, 60, 40, 45, 15]\nlightener = false\nsequence = 0\nchanged = 2026-11-20\n",
            number + 1
        )
    };
    salon.write("private/bookings.toml", &filled("format = 1\nlast_number = 1\n", one, ""));
    holds(&salon, "private/bookings.toml", "appointments", "check");
    let salon = small();
    let wrapped = |piece: &dyn Fn(usize) -> String| {
        filled("BEGIN:VCALENDAR\r\nVERSION:2.0\r\nPRODID:x\r\n", piece, "END:VCALENDAR\r\n")
    };
    let event = |lines: &str| format!("BEGIN:VEVENT\r\nUID:a\r\nDTSTART:20261201T100000Z\r\n{lines}END:VEVENT\r\n");
    for (what, text) in [
        ("single events", wrapped(&|_| event(""))),
        ("weekly events", wrapped(&|_| event("DURATION:PT1H\r\nRRULE:FREQ=WEEKLY\r\n"))),
        ("events every minute", wrapped(&|_| event("RRULE:FREQ=MINUTELY\r\n"))),
        ("events that never come", wrapped(&|_| event("RRULE:FREQ=DAILY;BYMONTH=2;BYMONTHDAY=30\r\n"))),
        ("events in events", wrapped(&|_| "BEGIN:VEVENT\r\n".to_owned())),
        ("properties nobody knows", wrapped(&|number| format!("X-{number}:1\r\n"))),
        ("one folded line", filled("BEGIN:VCALENDAR\r\nX:", |_| "a\r\n ".to_owned(), "\r\nEND:VCALENDAR\r\n")),
        (
            "days left out",
            filled(
                "BEGIN:VCALENDAR\r\nBEGIN:VEVENT\r\nUID:a\r\nDTSTART:20261101T100000Z\r\nRRULE:FREQ=MINUTELY\r\nEXDATE:",
                |number| {
                    format!("2026{:02}{:02}T{:02}{:02}00Z,", 1 + number % 12, 1 + number % 28, number % 24, number % 60)
                },
                "20261201T100000Z\r\nEND:VEVENT\r\nEND:VCALENDAR\r\n",
            ),
        ),
    ] {
        salon.write("busy.ics", &text);
        holds(&salon, "busy.ics", what, &format!("book --today {TODAY} --busy kofi=busy.ics --limit 1"));
    }
}
