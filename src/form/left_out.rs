//! Sections of one name taken out of a file, and nothing else: comments, order and line ends stay.
//!
//! In: a text that reads without fault. Out: the text without them. Knows nothing of: what they say.

use toml::Table;
use toml::Value;

use crate::diagnostic::SourceText;

/// The text without some of its `[[section]]`s, by their numbers, counted from 0; nothing when they do not each stand below a line of their own.
///
/// What stands between the last line of a section and the next one stays: a remark there may belong to what follows.
#[must_use]
pub fn without_sections(source: &SourceText, place: &[&str], gone: &[usize]) -> Option<String> {
    let text = source.text.strip_prefix('\u{feff}').unwrap_or(&source.text);
    let changed = lines_without(&source.text, &format!("[[{}]]", place.join(".")), gone);
    // A line that looks like a section may stand inside a text: what is left is held against what should be left.
    let mut wanted = text.parse::<Table>().ok()?;
    take_out(&mut wanted, place, gone)?;
    let left = changed.strip_prefix('\u{feff}').unwrap_or(&changed).parse::<Table>().ok()?;
    (left == wanted).then_some(changed)
}

fn lines_without(text: &str, header: &str, gone: &[usize]) -> String {
    let (mut kept, mut aside) = (String::with_capacity(text.len()), String::new());
    let (mut number, mut going) = (0, false);
    for line in text.split_inclusive('\n') {
        let plain = line.trim_start_matches('\u{feff}').trim();
        if plain.starts_with('[') {
            let ours = plain.split('#').next().unwrap_or_default().split_whitespace().collect::<String>() == header;
            going = ours && gone.contains(&number);
            number += usize::from(ours);
            kept.push_str(&aside);
            aside.clear();
            if going {
                continue;
            }
        }
        match (going, plain.is_empty(), plain.starts_with('#')) {
            (false, ..) => kept.push_str(line),
            // The space behind a section goes with it, but not where remarks have begun.
            (true, true, _) if aside.is_empty() => {}
            (true, true, _) | (true, _, true) => aside.push_str(line),
            // Remarks inside the section go with it.
            (true, ..) => aside.clear(),
        }
    }
    kept + &aside
}

/// Takes the sections out of what was read, with the tables around them that then hold nothing.
fn take_out(table: &mut Table, place: &[&str], gone: &[usize]) -> Option<()> {
    let (first, rest) = place.split_first()?;
    match table.get_mut(*first)? {
        Value::Array(items) if rest.is_empty() => {
            let mut number = 0;
            let before = items.len();
            items.retain(|_| {
                number += 1;
                !gone.contains(&(number - 1))
            });
            if items.len() + gone.len() != before {
                return None;
            }
            if items.is_empty() {
                table.remove(*first);
            }
        }
        Value::Table(inner) => {
            take_out(inner, rest, gone)?;
            if inner.is_empty() {
                table.remove(*first);
            }
        }
        _ => return None,
    }
    Some(())
}

#[cfg(test)]
mod tests {
    use super::*;

    const PLACE: [&str; 2] = ["health", "alert_test"];

    fn without(text: &str, gone: &[usize]) -> Option<String> {
        without_sections(&SourceText::new("x.toml", text), &PLACE, gone)
    }

    #[test]
    fn a_section_goes_and_every_other_byte_stays() {
        let before = "\u{feff}a = 1 # one\r\n\r\n# of the first\r\n[[health.alert_test]]\r\nx = 1\r\n# inside\r\ny = 2\r\n\r\n# of the second\r\n[[ health.alert_test ]] # here\r\nx = 3\r\n\r\n[next]\r\nz = 1";
        assert_eq!(
            without(before, &[0]).as_deref(),
            Some(
                "\u{feff}a = 1 # one\r\n\r\n# of the first\r\n# of the second\r\n[[ health.alert_test ]] # here\r\nx = 3\r\n\r\n[next]\r\nz = 1"
            )
        );
        assert_eq!(
            without(before, &[0, 1]).as_deref(),
            Some("\u{feff}a = 1 # one\r\n\r\n# of the first\r\n# of the second\r\n[next]\r\nz = 1")
        );
        assert_eq!(without(before, &[]).as_deref(), Some(before));
    }

    #[test]
    fn what_is_not_surely_right_is_not_done() {
        for (text, gone) in [
            ("health.alert_test = [{ x = 1 }]", vec![0]),
            ("[health]\nalert_test = [{ x = 1 }, { x = 2 }]\n", vec![1]),
            ("[[health.\"alert_test\"]]\nx = 1\n", vec![0]),
            ("note = \"\"\"\n[[health.alert_test]]\nx = 1\n\"\"\"\n[[health.alert_test]]\nx = 1\n", vec![0]),
            ("[[health.alert_test]]\nx = 1\n", vec![1]),
            ("[[health.alert_test]]\nx = ", vec![0]),
            ("x = 1\n", vec![0]),
        ] {
            assert_eq!(without(text, &gone), None, "{text:?}");
        }
        let list = "[[health.alert_test]]\nx = [\n  [1],\n]\n[[health.alert_test]]\nx = 2\n";
        assert_eq!(without(list, &[0]), None, "a line of a list looks like a section");
    }
}
