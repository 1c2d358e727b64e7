//! What this salon folder has put into a store: a private list, one for each address, beside the salon's other secrets.
//!
//! It is never in the store: a list of links there would be a list of every client.

use std::collections::BTreeMap;
use std::fs::{self, File, OpenOptions, TryLockError};
use std::io;
use std::path::{Path, PathBuf};

use serde::{Deserialize, Serialize};

use crate::site;

use super::{Address, Refusal};

/// Where the lists are, relative to the salon folder.
const FOLDER: &str = "private/published";

/// One file of ours in the store.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub(super) struct Put {
    /// SHA-256 of its bytes, in hexadecimal digits.
    pub(super) sha256: String,
    /// The mark (`ETag`) the store gave it; nothing when its upload began and was not seen to end.
    pub(super) e_tag: Option<String>,
}

/// The list of what lies at one address, and the lock that keeps a second run away from it.
#[derive(Debug)]
pub(super) struct Kept {
    /// Name below the address → what was put there.
    pub(super) files: BTreeMap<String, Put>,
    /// The `Cache-Control` with which they were put.
    pub(super) cache: String,
    folder: PathBuf,
    name: String,
    address: String,
    _lock: Option<File>,
}

#[derive(Serialize, Deserialize)]
struct Stored {
    format: u32,
    address: String,
    cache: String,
    files: BTreeMap<String, Put>,
}

impl Kept {
    /// Reads the list of an address and locks it. A damaged one is set aside under another name, which is given.
    ///
    /// Only to look at, it is not locked, and a damaged one stays where it is.
    pub(super) fn open(folder: &Path, to: &Address, only_look: bool) -> Result<(Self, Option<String>), Refusal> {
        let name = format!("{FOLDER}/{}.json", to.mark());
        let path = folder.join(&name);
        let lock = if only_look { None } else { Some(lock(folder, &path.with_extension("lock"))?) };
        let empty = |lock| Self {
            files: BTreeMap::new(),
            cache: String::new(),
            folder: folder.to_owned(),
            name: name.clone(),
            address: to.as_str().to_owned(),
            _lock: lock,
        };
        let text = match fs::read_to_string(&path) {
            Ok(text) => text,
            Err(error) if error.kind() == io::ErrorKind::NotFound => return Ok((empty(lock), None)),
            Err(error) => return Err(Refusal::machine(&format!("read {}", path.display()), &error)),
        };
        match parsed(&text, to) {
            Some(stored) => Ok((Self { files: stored.files, cache: stored.cache, ..empty(lock) }, None)),
            None if only_look => Ok((empty(lock), Some(path.display().to_string()))),
            None => {
                let aside = path.with_extension("damaged.json");
                fs::rename(&path, &aside).map_err(|error| Refusal::machine("set a damaged list aside", &error))?;
                Ok((empty(lock), Some(aside.display().to_string())))
            }
        }
    }

    /// A list that nothing keeps, for tests of what is made from one.
    #[cfg(test)]
    pub(super) fn of(files: BTreeMap<String, Put>, cache: &str) -> Self {
        let (folder, name) = (PathBuf::new(), String::new());
        Self { files, cache: cache.to_owned(), folder, name, address: String::new(), _lock: None }
    }

    /// Writes the list, whole or not at all, for its owner only.
    pub(super) fn store(&self) -> Result<(), Refusal> {
        let stored =
            Stored { format: 1, address: self.address.clone(), cache: self.cache.clone(), files: self.files.clone() };
        let mut text = serde_json::to_vec(&stored).expect("a list of names is always JSON");
        text.push(b'\n');
        let files = BTreeMap::from([(self.name.clone(), text)]);
        let written = site::write_private(&self.folder, &files);
        written
            .map(drop)
            .map_err(|failure| Refusal::machine(&format!("write {}", failure.path.display()), &failure.error))
    }
}

/// A list, when it is whole, of this format and about this address, and names nothing outside of it.
fn parsed(text: &str, to: &Address) -> Option<Stored> {
    let stored: Stored = serde_json::from_str(text).ok()?;
    let inside = |name: &String| name.split('/').all(|part| !matches!(part, "" | "." | ".."));
    (stored.format == 1 && stored.address == to.as_str() && stored.files.keys().all(inside)).then_some(stored)
}

/// Locks a list for as long as the file is held, however the run ends.
fn lock(folder: &Path, path: &Path) -> Result<File, Refusal> {
    let made = site::write_private(folder, &BTreeMap::from([(format!("{FOLDER}/README"), README.as_bytes().to_vec())]));
    made.map_err(|failure| Refusal::machine(&format!("write {}", failure.path.display()), &failure.error))?;
    let doing = format!("lock {}", path.display());
    let mut options = OpenOptions::new();
    options.create(true).truncate(false).write(true);
    #[cfg(unix)]
    {
        use std::os::unix::fs::OpenOptionsExt;
        options.mode(0o600);
    }
    let file = options.open(path).map_err(|error| Refusal::machine(&doing, &error))?;
    match file.try_lock() {
        Ok(()) => Ok(file),
        Err(TryLockError::WouldBlock) => Err(Refusal::Machine(
            "another run is publishing this salon to the same address\n  help: wait until it has ended".to_owned(),
        )),
        Err(TryLockError::Error(error)) => Err(Refusal::machine(&doing, &error)),
    }
}

/// Told beside the lists, for whoever opens the folder.
const README: &str = "What was published, one list for each address. It holds the name of every page: keep it as private as the link secret.\n\
    Without it `afterhue publish` does not know what it may remove; back it up with the rest of private/.\n";

#[cfg(test)]
mod tests {
    use super::*;

    fn address() -> Address {
        Address::parse("s3://rooms/care").expect("an address")
    }

    #[test]
    fn a_list_comes_back_as_it_was_and_only_its_owner_may_read_it() {
        let folder = tempfile::tempdir().expect("a folder");
        let (mut kept, damaged) = Kept::open(folder.path(), &address(), false).expect("a new list");
        assert!(kept.files.is_empty() && damaged.is_none());
        let put = Put { sha256: "ab".to_owned(), e_tag: Some("7".to_owned()) };
        kept.files.insert("c/ab/x.html".to_owned(), put);
        kept.cache = "private".to_owned();
        kept.store().expect("stored");
        let refused = Kept::open(folder.path(), &address(), false).expect_err("another run").to_string();
        assert!(refused.contains("another run is publishing"), "{refused}");
        let (files, path) = (kept.files.clone(), folder.path().join(&kept.name));
        drop(kept);
        #[cfg(unix)]
        {
            use std::os::unix::fs::PermissionsExt;
            assert_eq!(fs::metadata(&path).expect("there").permissions().mode() & 0o777, 0o600);
        }
        let (again, _) = Kept::open(folder.path(), &address(), false).expect("the same list");
        assert_eq!((again.files, again.cache), (files, "private".to_owned()));
    }

    #[test]
    fn a_damaged_list_and_one_of_another_address_are_set_aside_and_told() {
        for text in [
            "{\"format\":1,\"address\":\"s3://rooms/care\",\"cache\":\"\",\"fil",
            "{\"format\":2,\"address\":\"s3://rooms/care\",\"cache\":\"\",\"files\":{}}",
            "{\"format\":1,\"address\":\"s3://elsewhere\",\"cache\":\"\",\"files\":{}}",
            "{\"format\":1,\"address\":\"s3://rooms/care\",\"cache\":\"\",\"files\":{\"../x\":{\"sha256\":\"\",\"e_tag\":null}}}",
        ] {
            let folder = tempfile::tempdir().expect("a folder");
            let (kept, _) = Kept::open(folder.path(), &address(), false).expect("a new list");
            fs::write(folder.path().join(&kept.name), text).expect("written");
            drop(kept);
            let (kept, damaged) = Kept::open(folder.path(), &address(), false).expect("opened");
            assert!(kept.files.is_empty(), "{text}");
            assert!(fs::read_to_string(damaged.expect("told")).expect("set aside") == text);
        }
    }
}
