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
        if let Some(name) = named_before(&source.text[..span.start]) {
            return Some(bad_plain_value(name, word.trim(), error, |message| fault(&message, "")));
        }
        return Some(fault("text needs quotation marks", "").hint(format!("Write \"{}\"", straight(word))));
    }
    None
}

/// The field whose value begins here, in a group written between braces: `to_mm` behind `{ from_mm = 0, to_mm =`.
fn named_before(text: &str) -> Option<&str> {
    let before = text.trim_end().strip_suffix('=')?.trim_end();
    let name = before.rsplit(|c: char| !(c.is_ascii_alphanumeric() || c == '_')).next()?;
    (!name.is_empty()).then_some(name)
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
    if error.starts_with("invalid date") || moment::is_written_as_a_day(raw) || !moment::days_meant(raw).is_empty() {
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
    if let Some(number) = number_meant(name, raw) {
        return fault("a number is written with digits and a point only".to_owned())
            .hint(format!("Write `{name} = {number}`; the unit is known from the field's name"));
    }
    if let Some(hint) = strength(name, raw) {
        return fault("a number is written with digits and a point only".to_owned()).hint(hint);
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

/// The number in "6%", "40 min", "1,5", "08" or ".5", in the unit the field's name tells: "25 cm" is 250 for `to_mm`.
///
/// Nothing when the unit is one the field cannot be counted in: a wrong number proposed is worse than none.
pub(in crate::form) fn number_meant(name: &str, text: &str) -> Option<f64> {
    let signed: String = text.trim().replace(',', ".");
    let end = signed.find(|c: char| !(c.is_ascii_digit() || c == '.' || c == '-')).unwrap_or(signed.len());
    let (digits, unit) = signed.split_at(end);
    let number: f64 = digits.parse().ok().filter(|number: &f64| number.is_finite())?;
    let factor = name.split('_').find_map(|part| UNITS.iter().find(|(of, _)| *of == part));
    let unit = unit.trim().trim_end_matches('.').to_lowercase();
    match (unit.as_str(), factor) {
        ("", _) => Some(number),
        (unit, Some((_, others))) => {
            let (_, factor) = others.iter().find(|(word, _)| *word == unit)?;
            // Three places are finer than any field of ours.
            Some((number * factor * 1000.0).round() / 1000.0)
        }
        // A field without a unit in its name: whatever stands behind the number goes.
        (unit, None) => unit.chars().all(|c| c.is_alphabetic() || matches!(c, '%' | '°')).then_some(number),
    }
}

/// "20 vol" where percent are asked for, or the other way round: each has a field of its own.
fn strength(name: &str, raw: &str) -> Option<String> {
    let (stem, own) = name.rsplit_once('_')?;
    let other = match own {
        "percent" => "vol",
        "vol" => "percent",
        _ => return None,
    };
    let field = format!("{stem}_{other}");
    let number = number_meant(&field, raw)?;
    Some(format!("Write `{field} = {number}` instead of `{name}`"))
}

/// The units fields' names tell, and what one of each unit people write is in it.
const UNITS: [(&str, &[(&str, f64)]); 6] = [
    ("mm", &[("mm", 1.0), ("cm", 10.0), ("m", 1000.0), ("in", 25.4), ("inch", 25.4), ("inches", 25.4)]),
    ("percent", &[("%", 1.0), ("percent", 1.0), ("per cent", 1.0)]),
    ("vol", &[("vol", 1.0), ("volume", 1.0), ("volumes", 1.0)]),
    (
        "minutes",
        &[("min", 1.0), ("mins", 1.0), ("minute", 1.0), ("minutes", 1.0), ("h", 60.0), ("hour", 60.0), ("hours", 60.0)],
    ),
    ("hours", &[("h", 1.0), ("hour", 1.0), ("hours", 1.0), ("min", 1.0 / 60.0), ("minutes", 1.0 / 60.0)]),
    ("weeks", &[("week", 1.0), ("weeks", 1.0)]),
];

/// The text without curly or doubled quotation marks round it.
fn straight(text: &str) -> &str {
    text.trim_matches(['“', '”', '„', '‘', '’', '«', '»', '"', '\'', '`'])
}

/// The text before a remark, as far as quotation marks allow to tell.
fn without_remark(text: &str) -> &str {
    if text.contains(['"', '\'']) { text } else { text.split('#').next().unwrap_or(text) }
}

#[cfg(test)]
mod tests {
    use super::number_meant;

    #[test]
    fn a_number_is_proposed_in_the_unit_of_the_field_or_not_at_all() {
        for (name, text, meant) in [
            ("to_mm", "25 cm", Some(250.0)),
            ("minutes", "1 h", Some(60.0)),
            ("minutes_taken", "4 h", Some(240.0)),
            ("alert_test_lead_hours", "48 h", Some(48.0)),
            ("sun_hours_per_week", "30 min", Some(0.5)),
            ("growth_mm_per_day", "0.4 mm", Some(0.4)),
            ("developer_percent", "20 vol", None),
            ("refresh_weeks", "2 months", None),
            ("washes_per_week", "3x", Some(3.0)),
            ("stage", "9,5", Some(9.5)),
        ] {
            assert_eq!(number_meant(name, text), meant, "{name} = {text}");
        }
    }
}
