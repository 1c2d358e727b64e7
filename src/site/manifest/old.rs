//! The list as earlier versions of the program kept it: JSON, of three formats.
//!
//! In: the stored text. Out: a [`Manifest`]. Knows nothing of: writing, as nothing writes these any more.

use std::collections::{BTreeMap, BTreeSet};
use std::io::{self, BufWriter};

use chrono::NaiveDate;
use data_encoding::HEXLOWER;
use serde::{Deserialize, Serialize};
use sha2::{Digest, Sha256};

use super::{Key, Manifest, Part, Parts, Stamp};
use crate::site::outlet::About;

/// Formats 2 and 3; in 2 nothing is known of a client.
#[derive(Deserialize)]
struct Stored {
    format: u32,
    /// Of `written`, so that a damaged list is not believed.
    sha256: String,
    written: StoredManifest,
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
    /// The day the client was last seen, and whether there was nothing to say.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    about: Option<(NaiveDate, bool)>,
    files: Vec<(String, u64, i64)>,
}

/// Format 1, before parts were known: names only.
#[derive(Deserialize)]
struct StoredNames {
    format: u32,
    files: BTreeSet<String>,
}

/// Reads such a list; nothing when it is damaged or of another format. Where the names lead is not looked at.
pub(super) fn parse(text: &str) -> Option<Manifest> {
    let Ok(stored) = serde_json::from_str::<Stored>(text) else {
        let names: StoredNames = serde_json::from_str(text).ok()?;
        return (names.format == 1).then(|| Manifest { loose: names.files, ..Manifest::default() });
    };
    let sound = [2, 3].contains(&stored.format) && stored.sha256 == digest(&stored.written);
    from_stored(stored.written).filter(|_| sound)
}

fn from_stored(stored: StoredManifest) -> Option<Manifest> {
    let mut parts = Parts::default();
    for (name, StoredPart { key, until, about, files }) in stored.parts {
        // What there was to say was not listed then.
        let about = about.filter(|(_, silent)| *silent).map(|(last_seen, _)| About { last_seen, told: Vec::new() });
        let stamped = |(name, bytes, modified)| (name, Stamp { bytes, modified });
        let files = files.into_iter().map(stamped).collect();
        parts.push(&name, &Part { key: key_from(key)?, until, about, files });
    }
    Some(Manifest { program: key_from(stored.program)?, parts, loose: stored.loose })
}

/// A digest of the list, in hexadecimal digits.
fn digest(written: &StoredManifest) -> String {
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

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_first_list_of_all_is_still_known_to_be_ours() {
        let old = "{\n  \"format\": 1,\n  \"files\": [\n    \"public/404.html\"\n  ]\n}\n";
        let read = parse(old).expect("read");
        assert_eq!((read.loose, read.parts.len()), (BTreeSet::from(["public/404.html".to_owned()]), 0));
        assert!(parse(&old.replace("\"format\": 1", "\"format\": 3")).is_none());
    }

    /// As the version before this one wrote it.
    const THIRD: &str = "{\"format\":3,\"sha256\":\"SHA\",\"written\":{\"program\":\"PROGRAM\",\"parts\":{\"public/c/ab/c.html\":{\"key\":\"KEY\",\"until\":\"2027-01-31\",\"about\":[\"2026-11-20\",true],\"files\":[[\"public/c/ab/c.html\",3,1764000000123456789]]}},\"loose\":[\"public/old.html\"]}}\n";

    fn sealed(text: &str) -> String {
        let text = text.replace("PROGRAM", &"01".repeat(32)).replace("KEY", &"07".repeat(32));
        let written = text.split_once("\"written\":").expect("there").1.trim_end().strip_suffix('}').expect("an end");
        let digest = HEXLOWER.encode(&Sha256::digest(written));
        text.replace("SHA", &digest)
    }

    #[test]
    fn the_lists_with_keys_are_read_and_the_second_knows_nothing_of_clients() {
        let third = parse(&sealed(THIRD)).expect("read");
        let part = third.parts.get("public/c/ab/c.html").expect("a part").owned();
        let about = NaiveDate::from_ymd_opt(2026, 11, 20).map(|last_seen| About { last_seen, told: Vec::new() });
        let files = vec![("public/c/ab/c.html".to_owned(), Stamp { bytes: 3, modified: 1_764_000_000_123_456_789 })];
        let until = NaiveDate::from_ymd_opt(2027, 1, 31);
        assert_eq!(part, Part { key: Some([7; 32]), until, about, files });
        assert_eq!((third.program, third.loose.len()), (Some([1; 32]), 1));
        let second = THIRD.replace("\"about\":[\"2026-11-20\",true],", "").replace("\"format\":3", "\"format\":2");
        let second = parse(&sealed(&second)).expect("read");
        assert_eq!(second.parts.get("public/c/ab/c.html").expect("a part").about(), None);
        for damaged in ["\"format\":4", "\"format\":1"] {
            assert!(parse(&sealed(THIRD).replace("\"format\":3", damaged)).is_none(), "{damaged}");
        }
        assert!(parse(&sealed(THIRD).replace("old.html", "new.html")).is_none(), "another digest");
    }
}
