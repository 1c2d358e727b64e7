//! The stylist's sheet: what was written in the chair is read again before the next service.

use std::path::Path;

use afterhue::diagnostic::SourceText;
use afterhue::page::catalogue::Catalogue;
use afterhue::page::last_time::last_time;
use afterhue::record::{History, read_client, read_visit};
use afterhue::salon::read_salon;

/// Every field a stylist may want to see again stands in some line, word for word.
#[test]
fn what_was_written_in_the_chair_is_read_again() {
    let settings =
        std::fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join("site-demo/salon.toml")).expect("text");
    let salon = read_salon(&SourceText::new("salon.toml", settings)).value.expect("no fault");
    let visit = r#"format = 1
client = "wren"
date = 2026-11-20
start = 10:00:00
end = 14:30:00
stylist = "ines"
price = 180
minutes_taken = 255
advice = ["Shown how to comb from the ends"]
[hair]
density = "high"
length_mm = 420
[[placement]]
kind = "full head"
lightening = [{ zones = ["roots"], developer_percent = 6, minutes = 41, on_scalp = true, heat = true, stage_reached = 9.5 }]
toning = [{ dye = "direct", ph = "acid", target = "old rose", mix = "1:2", dilution = "1:4", grams = 43, minutes = 22, took = "patchy" }]
zone = [{ name = "roots", from_mm = 0, to_mm = 60, stage = 9.5, colour = { name = "rose pastel" } }, { name = "ends", from_mm = 60, to_mm = 420, stage = 9.5, colour = { name = "rose pastel" } }]
[habits.colour_conditioner]
uses_per_week = 1
shade = "soft rose"
[habits.heat_tools]
days_per_week = 2
celsius = 185
"#;
    let client = r#"format = 1
[age]
sixteen_or_over = true
confirmed = 2026-01-12
[consents]
service = 2026-01-12
health_data = 2026-01-12
photo = 2026-02-13
[[history]]
what = "lightening"
date = 2025-06-01
note = "elsewhere"
[health]
incident = [{ date = 2024-01-01, note = "a strand broke." }]
reaction = [{ to = "permanent", note = "itching" }]
alert_test = [{ product = "our range", applied = 2026-11-10, read = 2026-11-12, clear = true, read_by = "kofi" }]
"#;
    let client = read_client(&SourceText::new("clients/wren.toml", client)).value.expect("no fault");
    let visits = vec![read_visit(&SourceText::new("records/wren.toml", visit)).value.expect("no fault")];
    let history = History { client, visits };
    let words = Catalogue::shipped("en").expect("English is shipped");
    let found = last_time(&history, &salon, words);
    let text: String = found.lines().map(|line| format!("{line}\n")).collect();
    for word in [
        "20 November 2026",
        "10:00",
        "14:30",
        "255",
        "180",
        "comb from the ends",
        "high",
        "420",
        "6 %",
        "41",
        "on the scalp",
        "heat",
        "9.5",
        "direct",
        "acid",
        "old rose",
        "1:2",
        "1:4",
        "43 g",
        "22",
        "patchy",
        "full head 1, roots, ends",
        "soft rose",
        "185",
        "1 June 2025",
        "elsewhere",
        "13 February 2026",
        "strand broke",
        "permanent",
        "itching",
        "our range",
        "12 November 2026",
        "kofi",
    ] {
        assert!(text.contains(word), "{word}: {text}");
    }
    assert!(text.contains("full head 1, roots: lightened"), "one zone only: {text}");
    assert!(!text.contains('{') && !text.contains(".."), "{text}");
    assert_eq!((found.client.len(), found.health.len()), (5, 3), "{found:?}");
}
