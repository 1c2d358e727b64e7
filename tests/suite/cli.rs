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
    assert!(said.lines().last().is_some_and(|line| line.contains("afterhue send")), "what to do next: {said}");
}

#[test]
fn many_cautions_are_told_by_kind_above_the_result_each_in_full_by_check_and_a_fault_always_in_full() {
    let salon = SalonCopy::new();
    let said = |command: &str| stderr(&salon.afterhue(&[command, "--today", TODAY]).output().expect("it runs"));
    let (pages, check) = (said("pages"), said("check"));
    let result = pages.lines().position(|line| line.contains(" pages in ")).expect("the result");
    assert!(result < 16 && !pages.contains("-->"), "no excerpt pushes the result off the screen: {pages}");
    assert!(pages.contains("  health facts not recorded: ") && pages.contains("afterhue check"), "{pages}");
    // What is counted in lines is what stands in full, an excerpt or a place each.
    let counted: usize = pages
        .lines()
        .take(result)
        .filter_map(|line| line.strip_prefix("  ")?.trim_start().split_once("  ")?.0.parse::<usize>().ok())
        .sum();
    assert_eq!(counted, check.matches("-->").count(), "{pages}\n{check}");
    assert!(counted > 8, "{pages}");
    let record = salon.files("records").keys().max().expect("a record").clone();
    salon.write(&record, &salon.read(&record).replace("format = 1", "format = 1\nweather = \"rain\""));
    let said = said("pages");
    assert!(said.contains("weather = \"rain\"") && said.matches("-->").count() == 1, "{said}");
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
    let private = |salon: &SalonCopy| {
        let mut files = salon.files("private");
        // The list of what was written tells when each file was.
        assert!(files.remove("private/written-files").is_some());
        // And that of what was read, what its files are to the system.
        assert!(files.remove("private/read-before").is_some() || cfg!(not(unix)));
        files
    };
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
    let check = |arguments: &[&str]| {
        let all = [&["check", "--today", TODAY][..], arguments].concat();
        salon.afterhue(&all).output().expect("it runs")
    };
    let output = check(&["-q"]);
    assert_eq!((output.status.code(), stderr(&output)), (Some(1), said), "check says the same");
    for of_pages in [&["--threads", "1"][..], &["--afresh"]] {
        assert_eq!(check(of_pages).status.code(), Some(2), "{of_pages:?} is of pages");
    }
}

#[test]
fn learn_stores_what_moved_once_and_pages_change_only_after_it() {
    let salon = SalonCopy::new();
    salon.build();
    let before = salon.files("public");
    let output = salon.afterhue(&["learn"]).output().expect("it runs");
    assert_eq!(output.status.code(), Some(0), "{}", stderr(&output));
    let moved = String::from_utf8_lossy(&output.stdout).into_owned();
    assert!(moved.contains("direct: as published -> leaves "), "{moved}");
    let stored = salon.files("private").remove("private/salon-estimate.toml").expect("an estimate");
    assert_eq!(salon.files("public"), before, "learning writes no page");

    let again = salon.afterhue(&["learn"]).output().expect("it runs");
    assert!(again.stdout.is_empty() && stderr(&again).contains("Nothing moved"), "{}", stderr(&again));
    assert_eq!(salon.files("private").remove("private/salon-estimate.toml"), Some(stored));
    salon.build();
    assert_ne!(salon.files("public"), before, "the pages follow the stored estimate");
}

#[test]
fn an_estimate_at_fault_is_told_and_no_page_is_written_without_it() {
    let salon = SalonCopy::new();
    salon.write("private/salon-estimate.toml", "format = 1\n[[class]]\ndye = \"direct\"\nshift = 40\n");
    let output = salon.afterhue(&["pages", "--today", TODAY]).output().expect("it runs");
    assert_eq!(output.status.code(), Some(1));
    assert!(stderr(&output).contains("private/salon-estimate.toml"), "{}", stderr(&output));
    assert!(!salon.path("public").exists());
}

#[test]
fn explain_names_a_source_behind_every_sentence_of_every_client_and_all_are_in_the_bibliography() {
    use afterhue::science::bibliography;
    let salon = SalonCopy::new();
    let codes = salon.files("clients");
    let mut sentences = 0;
    for code in codes.keys().filter_map(|name| name.strip_prefix("clients/")?.strip_suffix(".toml")) {
        let output = salon.afterhue(&["forecast", code, "--explain"]).output().expect("it runs");
        let said = String::from_utf8_lossy(&output.stdout).into_owned();
        for pair in said.lines().filter(|line| line.starts_with([' ', '1'])).collect::<Vec<_>>().chunks(2) {
            let sources = pair[1].trim().trim_matches(['[', ']']);
            for source in sources.split("; ") {
                let stated = matches!(source, "assumed here" | "common practice, no source");
                let known = bibliography::ALL.iter().any(|book| book.short == source);
                assert!(stated || known, "{code}: {source} behind {}", pair[0]);
            }
            sentences += 1;
        }
    }
    assert!(sentences > 200, "{sentences}");
}

#[test]
fn check_warns_of_an_address_that_makes_the_code_on_the_cards_too_fine() {
    let salon = SalonCopy::new();
    let said = stderr(&salon.afterhue(&["check"]).output().expect("it runs"));
    assert!(!said.contains("the code on the cards"), "{said}");
    let long = format!("https://care.example.org/{}", "a-long-way-down/".repeat(8).trim_end_matches('/'));
    salon.write("salon.toml", &salon.read("salon.toml").replace("https://care.example.org", &long));
    let output = salon.afterhue(&["check"]).output().expect("it runs");
    let said = stderr(&output);
    assert!(
        said.contains("the code on the cards has squares of 0.4") && said.contains("^^^ this address is long"),
        "{said}"
    );
    assert_eq!(output.status.code(), Some(0), "a caution stops nothing");
}

#[test]
fn a_client_at_fault_keeps_the_last_good_card_too() {
    let salon = SalonCopy::new();
    salon.build();
    let card = "private/cards/wren-04.html";
    let before = salon.read(card);
    salon.write("clients/wren-04.toml", "format = 1\nage = 3\n");
    assert_eq!(salon.afterhue(&["pages", "--today", TODAY]).output().expect("it runs").status.code(), Some(1));
    assert_eq!(salon.read(card), before);
}

#[test]
fn a_visit_of_a_day_still_to_come_is_asked_about() {
    let salon = SalonCopy::new();
    let said = |today: &str| stderr(&salon.afterhue(&["check", ".", "--today", today]).output().expect("it runs"));
    assert!(said("2026-11-23").contains("this visit is of 2026-11-24, and today is 2026-11-23"));
    assert!(!said("2026-11-24").contains("still to come"));
}

#[test]
fn a_salon_may_choose_its_theme_and_check_tries_one_of_its_own() {
    let salon = SalonCopy::new();
    let settings = salon.read("salon.toml");
    salon.build();
    let paper = salon.files("public");
    salon.write("salon.toml", &settings.replace("theme = \"paper\"", "theme = \"daylight\""));
    salon.build();
    let daylight = salon.files("public");
    assert_eq!(paper.keys().collect::<Vec<_>>(), daylight.keys().collect::<Vec<_>>());
    assert!(paper.iter().all(|(name, bytes)| !name.ends_with(".html") || daylight[name] != *bytes));

    salon.write("salon.toml", &settings.replace("theme = \"paper\"", "theme = \"mine\""));
    let theirs = include_str!("../../themes/paper/client.html");
    salon.write("themes/mine/client.html", theirs);
    assert_eq!(salon.afterhue(&["check"]).output().expect("it runs").status.code(), Some(0));
    salon.write(
        "themes/mine/client.html",
        &theirs.replace("{{ care.lead }}", "").replace("{{ first.shade }}", "{{ first.hue }}"),
    );
    let output = salon.afterhue(&["check"]).output().expect("it runs");
    let said = stderr(&output);
    assert_eq!(output.status.code(), Some(1), "{said}");
    assert!(said.contains("themes/mine/client.html") && said.contains("first.hue"), "{said}");
    salon.write("themes/mine/client.html", &theirs.replace("{{ care.lead }}", ""));
    let said = stderr(&salon.afterhue(&["check"]).output().expect("it runs"));
    assert!(said.contains("the theme leaves out care lead"), "{said}");
}

#[test]
fn a_sign_that_is_missing_or_runs_something_is_a_fault_and_a_missing_page_never_shows_it() {
    let salon = SalonCopy::new();
    salon.build();
    let page = |name: &str| salon.read(name).contains("class=\"logo\"");
    assert!(page("private/cards.html") && !page("public/404.html"));
    let sign = salon.read("logo.svg");
    salon.write("logo.svg", &sign.replace("<path", "<script>x</script><path"));
    let said = stderr(&salon.afterhue(&["check"]).output().expect("it runs"));
    assert!(said.contains("logo.svg") && said.contains("a sign holds no script"), "{said}");
    fs::remove_file(salon.path("logo.svg")).expect("removed");
    let output = salon.afterhue(&["check"]).output().expect("it runs");
    assert!(stderr(&output).contains("there is no picture") && output.status.code() == Some(1));
}

#[test]
fn forecast_tells_a_deadline_that_has_passed_as_due_now_and_the_salons_cautions_in_one_line() {
    let salon = SalonCopy::new();
    let run = |today: &str| {
        let output = salon.afterhue(&["forecast", "wren-04", "--today", today]).output().expect("it runs");
        assert_eq!(output.status.code(), Some(0), "{}", stderr(&output));
        (String::from_utf8(output.stdout.clone()).expect("text"), stderr(&output))
    };
    let (before, said) = run("2026-11-20");
    assert!(before.contains("Alert test by "), "{before}");
    assert!(said.lines().count() == 1 && said.contains("cautions") && said.contains("afterhue check"), "{said}");
    let (after, _) = run("2028-01-01");
    assert!(!after.contains("Alert test by ") && after.contains("Alert test before any next colour"), "{after}");
}
