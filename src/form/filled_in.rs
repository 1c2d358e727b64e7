//! A file written from typed-in fields as a person would write it, and the fields of a file that is there.
//!
//! In: a [`Form`] and what was typed, by place. Out: TOML text that knows which field stands where. Knows nothing of: what the fields mean.
//!
//! A place is a name with dots: `placement.0.zone.1.from_mm`; repeated sections are counted from 0.
//! What was typed is never put right here: a number that is none is written as text, so that reading the file tells it in its own words.

use std::collections::BTreeMap;
use std::fmt::Write as _;

use chrono::{NaiveDate, NaiveTime};
use toml::de::{DeTable, DeValue};

use super::field::{Field, Section, Wants};
use super::read::{Form, heading};
use super::shape::Shape;
use crate::diagnostic::{SourceText, Span};

/// What was typed, by place. An empty text counts as not there.
pub type Typed = BTreeMap<String, String>;

/// A text with the place of every field and section in it.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct FilledIn {
    /// The text.
    pub text: String,
    places: Vec<(Span, String)>,
}

/// The remarks of a file by the place they stand at: those above it, and the one behind it.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Remarks {
    above: BTreeMap<String, Vec<String>>,
    behind: BTreeMap<String, String>,
    tail: Vec<String>,
}

impl FilledIn {
    /// The field or section a range of the text belongs to: the narrowest that holds it.
    #[must_use]
    pub fn place_of(&self, span: &Span) -> Option<&str> {
        let holds = |place: &&(Span, String)| place.0.start <= span.start && span.start < place.0.end.max(span.start);
        let narrowest = self.places.iter().filter(holds).min_by_key(|(place, _)| place.end - place.start);
        narrowest.map(|(_, name)| name.as_str())
    }
}

/// How many sections of a repeated kind were typed: `placement` or `placement.0.zone`.
#[must_use]
pub fn typed_count(typed: &Typed, place: &str) -> usize {
    let begins = format!("{place}.");
    let from = typed.range(begins.clone()..).take_while(|(name, _)| name.starts_with(&begins));
    let numbers = from.filter_map(|(name, _)| name[begins.len()..].split('.').next()?.parse::<usize>().ok());
    numbers.max().map_or(0, |last| last + 1)
}

/// Writes a file in the order of its form, with the remarks of the file that stood there before.
#[must_use]
pub fn filled_in(form: &'static Form, typed: &Typed, remarks: &Remarks) -> FilledIn {
    let mut writer = Writer { form, typed, remarks: remarks.clone(), out: FilledIn::default() };
    writer.section(form.top, "", &mut Vec::new());
    let left = std::mem::take(&mut writer.remarks);
    let rest: Vec<String> =
        left.above.into_values().flatten().chain(left.behind.into_values()).chain(left.tail).collect();
    if !rest.is_empty() {
        let _ = write!(writer.out.text, "\n{}\n", rest.join("\n"));
    }
    writer.out
}

struct Writer<'a> {
    form: &'static Form,
    typed: &'a Typed,
    remarks: Remarks,
    out: FilledIn,
}

impl Writer<'_> {
    fn section(&mut self, section: &'static Section, prefix: &str, path: &mut Vec<&'static str>) {
        for field in section.fields {
            let place = format!("{prefix}{}", field.name);
            match field.wants {
                Wants::Section(below) if prefix.contains('.') => self.inline(below, &place),
                Wants::Section(_) | Wants::Sections(..) => {}
                _ => self.line(field, &place),
            }
        }
        for field in section.fields {
            let place = format!("{prefix}{}", field.name);
            path.push(field.name);
            match field.wants {
                Wants::Section(below) if !prefix.contains('.') && self.has(&place) => {
                    self.heading(&place, path);
                    self.section(below, &format!("{place}."), path);
                }
                Wants::Sections(below, _) => {
                    for number in 0..typed_count(self.typed, &place) {
                        let one = format!("{place}.{number}");
                        self.heading(&one, path);
                        self.section(below, &format!("{one}."), path);
                    }
                }
                _ => {}
            }
            path.pop();
        }
    }

    /// Whether anything below a place was typed.
    fn has(&self, place: &str) -> bool {
        let begins = format!("{place}.");
        let below = self.typed.range(begins.clone()..).take_while(|(name, _)| name.starts_with(&begins));
        below.into_iter().any(|(_, text)| !text.trim().is_empty())
    }

    fn heading(&mut self, place: &str, path: &[&'static str]) {
        if !self.out.text.is_empty() {
            self.out.text.push('\n');
        }
        self.above(place);
        let start = self.out.text.len();
        self.out.text += &heading(self.form.top, path);
        self.out.places.push((start..self.out.text.len(), place.to_owned()));
        self.behind(place);
    }

    fn line(&mut self, field: &Field, place: &str) {
        let Some(value) = self.typed.get(place).and_then(|text| written(field.wants, text)) else { return };
        self.above(place);
        let start = self.out.text.len();
        let _ = write!(self.out.text, "{} = {value}", field.name);
        self.out.places.push((start..self.out.text.len(), place.to_owned()));
        self.behind(place);
    }

    /// A section inside a repeated one, in braces on one line.
    fn inline(&mut self, section: &'static Section, place: &str) {
        if !self.has(place) {
            return;
        }
        self.above(place);
        let whole = self.out.text.len();
        let _ = write!(self.out.text, "{} = {{", section.name);
        let mut between = " ";
        for field in section.fields {
            let below = format!("{place}.{}", field.name);
            let Some(value) = self.typed.get(&below).and_then(|text| written(field.wants, text)) else { continue };
            self.out.text += between;
            let start = self.out.text.len();
            let _ = write!(self.out.text, "{} = {value}", field.name);
            self.out.places.push((start..self.out.text.len(), below));
            between = ", ";
        }
        self.out.text += " }";
        self.out.places.push((whole..self.out.text.len(), place.to_owned()));
        self.behind(place);
    }

    fn above(&mut self, place: &str) {
        for line in self.remarks.above.remove(place).unwrap_or_default() {
            let _ = writeln!(self.out.text, "{line}");
        }
    }

    fn behind(&mut self, place: &str) {
        if let Some(remark) = self.remarks.behind.remove(place) {
            let _ = write!(self.out.text, "  {remark}");
        }
        self.out.text.push('\n');
    }
}

/// A value as it stands in a file; nothing for an empty one.
fn written(wants: Wants, typed: &str) -> Option<String> {
    let plain = typed.trim();
    if plain.is_empty() {
        return None;
    }
    Some(match wants {
        Wants::Number(_) | Wants::Whole(_) | Wants::About(_) if is_number(plain) => plain.to_owned(),
        Wants::YesNo if plain == "true" || plain == "false" => plain.to_owned(),
        Wants::Date if NaiveDate::parse_from_str(plain, "%Y-%m-%d").is_ok() && plain.len() == 10 => plain.to_owned(),
        Wants::Time => {
            match ["%H:%M:%S", "%H:%M"].iter().find_map(|form| NaiveTime::parse_from_str(plain, form).ok()) {
                Some(time) => time.format("%H:%M:%S").to_string(),
                None => quoted(plain),
            }
        }
        Wants::Numbers(..) => {
            let parts: Vec<&str> = plain.trim_matches(['[', ']']).split(',').map(str::trim).collect();
            if parts.iter().all(|part| is_number(part)) { format!("[{}]", parts.join(", ")) } else { quoted(plain) }
        }
        Wants::Words(_) => list(plain.split(',')),
        Wants::Texts(..) => list(typed.lines()),
        Wants::Text(Shape::Prose) => prose(typed),
        _ => quoted(plain),
    })
}

fn list<'a>(parts: impl Iterator<Item = &'a str>) -> String {
    let parts: Vec<String> = parts.map(str::trim).filter(|part| !part.is_empty()).map(quoted).collect();
    format!("[{}]", parts.join(", "))
}

/// Whether TOML takes a text as a number as it stands.
fn is_number(text: &str) -> bool {
    let digits = |part: &str| !part.is_empty() && part.bytes().all(|byte| byte.is_ascii_digit());
    let bare = text.strip_prefix('-').unwrap_or(text);
    let (whole, rest) = bare.split_once('.').map_or((bare, None), |(whole, rest)| (whole, Some(rest)));
    digits(whole) && (whole == "0" || !whole.starts_with('0')) && rest.is_none_or(digits) && text.len() < 16
}

/// A basic string (TOML 1.0, "String"): quotation marks, backslashes and control characters escaped.
#[must_use]
pub fn quoted(text: &str) -> String {
    let mut out = String::from('"');
    for sign in text.chars() {
        escaped(&mut out, sign);
    }
    out + "\""
}

fn escaped(out: &mut String, sign: char) {
    match sign {
        '"' => *out += "\\\"",
        '\\' => *out += "\\\\",
        '\t' => *out += "\\t",
        '\n' => *out += "\\n",
        '\r' => *out += "\\r",
        sign if sign.is_control() => {
            let _ = write!(out, "\\u{:04X}", u32::from(sign));
        }
        sign => out.push(sign),
    }
}

/// A text of one line in quotation marks, of several between three of them.
fn prose(text: &str) -> String {
    let text = text.replace("\r\n", "\n");
    let text = text.trim_end();
    if !text.contains('\n') {
        return quoted(text);
    }
    let mut out = String::from("\"\"\"\n");
    for sign in text.chars() {
        if sign == '\n' { out.push('\n') } else { escaped(&mut out, sign) }
    }
    out + "\n\"\"\""
}

/// The fields of a file that reads without fault, by place; nothing when it holds what its form has not.
#[must_use]
pub fn typed_of(source: &SourceText, form: &'static Form) -> Option<Typed> {
    let text = source.text.strip_prefix('\u{feff}').unwrap_or(&source.text);
    let table = DeTable::parse(text).ok()?;
    let mut typed = Typed::new();
    collect(text, table.get_ref(), form.top, "", &mut |place, value, _| {
        if !value.is_empty() {
            typed.insert(place, value);
        }
    })?;
    Some(typed)
}

/// Tells every leaf with its place, what would have been typed, and where its line is; and every section with nothing typed.
fn collect(
    text: &str,
    table: &DeTable<'_>,
    section: &'static Section,
    prefix: &str,
    found: &mut dyn FnMut(String, String, Span),
) -> Option<()> {
    for (key, value) in table {
        let field = section.field(key.get_ref())?;
        let place = format!("{prefix}{}", field.name);
        let whole = key.span().start..value.span().end.max(key.span().end);
        match (value.get_ref(), field.section()) {
            (DeValue::Table(inner), Some(below)) => {
                found(place.clone(), String::new(), key.span().start..key.span().end);
                collect(text, inner, below, &format!("{place}."), found)?;
            }
            (DeValue::Array(items), Some(below)) => {
                for (number, item) in items.iter().enumerate() {
                    let DeValue::Table(inner) = item.get_ref() else { return None };
                    found(format!("{place}.{number}"), String::new(), item.span().start..item.span().start + 1);
                    collect(text, inner, below, &format!("{place}.{number}."), found)?;
                }
            }
            (DeValue::Array(items), None) => {
                let parts = items.iter().map(|item| bare(text, item.get_ref(), item.span()));
                let between = if matches!(field.wants, Wants::Texts(..)) { "\n" } else { ", " };
                found(place, parts.collect::<Vec<_>>().join(between), whole);
            }
            (leaf, _) => found(place, bare(text, leaf, value.span()), whole),
        }
    }
    Some(())
}

fn bare(text: &str, value: &DeValue<'_>, span: Span) -> String {
    match value {
        DeValue::String(text) => text.to_string(),
        _ => text[span].to_owned(),
    }
}

/// The remarks of a file, each with the place it stands at.
#[must_use]
pub fn remarks_of(source: &SourceText, form: &'static Form) -> Remarks {
    let text = source.text.strip_prefix('\u{feff}').unwrap_or(&source.text);
    let Ok(table) = DeTable::parse(text) else { return Remarks::default() };
    let mut places: Vec<(Span, String)> = Vec::new();
    let _ = collect(text, table.get_ref(), form.top, "", &mut |place, _, span| places.push((span, place)));
    let mut remarks = Remarks::default();
    let (mut waiting, mut start) = (Vec::new(), 0);
    for line in text.split_inclusive('\n') {
        let here = start..start + line.len();
        start = here.end;
        let inside = |at: usize| places.iter().any(|(span, _)| span.start <= at && at < span.end);
        let sign =
            line.char_indices().map(|(at, _)| at).find(|at| line[*at..].starts_with('#') && !inside(here.start + at));
        // A place begins on this line, or its value of several lines ends here.
        let place = places
            .iter()
            .find(|(span, _)| here.contains(&span.start) || (here.contains(&span.end) && span.start < here.start));
        let begins = place.is_some_and(|(span, _)| here.contains(&span.start));
        if let (true, Some((_, name))) = (begins, place)
            && !waiting.is_empty()
        {
            remarks.above.entry(name.clone()).or_default().append(&mut waiting);
        }
        match (sign, place) {
            (Some(at), Some((_, name))) if !line[..at].trim().is_empty() => {
                remarks.behind.insert(name.clone(), line[at..].trim_end().to_owned());
            }
            (Some(at), _) => waiting.push(line[at..].trim_end().to_owned()),
            _ => {}
        }
    }
    remarks.tail = waiting;
    remarks
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::form::{number, whole};

    static ZONE: Section = Section::new(
        "zone",
        "a zone",
        &[Field::new("from_mm", number(0.0, 9.0, "mm"), "a", "1").required(), Field::section_of(&COLOUR)],
    );
    static COLOUR: Section =
        Section::new("colour", "a colour", &[Field::new("name", Wants::Text(Shape::Line), "a name", "\"x\"")]);
    static TOP: Section = Section::new(
        "",
        "a thing",
        &[
            Field::new("format", whole(1.0, 1.0, ""), "the format", "1").required(),
            Field::new("note", Wants::Text(Shape::Prose), "a note", "\"x\""),
            Field::new("start", Wants::Time, "a time", "10:00:00"),
            Field::sections_of(&ZONE, 9),
        ],
    );
    static FORM: Form = Form { what: "a thing", top: &TOP, smallest: "format = 1\n", beside: None, largest: 1 << 20 };

    fn typed(pairs: &[(&str, &str)]) -> Typed {
        pairs.iter().map(|(place, text)| ((*place).to_owned(), (*text).to_owned())).collect()
    }

    #[test]
    fn what_was_typed_stands_in_the_order_of_the_form_and_reads_back() {
        let typed = typed(&[
            ("zone.0.from_mm", "3,5"),
            ("zone.0.colour.name", "say \"rose\" \\ # no remark"),
            ("zone.1.from_mm", "4"),
            ("format", "1"),
            ("start", "9:30"),
            ("note", "one\ntwo \"\"\" \\u0041\n"),
        ]);
        let written = filled_in(&FORM, &typed, &Remarks::default());
        assert_eq!(
            written.text,
            "format = 1\nnote = \"\"\"\none\ntwo \\\"\\\"\\\" \\\\u0041\n\"\"\"\nstart = 09:30:00\n\n[[zone]]\nfrom_mm = \"3,5\"\ncolour = { name = \"say \\\"rose\\\" \\\\ # no remark\" }\n\n[[zone]]\nfrom_mm = 4\n"
        );
        let source = SourceText::new("x.toml", &*written.text);
        let back = typed_of(&source, &FORM).expect("it is sound");
        assert_eq!(back["zone.0.colour.name"], typed["zone.0.colour.name"]);
        assert_eq!(back["note"], "one\ntwo \"\"\" \\u0041\n");
        assert_eq!(filled_in(&FORM, &back, &Remarks::default()).text, written.text, "written twice is written once");
        let (_, findings) = crate::form::read(&source, &FORM);
        let told = findings.check(None::<()>).report.items;
        let place = told[0].span.as_ref().and_then(|span| written.place_of(span));
        assert_eq!(place, Some("zone.0.from_mm"), "{told:?}");
    }

    #[test]
    fn every_remark_of_the_old_file_is_in_the_new_one() {
        let old = "# top\nformat = 1 # one\nnote = \"\"\"\n# no remark\nend\"\"\" # after\n\n# first\n[[zone]] # head\nfrom_mm = 3 # three\n# gone\n[[zone]]\nfrom_mm = 4\n# last\n";
        let source = SourceText::new("x.toml", old);
        let mut typed = typed_of(&source, &FORM).expect("it is sound");
        let remarks = remarks_of(&source, &FORM);
        typed.insert("zone.0.from_mm".to_owned(), "5".to_owned());
        typed.retain(|place, _| !place.starts_with("zone.1"));
        assert_eq!(
            filled_in(&FORM, &typed, &remarks).text,
            "# top\nformat = 1  # one\nnote = \"\"\"\n# no remark\nend\n\"\"\"  # after\n\n# first\n[[zone]]  # head\nfrom_mm = 5  # three\n\n# gone\n# last\n"
        );
    }
}
