//! The only writer of pages.

use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::io::Write;
use std::path::Path;
use std::sync::{Mutex, MutexGuard, PoisonError};

use super::manifest::Manifest;
use super::place::{Place, WriteFailure};

/// Everything a run produced, complete in memory: path relative to the salon folder → bytes.
pub type Files = BTreeMap<String, Vec<u8>>;

/// What a writing run did.
#[derive(Debug, Default, Clone, Copy, PartialEq, Eq)]
pub struct Written {
    /// Files that are new or changed.
    pub changed: usize,
    /// Files that were already right.
    pub unchanged: usize,
    /// Files of an earlier run that no longer belong there.
    pub removed: usize,
}

/// What an earlier run wrote and this one did not, and which stays all the same.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Kept {
    /// The files of clients at fault.
    These(BTreeSet<String>),
    /// Every file: a record is at fault, and nobody can tell whose it is.
    All,
}

impl Kept {
    fn keeps(&self, name: &String) -> bool {
        match self {
            Self::These(names) => names.contains(name),
            Self::All => true,
        }
    }
}

/// Where the list of written files is kept, relative to the salon folder.
pub const MANIFEST_FILE: &str = Manifest::PATH;

/// Writes files below a folder: only those that changed, each whole; then removes what an earlier run wrote and this one did not.
///
/// Files that are kept stay as they are: they belong to records that could not be read this time.
///
/// # Errors
/// At the first file the machine refuses, and where a folder on the way is a link to another place; everything written before is whole.
pub fn write(folder: &Path, files: &Files, kept: &Kept) -> Result<Written, WriteFailure> {
    let writer = Writer::open(folder)?;
    for (name, bytes) in files {
        writer.put(name, bytes)?;
    }
    writer.finish(kept)
}

/// A writing run whose files come one by one, from any thread.
///
/// Nothing is removed that the manifest of an earlier run does not list, so that a person's own files are safe.
/// Each new name is noted in a journal before its file is written, so that a run that is stopped leaves nothing unlisted.
/// A page is renamed into place and not flushed: if the power fails, the next run finds that its bytes are not right
/// and writes it again. The list itself is flushed.
#[derive(Debug)]
pub struct Writer {
    place: Place,
    earlier: Manifest,
    run: Mutex<Run>,
}

#[derive(Debug)]
struct Run {
    journal: fs::File,
    names: BTreeSet<String>,
    written: Written,
}

impl Writer {
    /// Begins a run below a salon folder, and takes away the drafts that a stopped run left.
    ///
    /// # Errors
    /// When the list of what an earlier run wrote cannot be kept.
    pub fn open(folder: &Path) -> Result<Self, WriteFailure> {
        let place = Place::new(folder);
        place.check_parents(Manifest::JOURNAL)?;
        let listed = fs::read_to_string(folder.join(Manifest::PATH)).ok();
        let mut earlier = listed.and_then(|text| Manifest::parse(&text)).unwrap_or_default();
        // A journal that is still there tells of a run that did not end.
        let journal = place.journal(Manifest::JOURNAL, |noted| earlier.take_in(noted))?;
        place.clear_drafts(earlier.files.iter().map(String::as_str))?;
        let run = Run { journal, names: BTreeSet::new(), written: Written::default() };
        Ok(Self { place, earlier, run: Mutex::new(run) })
    }

    /// Writes one file, whole, when it is new or changed.
    ///
    /// # Errors
    /// When the machine refuses; the old file is then still whole.
    pub fn put(&self, name: &str, bytes: &[u8]) -> Result<(), WriteFailure> {
        if !self.earlier.files.contains(name) {
            let noted = writeln!(self.run().journal, "{name}");
            noted.map_err(|error| WriteFailure { path: self.place.path(Manifest::JOURNAL), error })?;
        }
        let right = self.place.holds(name, bytes);
        if !right {
            self.place.put(name, bytes)?;
        }
        let mut run = self.run();
        run.names.insert(name.to_owned());
        *(if right { &mut run.written.unchanged } else { &mut run.written.changed }) += 1;
        Ok(())
    }

    /// Ends the run: removes what is stale but for what is kept, and keeps the list of what may be removed next time.
    ///
    /// # Errors
    /// At the first file the machine refuses.
    pub fn finish(self, kept: &Kept) -> Result<Written, WriteFailure> {
        let Run { names, mut written, .. } = self.run.into_inner().unwrap_or_else(PoisonError::into_inner);
        let mut listed = Manifest { files: names };
        for name in &self.earlier.files {
            if listed.files.contains(name) {
                continue;
            }
            if kept.keeps(name) {
                listed.files.insert(name.clone());
            } else {
                written.removed += usize::from(self.place.remove(name)?);
            }
        }
        if listed != self.earlier || !self.place.path(Manifest::PATH).exists() {
            self.place.put(Manifest::PATH, listed.to_text().as_bytes())?;
        }
        self.place.remove(Manifest::JOURNAL)?;
        Ok(written)
    }

    fn run(&self) -> MutexGuard<'_, Run> {
        self.run.lock().unwrap_or_else(PoisonError::into_inner)
    }
}

/// Writes private files of fixed names below a folder: only those that changed, each whole. Nothing is removed.
///
/// # Errors
/// At the first file the machine refuses; everything written before is whole.
pub fn write_private(folder: &Path, files: &Files) -> Result<Written, WriteFailure> {
    let (mut written, place) = (Written::default(), Place::new(folder));
    for (name, bytes) in files {
        place.check_parents(name)?;
        if place.holds(name, bytes) {
            written.unchanged += 1;
        } else {
            place.put(name, bytes)?;
            written.changed += 1;
        }
    }
    Ok(written)
}

/// Removes files that this program wrote, and their names from the list of what it wrote. Gives those that were there.
///
/// # Errors
/// At the first file the machine refuses.
pub fn remove(folder: &Path, names: &BTreeSet<String>) -> Result<BTreeSet<String>, WriteFailure> {
    let (mut removed, place) = (BTreeSet::new(), Place::new(folder));
    for name in names {
        if place.remove(name)? {
            removed.insert(name.clone());
        }
    }
    let path = folder.join(Manifest::PATH);
    if let Some(mut listed) = fs::read_to_string(&path).ok().and_then(|text| Manifest::parse(&text)) {
        let before = listed.files.len();
        listed.files.retain(|name| !names.contains(name));
        if listed.files.len() != before {
            place.put(Manifest::PATH, listed.to_text().as_bytes())?;
        }
    }
    Ok(removed)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::site::place::DRAFT;

    fn files(list: &[(&str, &str)]) -> Files {
        list.iter().map(|(name, text)| ((*name).to_owned(), text.as_bytes().to_vec())).collect()
    }

    #[test]
    fn only_changes_are_written_stale_pages_go_and_kept_ones_stay() {
        let folder = tempfile::tempdir().expect("a folder");
        let none = Kept::These(BTreeSet::new());
        let first = files(&[("public/a.html", "a"), ("public/b.html", "b"), ("public/c.html", "c")]);
        let written = write(folder.path(), &first, &none).expect("written");
        assert_eq!(written, Written { changed: 3, unchanged: 0, removed: 0 });

        let second = files(&[("public/a.html", "a2")]);
        let kept = Kept::These(BTreeSet::from(["public/b.html".to_owned()]));
        let written = write(folder.path(), &second, &kept).expect("written");
        assert_eq!(written, Written { changed: 1, unchanged: 0, removed: 1 });
        assert!(folder.path().join("public/b.html").exists());
        assert!(!folder.path().join("public/c.html").exists());

        let written = write(folder.path(), &second, &none).expect("written");
        assert_eq!(
            written,
            Written { changed: 0, unchanged: 1, removed: 1 },
            "what was kept is still known to be ours"
        );
    }

    #[test]
    fn what_a_run_that_never_ended_wrote_is_still_known_to_be_ours() {
        let folder = tempfile::tempdir().expect("a folder");
        let crashed = Writer::open(folder.path()).expect("begun");
        crashed.put("public/a.html", b"a").expect("written");
        drop(crashed);
        let written =
            write(folder.path(), &files(&[("public/b.html", "b")]), &Kept::These(BTreeSet::new())).expect("written");
        assert_eq!(written, Written { changed: 1, unchanged: 0, removed: 1 });
        assert!(!folder.path().join("public/a.html").exists());
        assert!(!folder.path().join(Manifest::JOURNAL).exists());
    }

    #[test]
    fn a_persons_own_file_is_never_removed() {
        let folder = tempfile::tempdir().expect("a folder");
        fs::create_dir_all(folder.path().join("public")).expect("a folder");
        fs::write(folder.path().join("public/own.txt"), "mine").expect("written");
        write(folder.path(), &files(&[]), &Kept::These(BTreeSet::new())).expect("written");
        assert!(folder.path().join("public/own.txt").exists());
    }

    #[test]
    fn nothing_goes_when_nobody_can_tell_whose_record_is_at_fault() {
        let folder = tempfile::tempdir().expect("a folder");
        write(folder.path(), &files(&[("public/a.html", "a")]), &Kept::All).expect("written");
        let written = write(folder.path(), &files(&[]), &Kept::All).expect("written");
        assert_eq!(written.removed, 0);
        assert!(folder.path().join("public/a.html").exists());
    }

    #[test]
    fn drafts_of_a_stopped_run_are_never_published() {
        let folder = tempfile::tempdir().expect("a folder");
        let wanted = files(&[("public/c/ab/c.html", "a")]);
        write(folder.path(), &wanted, &Kept::All).expect("written");
        let draft = folder.path().join(format!("public/c/ab/{DRAFT}0xYz12"));
        fs::write(&draft, "half a pa").expect("written");
        write(folder.path(), &wanted, &Kept::All).expect("written");
        assert!(!draft.exists());
    }

    #[cfg(unix)]
    #[test]
    fn nothing_is_written_or_removed_through_a_link() {
        use std::os::unix::fs::symlink;
        let (folder, outside) = (tempfile::tempdir().expect("a folder"), tempfile::tempdir().expect("another"));
        fs::create_dir_all(outside.path().join("c")).expect("a folder");
        fs::write(outside.path().join("c/mine.html"), "mine").expect("written");
        let listed = Manifest { files: BTreeSet::from(["public/c/mine.html".to_owned()]) };
        fs::create_dir(folder.path().join("private")).expect("a folder");
        fs::write(folder.path().join(Manifest::PATH), listed.to_text()).expect("written");
        symlink(outside.path(), folder.path().join("public")).expect("a link");
        for wanted in [files(&[]), files(&[("public/c/new.html", "a")])] {
            let refused = write(folder.path(), &wanted, &Kept::These(BTreeSet::new())).expect_err("a link");
            assert!(refused.error.to_string().contains("link to another place"), "{refused:?}");
        }
        assert_eq!(fs::read_dir(outside.path().join("c")).expect("there").count(), 1);
        assert!(outside.path().join("c/mine.html").exists());
        // A link in the place of a file is replaced, and what it led to stays.
        fs::remove_file(folder.path().join("public")).expect("removed");
        fs::create_dir_all(folder.path().join("public/c")).expect("a folder");
        symlink(outside.path().join("c/mine.html"), folder.path().join("public/c/new.html")).expect("a link");
        write(folder.path(), &files(&[("public/c/new.html", "mine")]), &Kept::All).expect("written");
        assert!(!folder.path().join("public/c/new.html").is_symlink());
    }

    #[test]
    fn a_salon_folder_that_has_vanished_is_not_made_anew() {
        let folder = tempfile::tempdir().expect("a folder");
        let gone = folder.path().join("stick");
        assert!(write(&gone, &files(&[("public/a.html", "a")]), &Kept::All).is_err());
        assert!(!gone.exists());
    }
}
