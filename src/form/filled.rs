//! A section as read: every field that could be understood, with its place.

use chrono::{NaiveDate, NaiveTime};

use super::field::{Field, Section};
use crate::diagnostic::Span;
use crate::units::Worded;

/// A section as read. A field that is missing, or was told as a fault, is not in it.
#[derive(Debug, Clone)]
pub struct Filled {
    section: &'static Section,
    span: Span,
    /// A handful, each name once.
    entries: Vec<(&'static str, Entry)>,
    written: Vec<&'static str>,
}

/// A field as read.
#[derive(Debug, Clone)]
pub(super) struct Entry {
    pub(super) key: Span,
    pub(super) span: Span,
    pub(super) value: Value,
}

/// A value as read.
#[derive(Debug, Clone)]
pub(super) enum Value {
    Text(String),
    Texts(Vec<(String, Span)>),
    Number(f64),
    Between(f64, f64),
    Numbers(Vec<f64>),
    YesNo(bool),
    Date(NaiveDate),
    Time(NaiveTime),
    Word(&'static str),
    Words(Vec<&'static str>),
    Section(Filled),
    Sections(Vec<Filled>),
}

/// Declares getters that look a field up and open its value.
macro_rules! getters {
    ($($(#[$doc:meta])* $name:ident: $variant:pat => $out:expr, $type:ty;)*) => {$(
        $(#[$doc])*
        ///
        /// # Panics
        /// When the section has no such field: a fault in the program, not in a file.
        #[must_use]
        pub fn $name(&self, field: &str) -> Option<$type> {
            match self.entry(field).map(|entry| &entry.value) {
                Some($variant) => Some($out),
                _ => None,
            }
        }
    )*};
}

impl Filled {
    /// A section with room for so many fields.
    pub(super) fn new(section: &'static Section, span: Span, room: usize) -> Self {
        Self { section, span, entries: Vec::with_capacity(room), written: Vec::with_capacity(room) }
    }

    pub(super) fn note_written(&mut self, name: &'static str) {
        self.written.push(name);
    }

    pub(super) fn insert(&mut self, name: &'static str, entry: Entry) {
        self.entries.push((name, entry));
    }

    fn entry(&self, field: &str) -> Option<&Entry> {
        debug_assert!(self.section.field(field).is_some(), "section [{}] has no field {field}", self.section.name);
        self.entries.iter().find(|(name, _)| *name == field).map(|(_, entry)| entry)
    }

    /// Where the section begins: its line in square brackets, or the braces round it.
    #[must_use]
    pub fn span(&self) -> Span {
        self.span.clone()
    }

    /// Where a field's value is; the section itself when the field is not there.
    #[must_use]
    pub fn span_of(&self, field: &str) -> Span {
        self.entry(field).map_or_else(|| self.span(), |entry| entry.span.clone())
    }

    /// Where a field's name is; the section itself when the field is not there.
    #[must_use]
    pub fn key_of(&self, field: &str) -> Span {
        self.entry(field).map_or_else(|| self.span(), |entry| entry.key.clone())
    }

    /// Whether a field is written, even when it was told as a fault.
    #[must_use]
    pub fn is_written(&self, field: &str) -> bool {
        debug_assert!(self.section.field(field).is_some(), "section [{}] has no field {field}", self.section.name);
        self.written.contains(&field)
    }

    /// Whether a field is there and could be understood.
    #[must_use]
    pub fn has(&self, field: &str) -> bool {
        self.entry(field).is_some()
    }

    /// Visits every text in it and in the sections below it, with the names of the sections that lead to it.
    pub fn each_text<'a>(&'a self, visit: &mut dyn FnMut(&[&'static str], &'static Field, &'a str)) {
        self.each_text_below(&mut Vec::new(), visit);
    }

    fn each_text_below<'a>(
        &'a self,
        path: &mut Vec<&'static str>,
        visit: &mut dyn FnMut(&[&'static str], &'static Field, &'a str),
    ) {
        for (name, entry) in &self.entries {
            let Some(field) = self.section.field(name) else { continue };
            let below: &[Self] = match &entry.value {
                Value::Text(text) => {
                    visit(path, field, text);
                    continue;
                }
                Value::Texts(texts) => {
                    texts.iter().for_each(|(text, _)| visit(path, field, text));
                    continue;
                }
                Value::Section(one) => std::slice::from_ref(one),
                Value::Sections(several) => several,
                _ => continue,
            };
            path.push(field.name);
            below.iter().for_each(|section| section.each_text_below(path, visit));
            path.pop();
        }
    }

    getters! {
        /// A text.
        text: Value::Text(text) => text.as_str(), &str;
        /// A number.
        number: Value::Number(number) => *number, f64;
        /// `true` or `false`.
        yes: Value::YesNo(yes) => *yes, bool;
        /// A day.
        date: Value::Date(date) => *date, NaiveDate;
        /// A time of day.
        time: Value::Time(time) => *time, NaiveTime;
        /// The two numbers of "2 to 3" or "1:2"; the same one twice when one was given.
        pair: Value::Between(low, high) => (*low, *high), (f64, f64);
        /// A list of numbers, as many as the field wants.
        numbers: Value::Numbers(numbers) => numbers.as_slice(), &[f64];
        /// A section below.
        section: Value::Section(section) => section, &Filled;
    }

    /// A text of its own.
    #[must_use]
    pub fn owned(&self, field: &str) -> Option<String> {
        self.text(field).map(str::to_owned)
    }

    /// A whole number, when the field wants one that is no larger than a type holds.
    #[must_use]
    pub fn whole<T: TryFrom<u32>>(&self, field: &str) -> Option<T> {
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "the table's limits were checked")]
        self.number(field).and_then(|number| T::try_from(number as u32).ok())
    }

    /// A quantity that its constructor takes.
    #[must_use]
    pub fn quantity<T>(&self, field: &str, build: fn(f64) -> Option<T>) -> Option<T> {
        self.number(field).and_then(build)
    }

    /// One of a few words.
    #[must_use]
    pub fn word<T: Worded>(&self, field: &str) -> Option<T> {
        match self.entry(field).map(|entry| &entry.value) {
            Some(Value::Word(word)) => T::from_word(word),
            _ => None,
        }
    }

    /// A list of words; empty when missing.
    #[must_use]
    pub fn words<T: Worded>(&self, field: &str) -> Vec<T> {
        match self.entry(field).map(|entry| &entry.value) {
            Some(Value::Words(words)) => words.iter().filter_map(|word| T::from_word(word)).collect(),
            _ => Vec::new(),
        }
    }

    /// A list of texts, each with its place; empty when missing.
    #[must_use]
    pub fn texts(&self, field: &str) -> &[(String, Span)] {
        match self.entry(field).map(|entry| &entry.value) {
            Some(Value::Texts(texts)) => texts,
            _ => &[],
        }
    }

    /// The sections of a name; empty when missing.
    #[must_use]
    pub fn sections(&self, field: &str) -> &[Self] {
        match self.entry(field).map(|entry| &entry.value) {
            Some(Value::Sections(sections)) => sections,
            _ => &[],
        }
    }
}
