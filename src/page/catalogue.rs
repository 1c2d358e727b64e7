//! All prose words of one language that are not passages.
//!
//! In: `content-templates/LANGUAGE/catalogue.toml`. Out: [`Catalogue`], a source of [`Words`].
//! Knows nothing of: which page says what.
//!
//! A missing key, an unknown one, or a place that a sentence should not have is a fault when the catalogue is read, never on a client's page.

use std::borrow::Cow;
use std::collections::{BTreeMap, BTreeSet, HashMap};
use std::sync::LazyLock;

use toml::{Table, Value};

use super::pattern::Pattern;
use super::words::{Words, depth_key, hue_key};
use crate::science::colour::naming::{Depth, Hue, Strength};

/// The shipped languages: tag and catalogue. The first one is the pattern of keys for all others.
const SHIPPED: [(&str, &str); 1] = [("en", include_str!("../../content-templates/en/catalogue.toml"))];

static CATALOGUES: LazyLock<Vec<Catalogue>> = LazyLock::new(|| {
    let read = |(tag, text): &(&str, &str)| {
        Catalogue::read(text).unwrap_or_else(|faults| panic!("catalogue {tag}: {faults:?}"))
    };
    let catalogues: Vec<Catalogue> = SHIPPED.iter().map(read).collect();
    for other in &catalogues {
        let faults = other.differences(&catalogues[0]);
        assert!(faults.is_empty(), "catalogue {}: {faults:?}", other.language);
    }
    catalogues
});

/// The words of one language.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Catalogue {
    language: String,
    direction: String,
    texts: BTreeMap<String, String>,
    /// The same, to be said: looked up hundreds of times a page.
    patterns: HashMap<String, Pattern>,
}

impl Catalogue {
    /// The shipped catalogue of a language tag: "en" also serves "en-GB".
    #[must_use]
    pub fn shipped(language: &str) -> Option<&'static Self> {
        let main = language.split('-').next().unwrap_or(language);
        SHIPPED.iter().position(|(tag, _)| *tag == main).map(|index| &CATALOGUES[index])
    }

    /// The tags of the shipped languages.
    pub fn languages() -> impl Iterator<Item = &'static str> {
        SHIPPED.iter().map(|(tag, _)| *tag)
    }

    /// Reads a catalogue.
    ///
    /// # Errors
    /// Every fault, one sentence each.
    pub fn read(text: &str) -> Result<Self, Vec<String>> {
        let table: Table = text.parse().map_err(|fault: toml::de::Error| vec![fault.to_string()])?;
        let mut faults = Vec::new();
        let mut texts = BTreeMap::new();
        for (group, entries) in &table {
            let Value::Table(entries) = entries else {
                faults.push(format!("{group} is not a group of texts"));
                continue;
            };
            for (name, value) in entries {
                read_entry(&format!("{group}.{name}"), value, &mut texts, &mut faults);
            }
        }
        let colours: BTreeSet<String> = colour_keys().collect();
        let named: BTreeSet<String> = texts.keys().filter(|key| key.starts_with("colour.")).cloned().collect();
        faults.extend(colours.difference(&named).map(|key| format!("{key} is missing")));
        faults.extend(named.difference(&colours).map(|key| format!("{key} is no colour of ours")));
        let mut meta = |key: &str| {
            texts.remove(key).unwrap_or_else(|| {
                faults.push(format!("{key} is missing"));
                String::new()
            })
        };
        let (language, direction) = (meta("page.language"), meta("page.direction"));
        if !matches!(direction.as_str(), "ltr" | "rtl") {
            faults.push("page.direction is neither ltr nor rtl".to_owned());
        }
        if !faults.is_empty() {
            return Err(faults);
        }
        let patterns = texts.iter().map(|(key, text)| (key.clone(), Pattern::of(text.clone()))).collect();
        Ok(Self { language, direction, texts, patterns })
    }

    /// What sets the keys and places apart from those of another language: every one of them a fault.
    #[must_use]
    pub fn differences(&self, pattern: &Self) -> Vec<String> {
        let missing = pattern.texts.keys().filter(|key| !self.texts.contains_key(*key));
        let mut faults: Vec<String> = missing.map(|key| format!("{key} is missing")).collect();
        for (key, text) in &self.texts {
            match pattern.texts.get(key) {
                None => faults.push(format!("{key} is no key of ours")),
                Some(ours) if places(text) != places(ours) => {
                    let wanted: Vec<&str> = places(ours).into_iter().collect();
                    faults.push(format!("{key} does not hold the places {{{}}}", wanted.join("}, {")));
                }
                Some(_) => {}
            }
        }
        faults
    }

    fn get(&self, key: &str) -> &Pattern {
        self.patterns.get(key).unwrap_or_else(|| panic!("the catalogue {} has no text {key}", self.language))
    }

    /// Every key with its text, for tests that read all words.
    pub fn texts(&self) -> impl Iterator<Item = (&str, &str)> {
        self.texts.iter().map(|(key, text)| (key.as_str(), text.as_str()))
    }
}

/// One text, or the four strengths of a colour.
fn read_entry(key: &str, value: &Value, texts: &mut BTreeMap<String, String>, faults: &mut Vec<String>) {
    match value {
        Value::String(text) => {
            texts.insert(key.to_owned(), text.clone());
        }
        Value::Array(strengths) if strengths.len() == Strength::ALL.len() => {
            for (strength, text) in Strength::ALL.iter().zip(strengths) {
                match text.as_str() {
                    Some(text) => drop(texts.insert(format!("{key}-{}", strength_key(*strength)), text.to_owned())),
                    None => faults.push(format!("{key} holds something that is not a text")),
                }
            }
        }
        _ => faults.push(format!("{key} is neither a text nor four")),
    }
}

/// The places of a text: `{name}`.
fn places(text: &str) -> BTreeSet<&str> {
    text.split('{').skip(1).map(|rest| rest.split('}').next().unwrap_or(rest)).collect()
}

fn colour_keys() -> impl Iterator<Item = String> {
    let depths = |hue: Hue| Depth::ALL.into_iter().map(move |depth| (hue, depth));
    let strengths =
        |(hue, depth): (Hue, Depth)| Strength::ALL.into_iter().map(move |strength| colour_key(hue, depth, strength));
    Hue::ALL.into_iter().flat_map(depths).flat_map(strengths)
}

/// The key of a colour's words.
pub(super) fn colour_key(hue: Hue, depth: Depth, strength: Strength) -> String {
    ["colour.", hue_key(hue), "-", depth_key(depth), "-", strength_key(strength)].concat()
}

fn strength_key(strength: Strength) -> &'static str {
    match strength {
        Strength::Greyed => "greyed",
        Strength::Soft => "soft",
        Strength::Clear => "clear",
        Strength::Vivid => "vivid",
    }
}

impl Words for Catalogue {
    fn language(&self) -> &str {
        &self.language
    }

    fn direction(&self) -> &str {
        &self.direction
    }

    /// # Panics
    /// When no such key was ever written: a fault in the program, found by the tests that render every kind of page.
    fn pattern(&self, key: &str) -> String {
        self.get(key).text().to_owned()
    }

    fn text(&self, key: &str) -> Cow<'_, str> {
        self.get(key).text().into()
    }

    fn say(&self, key: &str, places: &[(&str, &str)]) -> String {
        self.get(key).filled(places)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_shipped_catalogue_names_every_colour_differently_and_has_the_same_keys() {
        let first = &CATALOGUES[0];
        for catalogue in CATALOGUES.iter() {
            let keys = |catalogue: &Catalogue| catalogue.texts.keys().cloned().collect::<Vec<_>>();
            assert_eq!(keys(catalogue), keys(first), "{}", catalogue.language);
            let colours: Vec<&str> =
                catalogue.texts().filter(|(key, _)| key.starts_with("colour.")).map(|(_, text)| text).collect();
            assert_eq!(colours.len(), 18 * 5 * 4);
            let different: BTreeSet<&str> = colours.iter().copied().collect();
            assert_eq!(different.len(), colours.len(), "two colours share their words");
        }
    }

    #[test]
    fn a_catalogue_at_fault_is_told_whole() {
        let faults = Catalogue::read("[page]\nlanguage = \"en\"\n[zone]\nroots = 3\n").expect_err("much is missing");
        assert!(faults.iter().any(|fault| fault.contains("zone.roots")), "{faults:?}");
        assert!(faults.iter().any(|fault| fault.contains("page.direction")), "{faults:?}");
        assert!(faults.iter().any(|fault| fault.contains("colour.rose-pale-soft is missing")), "{faults:?}");
    }

    #[test]
    fn another_language_with_other_keys_or_places_is_told() {
        let text = SHIPPED[0].1;
        let ours = Catalogue::read(text).expect("a catalogue without fault");
        assert_eq!(ours.differences(&ours), Vec::<String>::new());
        let theirs = text.replace("for = \"For {name}\"", "for = \"Pour vous\"").replace("title =", "titel =");
        let faults = Catalogue::read(&theirs).expect("readable").differences(&ours);
        assert!(faults.contains(&"first.for does not hold the places {name}".to_owned()), "{faults:?}");
        assert!(faults.contains(&"page.title is missing".to_owned()), "{faults:?}");
        assert!(faults.contains(&"page.titel is no key of ours".to_owned()), "{faults:?}");
    }
}
