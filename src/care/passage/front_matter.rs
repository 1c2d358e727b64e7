//! The front matter of a passage: fields with their places.

use toml::Spanned;
use toml::de::{DeTable, DeValue};

use crate::diagnostic::Diagnostic;
use crate::diagnostic::Report;
use crate::diagnostic::SourceText;
use crate::diagnostic::Span;
use crate::units::Worded;

const FENCE: &str = "+++";

/// The places of the front matter and of the text below it.
pub(super) fn split(source: &SourceText, report: &mut Report) -> Option<(Span, Span)> {
    let text = &source.text;
    let top = text.strip_prefix('\u{feff}').unwrap_or(text);
    let missing = |message: &str| {
        Diagnostic::fault(&source.name, message).hint("Begin with a line +++, then the fields, then a line +++ again.")
    };
    let mut lines = top.split_inclusive('\n');
    let mut at = text.len() - top.len();
    match lines.next() {
        Some(first) if first.trim_end() == FENCE => at += first.len(),
        _ => {
            report.push(missing("the passage has no front matter"));
            return None;
        }
    }
    let start = at;
    for line in lines {
        if line.trim_end() == FENCE {
            return Some((start..at, at + line.len()..text.len()));
        }
        at += line.len();
    }
    report.push(missing("the front matter is never closed"));
    None
}

/// The fields of a front matter, each taken once.
pub(super) struct Fields<'a> {
    source: &'a SourceText,
    /// Where the front matter begins in the file.
    offset: usize,
    table: DeTable<'a>,
    taken: Vec<&'static str>,
}

impl<'a> Fields<'a> {
    /// Reads the front matter and tells what is no TOML.
    pub(super) fn read(source: &'a SourceText, place: Span, report: &mut Report) -> Self {
        let (table, errors) = DeTable::parse_recoverable(&source.text[place.clone()]);
        for error in errors {
            let span = error.span().map_or(place.clone(), |s| s.start + place.start..s.end + place.start);
            report.push(Diagnostic::fault(&source.name, error.message()).at(span, "not understood"));
        }
        Self { source, offset: place.start, table: table.into_inner(), taken: Vec::new() }
    }

    /// Whether a field is there.
    pub(super) fn has(&self, name: &'static str) -> bool {
        self.value(name).is_some()
    }

    /// Where a field's value is; empty when there is none.
    pub(super) fn span(&self, name: &'static str) -> Span {
        self.value(name).map_or(self.offset..self.offset, |value| self.shift(value.span()))
    }

    /// A text that must be there, with its place.
    pub(super) fn text(&mut self, name: &'static str, report: &mut Report) -> Option<(String, Span)> {
        if !self.has(name) {
            self.taken.push(name);
            let message = format!("the field {name} is missing");
            report.push(
                Diagnostic::fault(&self.source.name, message)
                    .hint(format!("Add {name} = \"...\" to the front matter.")),
            );
            return None;
        }
        self.optional_text(name, report)
    }

    /// A text that may be there, with its place.
    pub(super) fn optional_text(&mut self, name: &'static str, report: &mut Report) -> Option<(String, Span)> {
        self.taken.push(name);
        let span = self.span(name);
        let text = match self.value(name)?.get_ref() {
            DeValue::String(text) if !text.trim().is_empty() => text.clone().into_owned(),
            _ => {
                let message = format!("the field {name} takes a text between quotation marks");
                report.push(Diagnostic::fault(&self.source.name, message).at(span, "not a text"));
                return None;
            }
        };
        Some((text, span))
    }

    /// One of a few words, which must be there.
    pub(super) fn word<T: Worded>(&mut self, name: &'static str, report: &mut Report) -> Option<T> {
        let (text, span) = self.text(name, report)?;
        self.known_word(&text, span, report)
    }

    /// One of a few words, which may be there.
    pub(super) fn optional_word<T: Worded>(&mut self, name: &'static str, report: &mut Report) -> Option<T> {
        let (text, span) = self.optional_text(name, report)?;
        self.known_word(&text, span, report)
    }

    /// The place in the section: a whole number from 0 to 9999.
    pub(super) fn order(&mut self, report: &mut Report) -> Option<u16> {
        self.taken.push("order");
        let order = match self.value("order").map(Spanned::get_ref) {
            Some(DeValue::Integer(number)) => number.as_str().parse().ok().filter(|order| *order <= 9999),
            _ => None,
        };
        if order.is_none() {
            let fault = Diagnostic::fault(&self.source.name, "the field order takes a whole number from 0 to 9999");
            report.push(fault.at(self.span("order"), "the place of the passage in its section"));
        }
        order
    }

    /// A yes or no; not written is no.
    pub(super) fn flag(&mut self, name: &'static str, report: &mut Report) -> bool {
        self.taken.push(name);
        match self.value(name).map(Spanned::get_ref) {
            None => false,
            Some(DeValue::Boolean(yes)) => *yes,
            Some(_) => {
                let message = format!("the field {name} takes true or false");
                report.push(Diagnostic::fault(&self.source.name, message).at(self.span(name), "not true or false"));
                false
            }
        }
    }

    /// Tells every field that nobody asked for.
    pub(super) fn refuse_unknown(&self, report: &mut Report) {
        for key in self.table.keys() {
            let name = key.get_ref().as_ref();
            if !self.taken.contains(&name) {
                report.push(
                    Diagnostic::fault(&self.source.name, format!("a passage has no field {name}"))
                        .at(self.shift(key.span()), "unknown field")
                        .hint(format!("Known fields: {}.", self.taken.join(", "))),
                );
            }
        }
    }

    fn known_word<T: Worded>(&self, text: &str, span: Span, report: &mut Report) -> Option<T> {
        let found = T::from_word(text);
        if found.is_none() {
            let known: Vec<&str> = T::WORDS.iter().map(|(_, word, _)| *word).collect();
            report.push(
                Diagnostic::fault(&self.source.name, format!("{text:?} is not a known {}", T::WHAT))
                    .at(span, "unknown word")
                    .hint(format!("Known: {}.", known.join(", "))),
            );
        }
        found
    }

    fn value(&self, name: &str) -> Option<&Spanned<DeValue<'a>>> {
        self.table.iter().find(|(key, _)| key.get_ref().as_ref() == name).map(|(_, value)| value)
    }

    fn shift(&self, span: Span) -> Span {
        span.start + self.offset..span.end + self.offset
    }
}
