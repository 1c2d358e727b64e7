//! A sentence with places to fill: `Wash about every {count} days`.
//!
//! In: the sentence as a catalogue writes it. Out: [`Pattern`]. Knows nothing of: what is filled in.

use std::ops::Range;

/// A sentence whose places were looked for once, however often it is said.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Pattern {
    text: String,
    places: Vec<Place>,
}

/// One place, in bytes of the sentence.
#[derive(Debug, Clone, PartialEq, Eq)]
struct Place {
    /// With its braces.
    whole: Range<usize>,
    name: Range<usize>,
}

impl Pattern {
    /// Looks for the places of a sentence: each runs from a brace to the next one that closes, or to the end.
    pub(super) fn of(text: String) -> Self {
        let (mut places, mut at) = (Vec::new(), 0);
        while let Some(open) = text[at..].find('{').map(|found| at + found) {
            let close = text[open..].find('}').map_or(text.len(), |found| open + found + 1);
            let inside = text[open..close].trim_start_matches(['{', '}']);
            let start = close - inside.len();
            let name = start..start + inside.trim_end_matches(['{', '}']).len();
            places.push(Place { whole: open..close, name });
            at = close;
        }
        Self { text, places }
    }

    /// The sentence as it was written.
    pub(super) fn text(&self) -> &str {
        &self.text
    }

    /// Fills every place in one pass, so that a filled-in text is never filled again; an unknown place stays as written.
    pub(super) fn filled(&self, values: &[(&str, &str)]) -> String {
        let room: usize = values.iter().map(|(_, value)| value.len()).sum();
        let mut out = String::with_capacity(self.text.len() + room);
        let mut at = 0;
        for Place { whole, name } in &self.places {
            out.push_str(&self.text[at..whole.start]);
            let value = values.iter().find(|(place, _)| *place == &self.text[name.clone()]);
            out.push_str(value.map_or(&self.text[whole.clone()], |(_, value)| value));
            at = whole.end;
        }
        out.push_str(&self.text[at..]);
        out
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn fill(pattern: &str, places: &[(&str, &str)]) -> String {
        Pattern::of(pattern.to_owned()).filled(places)
    }

    #[test]
    fn a_filled_in_text_is_never_filled_again() {
        assert_eq!(fill("{a} and {b}", &[("a", "{b}"), ("b", "x")]), "{b} and x");
        assert_eq!(fill("open { brace {c}", &[("a", "x")]), "open { brace {c}");
    }

    #[test]
    fn what_is_no_place_of_ours_stays_as_it_is_written() {
        for text in ["", "plain", "{", "}", "{}", "a } b {", "{{x}", "{x}}", "é{é}é"] {
            assert_eq!(fill(text, &[("y", "1")]), text);
        }
        assert_eq!(fill("{{x}} {x}{x", &[("x", "1")]), "1} 11");
    }
}
