//! `forget`: after it the whole folder is searched, every file's name and bytes, and nothing of the person is there.

use std::fs;

use crate::commands::{stderr, stdout};
use crate::salon_copy::{SalonCopy, TODAY};

const WHO: &str = "wren-04";

/// By what the person is known: code, name, phone, e-mail, words of a note, of a health fact, of an answer.
const TRACES: [&str; 8] = [
    "wren-04",
    "Maren",
    "900456",
    "wren04@example.org",
    "grown through",
    "a warm scalp",
    "begun-at-the-chair",
    "put-aside",
];

/// The files whose name or bytes hold one of these, whatever the case.
fn holding(salon: &SalonCopy, traces: &[String]) -> Vec<String> {
    let traces: Vec<String> = traces.iter().map(|trace| trace.to_lowercase()).collect();
    let holds = |text: &str| traces.iter().any(|trace| text.to_lowercase().contains(trace.as_str()));
    let files = salon.files("").into_iter();
    files.filter(|(name, bytes)| holds(name) || holds(&String::from_utf8_lossy(bytes))).map(|(name, _)| name).collect()
}

/// Three clients with everything there can be about the first, what a stopped run left included.
fn full() -> (SalonCopy, Vec<String>) {
    let salon = SalonCopy::of(&[WHO, "plum-03", "robin-24"]);
    let run = |arguments: &[&str]| {
        let output = salon.afterhue(arguments).output().expect("it runs");
        assert_eq!(output.status.code(), Some(0), "{arguments:?}: {}", stderr(&output));
        stdout(&output)
    };
    salon.build();
    let first = run(&["send", WHO, "--card", "--today", TODAY]);
    run(&["relink", WHO, "--today", TODAY]);
    let second = run(&["send", WHO, "--card", "--today", TODAY]);
    run(&["book", "--today", TODAY, "--answer", WHO, TODAY, "a warm scalp"]);
    run(&["learn"]);
    run(&["pages", "--today", TODAY]);
    run(&["book", "--today", TODAY]);
    run(&["book", "--review", "--today", TODAY]);
    let record = salon.files("records").into_keys().find(|name| name.contains(WHO)).expect("a record");
    let visit = salon.read(&record);
    salon.write("private/set-aside/2026-11-20-x-0a1b2c.toml", &format!("{visit}\n# put-aside\n"));
    salon.write(
        "private/drafts/0123456789abcdef.json",
        &format!(
            "{{\"id\":\"0123456789abcdef\",\"client\":\"{WHO}\",\"file\":\"records/2026/x.toml\",\"before\":null,\
             \"change\":1,\"begun\":\"{TODAY}\",\"typed\":{{\"note\":\"begun-at-the-chair\"}}}}"
        ),
    );
    for left in
        ["private/.afterhue-draft-aB3dE6", "clients/.afterhue-draft-aB3dE7", "records/2026/.afterhue-draft-aB3dE8"]
    {
        salon.write(left, &visit);
    }
    // A page's address without its ending: the two calendars beside it begin with it too.
    let token = |said: &str| {
        let link = said.lines().find(|line| line.ends_with(".html")).expect("a link");
        link.rsplit('/').next().expect("a name").trim_end_matches(".html").to_owned()
    };
    let tokens = [token(&first), token(&second)];
    assert_ne!(tokens[0], tokens[1]);
    (salon, TRACES.iter().map(|trace| (*trace).to_owned()).chain(tokens).collect())
}

#[test]
fn nothing_of_a_forgotten_client_is_left_in_any_file_of_the_whole_folder() {
    let (salon, traces) = full();
    for trace in &traces[..traces.len() - 2] {
        assert!(!holding(&salon, std::slice::from_ref(trace)).is_empty(), "{trace} is there to be removed");
    }
    let before = holding(&salon, &traces);
    for part in ["clients/", "records/", "public/c/", "private/cards/", "private/drafts/", "private/set-aside/"] {
        assert!(before.iter().any(|name| name.starts_with(part)), "{part} in {before:?}");
    }
    for name in ["bookings.toml", "cards.html", "board.html", "sheets.html", "written-files", ".afterhue-draft-aB3dE6"]
    {
        assert!(before.contains(&format!("private/{name}")), "{name} in {before:?}");
    }
    let learned = salon.read("private/salon-estimate.toml");
    let (robin, plum) = (salon.read("clients/robin-24.toml"), salon.read("clients/plum-03.toml"));
    let output = salon.afterhue(&["forget", WHO, "--yes", "--today", TODAY]).output().expect("it runs");
    let said = stderr(&output);
    assert_eq!(output.status.code(), Some(0), "{said}");
    assert_eq!(holding(&salon, &traces), Vec::<String>::new());
    assert_ne!(salon.read("private/salon-estimate.toml"), learned, "what was learned from this client alone goes too");
    assert_eq!((salon.read("clients/robin-24.toml"), salon.read("clients/plum-03.toml")), (robin, plum));
    // Both addresses are told, to purge them at a cache.
    let purge = stdout(&output);
    assert!(traces[traces.len() - 2..].iter().all(|token| purge.contains(token.as_str())), "{purge}");
    // And nothing brings anything back.
    for command in [&["pages", "--today", TODAY][..], &["book", "--today", TODAY], &["learn"]] {
        salon.afterhue(command).assert().success();
    }
    assert_eq!(holding(&salon, &traces), Vec::<String>::new());
}

#[cfg(unix)]
#[test]
fn the_list_of_what_was_read_says_nothing_of_a_forgotten_client() {
    let salon = SalonCopy::of(&[WHO, "plum-03"]);
    // A file is listed when its last change lies further back than the coarsest clock of a disk can tell.
    std::thread::sleep(std::time::Duration::from_millis(2100));
    salon.build();
    let list = "private/read-before".to_owned();
    assert!(holding(&salon, &[WHO.to_owned()]).contains(&list));
    salon.afterhue(&["forget", WHO, "--yes", "--today", TODAY]).assert().success();
    assert!(holding(&salon, &["plum-03".to_owned()]).contains(&list));
    assert_eq!(holding(&salon, &[WHO.to_owned()]), Vec::<String>::new());
}

#[test]
fn where_the_name_still_stands_in_somebody_else_s_file_is_told() {
    let (salon, _) = full();
    let plum = salon.read("clients/plum-03.toml");
    salon.write("clients/plum-03.toml", &(plum + "\n# came with Maren\n"));
    let output = salon.afterhue(&["forget", WHO, "--yes", "--today", TODAY]).output().expect("it runs");
    let said = stderr(&output);
    assert!(said.contains("still stands there") && said.trim_end().ends_with("clients/plum-03.toml"), "{said}");
}

#[test]
fn whatever_part_a_backup_brings_back_can_be_removed_again() {
    let (salon, traces) = full();
    let parts =
        ["private/bookings.toml", "private/drafts/0123456789abcdef.json", "private/set-aside/2026-11-20-x-0a1b2c.toml"];
    let kept: Vec<String> = parts.iter().map(|name| salon.read(name)).collect();
    salon.afterhue(&["forget", WHO, "--yes", "--today", TODAY]).assert().success();
    for (name, text) in parts.iter().zip(&kept) {
        salon.write(name, text);
        assert!(!holding(&salon, &traces).is_empty());
        if *name == parts[0] {
            let said = stderr(&salon.afterhue(&["check"]).output().expect("it runs"));
            assert!(said.contains("forgotten") && said.contains(name), "{said}");
        }
        salon.afterhue(&["forget", "--again", "--yes", "--today", TODAY]).assert().success();
        assert_eq!(holding(&salon, &traces), Vec::<String>::new(), "{name}");
    }
}

const RETENTION: &str =
    "\n[retention]\nincident_card_reason = \"a claim may be made for a year\"\nincident_card_days = 365\n";

/// The demo's own settings for keeping are taken away, so that each test says what it needs.
fn without_retention(salon: &SalonCopy) -> String {
    let settings = salon.read("salon.toml");
    settings.split("\n[retention]").next().expect("a text").to_owned()
}

#[test]
fn a_card_is_kept_only_for_a_reason_and_until_a_day_sealed_and_shown_before() {
    let (salon, traces) = full();
    let plain = without_retention(&salon);
    // Without a reason and days: nothing is kept.
    salon.write("salon.toml", &plain);
    let none = salon.again();
    let output = none.afterhue(&["forget", WHO, "--yes", "--today", TODAY]).output().expect("it runs");
    assert!(!stderr(&output).contains("This is kept") && !none.path("private/kept").exists());
    // Half of it keeps nothing, and is told.
    salon.write("salon.toml", &(plain.clone() + "\n[retention]\nincident_card_days = 365\n"));
    let said = stderr(&salon.afterhue(&["check"]).output().expect("it runs"));
    assert!(said.contains("incident_card_reason") && said.contains("keeps nothing by itself"), "{said}");

    salon.write("salon.toml", &(plain + RETENTION));
    let asked = salon.afterhue(&["forget", WHO, "--today", TODAY]).output().expect("it runs");
    let shown = stderr(&asked);
    assert_eq!(asked.status.code(), Some(2), "nobody is here to ask");
    for part in [
        "This is kept, sealed, until 25 November 2027",
        "a claim may be made",
        "applied 12 November 2026",
        "a warm scalp",
    ] {
        assert!(shown.contains(part), "{part} is shown before anything goes: {shown}");
    }
    salon.afterhue(&["forget", WHO, "--yes", "--today", TODAY]).assert().success();
    assert_eq!(holding(&salon, &traces), Vec::<String>::new(), "what is kept says nothing without the secret");
    let kept: Vec<String> = salon.files("private/kept").into_keys().collect();
    let [card] = kept.as_slice() else { panic!("one card: {kept:?}") };
    assert!(salon.read(card).contains("until = 2027-11-25") && !salon.read(card).contains("claim"));
    #[cfg(unix)]
    {
        use std::os::unix::fs::PermissionsExt;
        assert_eq!(fs::metadata(salon.path(card)).expect("there").permissions().mode() & 0o077, 0);
    }
    // Whoever asks for it gets it, and only it.
    salon.afterhue(&["export", WHO, "out"]).assert().success();
    assert_eq!(salon.files("out").into_keys().collect::<Vec<_>>(), ["out/README.txt", "out/kept-card.txt"]);
    assert!(salon.read("out/kept-card.txt").contains("a warm scalp"));
    fs::remove_dir_all(salon.path("out")).expect("removed");
    // The next run on that day removes it, and none before.
    salon.afterhue(&["pages", "--today", "2027-11-24"]).assert().success();
    assert!(salon.path(card).exists());
    let said = stderr(&salon.afterhue(&["pages", "--today", "2027-11-25"]).output().expect("it runs"));
    assert!(said.contains("1 card of forgotten clients removed"), "{said}");
    assert!(!salon.path(card).exists());
    salon.afterhue(&["export", WHO, "out"]).assert().code(2);
}

#[test]
fn a_test_on_record_longer_than_the_salon_keeps_one_is_told_and_only_then() {
    let salon = SalonCopy::of(&[WHO]);
    let plain = without_retention(&salon);
    let said = |settings: &str, today: &str| {
        salon.write("salon.toml", settings);
        stderr(&salon.afterhue(&["check", "--today", today]).output().expect("it runs"))
    };
    let set = format!("{plain}\n[retention]\nalert_test_days = 100\n");
    // The older test is of 2026-07-14: 100 days later is 2026-10-22.
    assert!(!said(&plain, "2026-11-25").contains("alert test of"));
    assert!(!said(&set, "2026-10-22").contains("alert test of"));
    let told = said(&set, "2026-10-23");
    assert!(told.contains("an alert test of 2026-07-14") && told.contains("clients/wren-04.toml"), "{told}");
}

#[test]
fn tests_that_are_kept_no_longer_go_when_asked_and_nothing_else_of_their_files() {
    let salon = SalonCopy::of(&[WHO]);
    let plain = without_retention(&salon);
    let forget = |arguments: &[&str]| {
        let all = [&["forget", "--old-tests", "--today", "2026-11-25"], arguments].concat();
        let output = salon.afterhue(&all).output().expect("it runs");
        (output.status.code(), stderr(&output))
    };
    salon.write("salon.toml", &plain);
    assert_eq!(forget(&["--yes"]).0, Some(2), "no time is set");
    // 120 days before 2026-11-25 is 2026-07-28: of the tests on record only the client file's of 2026-07-14 is older.
    salon.write("salon.toml", &format!("{plain}\n[retention]\nalert_test_days = 120\n"));
    let before = salon.files("");
    let (code, said) = forget(&[]);
    assert_eq!(code, Some(2), "nobody is here to ask: {said}");
    assert!(said.contains("clients/wren-04.toml: of 14 July 2026") && !said.contains("records/"), "{said}");
    let written = |files: std::collections::BTreeMap<String, Vec<u8>>| -> Vec<(String, Vec<u8>)> {
        files.into_iter().filter(|(name, _)| name.starts_with("clients/") || name.starts_with("records/")).collect()
    };
    assert_eq!(written(salon.files("")), written(before.clone()));
    let (code, said) = forget(&["--yes"]);
    assert_eq!(code, Some(0), "{said}");
    let mut wanted = written(before);
    let (_, file) = wanted.iter_mut().find(|(name, _)| name == "clients/wren-04.toml").expect("the client's file");
    let text = String::from_utf8(file.clone()).expect("text");
    let mut sections = text.match_indices("[[health.alert_test]]").map(|(at, _)| at);
    let (first, second) = (sections.next().expect("a test"), sections.next().expect("another"));
    *file = [&text[..first], &text[second..]].concat().into_bytes();
    assert_eq!(written(salon.files("")), wanted, "the newer test and every other byte stay");
    let (code, said) = forget(&["--yes"]);
    assert!(code == Some(0) && said.contains("No alert test is on record longer"), "{said}");
    // A test inside a line of a list is a person's to take out.
    let file = salon.read("clients/wren-04.toml");
    let list = "alert_test = [{ product = \"our range\", applied = 2026-07-14, read = 2026-07-16, clear = true, read_by = \"kofi\" }]";
    let (head, _) = file.split_once("[[health.alert_test]]").expect("the newer test");
    let inline = head.replacen("[health]\n", &format!("[health]\n{list}\n"), 1);
    salon.write("clients/wren-04.toml", &inline);
    let (code, said) = forget(&["--yes"]);
    assert_eq!(code, Some(1), "{said}");
    assert!(said.contains("Take them out of these yourself"), "{said}");
    assert_eq!(salon.read("clients/wren-04.toml"), inline);
}

#[test]
fn health_facts_without_a_dated_consent_are_told_and_with_one_they_are_not() {
    let salon = SalonCopy::of(&[WHO]);
    let said = || stderr(&salon.afterhue(&["check", "--today", TODAY]).output().expect("it runs"));
    assert!(!said().contains("without a recorded consent"));
    let file = salon.read("clients/wren-04.toml");
    salon.write("clients/wren-04.toml", &file.replace("health_data = 2026-07-11\n", ""));
    let told = said();
    assert!(told.contains("health facts are kept without a recorded consent"), "{told}");
    assert!(told.contains("clients/wren-04.toml") && told.contains("health_data = "), "{told}");
    // "Yes" without a day is no consent.
    salon.write("clients/wren-04.toml", &file.replace("health_data = 2026-07-11", "health_data = true"));
    assert_eq!(salon.afterhue(&["check"]).output().expect("it runs").status.code(), Some(1));
}
