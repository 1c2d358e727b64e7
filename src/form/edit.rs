//! One value in a file changed, and nothing else: comments, order and line ends stay.
//!
//! In: a text that reads without fault. Out: the text with the value. Knows nothing of: what the value means.

use toml::Spanned;
use toml::de::{DeTable, DeValue};

use crate::diagnostic::SourceText;

/// The text with one value set, or nothing when the text or the value is not TOML, or when the place is not there.
///
/// `place` leads from the top of the file: names of sections and of the field, and in a repeated section its number, counted from 0.
/// `value` is TOML as it would stand in the file.
/// A field at the top that is not there yet is written on a line of its own below `format`; elsewhere the field must be there.
#[must_use]
pub fn with_value(source: &SourceText, place: &[&str], value: &str) -> Option<String> {
    // A mark at the front is no part of the text that is parsed, but stays in the file.
    let mark = source.text.strip_prefix('\u{feff}').map_or("", |_| "\u{feff}");
    let text = &source.text[mark.len()..];
    let table = DeTable::parse(text).ok()?;
    let mut changed = text.to_owned();
    match (value_at(table.get_ref(), place), place) {
        (Some(old), _) => changed.replace_range(old.span(), value),
        (None, [field]) => insert_at_top(&mut changed, table.get_ref(), field, value)?,
        (None, _) => return None,
    }
    DeTable::parse(&changed).is_ok().then(|| mark.to_owned() + &changed)
}

/// The text with one more `[[section]]` at its end, or nothing when the text is not TOML with it. Values are TOML as they would stand in the file.
#[must_use]
pub fn with_section(source: &SourceText, place: &[&str], fields: &[(&str, String)]) -> Option<String> {
    let text = source.text.strip_prefix('\u{feff}').unwrap_or(&source.text);
    let line_end = if text.contains("\r\n") { "\r\n" } else { "\n" };
    let mut changed = source.text.trim_end().to_owned();
    let lines = fields.iter().map(|(field, value)| format!("{field} = {value}"));
    for line in [String::new(), format!("[[{}]]", place.join("."))].into_iter().chain(lines) {
        changed.push_str(line_end);
        changed.push_str(&line);
    }
    changed.push_str(line_end);
    DeTable::parse(changed.strip_prefix('\u{feff}').unwrap_or(&changed)).is_ok().then_some(changed)
}

/// The value at a place.
fn value_at<'a, 'b>(table: &'a DeTable<'b>, place: &[&str]) -> Option<&'a Spanned<DeValue<'b>>> {
    let (first, rest) = place.split_first()?;
    let (_, mut value) = table.iter().find(|(key, _)| key.get_ref() == *first)?;
    let mut rest = rest;
    while let Some((next, after)) = rest.split_first() {
        value = match value.get_ref() {
            DeValue::Table(table) => return value_at(table, rest),
            DeValue::Array(items) => items.get(next.parse::<usize>().ok()?)?,
            _ => return None,
        };
        rest = after;
    }
    Some(value)
}

fn insert_at_top(text: &mut String, table: &DeTable<'_>, field: &str, value: &str) -> Option<()> {
    let after = value_at(table, &["format"])?.span().end;
    let end = text[after..].find('\n').map_or(text.len(), |at| after + at);
    let line_end = if text[..end].ends_with('\r') { "\r\n" } else { "\n" };
    let end = end - (line_end.len() - 1);
    text.insert_str(end, &format!("{line_end}{field} = {value}"));
    Some(())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::form::quoted;

    #[track_caller]
    fn check(before: &str, after: &str) {
        assert_eq!(with_value(&SourceText::new("x.toml", before), &["link_number"], "7").as_deref(), Some(after));
    }

    #[test]
    fn a_section_is_added_at_the_end_in_the_file_s_own_line_ends() {
        let add = |text: &str, note: &str| {
            let fields = [("date", "2026-11-20".to_owned()), ("note", quoted(note))];
            with_section(&SourceText::new("x.toml", text), &["health", "incident"], &fields)
        };
        assert_eq!(
            add("format = 1\r\n[age]\r\nold = true # so\r\n\r\n", "a").as_deref(),
            Some(
                "format = 1\r\n[age]\r\nold = true # so\r\n\r\n[[health.incident]]\r\ndate = 2026-11-20\r\nnote = \"a\"\r\n"
            )
        );
        for note in ["\"quoted\" and 'so'", "two\nlines", "back\\slash", "]] # \u{feff}"] {
            let text = add("format = 1", note).expect("TOML");
            let table: toml::Table = text.parse().expect("TOML");
            assert_eq!(table["health"]["incident"][0]["note"].as_str(), Some(note));
        }
        assert_eq!(add("[health]\nincident = []", "a"), None, "a list in one line cannot be added to");
    }

    #[test]
    fn only_the_number_changes() {
        check(
            "# mine\r\nformat = 1\r\nlink_number   =  1  # first\r\n[age]\r\n",
            "# mine\r\nformat = 1\r\nlink_number   =  7  # first\r\n[age]\r\n",
        );
        check("\u{feff}link_number = 12\nformat = 1", "\u{feff}link_number = 7\nformat = 1");
    }

    #[test]
    fn a_missing_number_gets_a_line_at_the_top_whatever_the_line_ends() {
        check("format = 1 # one\n[age]\n", "format = 1 # one\nlink_number = 7\n[age]\n");
        check("format = 1\r\n[age]\r\n", "format = 1\r\nlink_number = 7\r\n[age]\r\n");
        check("format = 1", "format = 1\nlink_number = 7");
    }

    #[test]
    fn a_field_of_the_same_name_in_a_section_is_left_alone() {
        check("format = 1\n[other]\nlink_number = 3\n", "format = 1\nlink_number = 7\n[other]\nlink_number = 3\n");
    }

    #[test]
    fn a_value_below_sections_is_found_by_their_names_and_numbers() {
        let text = "format = 1\n[[placement]]\nzone = [{ to_mm = 60 }, { to_mm = 350 }] # two\n[[placement]]\n";
        let set = |place: &[&str], value| with_value(&SourceText::new("x.toml", text), place, value);
        let changed = set(&["placement", "0", "zone", "1", "to_mm"], "360").expect("it is there");
        assert_eq!(changed, text.replace("350", "360"));
        assert_eq!(set(&["placement", "0", "zone", "2", "to_mm"], "360"), None);
        assert_eq!(
            set(&["placement", "1", "kind"], "\"foils\""),
            None,
            "it is not there, and has no line of its own yet"
        );
    }

    #[test]
    fn what_is_not_toml_before_or_after_is_refused() {
        let set = |text: &str, value| with_value(&SourceText::new("x.toml", text), &["link_number"], value);
        assert_eq!(set("format =", "7"), None);
        assert_eq!(set("format = 1\nlink_number = 1", "7\n= 8"), None);
        assert_eq!(set("link_number = 1 # no format", "7").as_deref(), Some("link_number = 7 # no format"));
        assert_eq!(set("name = 1", "7"), None, "without `format` there is no line to write below");
    }
}
