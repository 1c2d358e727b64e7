//! Runs of `book` on the demo salon: what it prints, writes and refuses.

use std::collections::BTreeSet;
use std::fs;

use afterhue::diagnostic::SourceText;
use afterhue::page::gsm::GSM_LENGTH;
use afterhue::schedule::diary::{Diary, Purpose, State, read_bookings};

use crate::salon_copy::{SalonCopy, TODAY};

/// Runs `book` and gives its exit code, stdout and stderr.
fn book(salon: &SalonCopy, more: &[&str]) -> (i32, String, String) {
    let arguments = [&["book", "--today", TODAY][..], more].concat();
    let output = salon.afterhue(&arguments).output().expect("it runs");
    let text = |bytes: Vec<u8>| String::from_utf8(bytes).expect("text");
    (output.status.code().expect("a code"), text(output.stdout), text(output.stderr))
}

fn diary(salon: &SalonCopy) -> Diary {
    let text = salon.read("private/bookings.toml");
    read_bookings(&SourceText::new("private/bookings.toml", text)).value.expect("bookings without fault")
}

#[test]
fn the_due_list_is_the_same_as_a_table_csv_and_json_and_overdue_comes_first() {
    let salon = SalonCopy::new();
    let (code, json, said) = book(&salon, &["--json"]);
    assert_eq!(code, 0, "{said}");
    let json: serde_json::Value = serde_json::from_str(&json).expect("JSON");
    let rows = json["due"].as_array().expect("rows");
    let (_, csv, _) = book(&salon, &["--csv"]);
    assert!(csv.contains("\r\n") && !csv.replace("\r\n", "").contains('\n'), "lines end as RFC 4180 says");
    let mut reader = csv::Reader::from_reader(csv.as_bytes());
    let records: Vec<csv::StringRecord> = reader.records().collect::<Result<_, _>>().expect("RFC 4180");
    assert_eq!(records.len(), rows.len());
    let (_, table, _) = book(&salon, &[]);
    let clients: BTreeSet<&str> = rows.iter().map(|row| row["client"].as_str().expect("a code")).collect();
    assert_eq!(clients.len(), salon.files("clients").len(), "everybody is on the list");
    for (row, record) in rows.iter().zip(&records) {
        assert_eq!(row["client"].as_str(), record.get(0));
        assert!(
            table.contains(record.get(0).expect("a code")) && table.contains(row["reason"].as_str().expect("words"))
        );
    }
    let visits: Vec<&serde_json::Value> =
        rows.iter().filter(|row| row["best"].is_string() && row["held"].is_null()).collect();
    let mut firsts: Vec<bool> = Vec::new();
    for (at, row) in visits.iter().enumerate() {
        if visits[..at].iter().all(|other| other["client"] != row["client"]) {
            firsts.push(row["overdue"].as_bool().expect("yes or no"));
        }
    }
    assert!(firsts[0] && !firsts.last().expect("rows"), "{firsts:?}");
    assert!(firsts.is_sorted_by(|one, other| one >= other), "overdue first: {firsts:?}");
    let held: Vec<&str> = rows.iter().filter_map(|row| row["held"].as_str()).collect();
    for words in ["age 16", "reaction", "must not be lightened"] {
        assert!(held.iter().any(|held| held.contains(words)), "{words}: {held:?}");
    }
    assert!(json["fit"]["gap"].as_f64().is_some_and(|gap| (0.0..=0.01).contains(&gap)), "{}", json["fit"]);
    assert!(json["does_not_fit"].as_array().is_some_and(|list| !list.is_empty()), "the demo has one who does not fit");
}

#[test]
fn a_second_run_moves_nothing_and_writes_the_same_bytes_in_another_zone() {
    let (one, other) = (SalonCopy::new(), SalonCopy::new());
    book(&one, &[]);
    let first = one.files("private");
    book(&one, &[]);
    assert!(one.files("private") == first, "a second run changed something");
    let mut run = other.afterhue(&["book", "--today", TODAY]);
    run.env("TZ", "Pacific/Kiritimati").env("LANG", "tr_TR.UTF-8").env("RAYON_NUM_THREADS", "1").assert().success();
    assert!(other.files("private") == first, "another zone and locale gave other bytes");
}

#[test]
fn yes_moving_and_calling_off_change_the_diary_and_a_conflict_is_refused_with_the_reason() {
    let salon = SalonCopy::new();
    book(&salon, &[]);
    let proposed = diary(&salon);
    let one =
        proposed.appointments.iter().find(|one| one.client.as_str() == "cedar-19" && one.purpose == Purpose::Visit);
    let one = one.expect("a proposal").clone();
    let (date, time) = (one.date.to_string(), one.time.format("%H:%M").to_string());
    let (code, out, said) = book(&salon, &["--accept", "cedar-19", &date, &time]);
    assert_eq!((code, out.as_str()), (0, ""), "{said}");
    assert!(said.contains("cedar-19 is booked"), "{said}");
    let booked = diary(&salon);
    let now = booked.appointments.iter().find(|other| other.number == one.number).expect("the same number");
    assert_eq!((now.state, now.sequence), (State::Booked, one.sequence + 1));

    let (code, _, said) = book(&salon, &["--move", "cedar-19", "2026-12-16", "14:00"]);
    assert_eq!(code, 0, "{said}");

    let before = salon.read("private/bookings.toml");
    let refused = |arguments: &[&str], why: &str| {
        let (code, _, said) = book(&salon, arguments);
        assert_eq!(code, 2, "{said}");
        assert!(said.contains(why) && said.contains("help:"), "{said}");
        assert_eq!(salon.read("private/bookings.toml"), before, "what is refused changes nothing");
    };
    refused(&["--accept", "cedar-19", &date, &time], "booked already");
    refused(&["--accept", "hazel-10", "2026-12-16", "14:00", "--with", "petra"], "is with cedar-19");
    refused(&["--accept", "hazel-10", "2026-12-20", "10:00"], "closed on Sunday 20 December 2026");
    refused(&["--accept", "hazel-10", "2026-12-26", "10:00"], "closed on Saturday 26 December 2026");
    refused(&["--accept", "hazel-10", "2026-12-19", "15:30"], "outside the hours");
    refused(&["--accept", "hazel-10", "2026-11-26", "09:00"], "alert test is due");
    refused(&["--accept", "thistle-22", "2026-12-19", "10:00"], "reaction");
    refused(&["--accept", "clover-21", "2026-12-19", "10:00"], "age 16");
    refused(&["--accept", "nobody-99", "2026-12-19", "10:00"], "no client");
    refused(&["--accept", "hazel-10", "2026-11-20", "10:00"], "past");
    refused(&["--cancel", "hazel-10", "2026-12-02"], "no appointment");

    // Two days ahead is the least an alert test asks for: it is taken, and says what that means.
    let (code, _, said) = book(&salon, &["--accept", "hazel-10", "2026-11-27", "09:00"]);
    assert_eq!(code, 0, "{said}");
    assert!(said.contains("alert test has to be made today"), "{said}");
    let (code, _, said) = book(&salon, &["--move", "hazel-10", "2026-12-18", "16:00"]);
    assert_eq!(code, 0, "{said}");
    assert!(said.contains("Alert test by Wednesday 16 December 2026 at the latest."), "{said}");

    let (code, _, said) = book(&salon, &["--cancel", "cedar-19", "2026-12-16"]);
    assert_eq!(code, 0, "{said}");
    assert!(said.contains("--fill 2026-12-16 14:00"), "{said}");
    let after = diary(&salon);
    let now = after.appointments.iter().find(|other| other.number == one.number).expect("the same number");
    assert_eq!((now.state, now.sequence), (State::Cancelled, one.sequence + 3));
}

#[test]
fn a_time_that_came_free_is_offered_only_to_the_tested_and_consenting() {
    let salon = SalonCopy::new();
    salon.write("private/bookings.toml", "format = 1\nlast_number = 0\n");
    let (code, out, said) = book(&salon, &["--fill", "2026-11-26", "14:00", "130"]);
    assert_eq!(code, 0, "{said}");
    let (ask, not) = out.split_once("Not to ask:").expect("both lists");
    assert!(ask.contains("fern-07") && !ask.contains("plum-03"), "{out}");
    assert!(not.contains("plum-03  no clear alert test old enough by then; no consent to offers on record"), "{out}");
    assert!(!out.contains("cedar-19") && !out.contains("thistle-22"), "not in window, or held: {out}");
}

#[test]
fn a_time_that_another_calendar_takes_is_kept_free() {
    let salon = SalonCopy::new();
    let (code, _, said) = book(&salon, &["--busy", "kofi=busy-kofi.ics"]);
    assert_eq!(code, 0, "{said}");
    let day = |text: &str| text.parse::<chrono::NaiveDate>().expect("a day");
    let after = |text: &str| text.parse::<chrono::NaiveTime>().expect("a time");
    for one in diary(&salon).appointments.iter().filter(|one| one.stylist == "kofi" && one.state == State::Proposed) {
        let end = one.time + chrono::TimeDelta::minutes(i64::from(one.spans.occupied()));
        // Weekly on Tuesday from 16:00, on 8 December moved to Wednesday from 14:00.
        let free = [("2026-12-09", "14:00:00"), ("2026-12-22", "16:00:00")];
        assert!(free.iter().all(|(date, from)| one.date != day(date) || end <= after(from)), "{one:?}");
    }
    let (code, _, said) = book(
        &salon,
        &["--accept", "otter-23", "2026-12-22", "16:00", "--with", "kofi", "--busy", "kofi=busy-kofi.ics"],
    );
    assert!(code == 2 && said.contains("another calendar"), "{said}");
    let (code, _, said) = book(&salon, &["--busy", "nobody=busy-kofi.ics"]);
    assert!(code == 2 && said.contains("no stylist"), "{said}");
    let (code, _, said) = book(&salon, &["--busy", "salon.toml"]);
    assert!(code == 1 && said.contains("no calendar"), "{said}");
}

#[test]
fn bookings_at_fault_are_told_and_kept() {
    let salon = SalonCopy::new();
    let broken = "format = 1\nlast_number = many\n";
    salon.write("private/bookings.toml", broken);
    let (code, out, said) = book(&salon, &[]);
    assert_eq!((code, out.as_str()), (1, ""), "{said}");
    assert!(said.contains("private/bookings.toml"), "{said}");
    assert_eq!(salon.read("private/bookings.toml"), broken);
}

#[test]
fn every_message_is_short_neutral_and_promotion_goes_to_the_consenting_only() {
    let salon = SalonCopy::new();
    book(&salon, &[]);
    let text = salon.read("private/messages.csv");
    let mut reader = csv::Reader::from_reader(text.as_bytes());
    let rows: Vec<csv::StringRecord> = reader.records().collect::<Result<_, _>>().expect("RFC 4180");
    let mut kinds = BTreeSet::new();
    for row in &rows {
        let (client, kind, said) = (&row[1], &row[4], &row[5]);
        // Every character of these texts takes one place in the GSM alphabet (3GPP TS 23.038).
        assert!(said.chars().count() <= GSM_LENGTH && said.is_ascii(), "{said}");
        for word in ["alert", "allergy", "patch", "test", "reaction", "pregnan"] {
            assert!(!said.to_lowercase().contains(word), "{word}: {said}");
        }
        if kind == "offer" {
            let file = salon.read(&format!("clients/{client}.toml"));
            assert!(file.contains("marketing = "), "{client} never said yes to offers");
        }
        kinds.insert(kind.to_owned());
    }
    let all = ["check-in", "offer", "reminder"].map(str::to_owned);
    assert!(all.iter().all(|kind| kinds.contains(kind)), "{kinds:?}");
}

#[test]
fn the_look_back_counts_returns_and_a_missed_visit() {
    let salon = SalonCopy::new();
    let (code, table, said) = book(&salon, &["--review"]);
    assert_eq!(code, 0, "{said}");
    assert!(table.contains("missed: finch-27 on 14 November 2026 with ines"), "{table}");
    let (_, csv, _) = book(&salon, &["--review", "--csv"]);
    let mut reader = csv::Reader::from_reader(csv.as_bytes());
    let rows: Vec<csv::StringRecord> = reader.records().collect::<Result<_, _>>().expect("RFC 4180");
    assert!(rows.len() > 25, "{} returns", rows.len());
    for row in rows.iter().filter(|row| &row[9] != "missed") {
        let day = |at: usize| row[at].parse::<chrono::NaiveDate>().expect("a day");
        assert_eq!((day(7) - day(5)).num_days().to_string(), row[8], "{row:?}");
        assert_eq!(&row[9] == "yes", day(4) <= day(7) && day(7) <= day(6), "{row:?}");
    }
    let picture = fs::read_to_string(salon.path("private/review.svg")).expect("a picture");
    assert_eq!(picture.matches("<circle").count() + 1, rows.len(), "a point a return; the missed one has none");
}

#[test]
fn the_look_back_as_json_counts_what_its_csv_counts() {
    let salon = SalonCopy::new();
    let (code, json, said) = book(&salon, &["--review", "--json"]);
    assert_eq!(code, 0, "{said}");
    let json: serde_json::Value = serde_json::from_str(&json).expect("JSON");
    let (_, csv, _) = book(&salon, &["--review", "--csv"]);
    let mut reader = csv::Reader::from_reader(csv.as_bytes());
    let rows: Vec<csv::StringRecord> = reader.records().collect::<Result<_, _>>().expect("RFC 4180");
    let list = |name: &str| json[name].as_array().expect("a list").clone();
    let (returns, missed, groups) = (list("returns"), list("missed"), list("by_stylist_and_service"));
    assert_eq!(returns.len() + missed.len(), rows.len());
    for (row, one) in rows.iter().zip(&returns) {
        assert_eq!((one["client"].as_str(), one["came"].as_str()), (row.get(0), row.get(7)));
        assert_eq!(one["days_off"].to_string(), row[8]);
    }
    let sum = |name: &str| groups.iter().map(|group| group[name].as_u64().expect("a count")).sum::<u64>() as usize;
    assert_eq!((sum("returns"), sum("missed")), (returns.len(), missed.len()));
    assert_eq!(sum("in_window"), returns.iter().filter(|one| one["in_window"] == true).count());
}

#[test]
fn a_calendar_of_somebody_else_stands_on_the_board_in_the_hours_it_takes() {
    let salon = SalonCopy::new();
    book(&salon, &["--busy", "kofi=busy-kofi.ics"]);
    let board = salon.read("private/board.html");
    let week = |monday: &str| {
        let rest = board.split(&format!("Week of {monday}</h2>")).nth(1).expect("a week");
        rest.split("</section>").next().expect("its table").to_owned()
    };
    // Weekly on Tuesday from 16:00 to 18:00; on 8 December moved to Wednesday from 14:00; off on 15 December; on 1 December Kofi is away.
    for (monday, told) in
        [("7 December", Some("14:00 to 18:00")), ("14 December", None), ("21 December", Some("16:00 to 18:00"))]
    {
        let week = week(monday);
        assert_eq!(week.matches("another calendar").count(), usize::from(told.is_some()), "{monday}");
        assert!(told.is_none_or(|told| week.contains(&format!("{told}: another calendar"))), "{monday}");
    }
    assert_eq!(week("30 November").matches("another calendar").count(), 0);
    book(&salon, &[]);
    assert!(!salon.read("private/board.html").contains("another calendar"));
}

#[test]
fn an_answer_to_a_check_in_is_kept_as_an_incident_and_never_leaves_the_salon() {
    let salon = SalonCopy::new();
    salon.build();
    let before = salon.files("public");
    let words = "scalp stung for a day; \"all red\", she says";
    let (code, _, said) = book(&salon, &["--answer", "wren-04", "2026-11-20", words]);
    assert_eq!(code, 0, "{said}");
    let file = SourceText::new("clients/wren-04.toml", salon.read("clients/wren-04.toml"));
    let client = afterhue::record::read_client(&file).value.expect("a client without fault");
    let last = client.health.incidents.last().expect("an incident");
    assert_eq!((last.note.as_str(), last.date.map(|date| date.to_string())), (words, Some("2026-11-20".to_owned())));
    book(&salon, &[]);
    salon.build();
    assert!(salon.files("public") == before, "an incident changed what is public");
    for name in ["private/book.ics", "private/messages.csv"] {
        assert!(!salon.read(name).contains("stung"), "{name}");
    }
    let sheets = salon.read("private/sheets.html");
    let sheet = sheets.split("<article id=\"wren-04\">").nth(1).and_then(|rest| rest.split("</article>").next());
    assert!(sheet.expect("wren-04 is booked").contains("An incident is on record: read it first."));
    let kept = salon.read("clients/wren-04.toml");
    for (arguments, why) in [
        (["wren-04", "2026-12-20", "x"], "between a visit"),
        (["wren-04", "2020-01-01", "x"], "between a visit"),
        (["wren-04", "2026-11-20", "  "], "what the client said"),
        (["nobody-99", "2026-11-20", "x"], "no client"),
    ] {
        let (code, _, said) = book(&salon, &[&["--answer"][..], &arguments].concat());
        assert!(code == 2 && said.contains(why), "{said}");
    }
    assert_eq!(salon.read("clients/wren-04.toml"), kept);
}

#[test]
fn an_answer_is_kept_when_the_bookings_cannot_be_read_and_the_end_says_so() {
    for (at, bytes) in [&b"format = 1\nlast_number = many\n"[..], b"\xff\xfe", b""].into_iter().enumerate() {
        let salon = SalonCopy::new();
        let bookings = salon.path("private/bookings.toml");
        fs::remove_file(&bookings).expect("the demo has bookings");
        match bytes {
            b"" => fs::create_dir(&bookings).expect("a folder in the file's place"),
            bytes => fs::write(&bookings, bytes).expect("written"),
        }
        let (code, _, said) = book(&salon, &["--answer", "wren-04", "2026-11-20", "a warm scalp"]);
        assert_eq!(code, 1, "{at}: {said}");
        assert!(said.contains("private/bookings.toml") && said.contains("need not be given again"), "{at}: {said}");
        assert!(salon.read("clients/wren-04.toml").contains("a warm scalp"), "{at}: {said}");
        // Neither is anything planned as if nobody were booked.
        let (code, offered, said) = book(&salon, &["--fill", "2026-12-01", "14:00", "60"]);
        assert_eq!((code, offered.as_str()), (1, ""), "{at}: {said}");
    }
}

#[test]
fn a_page_keeps_its_booking_when_the_bookings_cannot_be_read() {
    let salon = SalonCopy::new();
    let mut booked = diary(&salon).appointments.into_iter();
    assert!(booked.any(|one| one.state == State::Booked && one.date.to_string().as_str() > TODAY), "nothing to forget");
    salon.build();
    let before = salon.files("public");
    let mut text = salon.read("private/bookings.toml").into_bytes();
    text.push(0xff);
    fs::write(salon.path("private/bookings.toml"), text).expect("written");
    let output = salon.afterhue(&["pages", "--today", TODAY]).output().expect("it runs");
    assert_eq!(output.status.code(), Some(1), "{}", String::from_utf8_lossy(&output.stderr));
    assert!(salon.files("public") == before, "a booking was forgotten");
}

#[test]
fn the_clients_of_somebody_who_leaves_are_proposed_with_another_and_named() {
    let salon = SalonCopy::new();
    let house = salon.read("salon.toml");
    salon.write("salon.toml", &house.replacen("code = \"joss\"\n", "code = \"joss\"\nleaves = 2026-11-28\n", 1));
    salon.write("private/bookings.toml", "format = 1\nlast_number = 0\n");
    let (code, json, said) = book(&salon, &["--json"]);
    assert_eq!(code, 0, "{said}");
    let json: serde_json::Value = serde_json::from_str(&json).expect("JSON");
    let moved = json["reassigned"].as_array().expect("a list");
    assert!(!moved.is_empty(), "{said}");
    let board = salon.read("private/board.html");
    for one in moved {
        let (client, to) = (one["client"].as_str().expect("a code"), one["to"].as_str().expect("a code"));
        assert!(one["from"] == "joss" && to != "joss", "{one}");
        assert!(said.contains(&format!("{client} came to joss, who leaves, and is proposed with {to}.")), "{said}");
        assert!(board.contains(&format!("{client} came to joss, who leaves, and is proposed with {to}.")), "{client}");
    }
    let last: chrono::NaiveDate = "2026-11-28".parse().expect("a day");
    assert!(diary(&salon).appointments.iter().all(|one| one.stylist != "joss" || one.date <= last));
}

#[test]
fn two_desks_that_say_yes_to_one_time_at_once_do_not_both_get_it() {
    let salon = SalonCopy::new();
    book(&salon, &[]);
    let run = |client: &'static str| {
        let salon = &salon;
        move || book(salon, &["--accept", client, "2026-12-16", "14:00", "--with", "petra"])
    };
    let (one, other) = std::thread::scope(|scope| {
        let (one, other) = (scope.spawn(run("cedar-19")), scope.spawn(run("hazel-10")));
        (one.join().expect("it ran"), other.join().expect("it ran"))
    });
    let mut codes = [one.0, other.0];
    codes.sort_unstable();
    assert_eq!(codes, [0, 2], "{} {}", one.2, other.2);
    assert!([one.2, other.2].iter().any(|said| said.contains("is with")));
    let at = |one: &&afterhue::schedule::diary::Appointment| {
        one.state == State::Booked && one.date.to_string() == "2026-12-16" && one.stylist == "petra"
    };
    assert_eq!(diary(&salon).appointments.iter().filter(at).count(), 1);
}
