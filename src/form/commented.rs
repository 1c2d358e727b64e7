//! A form as a new file: every field with what it is and an example, most of them as comments.
//!
//! In: a [`Form`] and which fields are to be live. Out: TOML text.

use std::fmt::Write as _;

use super::field::{Field, Section, Wants};
use super::read::{Form, heading};

/// A field that a new file sets: its sections and name with dots between, and its value as TOML; an empty value takes the example.
pub type Live<'a> = (&'a str, &'a str);

/// A new file. Required fields of a section that is there, and those in `live`, are set; every other one is a comment to copy from.
///
/// `schema` is the path of the JSON Schema from this file's folder, told to editors in the first line.
#[must_use]
pub fn commented(form: &'static Form, schema: &str, live: &[Live<'_>]) -> String {
    let mut out = format!("#:schema {schema}\n# This is {}. A line that begins with # is not read.\n\n", form.what);
    section(&mut out, form, form.top, &mut Vec::new(), true, live);
    out
}

fn section(
    out: &mut String,
    form: &'static Form,
    here: &'static Section,
    path: &mut Vec<&'static str>,
    written: bool,
    live: &[Live<'_>],
) {
    for field in here.fields.iter().filter(|field| field.section().is_none()) {
        let at = dotted(path, field.name);
        let set = live.iter().find(|(name, _)| *name == at);
        let value = set.map(|(_, value)| *value).filter(|value| !value.is_empty()).unwrap_or(field.example);
        let mark = if written && (field.required || set.is_some()) { "" } else { "# " };
        let _ = writeln!(out, "# {}{}\n{mark}{} = {value}", upper_first(field.doc), choice(field), field.name);
    }
    for (field, below) in here.fields.iter().filter_map(|field| Some((field, field.section()?))) {
        path.push(field.name);
        let at = dotted(path, "");
        let wanted = written && (field.required || live.iter().any(|(name, _)| name.starts_with(&at)));
        let mark = if wanted { "" } else { "# " };
        let many = if matches!(field.wants, Wants::Sections(..)) { "; may be written several times" } else { "" };
        let _ = writeln!(out, "\n# {}{many}\n{mark}{}", upper_first(field.doc), heading(form.top, path));
        section(out, form, below, path, wanted, live);
        path.pop();
    }
}

/// A path as one name: `placement.zone.from_mm`.
fn dotted(path: &[&'static str], name: &str) -> String {
    path.iter().fold(String::new(), |before, part| before + part + ".") + name
}

/// The words a field chooses from.
fn choice(field: &Field) -> String {
    let (Wants::Word(choices) | Wants::Words(choices)) = field.wants else { return String::new() };
    let words: Vec<&str> = choices().words.iter().map(|(word, _)| *word).collect();
    format!(": {}", words.join(", "))
}

fn upper_first(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}
