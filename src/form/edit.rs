//! One number in a file changed, and nothing else: comments, order and line ends stay.
//!
//! In: a text that reads without fault. Out: the text with the number. Knows nothing of: what the number means.

use toml::de::DeTable;

use crate::diagnostic::SourceText;

/// The text with a field at its top set to a whole number, or nothing when the text is not TOML.
///
/// A field that is not there yet is written on a line of its own below `format`.
#[must_use]
pub fn with_number(source: &SourceText, field: &str, number: u32) -> Option<String> {
    let mark = source.text.strip_prefix('\u{feff}').map_or("", |_| "\u{feff}");
    let text = &source.text[mark.len()..];
    let table = DeTable::parse(text).ok()?;
    let place = |name: &str| table.get_ref().iter().find(|(key, _)| key.get_ref() == name);
    let mut changed = text.to_owned();
    if let Some((_, value)) = place(field) {
        changed.replace_range(value.span(), &number.to_string());
    } else {
        let (_, format) = place("format")?;
        let after = format.span().end;
        let end = text[after..].find('\n').map_or(text.len(), |at| after + at);
        let line_end = if text[..end].ends_with('\r') { "\r\n" } else { "\n" };
        let end = end - (line_end.len() - 1);
        changed.insert_str(end, &format!("{line_end}{field} = {number}"));
    }
    Some(mark.to_owned() + &changed)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn check(before: &str, after: &str) {
        assert_eq!(with_number(&SourceText::new("x.toml", before), "link_number", 7).as_deref(), Some(after));
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
        assert_eq!(with_number(&SourceText::new("x.toml", "format ="), "link_number", 7), None);
    }
}
