//! What a file may say: fields, sections and what each field wants.
//!
//! A table built of these is the only place that spells a field's name. Reading, the JSON Schema and the comments of a new file all come from it.

use super::shape::Shape;
use crate::units::Worded;

/// A section of a file: a table of fields.
#[derive(Debug)]
pub struct Section {
    /// The name in square brackets; empty for the top of the file.
    pub name: &'static str,
    /// Other names that are understood.
    pub twins: &'static [&'static str],
    /// What it is, a phrase that fits behind "is".
    pub doc: &'static str,
    /// Its fields, in the order a new file shows them.
    pub fields: &'static [Field],
}

/// A field of a section.
#[derive(Debug)]
pub struct Field {
    /// The name in the file.
    pub name: &'static str,
    /// Other names that are understood.
    pub twins: &'static [&'static str],
    /// What it wants.
    pub wants: Wants,
    /// Whether it must be there.
    pub required: bool,
    /// What it is, a phrase that fits behind "is".
    pub doc: &'static str,
    /// A value as written in a file; empty for sections.
    pub example: &'static str,
    /// Names people write for it, which are told and not read: they are not quite the same, or too short to be sure.
    pub slips: &'static [&'static str],
    /// What to say about a text that is none of its values, when there is more to say than the values.
    pub advice: fn(&str) -> Option<String>,
}

/// The numbers a field takes.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Limits {
    /// The smallest.
    pub low: f64,
    /// The largest.
    pub high: f64,
    /// The unit, for messages; empty for a bare count.
    pub unit: &'static str,
}

/// What a field wants.
#[derive(Debug, Clone, Copy)]
pub enum Wants {
    /// Text of a shape.
    Text(Shape),
    /// A list of at most so many texts.
    Texts(Shape, usize),
    /// A number.
    Number(Limits),
    /// A whole number.
    Whole(Limits),
    /// A number, or a text such as "2 to 3".
    About(Limits),
    /// A list of exactly these numbers.
    Numbers(&'static [&'static str], Limits),
    /// Two numbers as in "1:2".
    Ratio,
    /// `true` or `false`.
    YesNo,
    /// A day.
    Date,
    /// A time of day.
    Time,
    /// One of a few words.
    Word(fn() -> Choices),
    /// A list of such words.
    Words(fn() -> Choices),
    /// A section, written once.
    Section(&'static Section),
    /// A section that may be written at most so often.
    Sections(&'static Section, usize),
}

/// The words a field chooses from.
#[derive(Debug, Clone)]
pub struct Choices {
    /// What the words describe.
    pub what: &'static str,
    /// Each word with its twins.
    pub words: Vec<(&'static str, &'static [&'static str])>,
    /// Finds the word of a spelling.
    pub find: fn(&str) -> Option<&'static str>,
}

impl Choices {
    /// The words of a [`Worded`] type.
    #[must_use]
    pub fn of<T: Worded>() -> Self {
        Self {
            what: T::WHAT,
            words: T::WORDS.iter().map(|(_, word, twins)| (*word, *twins)).collect(),
            find: |text| T::from_word(text).map(T::word),
        }
    }
}

impl Section {
    /// A section by its name, what it is, and its fields.
    #[must_use]
    pub const fn new(name: &'static str, doc: &'static str, fields: &'static [Field]) -> Self {
        Self { name, twins: &[], doc, fields }
    }

    /// The same, also understood under other names.
    #[must_use]
    pub const fn also(self, twins: &'static [&'static str]) -> Self {
        Self { twins, ..self }
    }

    /// The field of a name or twin.
    #[must_use]
    pub fn field(&self, name: &str) -> Option<&'static Field> {
        self.fields.iter().find(|field| field.is_called(name))
    }

    /// Visits every field of this section and the sections below it, with the names of the sections that lead to it.
    pub fn walk(&'static self, visit: &mut dyn FnMut(&[&'static str], &'static Field)) {
        self.walk_below(&mut Vec::new(), visit);
    }

    fn walk_below(&'static self, path: &mut Vec<&'static str>, visit: &mut dyn FnMut(&[&'static str], &'static Field)) {
        for field in self.fields {
            visit(path, field);
            if let Some(section) = field.section() {
                path.push(field.name);
                section.walk_below(path, visit);
                path.pop();
            }
        }
    }
}

impl Field {
    /// A field by its name, what it wants, what it is, and an example.
    #[must_use]
    pub const fn new(name: &'static str, wants: Wants, doc: &'static str, example: &'static str) -> Self {
        Self { name, twins: &[], wants, required: false, doc, example, slips: &[], advice: |_| None }
    }

    /// A field that holds a section, written once.
    #[must_use]
    pub const fn section_of(section: &'static Section) -> Self {
        Self { twins: section.twins, ..Self::new(section.name, Wants::Section(section), section.doc, "") }
    }

    /// A field that holds a section, written at most so often.
    #[must_use]
    pub const fn sections_of(section: &'static Section, most: usize) -> Self {
        Self { twins: section.twins, ..Self::new(section.name, Wants::Sections(section, most), section.doc, "") }
    }

    /// The same, also understood under other names.
    #[must_use]
    pub const fn twins(self, twins: &'static [&'static str]) -> Self {
        Self { twins, ..self }
    }

    /// The same, but it must be there.
    #[must_use]
    pub const fn required(self) -> Self {
        Self { required: true, ..self }
    }

    /// The same, told when it is written under one of these names.
    #[must_use]
    pub const fn slips(self, slips: &'static [&'static str]) -> Self {
        Self { slips, ..self }
    }

    /// The same, with advice for a text that is none of its values.
    #[must_use]
    pub const fn advice(self, advice: fn(&str) -> Option<String>) -> Self {
        Self { advice, ..self }
    }

    /// Whether this is the field's name, or a twin of it.
    #[must_use]
    pub fn is_called(&self, name: &str) -> bool {
        self.name == name || self.twins.contains(&name)
    }

    /// The section it holds, when it holds one.
    #[must_use]
    pub const fn section(&self) -> Option<&'static Section> {
        match self.wants {
            Wants::Section(section) | Wants::Sections(section, _) => Some(section),
            _ => None,
        }
    }
}

/// Wants a number between two, in a unit.
#[must_use]
pub const fn number(low: f64, high: f64, unit: &'static str) -> Wants {
    Wants::Number(Limits { low, high, unit })
}

/// Wants a whole number between two, in a unit.
#[must_use]
pub const fn whole(low: f64, high: f64, unit: &'static str) -> Wants {
    Wants::Whole(Limits { low, high, unit })
}

/// Wants a number between two, or two such numbers as in "2 to 3".
#[must_use]
pub const fn about(low: f64, high: f64, unit: &'static str) -> Wants {
    Wants::About(Limits { low, high, unit })
}

/// Wants one of the words of a type.
#[must_use]
pub const fn word<T: Worded>() -> Wants {
    Wants::Word(Choices::of::<T>)
}

/// Wants a list of the words of a type.
#[must_use]
pub const fn words<T: Worded>() -> Wants {
    Wants::Words(Choices::of::<T>)
}
