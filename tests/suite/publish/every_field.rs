//! The look before publishing, asked about every text of every form, from the field tables.
//!
//! Whichever field is added to a table is looked for here from the day it is there: either the look finds its text in a
//! public file, or somebody writes it into [`LET_PASS`] with the reason. Numbers, days, times and words from a list are
//! looked for in no file: pages are full of them, and none of them alone says whose it is.

use std::collections::BTreeMap;
use std::fs;

use afterhue::diagnostic::{Severity, SourceText};
use afterhue::form::{Field, Section, Shape, Wants};
use afterhue::pipeline;
use afterhue::publish::{Address, Marker, Order, publish};
use afterhue::workspace::Texts;
use toml::{Table, Value};

use crate::privacy::fields::{Filler, KINDS};
use crate::privacy::in_memory::{SECRET, demo, public};

/// Texts that the look lets pass, with the reason.
const LET_PASS: &[(&str, &str, &str)] = &[
    ("CLIENT", "language", "a tag such as \"en\", and the language the page is written in"),
    ("VISIT", "note", "said to the client, on the page"),
    ("VISIT", "placement.zone.colour.name", "a page says its shade"),
    ("VISIT", "placement.zone.colour.hex", "a page shows its colour"),
    ("VISIT", "habits.colour_conditioner.shade", "a page says which conditioner it counts on"),
    ("VISIT", "placement.toning.target", "the name of a shade, which a list of prices on the salon's own page may say"),
    ("VISIT", "stylist", "who works in the salon; its own page may name them"),
    ("BOOKINGS", "appointment.stylist", "who works in the salon"),
    ("CLIENT", "health.alert_test.read_by", "who works in the salon"),
    ("VISIT", "health.alert_test.read_by", "who works in the salon"),
];

/// Words that each marker ends with: signs that mark-up, addresses and calendars write in another way.
const TAIL: &str = "said \"no\" to dye & tint; ate, née Göl <ever>";

/// What was planted: the kind and place of the field, and the text.
type Planted = Vec<(String, String)>;

/// The demo with every private field filled, and each text of the tables once replaced by a marker of its own.
fn planted() -> (Texts, Planted) {
    let mut texts = demo();
    let mut filler = Filler::new(7, true);
    let mut found = BTreeMap::new();
    for (kind, _) in KINDS {
        let files: Vec<&mut SourceText> = match kind {
            "CLIENT" => texts.clients.iter_mut().collect(),
            "VISIT" => texts.records.iter_mut().collect(),
            "BOOKINGS" => texts.bookings.iter_mut().collect(),
            // Nothing in them is about a client: what a salon is called, offers and keeps to.
            "SALON" | "ESTIMATE" => continue,
            new => panic!("is anything in a file of the kind {new} about a client? Say it here"),
        };
        let form = KINDS.iter().find(|(name, _)| *name == kind).expect("a kind").1;
        for source in files {
            let mut table: Table = filler.filled(kind, &source.text).parse().expect("TOML");
            plant(&mut table, form.top, kind, "", &mut found);
            *source = SourceText::new(source.name.clone(), toml::to_string(&table).expect("TOML"));
        }
        form.top.walk(&mut |path, field| {
            if matches!(field.wants, Wants::Text(_) | Wants::Texts(..)) {
                let place = path.iter().copied().chain([field.name]).collect::<Vec<_>>().join(".");
                let name = format!("{kind} {place}");
                assert!(found.contains_key(&name), "no file of the demo has a place for {name}");
            }
        });
    }
    (texts, found.into_iter().collect())
}

/// Puts a marker into each text of a section that has none yet.
fn plant(table: &mut Table, section: &'static Section, kind: &str, path: &str, found: &mut BTreeMap<String, String>) {
    for field in section.fields {
        let place = if path.is_empty() { field.name.to_owned() } else { format!("{path}.{}", field.name) };
        match field.wants {
            Wants::Section(below) | Wants::Sections(below, _) => match table.get_mut(field.name) {
                Some(Value::Table(inner)) => plant(inner, below, kind, &place, found),
                Some(Value::Array(items)) => {
                    for item in items.iter_mut().filter_map(Value::as_table_mut) {
                        plant(item, below, kind, &place, found);
                    }
                }
                _ => {}
            },
            Wants::Text(shape) | Wants::Texts(shape, _) => {
                let name = format!("{kind} {place}");
                if found.contains_key(&name) || (!table.contains_key(field.name) && needs_it(&place)) {
                    continue;
                }
                let Some(text) = marker(table, field, shape, found.len()) else { continue };
                if place == "first_name" {
                    table.insert("show_first_name".to_owned(), Value::Boolean(false));
                }
                let several = matches!(field.wants, Wants::Texts(..));
                let value = Value::String(text.clone());
                let value = if several { Value::Array(vec!["Wash it less".into(), value]) } else { value };
                table.insert(field.name.to_owned(), value);
                found.insert(name, text);
            }
            _ => {}
        }
    }
}

/// Fields that only some of their sections may have: a colour told by numbers has no name.
fn needs_it(place: &str) -> bool {
    place.starts_with("placement.zone.colour.")
}

/// A text of a field's shape that stands nowhere else; what refers to something else is left as it is.
fn marker(table: &Table, field: &Field, shape: Shape, number: usize) -> Option<String> {
    let own = || Some(table.get(field.name)?.as_str()?.to_owned());
    match shape {
        Shape::Line if field.name == "name" || field.name == "shade" => own(),
        Shape::Line if field.name == "first_name" => Some("Zzqémilie".to_owned()),
        Shape::Line => Some(format!("zzq{number}qzz {TAIL}")),
        Shape::Prose => Some(format!("Seen.\n\nzzq{number}qzz {TAIL}\nand once more\n\nThe end.")),
        Shape::Phone => Some(format!("+44 7700 9009{number:02}")),
        Shape::Email => Some(format!("zzq{number}.qzz@example.org")),
        Shape::Language => Some("en".to_owned()),
        Shape::Code | Shape::HexColour => own(),
        shape => panic!("what does a marker of the shape {shape:?} look like? Say it here"),
    }
}

/// The part of a text that a page would hold: of several paragraphs the one with the marker.
fn said(text: &str) -> &str {
    text.split("\n\n").find(|part| part.contains("zzq")).unwrap_or(text)
}

/// Ways to write a text into a file of which this program's own pages use all but the last two.
fn spellings(text: &str) -> Vec<(&'static str, String)> {
    let flat = text.replace('\n', " ");
    let escaped = flat.replace('&', "&amp;").replace('<', "&lt;").replace('>', "&gt;").replace('"', "&quot;");
    let numbered: String = flat.chars().map(|c| format!("&#x{:x};", u32::from(c))).collect();
    let percent: String = flat
        .bytes()
        .map(|byte| if byte.is_ascii_alphanumeric() { char::from(byte).to_string() } else { format!("%{byte:02X}") })
        .collect();
    let (first, rest) = escaped.split_once(' ').unwrap_or((&escaped, ""));
    vec![
        ("own.html", format!("<p>{escaped}.</p>")),
        (
            "own.html",
            format!(
                "<p>{}</p>",
                escaped
                    .to_uppercase()
                    .replace("&AMP;", "&amp;")
                    .replace("&QUOT;", "&quot;")
                    .replace("&LT;", "&lt;")
                    .replace("&GT;", "&gt;")
            ),
        ),
        ("own.html", format!("<p title=\"{escaped}\">\n")),
        ("own.html", format!("<p><b>{first}</b>\n  <em class=\"x\">{rest}</em>")),
        ("own.html", numbered),
        ("own.html", format!("<a href=\"mailto:?body={percent}\">")),
        ("own.txt", flat.clone()),
        ("own.css", format!("/* {} */", text.replace('\n', "\r\n   "))),
        ("own.ics", folded(&flat)),
        ("own.json", serde_json::to_string(text).expect("JSON")),
        (
            "own.js",
            format!("x='{}'", serde_json::to_string(text).expect("JSON").chars().map(in_ascii).collect::<String>()),
        ),
    ]
}

/// A character as scripts in ASCII write it.
fn in_ascii(c: char) -> String {
    if c.is_ascii() { c.to_string() } else { format!("\\u{:04x}", u32::from(c)) }
}

/// A calendar's line with a text, escaped and folded after the letter of RFC 5545 (§3.3.11, §3.1), in the middle of words.
fn folded(text: &str) -> String {
    let escaped = text.replace('\\', "\\\\").replace(',', "\\,").replace(';', "\\;");
    let mut out = String::from("DESCRIPTION:");
    for (at, c) in escaped.chars().enumerate() {
        // Far shorter than the 75 octets allowed, so that short texts are folded as well.
        if at % 7 == 3 {
            out.push_str("\r\n ");
        }
        out.push(c);
    }
    out + "\r\n"
}

/// A salon folder with some public files, looked at as `publish` does.
struct Looked {
    salon: tempfile::TempDir,
    to: tempfile::TempDir,
    base_address: String,
    markers: Vec<Marker>,
}

impl Looked {
    fn new(texts: &Texts) -> Self {
        let read = pipeline::read(texts);
        let (salon, _) = read.house.as_ref().expect("a salon");
        let private = pipeline::private_texts(texts, &read, salon, &SECRET).into_iter();
        let markers = private.map(|one| Marker { text: one.text, what: one.what, only_in: one.only_in });
        let folder = || tempfile::tempdir().expect("a folder");
        let looked = Self {
            salon: folder(),
            to: folder(),
            base_address: salon.base_address.clone(),
            markers: markers.collect(),
        };
        looked.write("404.html", b"missing");
        looked
    }

    fn path(&self, name: &str) -> std::path::PathBuf {
        self.salon.path().join("public").join(name)
    }

    fn write(&self, name: &str, bytes: &[u8]) {
        fs::create_dir_all(self.path(name).parent().expect("a folder")).expect("made");
        fs::write(self.path(name), bytes).expect("written");
    }

    /// Whether the files may go, or why not.
    fn look(&self) -> Result<(), String> {
        let to = Address::parse(&format!("file://{}", self.to.path().display())).expect("an address");
        let order = Order {
            folder: self.salon.path(),
            to: &to,
            base_address: &self.base_address,
            markers: &self.markers,
            inputs_changed: None,
            dry_run: true,
            take_over: false,
            at_once: 1,
        };
        publish(&order, &mut |_| {}).map(drop).map_err(|why| why.to_string())
    }

    /// What the look says of one more file, which is then removed.
    fn with(&self, name: &str, text: &str) -> Result<(), String> {
        self.write(name, text.as_bytes());
        let said = self.look();
        fs::remove_file(self.path(name)).expect("it was there");
        said
    }
}

/// The place of the page of the client with the hidden name, below `public/`.
fn page_of_the_hidden(texts: &Texts) -> String {
    let read = pipeline::read(texts);
    let (salon, _) = read.house.as_ref().expect("a salon");
    let history = read.histories.iter().find(|history| history.client.first_name.as_deref() == Some("Zzqémilie"));
    pipeline::link_of(&history.expect("a client").client, salon, &SECRET).path
}

#[test]
fn every_text_of_every_form_is_refused_in_every_spelling_or_let_pass_for_a_reason() {
    let (texts, planted) = planted();
    let looked = Looked::new(&texts);
    let page = page_of_the_hidden(&texts);
    let calendar = page.replace(".html", ".ics");
    assert_eq!(looked.look(), Ok(()), "nothing is planted yet");
    let (mut refused, mut wrong) = (0, Vec::new());
    for (name, text) in &planted {
        let reason = LET_PASS.iter().find(|(kind, place, _)| *name == format!("{kind} {place}"));
        let ways = if name == "CLIENT first_name" {
            // A name is looked for on its own client's page and in the calendars beside it.
            vec![(page.as_str(), format!("<p>Dear {text},</p>")), (&calendar, folded(text))]
        } else {
            spellings(said(text))
        };
        for (file, written) in ways {
            match (looked.with(file, &written), reason) {
                (Ok(()), None) => wrong.push(format!("{name} was not seen in {file}: {written}")),
                (Err(why), Some(_)) => wrong.push(format!("{name} is let pass no more: {why}")),
                (Ok(()), Some(_)) => {}
                (Err(why), None) => {
                    refused += 1;
                    if !why.contains(&format!("public/{file} holds")) {
                        wrong.push(format!("{name}: the file is not named: {why}"));
                    }
                    if why.contains("zzq") || why.contains("Zzq") {
                        wrong.push(format!("{name}: the text is repeated: {why}"));
                    }
                }
            }
        }
    }
    assert!(wrong.is_empty(), "{} of them:\n{}", wrong.len(), wrong.join("\n"));
    assert!(refused > 150, "{refused}");
    for (kind, place, _) in LET_PASS {
        assert!(planted.iter().any(|(name, _)| *name == format!("{kind} {place}")), "there is no {kind} {place}");
    }
}

#[test]
fn a_phone_number_is_refused_as_it_is_dialled_at_home() {
    let (texts, planted) = planted();
    let (_, phone) = planted.iter().find(|(name, _)| name == "CLIENT contact.phone").expect("planted");
    let looked = Looked::new(&texts);
    let at_home = phone.replace("+44 ", "0");
    for written in [at_home.replace(' ', ""), at_home.replace(' ', "&nbsp;"), at_home.replace(' ', "-"), at_home] {
        let why = looked.with("own.html", &format!("<p>Ring {written}.</p>")).expect_err(&written);
        assert!(why.contains("public/own.html holds the phone number of"), "{why}");
    }
}

#[test]
fn the_pages_of_a_salon_whose_every_private_field_is_filled_may_go() {
    let (texts, _) = planted();
    let looked = Looked::new(&texts);
    let files = public(&texts);
    assert!(files.len() > 60, "{}", files.len());
    for (name, bytes) in &files {
        looked.write(name.strip_prefix("public/").expect("public"), bytes);
    }
    assert_eq!(looked.look(), Ok(()));
}

/// A client whose file has a fault, one of whom there is no visit, and a visit of nobody known keep what is private of theirs.
#[test]
fn files_at_fault_and_clients_without_a_visit_are_looked_at_as_well() {
    let (mut texts, planted) = planted();
    let text =
        |name: &str| planted.iter().find(|(of, _)| of == name).map(|(_, text)| said(text).to_owned()).expect(name);
    for source in texts.clients.iter_mut().chain(&mut texts.records) {
        *source = SourceText::new(source.name.clone(), format!("frist_name = 3\n{}", source.text));
    }
    let faults = pipeline::read(&texts).report.items.iter().filter(|item| item.severity == Severity::Fault).count();
    assert!(faults >= texts.clients.len() + texts.records.len(), "{faults}");
    let at_fault = Looked::new(&texts);
    texts.records.clear();
    let unvisited = Looked::new(&texts);
    for name in ["CLIENT contact.phone", "CLIENT contact.email", "CLIENT health.incident.note", "CLIENT history.note"] {
        for looked in [&at_fault, &unvisited] {
            assert!(looked.with("own.txt", &text(name)).is_err(), "{name}");
        }
    }
    for name in ["VISIT advice", "VISIT health.reaction.to"] {
        assert!(at_fault.with("own.txt", &text(name)).is_err(), "{name}");
        assert!(unvisited.with("own.txt", &text(name)).is_ok(), "nobody says it any more: {name}");
    }
}

/// What the look leaves out so that it never cries wolf, each with its reason.
#[test]
fn what_says_nothing_of_a_person_or_cannot_be_read_is_let_pass() {
    let mut texts = demo();
    let client = texts.clients.iter_mut().find(|source| source.name.ends_with("wren-04.toml")).expect("a client");
    let own = "\n[[health.incident]]\nnote = \"dry ends\"\n[[health.incident]]\nnote = \"unforeseeable\"\n\
        [[health.incident]]\nnote = \"wash with lukewarm water\"\n[[health.incident]]\nnote = \"fainted in the chair\"\n";
    *client = SourceText::new(client.name.clone(), format!("{}{own}", client.text));
    let looked = Looked::new(&texts);
    assert!(looked.with("own.txt", "fainted in the chair").is_err(), "the file is read");
    // Fewer than 12 letters, or one word: said by chance.
    assert_eq!(looked.with("own.txt", "Dry ends; unforeseeable."), Ok(()));
    // A shipped passage or a word of a page says it.
    assert_eq!(looked.with("own.txt", "Lukewarm water"), Ok(()));
    // Pictures, packed files, and names of characters that no escaper of ours writes.
    assert_eq!(looked.with("own.html", &data_encoding::BASE64.encode(b"fainted in the chair")), Ok(()));
    assert_eq!(looked.with("own.html", "f&aacute;inted in the chair"), Ok(()));
    // A part of it, unless that is a paragraph.
    assert_eq!(looked.with("own.txt", "fainted in the"), Ok(()));
}
