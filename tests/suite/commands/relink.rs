//! `relink`: an old link leads nowhere, and nothing else changes.

use std::collections::BTreeSet;

use super::{stderr, stdout};
use crate::salon_copy::{SalonCopy, TODAY};

fn pages(salon: &SalonCopy) -> BTreeSet<String> {
    salon.files("public/c").into_keys().filter(|name| name.ends_with(".html")).collect()
}

#[test]
fn one_client_moves_and_the_old_page_and_card_are_gone_at_once() {
    let salon = SalonCopy::new();
    salon.build();
    salon.afterhue(&["send", "wren-04", "--card", "--today", TODAY]).assert().success();
    let (before, file) = (pages(&salon), salon.read("clients/wren-04.toml"));
    let output = salon.afterhue(&["relink", "wren-04", "--today", TODAY]).output().expect("it runs");
    let said = stderr(&output);
    assert_eq!(output.status.code(), Some(0), "{said}");
    let after = pages(&salon);
    let gone: Vec<&String> = before.difference(&after).collect();
    let new: Vec<&String> = after.difference(&before).collect();
    let [gone, new] = [gone.as_slice(), new.as_slice()].map(|names| {
        assert_eq!(names.len(), 1, "{names:?}");
        names[0].replace("public/", "https://care.example.org/")
    });
    assert_eq!(stdout(&output).trim(), new);
    assert!(said.contains(&gone), "the old address is told, to purge it: {said}");
    assert!(said.contains("wren-04 --card"), "the new card is told: {said}");
    let card = salon.read("private/cards/wren-04.html");
    let piece = |address: &str| address.rsplit('/').next().expect("a name")[..6].to_owned();
    assert!(
        !card.contains(&piece(&gone)) && card.contains(&piece(&new)),
        "a card with the old link would lead nowhere"
    );
    assert!(!said.contains("medicine"), "cautions of other files do not drown it: {said}");
    assert_eq!(salon.read("clients/wren-04.toml"), file.replace("link_number = 1", "link_number = 2"));
    let built = salon.files("public");
    salon.build();
    assert_eq!(salon.files("public"), built, "the next run of pages changes nothing");
}

#[test]
fn all_clients_move_and_every_other_byte_of_their_files_stays() {
    let salon = SalonCopy::new();
    salon.build();
    let (before, files, records) = (pages(&salon), salon.files("clients"), salon.files("records"));
    let output = salon.afterhue(&["relink", "--all", "--today", TODAY]).output().expect("it runs");
    assert_eq!(output.status.code(), Some(0), "{}", stderr(&output));
    let after = pages(&salon);
    assert!(before.is_disjoint(&after), "no page is left under an old link");
    assert_eq!(before.len(), after.len());
    assert_eq!(stdout(&output).lines().count(), files.len());
    let lines = |bytes: &[u8]| -> Vec<String> {
        let text = std::str::from_utf8(bytes).expect("text");
        text.split_inclusive('\n').filter(|line| !line.starts_with("link_number")).map(str::to_owned).collect()
    };
    let now = salon.files("clients");
    assert!(files.iter().all(|(name, bytes)| lines(bytes) == lines(&now[name]) && *bytes != now[name]));
    assert_eq!(salon.files("records"), records);
}

#[test]
fn a_file_at_fault_stays_where_it_is_and_that_is_told() {
    let salon = SalonCopy::new();
    salon.build();
    let broken = salon.read("clients/plum-03.toml") + "weather = \"rain\"\n";
    salon.write("clients/plum-03.toml", &broken);
    let before = pages(&salon);
    let output = salon.afterhue(&["relink", "--all", "--today", TODAY]).output().expect("it runs");
    let said = stderr(&output);
    assert_eq!(output.status.code(), Some(1), "{said}");
    assert!(said.contains("Not moved, because a file is at fault: plum-03."), "{said}");
    assert_eq!(salon.read("clients/plum-03.toml"), broken);
    assert_eq!(pages(&salon).intersection(&before).count(), 1, "the last good page stays");
}

#[test]
fn wrong_use_changes_nothing() {
    let salon = SalonCopy::new();
    let files = salon.files("clients");
    for arguments in [&["relink"][..], &["relink", "nobody-99"], &["relink", ".", "wren-04", "--all"]] {
        let output = salon.afterhue(arguments).output().expect("it runs");
        assert_eq!(output.status.code(), Some(2), "{arguments:?}: {}", stderr(&output));
    }
    assert_eq!(salon.files("clients"), files);
}
