//! Runs of the real program: exit codes, what goes where, and what a second run changes.

use std::fs;

use crate::salon_copy::{SalonCopy, TODAY};

fn stderr(output: &std::process::Output) -> String {
    String::from_utf8_lossy(&output.stderr).into_owned()
}

#[test]
fn pages_says_how_many_where_and_one_address_to_open() {
    let salon = SalonCopy::new();
    let output = salon.afterhue(&["pages", "--today", TODAY]).output().expect("it runs");
    let said = stderr(&output);
    assert_eq!(output.status.code(), Some(0), "{said}");
    assert!(output.stdout.is_empty(), "nothing but data goes to stdout");
    let pages = salon.files("public/c").keys().filter(|name| name.ends_with(".html")).count();
    let clients = salon.files("clients").len();
    assert_eq!(pages + 1, clients, "one lasting page a client, but for the one whose plan has expired");
    assert!(said.contains("1 client has no page, because the plan has expired."), "{said}");
    assert!(said.contains(&format!("{pages} pages in")), "{said}");
    let address = said.lines().find_map(|line| line.split("file://").nth(1)).expect("an address to open");
    assert!(fs::read_to_string(address).expect("the address opens").to_lowercase().starts_with("<!doctype html>"));
}

#[test]
fn a_second_run_writes_nothing_and_the_same_bytes_come_in_another_zone_and_locale() {
    let salon = SalonCopy::new();
    salon.build();
    let first = salon.files("public");
    let output = salon.afterhue(&["pages", "--today", TODAY]).output().expect("it runs");
    assert!(stderr(&output).contains("(0 files changed"), "{}", stderr(&output));

    let elsewhere = SalonCopy::new();
    let mut run = elsewhere.afterhue(&["pages", "--today", TODAY]);
    run.env("TZ", "Pacific/Kiritimati")
        .env("LANG", "tr_TR.UTF-8")
        .env("LC_ALL", "tr_TR.UTF-8")
        .env("RAYON_NUM_THREADS", "1");
    run.assert().success();
    assert_eq!(elsewhere.files("public"), first);
    let private = |salon: &SalonCopy| salon.files("private");
    assert_eq!(private(&elsewhere), private(&salon));
}

#[test]
fn today_changes_nothing_until_a_page_expires() {
    let salon = SalonCopy::new();
    salon.build();
    let before = salon.files("public");
    salon.afterhue(&["pages", "--today", "2026-12-20"]).assert().success();
    assert_eq!(salon.files("public"), before, "a page is never a function of today");
    salon.afterhue(&["pages", "--today", "2029-01-01"]).assert().success();
    assert!(salon.files("public").keys().all(|name| !name.starts_with("public/c/")), "every page has expired");
}

#[test]
fn a_record_at_fault_keeps_its_last_good_page_and_the_others_go_on() {
    let salon = SalonCopy::new();
    salon.build();
    let before = salon.files("public");
    let record = salon.files("records").keys().max().expect("a record").clone();
    let text = salon.read(&record);
    salon.write(&record, &text.replace("format = 1", "format = 1\nweather = \"rain\""));
    let output = salon.afterhue(&["pages", "--today", TODAY]).output().expect("it runs");
    let said = stderr(&output);
    assert_eq!(output.status.code(), Some(1), "{said}");
    assert!(said.contains("weather"), "{said}");
    assert_eq!(salon.files("public"), before, "nothing changed and nothing is lost");
}

#[test]
fn a_folder_without_a_salon_is_told_what_is_missing() {
    let folder = tempfile::tempdir().expect("a folder");
    let mut run = assert_cmd::Command::cargo_bin("afterhue").expect("the program is built");
    let output = run.args(["check"]).arg(folder.path()).output().expect("it runs");
    assert_eq!(output.status.code(), Some(1));
    assert!(stderr(&output).contains("salon.toml"), "{}", stderr(&output));
}

#[test]
fn a_missing_folder_is_a_failure_of_the_machine_and_a_wrong_word_is_wrong_use() {
    let salon = SalonCopy::new();
    salon.afterhue(&["check", "no-such-folder"]).assert().code(3);
    salon.afterhue(&["page"]).assert().code(2);
    salon.afterhue(&["forecast", "nobody-99"]).assert().code(2);
}

#[test]
fn forecast_prints_a_table_csv_and_json_of_the_same_numbers() {
    let salon = SalonCopy::new();
    let run = |form: &[&str]| {
        let arguments = [&["forecast", "wren-04"][..], form].concat();
        let output = salon.afterhue(&arguments).output().expect("it runs");
        assert_eq!(output.status.code(), Some(0), "{}", stderr(&output));
        String::from_utf8(output.stdout).expect("text")
    };
    let json: serde_json::Value = serde_json::from_str(&run(&["--json"])).expect("JSON");
    let csv = run(&["--csv"]);
    let mut reader = csv::Reader::from_reader(csv.as_bytes());
    let rows = reader.records().collect::<Result<Vec<_>, _>>().expect("CSV by RFC 4180");
    let steps: usize = json["zones"]
        .as_array()
        .expect("zones")
        .iter()
        .map(|zone| zone["steps"].as_array().expect("steps").len())
        .sum();
    assert_eq!(rows.len(), steps);
    let table = run(&[]);
    for zone in json["zones"].as_array().expect("zones") {
        let hex = zone["steps"][0]["hex"].as_str().expect("a colour");
        assert!(table.contains(hex) && csv.contains(hex), "{hex}");
    }
}

#[test]
fn quiet_says_only_what_is_wrong_and_the_number_of_threads_changes_no_byte() {
    let salon = SalonCopy::new();
    let run = |arguments: &[&str]| {
        let all = [&["pages", "--today", TODAY][..], arguments].concat();
        salon.afterhue(&all).output().expect("it runs")
    };
    let output = run(&["--quiet", "--threads", "1"]);
    assert_eq!((output.status.code(), stderr(&output).as_str()), (Some(0), ""));
    let one = salon.files("public");
    let output = run(&["--threads", "3"]);
    assert!(stderr(&output).contains("(0 files changed"), "{}", stderr(&output));
    assert_eq!(salon.files("public"), one);
    let record = salon.files("records").keys().max().expect("a record").clone();
    salon.write(&record, &salon.read(&record).replace("format = 1", "format = 1\nweather = \"rain\""));
    let output = run(&["--quiet"]);
    let said = stderr(&output);
    assert_eq!(output.status.code(), Some(1), "{said}");
    assert!(said.contains("weather") && !said.contains("caution"), "{said}");
    assert_eq!(run(&["--threads", "0"]).status.code(), Some(2));
}
