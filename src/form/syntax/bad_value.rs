//! A value that cannot be read, and what was probably meant.

use crate::diagnostic::{Diagnostic, SourceText, Span};
use crate::form::moment;

/// A value that cannot be read, told from what stands behind the equals sign.
pub(super) fn bad_value(source: &SourceText, error: &str, name: &str, value: &Span, span: &Span) -> Option<Diagnostic> {
    let fault = |message: String, place: Span, label: &str| Diagnostic::fault(&source.name, message).at(place, label);
    let after = &source.text[value.clone()];
    let start = value.end - after.trim_start().len();
    let raw = without_remark(after).trim();
    let place = start..start + raw.len();
    if raw.is_empty() {
        let message = format!("nothing is written behind `{name} =`");
        return Some(
            fault(message, value.start - 1..value.start, "a value is wanted")
                .hint("Write a value, or take the line out"),
        );
    }
    if error.starts_with("invalid basic string") || error.starts_with("invalid literal string") {
        return Some(
            fault("this text has no closing quotation mark".to_owned(), place, "it begins here")
                .hint(format!("Write `{name} = {raw}{}`", &raw[..1])),
        );
    }
    if error.contains("escape") || error.contains("unicode value") || error.contains("unicode hexadecimal") {
        return Some(
            fault("a backslash inside quotation marks means something special".to_owned(), span.clone(), "here")
                .hint("Write the backslash twice, or put the text between single quotation marks '…'"),
        );
    }
    if raw.starts_with(['[', '{']) {
        return bad_list(source, error, span, raw);
    }
    Some(bad_plain_value(name, raw, error, |message| fault(message, place.clone(), "")))
}

fn bad_list(source: &SourceText, error: &str, span: &Span, raw: &str) -> Option<Diagnostic> {
    let fault = |message: &str, label: &str| Diagnostic::fault(&source.name, message).at(span.clone(), label);
    let what = if raw.starts_with('[') { "list" } else { "group" };
    if error.starts_with("missing comma") {
        return Some(
            fault(&format!("a comma is missing in this {what}"), "before this")
                .hint("Write a comma between one and the next"),
        );
    }
    if error.starts_with("extra comma") {
        return Some(fault(&format!("there is a comma too many in this {what}"), "here").hint("Take it out"));
    }
    if error.starts_with("string values") {
        let word = &source.text[span.clone()];
        return Some(fault("text needs quotation marks", "").hint(format!("Write \"{}\"", straight(word))));
    }
    None
}

/// A value that stands alone and without quotation marks.
fn bad_plain_value(name: &str, raw: &str, error: &str, fault: impl Fn(String) -> Diagnostic) -> Diagnostic {
    let lower = raw.to_lowercase();
    if ["yes", "y", "true", "on"].contains(&lower.as_str()) {
        return fault(format!("`{raw}` is not how a yes is written")).hint(format!("Write `{name} = true`"));
    }
    if ["no", "n", "false", "off"].contains(&lower.as_str()) {
        return fault(format!("`{raw}` is not how a no is written")).hint(format!("Write `{name} = false`"));
    }
    if error.starts_with("invalid date") || !moment::days_meant(raw).is_empty() {
        let message =
            if moment::days_meant(raw).is_empty() { "there is no such day" } else { "a day is written another way" };
        return fault(message.to_owned()).hint(moment::how_to_write_a_day(name, raw));
    }
    if error.starts_with("invalid time") || (raw.contains(':') && moment::time_meant(raw).is_some()) {
        return fault("there is no such time, or it is written another way".to_owned())
            .hint(moment::how_to_write_a_time(name, raw));
    }
    if (lower.ends_with("am") || lower.ends_with("pm")) && moment::time_meant(raw).is_some() {
        return fault("a time is written another way".to_owned()).hint(moment::how_to_write_a_time(name, raw));
    }
    if let Some(number) = number_meant(raw) {
        return fault("a number is written with digits and a point only".to_owned())
            .hint(format!("Write `{name} = {number}`; the unit is known from the field's name"));
    }
    if raw.contains('=') && !raw.contains('"') {
        return fault("two fields are on one line".to_owned()).hint("Write each field on a line of its own");
    }
    if raw.starts_with('"') || raw.starts_with('\'') || error.starts_with("unexpected key or value") {
        return fault("something is left over behind the value".to_owned())
            .hint("Write each field on a line of its own; a remark begins with #");
    }
    fault("text needs quotation marks".to_owned()).hint(format!("Write `{name} = \"{}\"`", straight(raw)))
}

/// The number in "6%", "40 min", "1,5", "08" or ".5".
pub(in crate::form) fn number_meant(text: &str) -> Option<f64> {
    let signed: String = text.trim().replace(',', ".");
    let end = signed.find(|c: char| !(c.is_ascii_digit() || c == '.' || c == '-')).unwrap_or(signed.len());
    let (digits, unit) = signed.split_at(end);
    let plain_unit = unit.trim().chars().all(|c| c.is_alphabetic() || matches!(c, '%' | '°' | '.')) && unit.len() <= 12;
    digits.parse().ok().filter(|number: &f64| plain_unit && number.is_finite())
}

/// The text without curly or doubled quotation marks round it.
fn straight(text: &str) -> &str {
    text.trim_matches(['“', '”', '„', '‘', '’', '«', '»', '"', '\'', '`'])
}

/// The text before a remark, as far as quotation marks allow to tell.
fn without_remark(text: &str) -> &str {
    if text.contains(['"', '\'']) { text } else { text.split('#').next().unwrap_or(text) }
}
