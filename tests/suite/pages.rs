//! The demo salon's pages, cards and forecasts as their readers get them, and what hostile words do to a page.
//!
//! The words are compared line by line; the mark-up of one page is kept whole, so that a change of structure is seen too.

use std::collections::BTreeMap;

use afterhue::page::link::link;
use afterhue::record::ClientCode;
use data_encoding::HEXLOWER;

use crate::salon_copy::{SECRET, SalonCopy, TODAY};

/// Clients whose pages differ most: the shades the design names, and one without a confirmed age.
const SHOWN: [&str; 10] = [
    "wren-04",
    "slate-02",
    "fern-07",
    "plum-03",
    "pearl-01",
    "ember-05",
    "hazel-10",
    "reed-12",
    "walnut-09",
    "robin-24",
];

/// The words of a page, a line an element; a drawing says its name.
pub(crate) fn words(html: &str) -> String {
    let html = html.replace(&format!("<script>{}</script>", *afterhue::site::assets::SCRIPT), "");
    let body = html.split("<body>").nth(1).expect("a body");
    let mut out = String::new();
    for part in body.split('<').skip(1) {
        let (tag, text) = part.split_once('>').unwrap_or((part, ""));
        if let Some(label) = tag.split("aria-label=\"").nth(1).and_then(|rest| rest.split('"').next()) {
            out.push_str(&format!("\n[drawing: {label}]\n"));
        }
        let name = tag.trim_start_matches('/').split([' ', '/']).next().unwrap_or_default();
        if !matches!(name, "time" | "bdi" | "b" | "em" | "strong" | "a" | "wbr" | "span") {
            out.push('\n');
        }
        out.push_str(text);
    }
    let out = out.replace("&#39;", "'").replace("&quot;", "\"").replace("&amp;", "&").replace("&nbsp;", " ");
    out.lines().map(str::trim).filter(|line| !line.is_empty()).collect::<Vec<_>>().join("\n")
}

/// A client's page, found by the link that the known secret gives.
fn page_of(salon: &SalonCopy, code: &str) -> String {
    let secret = HEXLOWER.decode(SECRET.trim().as_bytes()).expect("hexadecimal digits");
    let client = ClientCode::try_new(code).expect("a code");
    salon.read(&format!("public/{}", link(&secret, &client, 1, "https://care.example.org").path))
}

#[test]
fn pages_read_as_they_should() {
    let salon = SalonCopy::new();
    salon.build();
    for code in SHOWN {
        let page = page_of(&salon, code);
        insta::assert_snapshot!(format!("words of {code}"), words(&page));
        if code == "wren-04" {
            insta::assert_snapshot!("page of wren-04, whole", page);
        }
    }
    insta::assert_snapshot!("words of one card", words(&salon.read("private/cards/wren-04.html")));
    insta::assert_snapshot!("words of the cards", words(&salon.read("private/cards.html")));
    insta::assert_snapshot!("page of a missing address, whole", salon.read("public/404.html"));
}

#[test]
fn forecasts_read_as_they_should() {
    let salon = SalonCopy::new();
    for code in ["wren-04", "plum-03", "hazel-10", "ember-05"] {
        let output = salon.afterhue(&["forecast", code, "--today", TODAY]).output().expect("it runs");
        insta::assert_snapshot!(format!("forecast of {code}"), String::from_utf8(output.stdout).expect("text"));
    }
    let output = salon.afterhue(&["forecast", "pearl-01", "--csv"]).output().expect("it runs");
    insta::assert_snapshot!("forecast of pearl-01 as csv", String::from_utf8(output.stdout).expect("text"));
}

#[test]
fn hostile_words_in_every_text_of_every_file_never_come_out_raw() {
    let salon = SalonCopy::new();
    let hostile = "<script>alert(1)</script>'\\\"&<img src=x onerror=y>";
    // Every text a person may write freely, in each kind of file; codes, words and addresses have their own rules.
    let free = ["name", "address", "first_name", "note", "product", "read_by", "to", "target", "shade_name"];
    let mut replaced = 0;
    for part in ["salon.toml", "clients", "records"] {
        let files = if part == "salon.toml" {
            BTreeMap::from([(part.to_owned(), salon.read(part).into_bytes())])
        } else {
            salon.files(part)
        };
        for (name, bytes) in files {
            let text = String::from_utf8(bytes).expect("text");
            let mut in_zone_or_seen = false;
            let lines: Vec<String> = text
                .lines()
                .map(|line| {
                    if line.starts_with('[') {
                        in_zone_or_seen = line.contains("zone") || line.contains("service") || line.contains("stylist");
                    }
                    let key = line.split('=').next().unwrap_or_default().trim();
                    if key == "show_first_name" {
                        return "show_first_name = true".to_owned();
                    }
                    let plain = line.contains("= \"") && line.trim_end().ends_with('"') && !line.ends_with("\"\"\"");
                    if plain && free.contains(&key) && !(key == "name" && in_zone_or_seen) {
                        replaced += 1;
                        return format!("{key} = \"{hostile}\"");
                    }
                    line.to_owned()
                })
                .collect();
            let mut text = lines.join("\n") + "\n";
            if name.starts_with("records") && !text.contains("note =") {
                text = text.replacen("format = 1\n", &format!("format = 1\nnote = \"{hostile}\"\n"), 1);
            }
            // A colour's name beside its coordinates is free text.
            if name.starts_with("records") {
                text = text.replace("name = \"rose pastel\", found", &format!("name = \"{hostile}\", found"));
            }
            salon.write(&name, &text);
        }
    }
    assert!(replaced > 30, "{replaced}");
    salon.build();
    let mut said = 0;
    let mut pages = salon.files("public");
    pages.extend(salon.files("private"));
    for (name, bytes) in pages.iter().filter(|(name, _)| name.ends_with(".html")) {
        let html = String::from_utf8_lossy(bytes);
        // The page's own script and the salon's sign are the only ones.
        let html = html.replace(&format!("<script>{}</script>", *afterhue::site::assets::SCRIPT), "");
        let html = html.replace("<img class=\"logo\" src=\"data:image/svg+xml,", "");
        assert!(!html.contains("<script") && !html.contains("<img"), "{name} holds raw mark-up");
        assert!(!html.contains("onerror=y>"), "{name} holds a raw handler");
        said += html.matches("&lt;script&gt;").count();
    }
    assert!(said > 50, "the words themselves are shown: {said}");
}

#[test]
fn a_calendar_file_stands_beside_each_page_that_links_one_and_parses() {
    let salon = SalonCopy::new();
    salon.build();
    let public = salon.files("public");
    let mut events = 0;
    for (name, bytes) in &public {
        let Some(page) = name.strip_suffix(".html") else { continue };
        let html = String::from_utf8_lossy(bytes);
        let stem = page.rsplit('/').next().unwrap_or_default();
        for ending in [".ics", "-washing.ics"] {
            let links_one = html.contains(&format!("href=\"{stem}{ending}\""));
            let file = public.get(&format!("{page}{ending}"));
            assert_eq!(links_one, file.is_some(), "{name}{ending}");
            let Some(file) = file else { continue };
            let text = String::from_utf8(file.clone()).expect("text");
            let calendar: icalendar::Calendar = text.parse().expect("an iCalendar file (RFC 5545)");
            assert_eq!(calendar.components.len(), 1, "one event a file");
            assert!(!text.contains("care.example.org") && !text.contains("http"), "no address inside");
            assert_eq!(text.contains("UNTIL="), ending == "-washing.ics", "what comes again also ends");
            events += 1;
        }
    }
    assert!(events >= 40, "{events}");
}

#[test]
fn what_if_says_the_dates_that_forecast_says_for_the_same_washes() {
    let salon = SalonCopy::new();
    salon.build();
    let mut told = 0;
    for code in ["wren-04", "pearl-01", "slate-02"] {
        let page = page_of(&salon, code);
        let washes = ["1", "2", "3", "4", "5", "7"];
        for (washes, uses, mark) in washes.into_iter().flat_map(|washes| [(washes, "0", ""), (washes, "1", " with")]) {
            let arguments = ["forecast", code, "--washes", washes, "--conditioner", uses, "--json"];
            let output = salon.afterhue(&arguments).output().expect("it runs");
            let json: serde_json::Value = serde_json::from_slice(&output.stdout).expect("JSON");
            let outcome =
                page.split(&format!("class=\"outcome o{washes}{mark}\"")).nth(1).expect("the choice is there");
            let outcome = outcome.split("</div>").next().expect("it ends");
            for which in ["nearly_back", "turns"] {
                let Some(date) = json[which]["usual"].as_str() else { continue };
                let date: chrono::NaiveDate = date.parse().expect("a date");
                let said = date.format("around %-d %B.").to_string();
                assert!(outcome.contains(&said), "{code} at {washes}{mark}, {which}: {said} in {outcome}");
                told += 1;
            }
        }
    }
    assert!(told > 50, "{told}");
}
