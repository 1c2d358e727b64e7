//! A marker in every private field of every kind of file, looked for in everything public.

use std::fs;

use super::fields::Filler;
use crate::salon_copy::{SalonCopy, TODAY};

/// A salon in which every private field holds its own marker, built by the program; and the markers.
fn marked() -> (SalonCopy, Vec<String>) {
    let salon = SalonCopy::new();
    let mut filler = Filler::new(5, true);
    let mut fill = |kind, name: &str| salon.write(name, &filler.filled(kind, &salon.read(name)));
    fill("SALON", "salon.toml");
    fill("BOOKINGS", "private/bookings.toml");
    for (kind, part) in [("CLIENT", "clients"), ("VISIT", "records")] {
        salon.files(part).keys().for_each(|name| fill(kind, name));
    }
    for name in salon.files("clients").keys() {
        // The name is private as long as the client does not want it shown.
        let text = salon.read(name);
        let kept: Vec<&str> = text
            .lines()
            .filter(|line| !line.starts_with("first_name") && !line.starts_with("show_first_name"))
            .collect();
        let hidden = format!("first_name = \"zzqnameqzz\"\nshow_first_name = false\n{}\n", kept.join("\n"));
        salon.write(name, &hidden);
    }
    let mut marks = filler.marks;
    marks.push("zzqnameqzz".to_owned());
    // A client's code is in every record; it is no part of a link.
    let codes = salon.files("clients").into_keys();
    marks.extend(codes.map(|name| name.trim_start_matches("clients/").trim_end_matches(".toml").to_owned()));
    marks.push(crate::salon_copy::SECRET.trim().to_owned());
    (salon, marks)
}

/// Every way in which a public file says something: its name, its bytes, what they decode to.
fn says(name: &str, bytes: &[u8]) -> String {
    let text = String::from_utf8_lossy(bytes).into_owned();
    // A folded line of a calendar (RFC 5545, 3.1) is one line; digits of a number may stand apart.
    let unfolded = text.replace("\r\n ", "").replace("\r\n\t", "");
    let close: String = unfolded.chars().filter(|c| !c.is_whitespace()).collect();
    let decoded = percent_decoded(&unfolded);
    [name, &text, &unfolded, &close, &decoded].join("\n").to_lowercase()
}

fn percent_decoded(text: &str) -> String {
    let mut out = Vec::with_capacity(text.len());
    let mut rest = text.as_bytes();
    while let Some((&first, after)) = rest.split_first() {
        let hex = after.get(..2).and_then(|pair| std::str::from_utf8(pair).ok());
        match hex.filter(|_| first == b'%').and_then(|pair| u8::from_str_radix(pair, 16).ok()) {
            Some(byte) => {
                out.push(byte);
                rest = &after[2..];
            }
            None => {
                out.push(first);
                rest = after;
            }
        }
    }
    String::from_utf8_lossy(&out).into_owned()
}

#[test]
fn a_marker_in_every_private_field_is_found_nowhere_in_public() {
    let (salon, marks) = marked();
    assert!(marks.len() > 1000, "{}", marks.len());
    salon.build();
    salon.afterhue(&["book", "--today", TODAY]).assert().success();
    salon.build();
    let public = salon.files("public");
    assert!(public.keys().filter(|name| name.ends_with(".html")).count() > 25);
    assert!(public.keys().filter(|name| name.ends_with(".ics")).count() > 25);
    let found: Vec<String> = public
        .iter()
        .flat_map(|(name, bytes)| {
            let said = says(name, bytes);
            marks
                .iter()
                .filter(move |mark| said.contains(*mark))
                .map(move |mark| format!("{mark} in {name}"))
                .collect::<Vec<_>>()
        })
        .collect();
    assert_eq!(found, Vec::<String>::new());
    // The search finds what is there: private sheets do hold markers.
    let private: String = salon.files("private").iter().map(|(name, bytes)| says(name, bytes)).collect();
    assert!(marks.iter().filter(|mark| mark.starts_with("zzq") && private.contains(*mark)).count() > 20);
}

#[test]
fn the_code_on_every_card_holds_the_link_and_nothing_else() {
    let (salon, marks) = marked();
    salon.build();
    let cards = salon.files("private/cards");
    assert!(cards.len() > 20);
    for (name, bytes) in cards {
        let html = String::from_utf8(bytes).expect("text");
        let payload = decoded(&html);
        let path = payload.strip_prefix("https://care.example.org/").expect("the salon's address");
        assert!(salon.path("public").join(path).exists(), "{name}: {payload}");
        assert!(!marks.iter().any(|mark| payload.contains(mark)), "{name}: {payload}");
    }
}

/// What the code in a card reads as. The outside check is rqrr, a decoder that shares no code with the encoder.
fn decoded(html: &str) -> String {
    let inner = |text: &str, open: &str, close: char| {
        text.split(open).nth(1).and_then(|rest| rest.split(close).next()).expect(open).to_owned()
    };
    let svg = html.split("<svg class=\"code\"").nth(1).expect("a code");
    let side: usize = inner(svg, "viewBox=\"0 0 ", ' ').parse().expect("a side");
    let mut dark = vec![false; side * side];
    for run in inner(svg, "stroke=\"#000\" d=\"", '"').split('M').filter(|run| !run.is_empty()) {
        let numbers: Vec<usize> =
            run.replace(".5h", " ").split(' ').map(|number| number.parse().expect("a number")).collect();
        (numbers[0]..numbers[0] + numbers[2]).for_each(|x| dark[numbers[1] * side + x] = true);
    }
    let scale = 4;
    let mut image = rqrr::PreparedImage::prepare_from_greyscale(side * scale, side * scale, |x, y| {
        if dark[y / scale * side + x / scale] { 0 } else { 255 }
    });
    let grids = image.detect_grids();
    grids[0].decode().expect("it decodes").1
}

#[test]
fn no_public_file_says_when_it_was_made_or_when_the_chair_was_taken() {
    let salon = SalonCopy::new();
    // Hours that are nowhere else in the demo.
    for name in salon.files("records").keys() {
        let kept: Vec<String> = salon
            .read(name)
            .lines()
            .filter(|line| !["start =", "end =", "minutes_taken ="].iter().any(|field| line.starts_with(field)))
            .map(str::to_owned)
            .collect();
        let text = kept.join("\n").replacen("format = 1", "format = 1\nstart = 06:43:21\nend = 21:53:09", 1);
        salon.write(name, &text);
    }
    salon.build();
    let now = chrono::Utc::now();
    for (name, bytes) in salon.files("public") {
        let said = says(&name, &bytes);
        for betrays in ["06:43", "0643", "6.43am", "21:53", "2153", "9.53pm"] {
            assert!(!said.contains(betrays), "{betrays} in {name}");
        }
        for day in [now.format("%Y%m%dt%H%M"), now.format("%Y-%m-%dt%H:%M")] {
            assert!(!said.contains(&day.to_string()), "the minute of making in {name}");
        }
        // RFC 5545 wants a time stamp in every event: it is a midnight, never the moment of the visit or of the run.
        for stamp in said.lines().filter_map(|line| line.trim().strip_prefix("dtstamp:")) {
            assert!(stamp.ends_with("t000000z"), "{stamp} in {name}");
        }
    }
    #[cfg(unix)]
    {
        use std::os::unix::fs::PermissionsExt;
        let mode = |name: &str| fs::metadata(salon.path(name)).expect("there").permissions().mode() & 0o777;
        for name in salon.files("private").keys().filter(|name| *name != "private/bookings.toml") {
            assert_eq!(mode(name), 0o600, "{name}");
        }
    }
}
