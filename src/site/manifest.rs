//! The list of files an earlier run wrote.

use std::collections::BTreeSet;

use serde::{Deserialize, Serialize};

/// Names of files this program wrote and may therefore remove.
#[derive(Debug, Default, Clone, PartialEq, Eq)]
pub(super) struct Manifest {
    /// Paths relative to the salon folder.
    pub(super) files: BTreeSet<String>,
}

#[derive(Serialize, Deserialize)]
struct Stored {
    format: u32,
    files: BTreeSet<String>,
}

impl Manifest {
    /// Where it is kept.
    pub(super) const PATH: &'static str = "private/written-files.json";

    /// Where the names of a run that has not ended are noted, one a line.
    pub(super) const JOURNAL: &'static str = "private/written-files.journal";

    /// Takes in the names of a journal; a last line without its end was never acted on.
    pub(super) fn take_in(&mut self, journal: &str) {
        let whole = journal.rfind('\n').map_or("", |end| &journal[..end]);
        self.files.extend(whole.lines().map(str::to_owned).filter(inside));
    }

    /// Reads a manifest; nothing when it is damaged, of another format, or names a place outside `public/` and `private/`.
    #[must_use]
    pub(super) fn parse(text: &str) -> Option<Self> {
        let stored: Stored = serde_json::from_str(text).ok()?;
        (stored.format == 1 && stored.files.iter().all(inside)).then_some(Self { files: stored.files })
    }

    /// The text to store.
    #[must_use]
    pub(super) fn to_text(&self) -> String {
        let stored = Stored { format: 1, files: self.files.clone() };
        let mut text = serde_json::to_string_pretty(&stored).expect("a list of names is always JSON");
        text.push('\n');
        text
    }
}

/// Whether a name lies inside `public/` or `private/`.
#[expect(clippy::ptr_arg, reason = "a filter over owned names")]
fn inside(name: &String) -> bool {
    (name.starts_with("public/") || name.starts_with("private/"))
        && name.split('/').all(|part| !part.is_empty() && part != "." && part != "..")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_manifest_comes_back_as_it_was_and_a_hostile_one_is_refused() {
        let manifest = Manifest { files: BTreeSet::from(["public/c/ab/c.html".to_owned()]) };
        assert_eq!(Manifest::parse(&manifest.to_text()), Some(manifest));
        for hostile in ["public/../salon.toml", "/etc/passwd", "records/x.toml", "public//x"] {
            let text = Manifest { files: BTreeSet::from([hostile.to_owned()]) }.to_text();
            assert_eq!(Manifest::parse(&text), None, "{hostile}");
        }
    }
}
