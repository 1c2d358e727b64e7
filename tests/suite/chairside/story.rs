//! A client's hair story: told, put right with its history kept, and what a client may ask for.

use super::tablet::{Tablet, desk, desk_on};
use crate::salon_copy::SalonCopy;

#[test]
fn the_hairs_story_is_told_and_stays_off_every_public_page() {
    let salon = SalonCopy::new();
    let mut tablet = Tablet::new(&desk(&salon.path(""), false).0);
    let page = tablet.get("/story/wren-04");
    for told in [
        "Then and now",
        "roots",
        "pastel range",
        "lightened 3 times by then",
        "records/2026/2026-09-15-wren-04.toml",
        "returns",
    ] {
        assert!(page.body.contains(told), "{told}: {}", page.body);
    }
    assert_eq!(tablet.get("/story/..%2fwren-04").status, 404);
    assert!(page.header("cache-control") == "no-store");
}

const OLD: &str = "records/2026/2026-09-15-wren-04.toml";

#[test]
fn an_older_visit_is_corrected_and_the_record_before_is_kept() {
    let salon = SalonCopy::new();
    let before = salon.read(OLD);
    let mut tablet = Tablet::new(&desk(&salon.path(""), false).0);
    assert!(tablet.get("/story/wren-04").body.contains("Correct this visit"));
    for nothing in ["records/2026/2026-09-15-plum-03.toml", "../salon.toml", "private/link-secret", ""] {
        assert_eq!(tablet.post("/correct/wren-04", &[("file", nothing)]).status, 404, "{nothing}");
    }
    let begun = tablet.post("/correct/wren-04", &[("file", OLD)]);
    let visit = begun.header("location").to_owned();
    assert_eq!(
        tablet.post("/correct/wren-04", &[("file", OLD)]).header("location"),
        visit,
        "a draft that waits is gone on with"
    );
    let form = tablet.get(&visit);
    assert!(form.body.contains("The record of Tue 15 Sep is corrected"), "{}", form.body);
    let by = form
        .body
        .split("name=\"by\" value=\"")
        .nth(1)
        .and_then(|rest| rest.split('"').next())
        .expect("a stylist")
        .to_owned();
    let done = tablet.send(&visit, &form, &[("by", &by), ("hair.regrowth_mm", "21"), ("do", "finish")]);
    assert_eq!(done.header("location"), "/story/wren-04", "{}", done.body);
    let after = salon.read(OLD);
    let foot = after.lines().last().expect("a foot");
    assert!(after.contains("regrowth_mm = 21") && foot.starts_with("# Corrected 2026-11-25 by "), "{after}");
    let kept = foot.split("the record before: ").nth(1).expect("where it is");
    assert_eq!(salon.read(kept), before, "byte for byte");
    salon.afterhue(&["check"]).assert().success();
    let story = tablet.get("/story/wren-04").body;
    assert!(story.contains("Corrected 2026-11-25 by ") && story.contains("As it stood before, 1 of 1"), "{story}");
    // Corrected once more: both versions and both remarks stay.
    let begun = tablet.post("/correct/wren-04", &[("file", OLD)]);
    let visit = begun.header("location").to_owned();
    let form = tablet.get(&visit);
    tablet.send(&visit, &form, &[("hair.regrowth_mm", "20"), ("do", "finish")]);
    let last = salon.read(OLD);
    assert_eq!(last.matches("# Corrected ").count(), 2, "{last}");
    assert!(
        last.trim_end().lines().last().is_some_and(|line| line.starts_with("# Corrected 2026-11-25; ")),
        "nobody said by whom"
    );
    assert!(tablet.get("/story/wren-04").body.contains("As it stood before, 2 of 2"));
}

#[test]
fn the_condition_of_the_fibre_is_told_from_visit_to_visit() {
    let salon = SalonCopy::new();
    let mut tablet = Tablet::new(&desk(&salon.path(""), false).0);
    let page = tablet.get("/story/wren-04");
    let part = page
        .body
        .split("<h2>Condition</h2>")
        .nth(1)
        .and_then(|rest| rest.split("</section>").next())
        .expect("it is told");
    assert!(part.contains("ends: ") && part.contains(" from ") && part.contains("at first"), "{part}");
}

#[test]
fn a_new_link_a_copy_and_being_forgotten_each_ask_first() {
    let salon = SalonCopy::new();
    salon.afterhue(&["pages", "--today", crate::salon_copy::TODAY]).assert().success();
    let mut tablet = Tablet::new(&desk(&salon.path(""), false).0);
    let address = |body: &str| {
        body.split("class=\"address\">").nth(1).and_then(|rest| rest.split('<').next()).expect("an address").to_owned()
    };
    let page_of = |address: &str| format!("public/c/{}", address.split_once("/c/").expect("a page").1);
    let old = address(&tablet.get("/done/wren-04").body);
    // A page alone changes nothing, and a yes without the token of the page is none.
    for wish in ["relink", "export", "forget"] {
        let page = tablet.get(&format!("/story/wren-04/{wish}"));
        assert_eq!(page.status, 200);
        assert!(page.body.contains("No, change nothing"), "{wish}");
        assert_eq!(tablet.post(&format!("/story/wren-04/{wish}"), &[("csrf", "00")]).status, 403, "{wish}");
    }
    assert!(tablet.get("/story/wren-04/forget").body.contains(OLD), "it says what goes");
    assert!(salon.path(OLD).exists() && salon.path(&page_of(&old)).exists());
    assert_eq!(tablet.post("/story/nobody-9/forget", &[]).status, 404);
    assert_eq!(tablet.get("/story/wren-04/burn").status, 404);

    let moved = tablet.post("/story/wren-04/relink", &[]);
    assert_eq!(moved.status, 200, "{}", moved.body);
    let new = address(&tablet.get("/done/wren-04").body);
    assert_ne!(old, new);
    assert!(!salon.path(&page_of(&old)).exists() && salon.path(&page_of(&new)).exists());
    assert!(salon.read("clients/wren-04.toml").contains("link_number = 2"));

    tablet.start("wren-04");
    let copied = tablet.post("/story/wren-04/export", &[]);
    assert_eq!(copied.status, 200, "{}", copied.body);
    let out = "private/exports/wren-04/2026-11-25";
    assert_eq!(salon.read(&format!("{out}/{OLD}")), salon.read(OLD));
    assert!(salon.path(&format!("{out}/page.html")).exists() && salon.path(&format!("{out}/README.txt")).exists());
    let drafts = std::fs::read_dir(salon.path(&format!("{out}/drafts"))).expect("the draft too").count();
    assert_eq!(drafts, 1);
    assert_eq!(tablet.post("/story/wren-04/export", &[]).status, 200, "and again on the same day");

    let plum = salon.read("clients/plum-03.toml");
    salon.write("clients/plum-03.toml", &(plum + "\n# came with Maren\n"));
    let forgotten = tablet.post("/story/wren-04/forget", &[]);
    assert_eq!(forgotten.status, 200, "{}", forgotten.body);
    assert!(forgotten.body.contains(&new), "what a cache has to purge");
    let left = forgotten.body.split("still stands there").nth(1).expect("where the name still stands");
    assert!(left.contains("clients/plum-03.toml") && !left.contains("clients/wren-04.toml"), "{left}");
    let files = salon.files("");
    let named = files
        .iter()
        .filter(|(name, bytes)| name.contains("wren-04") || String::from_utf8_lossy(bytes).contains("wren-04"));
    assert_eq!(named.map(|(name, _)| name.as_str()).collect::<Vec<_>>(), Vec::<&str>::new());
    assert!(!salon.path(&page_of(&new)).exists());
    assert_eq!(tablet.get("/story/wren-04").status, 404);
}

/// The files in `private/kept/`.
fn kept(salon: &SalonCopy) -> Vec<String> {
    salon.files("private").into_keys().filter(|name| name.starts_with("private/kept/")).collect()
}

#[test]
fn the_card_of_a_forgotten_client_is_shown_before_kept_sealed_and_gone_on_its_day() {
    let salon = SalonCopy::of(&["apricot-06", "plum-03"]);
    let mut tablet = Tablet::new(&desk(&salon.path(""), false).0);
    let asked = tablet.get("/story/apricot-06/forget").body;
    let until =
        asked.split("This is kept, sealed, until ").nth(1).and_then(|rest| rest.split_once(':')).expect("a day").0;
    let day = chrono::NaiveDate::parse_from_str(until, "%d %B %Y").expect("a day in words");
    let days = (day - crate::salon_copy::TODAY.parse::<chrono::NaiveDate>().expect("a day")).num_days();
    assert!(salon.read("salon.toml").contains(&format!("incident_card_days = {days}\n")), "{days}");
    for told in ["Tests and incidents of apricot-06", "a claim about a service", "Alert test of pastel range"] {
        assert!(asked.contains(told), "{told}: {asked}");
    }
    assert_eq!(kept(&salon), Vec::<String>::new(), "a page alone keeps nothing");
    assert_eq!(tablet.post("/story/apricot-06/forget", &[]).status, 200);
    let cards = kept(&salon);
    assert_eq!(cards.len(), 1, "{cards:?}");
    let card = salon.read(&cards[0]);
    assert!(
        card.contains(&format!("until = {day}\n")) && !card.contains("apricot") && !card.contains("pastel"),
        "{card}"
    );

    // The day before it stays, on its day the first pages that are written take it away.
    for (today, left) in [(day.pred_opt().expect("a day"), 1), (day, 0)] {
        let mut tablet = Tablet::new(&desk_on(&salon.path(""), today));
        assert_eq!(kept(&salon).len(), 1, "looking at a page takes nothing away");
        assert_eq!(tablet.post("/story/plum-03/relink", &[]).status, 200);
        assert_eq!(kept(&salon).len(), left, "on {today}");
    }
}
