//! Every key the program asks for is in the catalogue, with the places it fills; colours read as the trade says them.

use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::Path;

use afterhue::page::words::{Words, colour};
use afterhue::science::colour::naming::name;
use afterhue::science::dye::shade::by_name;

use super::catalogue;

/// Every source text of a folder, unit tests cut off.
fn sources(folder: &Path, found: &mut Vec<(String, String)>) {
    for entry in fs::read_dir(folder).expect("a folder of sources") {
        let path = entry.expect("an entry").path();
        if path.is_dir() {
            sources(&path, found);
        } else if path.extension().is_some_and(|ending| ending == "rs") {
            let text = fs::read_to_string(&path).expect("UTF-8");
            let shipped = text.split("#[cfg(test)]").next().unwrap_or_default().to_owned();
            found.push((path.display().to_string(), shipped));
        }
    }
}

/// Each key written between quotation marks in a source text, with what follows it.
fn keys<'a>(text: &'a str, groups: &BTreeSet<&str>) -> Vec<(&'a str, &'a str)> {
    let quoted = text.match_indices('"').map(|(at, _)| &text[at + 1..]);
    let keys = quoted.filter_map(|rest| Some((&rest[..rest.find('"')?], &rest[rest.find('"')? + 1..])));
    let plain = |key: &str| key.chars().all(|c| c.is_ascii_lowercase() || c.is_ascii_digit() || c == '-' || c == '.');
    keys.filter(|(key, _)| {
        plain(key) && key.split_once('.').is_some_and(|(group, rest)| groups.contains(group) && !rest.is_empty())
    })
    .collect()
}

/// The places of a text: `{name}`.
fn places(text: &str) -> BTreeSet<&str> {
    text.split('{').skip(1).filter_map(|rest| rest.split_once('}')).map(|(name, _)| name).collect()
}

/// The places a call fills, when the key is followed by a list of them: `, &[("name", ..), ..])`.
fn filled(rest: &str) -> Option<BTreeSet<&str>> {
    let list = rest.trim_start().strip_prefix(',')?.trim_start().strip_prefix("&[")?;
    // Up to the bracket that closes the list.
    let mut depth = 1;
    let end = list.find(|c| {
        depth += i32::from(c == '[') - i32::from(c == ']');
        depth == 0
    })?;
    Some(list[..end].split("(\"").skip(1).filter_map(|rest| rest.split_once("\",")).map(|(name, _)| name).collect())
}

#[test]
fn every_key_the_program_asks_for_is_there_with_the_places_it_fills() {
    let texts: BTreeMap<&str, &str> = catalogue().texts().collect();
    let groups: BTreeSet<&str> = texts.keys().filter_map(|key| key.split_once('.')).map(|(group, _)| group).collect();
    let mut found = Vec::new();
    sources(&Path::new(env!("CARGO_MANIFEST_DIR")).join("src/page"), &mut found);
    let (mut asked, mut with_places) = (0, 0);
    // The catalogue itself spells keys that are no texts.
    for (file, text) in found.iter().filter(|(file, _)| !file.ends_with("catalogue.rs")) {
        for (key, rest) in keys(text, &groups) {
            let Some(words) = texts.get(key) else {
                // A beginning to which the program adds "-day" or "-days".
                assert!(texts.keys().any(|known| known.starts_with(key)), "{file}: {key} is not in the catalogue");
                continue;
            };
            asked += 1;
            if let Some(filled) = filled(rest) {
                with_places += 1;
                assert_eq!(places(words), filled, "{file}: {key} = {words:?}");
            }
        }
    }
    assert!(
        asked > 60 && with_places > 15,
        "{asked} keys, {with_places} with places: the reading of sources is broken"
    );
}

#[test]
fn every_place_in_the_catalogue_is_whole() {
    for (key, text) in catalogue().texts() {
        assert_eq!(text.matches('{').count(), text.matches('}').count(), "{key}");
        assert_eq!(places(text).len(), text.matches('{').count(), "{key} names a place twice: {text}");
        assert!(!text.trim().is_empty(), "{key}");
    }
}

/// What a shade is called when it is fresh (common practice, no source).
#[test]
fn fresh_shades_are_called_what_the_trade_calls_them() {
    let words: &dyn Words = catalogue();
    for (shade, called) in [
        ("rose pastel", "soft rose"),
        ("powder blue", "powder blue"),
        ("mint", "mint"),
        ("peach pastel", "peach blush"),
        ("violet pastel", "soft violet"),
        ("silver", "silver"),
        ("pearl", "pearl"),
        ("copper", "copper"),
        ("auburn", "auburn"),
        ("plum", "plum"),
        ("golden blonde", "golden blonde"),
        ("chocolate brown", "dark brown"),
        ("graphite", "charcoal"),
        ("vivid orange", "bright orange"),
        ("vivid yellow", "bright yellow"),
        ("vivid pink", "strong pink"),
    ] {
        let lab = by_name(shade).unwrap_or_else(|| panic!("{shade} is a known shade")).colour;
        assert_eq!(colour(words, name(lab)), called, "{shade}");
    }
}
