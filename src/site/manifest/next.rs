//! From the list of an earlier run and what another one made: what goes, what is kept, and the parts to list.
//!
//! In: an earlier list, which of its parts stand, the parts that were made. Out: [`Left`], the next [`Parts`].
//! Knows nothing of: files.

use std::collections::{BTreeMap, BTreeSet};

use super::{Manifest, Part, Parts};

/// What is left of an earlier run when another one has made what there is now.
#[derive(Debug, Default)]
pub(in crate::site) struct Left {
    /// Files that no longer belong there.
    pub(in crate::site) stale: BTreeSet<String>,
    /// Files that are kept, of parts that are not kept whole or of none.
    pub(in crate::site) loose: BTreeSet<String>,
    /// The places of parts that are kept whole: each is known again when its record is put right.
    pub(in crate::site) whole: Vec<usize>,
}

/// Tells what is left of an earlier run. `keeps` says of what this run did not make whether it stays all the same.
pub(in crate::site) fn left(
    earlier: &Manifest,
    standing: &[bool],
    made: &BTreeMap<String, Part>,
    keeps: impl Fn(&str) -> bool,
) -> Left {
    let now: BTreeSet<&str> = made.values().flat_map(|part| &part.files).map(|(name, _)| name.as_str()).collect();
    let mut left = Left::default();
    let sort = |left: &mut Left, name: &str| {
        if !now.contains(name) {
            let list = if keeps(name) { &mut left.loose } else { &mut left.stale };
            list.insert(name.to_owned());
        }
    };
    for (place, part) in earlier.parts.iter().enumerate().filter(|(place, _)| !standing[*place]) {
        let stays = |name: &str| keeps(name) && !now.contains(name);
        if part.count > 0 && !made.contains_key(part.name) && part.all(|name, _| stays(name)) {
            left.whole.push(place);
        } else {
            part.each(|name| sort(&mut left, name));
        }
    }
    earlier.loose.iter().for_each(|name| sort(&mut left, name));
    if !(left.stale.is_empty() && left.loose.is_empty()) {
        // What a part lists that stands is neither, whatever else listed it.
        let stand = earlier
            .parts
            .iter()
            .enumerate()
            .filter(|(place, _)| standing[*place] || left.whole.binary_search(place).is_ok());
        for (_, part) in stand {
            part.each(|name| {
                left.stale.remove(name);
                left.loose.remove(name);
            });
        }
    }
    left
}

/// The parts there are now, in the order of their names: those that stand, and those that were made.
pub(in crate::site) fn merged(earlier: &Parts, standing: &[bool], made: &BTreeMap<String, Part>) -> Parts {
    let (mut parts, mut made) = (Parts::default(), made.iter().peekable());
    for (place, part) in earlier.iter().enumerate() {
        while let Some((name, new)) = made.next_if(|(name, _)| name.as_str() <= part.name) {
            parts.push(name, new);
        }
        if standing[place] && !parts.ends_with(part.name) {
            parts.push_from(earlier, place);
        }
    }
    made.for_each(|(name, new)| parts.push(name, new));
    parts
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::site::manifest::Stamp;

    fn part(files: &[&str]) -> Part {
        let stamp = Stamp { bytes: 1, modified: 1 };
        Part { files: files.iter().map(|name| ((*name).to_owned(), stamp)).collect(), ..Part::default() }
    }

    fn list(parts: &[&[&str]]) -> Manifest {
        let mut manifest = Manifest::default();
        parts.iter().for_each(|files| manifest.parts.push(files[0], &part(files)));
        manifest
    }

    fn names(list: &[&str]) -> BTreeSet<String> {
        list.iter().map(|name| (*name).to_owned()).collect()
    }

    #[test]
    fn what_neither_stands_nor_was_made_is_stale_or_kept_whole_or_in_part() {
        let mut earlier = list(&[&["public/a", "public/a2"], &["public/b"], &["public/c", "public/c2"], &["public/d"]]);
        earlier.loose = names(&["public/d", "public/e", "public/k"]);
        let made = BTreeMap::from([("public/a".to_owned(), part(&["public/a"]))]);
        let kept = names(&["public/b", "public/c", "public/k"]);
        let left = left(&earlier, &[false, false, false, true], &made, |name| kept.contains(name));
        assert_eq!(left.stale, names(&["public/a2", "public/c2", "public/e"]));
        assert_eq!((left.loose, left.whole), (names(&["public/c", "public/k"]), vec![1]));
    }

    #[test]
    fn the_next_list_has_what_stands_and_what_was_made_in_order() {
        let earlier = list(&[&["public/b"], &["public/d"], &["public/f"]]);
        let new = |name: &str| (name.to_owned(), part(&[name, "public/z"]));
        let made = BTreeMap::from(["public/a", "public/d", "public/e", "public/g"].map(new));
        let parts = merged(&earlier.parts, &[true, true, false], &made);
        let found: Vec<(&str, usize)> = parts.iter().map(|part| (part.name, part.count)).collect();
        assert_eq!(found, [("public/a", 2), ("public/b", 1), ("public/d", 2), ("public/e", 2), ("public/g", 2)]);
        assert_eq!(parts.place("public/e"), Some(3));
    }
}
