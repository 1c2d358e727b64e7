//! Lists, groups and long texts that nothing closes.

use toml::Spanned;
use toml::de::{DeTable, DeValue, Error};

use crate::diagnostic::{Diagnostic, SourceText, Span};

/// Lists, braces and long texts that run to the end of the file because nothing closes them, with what they are.
pub(super) fn never_closed(source: &SourceText, table: &DeTable<'_>, errors: &[Error]) -> Vec<(Span, &'static str)> {
    let mut found = Vec::new();
    for error in errors {
        let what = match error.message() {
            message if message.starts_with("unclosed array,") => "list",
            message if message.starts_with("unclosed inline table") => "group",
            message if message.starts_with("invalid multi-line") => "long text",
            _ => continue,
        };
        let end = error.span().map_or(source.text.len(), |span| span.start);
        let mut place = None;
        table.iter().for_each(|(_, value)| outermost_ending_at(value, end, what, &mut place));
        found.extend(place.map(|place| (place, what)));
    }
    found.sort_by_key(|(place, _)| place.start);
    found
}

fn outermost_ending_at(value: &Spanned<DeValue<'_>>, end: usize, what: &str, place: &mut Option<Span>) {
    if place.is_some() {
        return;
    }
    let fits = match value.get_ref() {
        DeValue::Array(_) => what == "list",
        DeValue::Table(_) => what == "group",
        DeValue::String(_) => what == "long text",
        _ => false,
    };
    // The end may be told a little before the span's own, by the white space between.
    if fits && value.span().end >= end && value.span().start < end && value.span().len() > 1 {
        *place = Some(value.span());
        return;
    }
    match value.get_ref() {
        DeValue::Array(items) => items.iter().for_each(|item| outermost_ending_at(item, end, what, place)),
        DeValue::Table(table) => table.iter().for_each(|(_, item)| outermost_ending_at(item, end, what, place)),
        _ => {}
    }
}

pub(super) fn never_closed_fault(source: &SourceText, place: Span, what: &str) -> Diagnostic {
    let (open, close) = match what {
        "list" => ("[", "]"),
        "group" => ("{", "}"),
        _ if source.text[place.clone()].starts_with("'''") => ("'''", "'''"),
        _ => ("\"\"\"", "\"\"\""),
    };
    Diagnostic::fault(&source.name, format!("this {what} begins with {open} and is never closed"))
        .at(place.start..place.start + open.len(), "it begins here")
        .hint(format!("Write {close} where the {what} ends"))
        .hint("What follows could not be read; correct this first, then look again")
}
