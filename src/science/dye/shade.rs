//! Shades by name: the colour a word stands for when nobody measured it.
//!
//! In: a name. Out: a colour. Knows nothing of: products; the table is assumed, set by eye to the trade's words.

use std::collections::BTreeMap;
use std::sync::LazyLock;

use crate::science::colour::cielab::Lab;
use crate::science::table;

/// A named shade.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Shade {
    /// The name a person writes: "rose pastel".
    pub name: &'static str,
    /// The colour assumed.
    pub colour: Lab,
    /// Other words for it, separated by `|`.
    twins: &'static str,
}

impl Shade {
    /// Other words for the same shade.
    pub fn twins(&self) -> impl Iterator<Item = &'static str> {
        self.twins.split('|').filter(|twin| !twin.is_empty())
    }
}

/// All named shades, by name.
#[must_use]
pub fn shades() -> &'static [Shade] {
    static SHADES: LazyLock<Vec<Shade>> = LazyLock::new(|| {
        let mut shades: Vec<Shade> = table::cells(include_str!("data/shades.csv"))
            .map(|row| {
                let number = |cell: &str| cell.parse().expect("L, a and b in the table of shades are numbers");
                let colour = Lab::new(number(row[1]), number(row[2]), number(row[3]));
                Shade { name: row[0], colour, twins: row[4] }
            })
            .collect();
        shades.sort_by_key(|shade| shade.name);
        shades
    });
    &SHADES
}

/// The shade of a name; capitals, hyphens and order of words do not matter.
///
/// ```
/// use afterhue::science::dye::shade::by_name;
/// assert_eq!(by_name("Pastel-Rose").map(|shade| shade.name), Some("rose pastel"));
/// assert!(by_name("no such shade").is_none());
/// ```
#[must_use]
pub fn by_name(name: &str) -> Option<&'static Shade> {
    static BY_WORDS: LazyLock<BTreeMap<Vec<String>, &'static Shade>> = LazyLock::new(|| {
        let named = |shade: &'static Shade| {
            std::iter::once(shade.name).chain(shade.twins()).map(move |name| (sorted_words(name), shade))
        };
        // No name means two shades, as a test knows.
        shades().iter().flat_map(named).collect()
    });
    BY_WORDS.get(&sorted_words(name)).copied()
}

/// The words of a name in one spelling and one order.
fn sorted_words(name: &str) -> Vec<String> {
    let mut words: Vec<String> = name
        .to_lowercase()
        .split(|letter: char| !letter.is_alphanumeric())
        .filter(|word| !word.is_empty())
        .map(|word| match word {
            "gray" => "grey".to_owned(),
            "blond" => "blonde".to_owned(),
            other => other.to_owned(),
        })
        .collect();
    words.sort();
    words
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeSet;

    use super::*;

    #[test]
    fn no_name_means_two_shades() {
        let mut seen = BTreeSet::new();
        for shade in shades() {
            for name in std::iter::once(shade.name).chain(shade.twins()) {
                assert!(seen.insert(sorted_words(name)), "{name}");
            }
        }
        assert!(shades().len() >= 40);
    }

    #[test]
    fn every_spelling_of_a_name_finds_its_shade() {
        for text in ["smoke grey", "Smoke Gray", "GREY-SMOKE", " grey  smoke ", "smoky_grey"] {
            assert_eq!(by_name(text).map(|shade| shade.name), Some("smoke grey"), "{text}");
        }
        assert!(by_name("").is_none());
    }

    #[test]
    fn pastels_are_pale_and_every_shade_is_one_hair_can_have() {
        for shade in shades() {
            let Lab { l, .. } = shade.colour;
            assert!((15.0..=88.0).contains(&l) && shade.colour.chroma() < 70.0, "{}", shade.name);
            if shade.name.contains("pastel") {
                assert!((72.0..=84.0).contains(&l), "{}", shade.name);
            }
        }
    }
}
