//! The list of what an earlier run wrote, and from what.
//!
//! In: the stored text. Out: [`Manifest`]; and back. Knows nothing of: what a key was made from.
//!
//! A run writes in parts: a client's page with its calendar files is one, the printed cards are one. Each part is kept with the
//! key of everything that shaped it, so that a part of the same key whose files are still as they were written need not be made again.

use std::collections::{BTreeMap, BTreeSet};
use std::io::{self, BufWriter};
use std::sync::Arc;

use chrono::NaiveDate;
use data_encoding::HEXLOWER;
use serde::ser::SerializeStruct;
use serde::{Deserialize, Serialize, Serializer};
use sha2::{Digest, Sha256};

use super::outlet::About;

/// A SHA-256 digest of everything that shapes a part, or of a program.
pub type Key = [u8; 32];

/// The format that is written. Format 2 is read as well: it is the same without what is known of a client.
const FORMAT: u32 = 3;

/// What an earlier run wrote and this program may therefore remove.
#[derive(Debug, Default, Clone, PartialEq, Eq)]
pub(super) struct Manifest {
    /// The program that wrote it, as a digest of its bytes; nothing when that could not be told.
    pub(super) program: Option<Key>,
    /// Each part by the name it goes by, that of its first file.
    pub(super) parts: BTreeMap<String, Arc<Part>>,
    /// Files that belong to no part.
    pub(super) loose: BTreeSet<String>,
}

/// Files that are made together.
#[derive(Debug, Default, Clone, PartialEq, Eq)]
pub(super) struct Part {
    /// What shaped them; nothing when they must be made again whatever it is.
    pub(super) key: Option<Key>,
    /// The last day on which they stand.
    pub(super) until: Option<NaiveDate>,
    /// Of the part of a client: what is known of them.
    pub(super) about: Option<About>,
    /// The files; none when that day had passed.
    pub(super) files: Vec<(String, Stamp)>,
}

/// By what a file is known not to have been touched since it was written.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub(super) struct Stamp {
    /// Its size, bytes.
    pub(super) bytes: u64,
    /// When it was last changed, nanoseconds since 1970.
    pub(super) modified: i64,
}

#[derive(Serialize, Deserialize)]
struct Stored<W> {
    format: u32,
    /// Of `written`, so that a damaged list is not believed.
    sha256: String,
    written: W,
}

#[derive(Serialize, Deserialize)]
struct StoredManifest {
    program: Option<String>,
    parts: BTreeMap<String, StoredPart>,
    loose: BTreeSet<String>,
}

#[derive(Serialize, Deserialize)]
struct StoredPart {
    key: Option<String>,
    until: Option<NaiveDate>,
    /// The day the client was last seen, and whether there was nothing to say. Not in format 2.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    about: Option<(NaiveDate, bool)>,
    files: Vec<(String, u64, i64)>,
}

/// The format before parts were known: names only.
#[derive(Deserialize)]
struct StoredNames {
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
        let new: BTreeSet<String> = {
            let known: BTreeSet<&str> = self.files().collect();
            whole.lines().filter(|name| inside(name) && !known.contains(name)).map(str::to_owned).collect()
        };
        self.loose.extend(new);
    }

    /// Every file it lists.
    pub(super) fn files(&self) -> impl Iterator<Item = &str> {
        let of_parts = self.parts.values().flat_map(|part| part.files.iter().map(|(name, _)| name.as_str()));
        of_parts.chain(self.loose.iter().map(String::as_str))
    }

    /// Whether a file of a part is listed.
    pub(super) fn lists(&self, part: &str, file: &str) -> bool {
        self.loose.contains(file)
            || self.parts.get(part).is_some_and(|part| part.files.iter().any(|(name, _)| name == file))
    }

    /// The same list without some files; a part that lost one must be made again. Parts without files go as well.
    pub(super) fn without(mut self, names: &BTreeSet<String>) -> Self {
        self.loose.retain(|name| !names.contains(name));
        for part in self.parts.values_mut() {
            if part.files.iter().any(|(name, _)| names.contains(name)) {
                let left = part.files.iter().filter(|(name, _)| !names.contains(name)).cloned().collect();
                *part = Arc::new(Part { key: None, until: None, about: None, files: left });
            }
        }
        self.parts.retain(|name, part| !(names.contains(name) || part.files.is_empty()));
        self
    }

    /// Reads a manifest; nothing when it is damaged, of another format, or names a place outside `public/` and `private/`.
    #[must_use]
    pub(super) fn parse(text: &str) -> Option<Self> {
        let manifest = match serde_json::from_str::<Stored<StoredManifest>>(text) {
            Ok(stored) => {
                let sound = [2, FORMAT].contains(&stored.format) && stored.sha256 == digest(&stored.written);
                Self::from_stored(stored.written).filter(|_| sound)?
            }
            Err(_) => {
                let names: StoredNames = serde_json::from_str(text).ok()?;
                (names.format == 1).then(|| Self { loose: names.files, ..Self::default() })?
            }
        };
        let sound = manifest.files().all(inside);
        sound.then_some(manifest)
    }

    fn from_stored(stored: StoredManifest) -> Option<Self> {
        let StoredManifest { program, parts, loose } = stored;
        let part = |(name, stored): (String, StoredPart)| {
            let StoredPart { key, until, about, files } = stored;
            let about = about.map(|(last_seen, silent)| About { last_seen, silent });
            let stamped = |(name, bytes, modified)| (name, Stamp { bytes, modified });
            let files = files.into_iter().map(stamped).collect();
            Some((name, Arc::new(Part { key: key_from(key)?, until, about, files })))
        };
        let parts = parts.into_iter().map(part).collect::<Option<_>>()?;
        Some(Self { program: key_from(program)?, parts, loose })
    }

    /// The text to store.
    #[must_use]
    pub(super) fn to_text(&self) -> String {
        let written = Shown(self);
        let stored = Stored { format: FORMAT, sha256: digest(&written), written };
        let mut text = serde_json::to_string(&stored).expect("a list of names is always JSON");
        text.push('\n');
        text
    }
}

/// A manifest as it is stored, without a copy of it: as [`StoredManifest`], which is what is read back.
struct Shown<'a>(&'a Manifest);

impl Serialize for Shown<'_> {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let mut all = serializer.serialize_struct("written", 3)?;
        all.serialize_field("program", &self.0.program.map(|key| HEXLOWER.encode(&key)))?;
        all.serialize_field("parts", &ShownParts(&self.0.parts))?;
        all.serialize_field("loose", &self.0.loose)?;
        all.end()
    }
}

struct ShownParts<'a>(&'a BTreeMap<String, Arc<Part>>);

impl Serialize for ShownParts<'_> {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_map(self.0.iter().map(|(name, part)| (name, stored(part))))
    }
}

fn stored(part: &Part) -> StoredPart {
    StoredPart {
        key: part.key.map(|key| HEXLOWER.encode(&key)),
        until: part.until,
        about: part.about.map(|About { last_seen, silent }| (last_seen, silent)),
        files: part.files.iter().map(|(name, stamp)| (name.clone(), stamp.bytes, stamp.modified)).collect(),
    }
}

/// A digest of the list, in hexadecimal digits.
fn digest(written: &impl Serialize) -> String {
    let mut all = BufWriter::new(Digested(Sha256::new()));
    serde_json::to_writer(&mut all, written).expect("a list of names is always JSON");
    let all = all.into_inner().unwrap_or_else(|_| unreachable!("a digest takes every byte"));
    HEXLOWER.encode(&all.0.finalize())
}

/// A digest as a place to write to, so that a long list need not be in memory as a text.
struct Digested(Sha256);

impl io::Write for Digested {
    fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
        self.0.update(bytes);
        Ok(bytes.len())
    }

    fn flush(&mut self) -> io::Result<()> {
        Ok(())
    }
}

/// A key from its digits: nothing inside when there is none, nothing at all when it is none.
#[expect(clippy::option_option, reason = "a key that is missing is sound, one that is damaged is not")]
fn key_from(text: Option<String>) -> Option<Option<Key>> {
    let Some(text) = text else { return Some(None) };
    Some(Some(HEXLOWER.decode(text.as_bytes()).ok()?.try_into().ok()?))
}

/// Whether a name lies inside `public/` or `private/`.
fn inside(name: &str) -> bool {
    (name.starts_with("public/") || name.starts_with("private/"))
        && !name.contains('\n')
        && name.split('/').all(|part| !part.is_empty() && part != "." && part != "..")
}

#[cfg(test)]
mod tests {
    use super::*;

    fn manifest(file: &str) -> Manifest {
        let files = vec![(file.to_owned(), Stamp { bytes: 3, modified: 1_764_000_000_123_456_789 })];
        let (until, last_seen) = (NaiveDate::from_ymd_opt(2027, 1, 31), NaiveDate::from_ymd_opt(2026, 11, 20));
        let about = last_seen.map(|last_seen| About { last_seen, silent: true });
        let part = Part { key: Some([7; 32]), until, about, files };
        Manifest {
            program: Some([1; 32]),
            parts: BTreeMap::from([(file.to_owned(), Arc::new(part))]),
            loose: BTreeSet::from(["public/old.html".to_owned()]),
        }
    }

    #[test]
    fn a_manifest_comes_back_as_it_was_and_a_hostile_one_is_refused() {
        let sound = manifest("public/c/ab/c.html");
        assert_eq!(Manifest::parse(&sound.to_text()), Some(sound));
        for hostile in ["public/../salon.toml", "/etc/passwd", "records/x.toml", "public//x", "public/a\nb"] {
            assert_eq!(Manifest::parse(&manifest(hostile).to_text()), None, "{hostile}");
        }
    }

    #[test]
    fn no_byte_of_a_manifest_can_change_unseen() {
        let text = manifest("public/c/ab/c.html").to_text();
        for at in 0..text.len() - 1 {
            let mut damaged = text.clone().into_bytes();
            damaged[at] = if damaged[at] == b'0' { b'1' } else { b'0' };
            let damaged = String::from_utf8(damaged).expect("text");
            assert_eq!(Manifest::parse(&damaged), None, "byte {at}: {damaged}");
            assert_eq!(Manifest::parse(&text[..at]), None, "cut at {at}");
        }
    }

    #[test]
    fn the_list_of_an_earlier_version_is_still_known_to_be_ours() {
        let old = "{\n  \"format\": 1,\n  \"files\": [\n    \"public/404.html\"\n  ]\n}\n";
        let read = Manifest::parse(old).expect("read");
        assert_eq!((read.files().collect::<Vec<_>>(), read.parts.len()), (vec!["public/404.html"], 0));
        assert_eq!(Manifest::parse(&old.replace("\"format\": 1", "\"format\": 3")), None);
    }

    #[test]
    fn a_list_of_format_2_is_read_and_knows_nothing_of_clients() {
        let mut new = manifest("public/c/ab/c.html");
        new.parts.values_mut().for_each(|part| *part = Arc::new(Part { about: None, ..Part::clone(part) }));
        let old = new.to_text().replace("\"format\":3", "\"format\":2");
        assert_eq!(Manifest::parse(&old), Some(new));
        assert_eq!(Manifest::parse(&old.replace("\"format\":2", "\"format\":4")), None);
    }

    #[test]
    fn a_part_that_lost_a_file_must_be_made_again() {
        let gone = BTreeSet::from(["public/old.html".to_owned(), "public/c/ab/c.html".to_owned()]);
        let left = manifest("public/c/ab/c.html").without(&gone);
        assert_eq!((left.parts.len(), left.loose.len()), (0, 0));
    }
}
