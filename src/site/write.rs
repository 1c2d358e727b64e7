//! The only writer of pages.

use std::collections::{BTreeMap, BTreeSet, HashMap};
use std::fs;
use std::io::Write;
use std::path::Path;
use std::sync::atomic::{AtomicBool, AtomicUsize, Ordering};
use std::sync::{Mutex, MutexGuard, OnceLock, PoisonError};

use chrono::NaiveDate;
use rayon::prelude::*;

use super::manifest::{Key, Left, Manifest, Part, Stamp, left, merged};
use super::outlet::{Made, Outlet, Still, Stood};
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
    fn keeps(&self, name: &str) -> bool {
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
    let writer = Writer::open(folder, None)?;
    for (name, bytes) in files {
        writer.put(
            name,
            Made { key: Key::default(), until: None, about: None, files: vec![(name.clone(), bytes.clone())] },
        )?;
    }
    writer.finish(kept)
}

/// A writing run whose parts come one by one, from any thread.
///
/// Nothing is removed that the manifest of an earlier run does not list, so that a person's own files are safe.
/// Each new name is noted in a journal before its file is written, so that a run that is stopped leaves nothing unlisted.
/// A page is renamed into place and not flushed: if the power fails, a file of another size is made again by the next run,
/// and `pages --afresh` makes all of them. The list itself is flushed.
#[derive(Debug)]
pub struct Writer {
    place: Place,
    program: Option<Key>,
    earlier: Manifest,
    /// Whether the keys of the earlier run say anything: it was made by this program.
    believed: bool,
    damaged: bool,
    /// By place, whether the files of a part were as they were written when the run began.
    untouched: Vec<bool>,
    /// The places of the clients' parts by the beginnings of their keys.
    by_key: OnceLock<HashMap<[u8; 8], usize>>,
    /// By place, which parts of the earlier run stay as they are listed.
    standing: Vec<AtomicBool>,
    /// How many files were found right without being made.
    unchanged: AtomicUsize,
    run: Mutex<Run>,
}

#[derive(Debug)]
struct Run {
    journal: fs::File,
    /// The parts there are now beside those that stand.
    made: BTreeMap<String, Part>,
    written: Written,
}

impl Outlet for Writer {
    type Failure = WriteFailure;

    fn stands(&self, part: &str, key: &Key, today: NaiveDate) -> Option<Still> {
        self.still(self.earlier.parts.place(part)?, key, today)
    }

    fn stood(&self, key: &Key, today: NaiveDate) -> Option<Stood> {
        let parts = &self.earlier.parts;
        let keyed = |place: usize| Some((beginning(parts.at(place).key?), place));
        let by_key = self.by_key.get_or_init(|| (0..parts.len()).filter_map(keyed).collect());
        // Of two keys that begin alike one is not found here, and its part by the name it goes by.
        let place = *by_key.get(&beginning(key))?;
        let part = parts.at(place);
        let about = part.about()?;
        Some(Stood { part: part.name.to_owned(), about, still: self.still(place, key, today)? })
    }

    fn put(&self, part: &str, made: Made) -> Result<(), WriteFailure> {
        let (mut key, mut stamped, mut unchanged) = (Some(made.key), Vec::with_capacity(made.files.len()), 0);
        let new: Vec<bool> = made.files.iter().map(|(name, _)| !self.earlier.lists(part, name)).collect();
        let names = made.files.iter().zip(&new).filter(|(_, new)| **new).map(|((name, _), _)| name.as_str());
        self.note(&names.collect::<Vec<_>>())?;
        for ((name, bytes), new) in made.files.into_iter().zip(new) {
            // What no run has noted is not there, or not ours.
            let right = if new { None } else { self.place.holds(&name, &bytes) };
            unchanged += usize::from(right.is_some());
            let stamp = if right.is_some() { right } else { self.place.put(&name, &bytes)? };
            // A file without a stamp cannot be known again.
            key = key.filter(|_| stamp.is_some());
            stamped.push((name, stamp.unwrap_or(Stamp { bytes: 0, modified: 0 })));
        }
        let mut run = self.run();
        run.written.unchanged += unchanged;
        run.written.changed += stamped.len() - unchanged;
        run.made.insert(part.to_owned(), Part { key, until: made.until, about: made.about, files: stamped });
        Ok(())
    }
}

/// How a key begins: enough to look for it by.
fn beginning(key: &Key) -> [u8; 8] {
    *key.first_chunk().expect("a key is longer")
}

impl Writer {
    /// Begins a run below a salon folder, and takes away the drafts that a stopped run left.
    ///
    /// `program` is a digest of the running program: what another program made is made again, and without one everything is.
    ///
    /// # Errors
    /// When the list of what an earlier run wrote cannot be kept.
    pub fn open(folder: &Path, program: Option<Key>) -> Result<Self, WriteFailure> {
        let place = Place::new(folder);
        place.check_parents(Manifest::JOURNAL)?;
        let read = stored(folder).map(Manifest::parse);
        let damaged = matches!(read, Some(None));
        let mut earlier = read.flatten().unwrap_or_default();
        if damaged {
            // What a lost list named can only be told by the form of the names.
            earlier.loose = place.pages();
        }
        let (journal, unfinished) = place.journal(Manifest::JOURNAL)?;
        // A journal that is still there tells of a run that did not end, and only such a run leaves drafts.
        if let Some(noted) = unfinished {
            earlier.take_in(&noted);
            place.clear_drafts(earlier.folders())?;
        }
        let believed = program.is_some() && earlier.program == program;
        let parts = &earlier.parts;
        let as_written = |at: usize| parts.at(at).all(|name, stamp| place.stamp(name) == Some(stamp));
        let untouched = if believed { (0..parts.len()).into_par_iter().map(as_written).collect() } else { Vec::new() };
        let standing = std::iter::repeat_with(AtomicBool::default).take(parts.len()).collect();
        let run = Mutex::new(Run { journal, made: BTreeMap::new(), written: Written::default() });
        let (by_key, unchanged) = (OnceLock::new(), AtomicUsize::new(0));
        Ok(Self { place, program, earlier, believed, damaged, untouched, by_key, standing, unchanged, run })
    }

    /// Whether the part of a place still stands when this is its key; one that does is noted, so that the next list has it.
    fn still(&self, place: usize, key: &Key, today: NaiveDate) -> Option<Still> {
        let earlier = self.earlier.parts.at(place);
        if !self.believed || earlier.key != Some(key) {
            return None;
        }
        let expired = earlier.until().is_some_and(|until| until < today);
        if expired && earlier.count > 0 {
            let none = Part { files: Vec::new(), ..earlier.owned() };
            self.run().made.insert(earlier.name.to_owned(), none);
        } else if expired || (earlier.count > 0 && self.untouched[place]) {
            self.standing[place].store(true, Ordering::Relaxed);
            self.unchanged.fetch_add(earlier.count, Ordering::Relaxed);
        } else {
            return None;
        }
        Some(if expired { Still::Expired } else { Still::Shown })
    }

    /// Whether the list of an earlier run was damaged, so that everything is made again.
    #[must_use]
    pub const fn list_was_damaged(&self) -> bool {
        self.damaged
    }

    /// Notes names of a part that no run has noted before: one write, and a name counts when its line has an end.
    fn note(&self, names: &[&str]) -> Result<(), WriteFailure> {
        if names.is_empty() {
            return Ok(());
        }
        let lines: String = names.iter().flat_map(|name| [name, "\n"]).collect();
        let noted = self.run().journal.write_all(lines.as_bytes());
        noted.map_err(|error| WriteFailure { path: self.place.path(Manifest::JOURNAL), error })
    }

    /// Ends the run: removes what is stale but for what is kept, and keeps the list of what may be removed next time.
    ///
    /// # Errors
    /// At the first file the machine refuses.
    pub fn finish(self, kept: &Kept) -> Result<Written, WriteFailure> {
        let run = self.run.into_inner().unwrap_or_else(PoisonError::into_inner);
        let Run { mut made, mut written, .. } = run;
        let mut standing: Vec<bool> = self.standing.into_iter().map(AtomicBool::into_inner).collect();
        written.unchanged += self.unchanged.into_inner();
        let Left { stale, loose, whole } = left(&self.earlier, &standing, &made, |name| kept.keeps(name));
        for name in stale {
            written.removed += usize::from(self.place.remove(&name)?);
        }
        for place in whole {
            if self.believed {
                standing[place] = true;
            } else {
                // What another program made is kept, and made again as soon as it can be.
                let part = self.earlier.parts.at(place);
                made.insert(part.name.to_owned(), Part { key: None, ..part.owned() });
            }
        }
        let same = made.is_empty() && standing.iter().all(|stands| *stands);
        let same = same && loose == self.earlier.loose && self.program == self.earlier.program;
        if !same || !self.place.path(Manifest::PATH).exists() {
            let parts = merged(&self.earlier.parts, &standing, &made);
            let listed = Manifest { program: self.program, parts, loose };
            if listed != self.earlier || !self.place.path(Manifest::PATH).exists() {
                keep(&self.place, &listed)?;
            }
        }
        self.place.remove(Manifest::JOURNAL)?;
        Ok(written)
    }

    fn run(&self) -> MutexGuard<'_, Run> {
        self.run.lock().unwrap_or_else(PoisonError::into_inner)
    }
}

/// The list as it is stored, where this version of the program keeps it or an earlier one did.
fn stored(folder: &Path) -> Option<Vec<u8>> {
    [Manifest::PATH, Manifest::OLD_PATH].iter().find_map(|path| fs::read(folder.join(path)).ok())
}

/// Stores the list; one of an earlier version of the program goes.
fn keep(place: &Place, listed: &Manifest) -> Result<(), WriteFailure> {
    place.put(Manifest::PATH, &listed.to_bytes())?;
    place.remove(Manifest::OLD_PATH)?;
    Ok(())
}

/// Writes private files of fixed names below a folder: only those that changed, each whole. Nothing is removed.
///
/// # Errors
/// At the first file the machine refuses; everything written before is whole.
pub fn write_private(folder: &Path, files: &Files) -> Result<Written, WriteFailure> {
    let (mut written, place) = (Written::default(), Place::new(folder));
    for (name, bytes) in files {
        place.check_parents(name)?;
        if place.holds(name, bytes).is_some() {
            written.unchanged += 1;
        } else {
            place.put(name, bytes)?;
            written.changed += 1;
        }
    }
    Ok(written)
}

/// The files in a salon folder whose names have the form of a client's page or calendar: what can be said of them without a list.
#[must_use]
pub fn pages_by_their_form(folder: &Path) -> BTreeSet<String> {
    Place::new(folder).pages()
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
    if let Some(before) = stored(folder).and_then(Manifest::parse) {
        let listed = before.without(names);
        if listed != before {
            keep(&place, &listed)?;
        }
    }
    Ok(removed)
}

#[cfg(test)]
mod tests {
    use super::*;
    use sha2::{Digest, Sha256};

    use crate::site::place::DRAFT;

    fn files(list: &[(&str, &str)]) -> Files {
        list.iter().map(|(name, text)| ((*name).to_owned(), text.as_bytes().to_vec())).collect()
    }

    fn part(name: &str, text: &str, until: Option<NaiveDate>) -> Made {
        Made {
            key: Sha256::digest(text).into(),
            until,
            about: None,
            files: vec![(name.to_owned(), text.as_bytes().to_vec())],
        }
    }

    #[test]
    fn a_part_of_the_same_key_stands_until_its_last_day_its_file_or_the_program_changes() {
        let folder = tempfile::tempdir().expect("a folder");
        let (day, name) = (|day| NaiveDate::from_ymd_opt(2026, 11, day).expect("a day"), "public/a.html");
        let (program, none) = (Some([1; 32]), Kept::These(BTreeSet::new()));
        let made = || part(name, "a", Some(day(25)));
        let key = made().key;
        let asked = |program, day| {
            let writer = Writer::open(folder.path(), program).expect("begun");
            let standing = writer.stands(name, &key, day);
            let other = writer.stands(name, &[9; 32], day);
            assert_eq!(other, None, "another key");
            if standing.is_none() {
                writer.put(name, made()).expect("written");
            }
            (standing, writer.finish(&none).expect("ended").removed)
        };
        assert_eq!(asked(program, day(1)), (None, 0));
        assert_eq!(asked(program, day(25)), (Some(Still::Shown), 0));
        assert_eq!(asked(program, day(26)), (Some(Still::Expired), 1));
        assert_eq!(asked(program, day(26)), (Some(Still::Expired), 0));
        assert_eq!(asked(program, day(25)), (None, 0), "the day moved back, and the file is gone");
        assert_eq!(asked(Some([2; 32]), day(25)).0, None, "another program");
        assert_eq!(asked(None, day(25)).0, None, "a program that is not known");
        assert_eq!(asked(Some([2; 32]), day(25)).0, None, "made by one that is not known");
        fs::write(folder.path().join(name), "A").expect("written by somebody else");
        assert_eq!(asked(Some([2; 32]), day(25)).0, None, "a file that somebody touched");
        assert_eq!(fs::read_to_string(folder.path().join(name)).expect("there"), "a");
        assert_eq!(asked(Some([2; 32]), day(25)).0, Some(Still::Shown));
    }

    #[test]
    fn a_damaged_list_is_told_and_pages_by_their_form_are_still_ours() {
        let folder = tempfile::tempdir().expect("a folder");
        let old = "public/c/ab/cdefghijklmnopqrstuvwx23.html";
        write(folder.path(), &files(&[(old, "a"), ("public/c/ab/notes.html", "mine")]), &Kept::All).expect("written");
        fs::write(folder.path().join(Manifest::PATH), "{\"format\":2").expect("damaged");
        let writer = Writer::open(folder.path(), None).expect("begun");
        assert!(writer.list_was_damaged());
        assert_eq!(writer.finish(&Kept::These(BTreeSet::new())).expect("ended").removed, 1);
        assert!(!folder.path().join(old).exists() && folder.path().join("public/c/ab/notes.html").exists());
        assert!(!Writer::open(folder.path(), None).expect("begun").list_was_damaged());
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
        let crashed = Writer::open(folder.path(), None).expect("begun");
        crashed.put("public/a.html", part("public/a.html", "a", None)).expect("written");
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
        // A run that is stopped leaves its journal too, whatever it had noted.
        fs::write(folder.path().join(Manifest::JOURNAL), "").expect("written");
        write(folder.path(), &wanted, &Kept::All).expect("written");
        assert!(!draft.exists());
    }

    #[test]
    fn a_list_of_an_earlier_version_is_taken_over_and_goes() {
        let folder = tempfile::tempdir().expect("a folder");
        write(folder.path(), &files(&[("public/a.html", "a"), ("public/b.html", "b")]), &Kept::All).expect("written");
        let (new, old) = (folder.path().join(Manifest::PATH), folder.path().join(Manifest::OLD_PATH));
        fs::remove_file(&new).expect("removed");
        let listed = r#"{"format": 1, "files": ["public/a.html", "public/b.html"]}"#;
        fs::write(&old, listed).expect("written");
        let wanted = files(&[("public/a.html", "a")]);
        let written = write(folder.path(), &wanted, &Kept::These(BTreeSet::new())).expect("written");
        assert_eq!(written, Written { changed: 0, unchanged: 1, removed: 1 });
        assert!(new.exists() && !old.exists());
    }

    #[cfg(unix)]
    #[test]
    fn nothing_is_written_or_removed_through_a_link() {
        use std::os::unix::fs::symlink;
        let (folder, outside) = (tempfile::tempdir().expect("a folder"), tempfile::tempdir().expect("another"));
        fs::create_dir_all(outside.path().join("c")).expect("a folder");
        fs::write(outside.path().join("c/mine.html"), "mine").expect("written");
        let loose = BTreeSet::from(["public/c/mine.html".to_owned()]);
        let listed = Manifest { loose, ..Manifest::default() };
        fs::create_dir(folder.path().join("private")).expect("a folder");
        fs::write(folder.path().join(Manifest::PATH), listed.to_bytes()).expect("written");
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
