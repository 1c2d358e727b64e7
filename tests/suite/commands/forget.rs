//! `forget`: what goes, what stays, and who comes back with a backup.

use std::fs;

use super::{stderr, stdout};
use crate::salon_copy::{SalonCopy, TODAY};

fn holds(salon: &SalonCopy, part: &str, words: &[&str]) -> Vec<String> {
    let named = |text: &str| words.iter().any(|word| text.contains(word));
    let files = salon.files(part).into_iter();
    files.filter(|(name, bytes)| named(name) || named(&String::from_utf8_lossy(bytes))).map(|(name, _)| name).collect()
}

#[test]
fn everything_about_a_client_goes_but_a_mark_that_says_nothing() {
    let salon = SalonCopy::new();
    salon.build();
    salon.afterhue(&["send", "plum-03", "--card", "--today", TODAY]).assert().success();
    let link = stdout(&salon.afterhue(&["send", "plum-03", "--today", TODAY]).output().expect("it runs"));
    let link = link.lines().nth(2).expect("a link").to_owned();
    let token = &link[link.len() - 15..link.len() - 5];
    let traces = ["plum-03", "Bryony", "900403", token];
    assert!(holds(&salon, "", &traces).len() > 4, "there is something to remove");
    let others = salon.files("public").len();
    let output = salon.afterhue(&["forget", "plum-03", "--yes", "--today", TODAY]).output().expect("it runs");
    assert_eq!(output.status.code(), Some(0), "{}", stderr(&output));
    assert_eq!(holds(&salon, "", &traces), Vec::<String>::new());
    assert_eq!(salon.files("public").len(), others - 3, "a page and two calendars go, the others' stay");
    assert_eq!(stdout(&output).trim(), link, "the address to purge");
    let mark = salon.read("private/forgotten.toml");
    assert_eq!(mark.lines().filter(|line| line.trim().len() == 67).count(), 1, "{mark}");
    let built = salon.files("");
    salon.build();
    assert_eq!(salon.files(""), built, "the next run of pages brings nothing back");
}

#[test]
fn a_client_goes_from_the_book_too_and_the_others_stay_in_it() {
    let salon = SalonCopy::new();
    salon.build();
    salon.afterhue(&["book", "--today", TODAY]).assert().success();
    let before = salon.read("private/bookings.toml");
    assert!(before.contains("client = \"wren-04\"") && holds(&salon, "private", &["wren-04"]).len() > 2);
    salon.afterhue(&["forget", "wren-04", "--yes", "--today", TODAY]).assert().success();
    assert_eq!(holds(&salon, "", &["wren-04"]), Vec::<String>::new());
    let others =
        |text: &str| text.lines().filter(|line| line.starts_with("client = ") && !line.contains("wren-04")).count();
    assert_eq!(others(&salon.read("private/bookings.toml")), others(&before));
    salon.afterhue(&["book", "--today", TODAY]).assert().success();
    assert_eq!(holds(&salon, "", &["wren-04"]), Vec::<String>::new());
}

#[test]
fn without_somebody_to_ask_nothing_goes_and_what_would_go_is_shown() {
    let salon = SalonCopy::new();
    salon.build();
    let before = salon.files("");
    let output = salon.afterhue(&["forget", "plum-03", "--today", TODAY]).output().expect("it runs");
    let said = stderr(&output);
    assert_eq!(output.status.code(), Some(2), "{said}");
    assert!(said.contains("clients/plum-03.toml") && said.contains("--yes"), "{said}");
    assert_eq!(holds(&salon, "records", &["plum-03"]).iter().filter(|name| !said.contains(*name)).count(), 0);
    assert_eq!(salon.files(""), before);
}

#[test]
fn a_file_at_fault_goes_too_and_nobody_is_wrong_use() {
    let salon = SalonCopy::new();
    salon.build();
    salon.write("clients/plum-03.toml", "format = 1\nweather = \"rain\"\n");
    salon.afterhue(&["forget", "plum-03", "--yes", "--today", TODAY]).assert().success();
    assert_eq!(holds(&salon, "", &["plum-03"]), Vec::<String>::new());
    salon.afterhue(&["forget", "plum-03", "--yes"]).assert().code(2);
    salon.afterhue(&["forget", "nobody-99", "--yes"]).assert().code(2);
    salon.afterhue(&["forget", "--yes"]).assert().code(2);
}

#[test]
fn who_comes_back_with_a_backup_is_told_and_can_be_removed_again() {
    let salon = SalonCopy::new();
    salon.build();
    let client = salon.read("clients/plum-03.toml");
    let record = holds(&salon, "records", &["plum-03"]).remove(0);
    let visit = salon.read(&record);
    salon.afterhue(&["forget", "plum-03", "--yes", "--today", TODAY]).assert().success();
    let none = salon.afterhue(&["forget", "--again"]).output().expect("it runs");
    assert_eq!(none.status.code(), Some(0));
    assert!(stderr(&none).contains("Nobody"), "{}", stderr(&none));
    salon.write("clients/plum-03.toml", &client);
    salon.write(&record, &visit);
    for command in [&["check"][..], &["pages", "--today", TODAY]] {
        let said = stderr(&salon.afterhue(command).output().expect("it runs"));
        assert!(said.contains("forgotten") && said.contains("afterhue forget --again"), "{said}");
    }
    salon.afterhue(&["forget", "--again", "--yes", "--today", TODAY]).assert().success();
    assert!(
        holds(&salon, "", &["plum-03"]).is_empty() && fs::exists(salon.path("clients/wren-04.toml")).expect("asked")
    );
}
