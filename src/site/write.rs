//! The only writer of pages.

use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::io::{self, Write};
use std::path::{Path, PathBuf};
use std::sync::{Mutex, MutexGuard, PoisonError};

use super::manifest::Manifest;

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

/// A file that could not be written.
#[derive(Debug)]
pub struct WriteFailure {
    /// The path.
    pub path: PathBuf,
    /// Why.
    pub error: io::Error,
}

/// Writes files below a folder: only those that changed, each whole; then removes what an earlier run wrote and this one did not.
///
/// Files named in `kept` stay as they are: they belong to records that could not be read this time.
///
/// # Errors
/// At the first file the machine refuses; everything written before is whole.
pub fn write(folder: &Path, files: &Files, kept: &BTreeSet<String>) -> Result<Written, WriteFailure> {
    let writer = Writer::open(folder)?;
    for (name, bytes) in files {
        writer.put(name, bytes)?;
    }
    writer.finish(kept)
}

/// A writing run whose files come one by one, from any thread.
///
/// Nothing is removed that the manifest of an earlier run does not list, so that a person's own files are safe.
/// Each new name is noted in a journal before its file is written, so that a crash leaves nothing unlisted.
#[derive(Debug)]
pub struct Writer {
    folder: PathBuf,
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
    /// Begins a run below a salon folder.
    ///
    /// # Errors
    /// When the list of what an earlier run wrote cannot be kept.
    pub fn open(folder: &Path) -> Result<Self, WriteFailure> {
        let listed = fs::read_to_string(folder.join(Manifest::PATH)).ok();
        let mut earlier = listed.and_then(|text| Manifest::parse(&text)).unwrap_or_default();
        let path = folder.join(Manifest::JOURNAL);
        let fail = |error: io::Error| WriteFailure { path: path.clone(), error };
        fs::create_dir_all(path.parent().unwrap_or(folder)).map_err(fail)?;
        // A journal that is still there tells of a run that did not end.
        earlier.take_in(&fs::read_to_string(&path).unwrap_or_default());
        let journal = fs::OpenOptions::new().create(true).append(true).open(&path).map_err(fail)?;
        readable(&journal, true).map_err(fail)?;
        let run = Run { journal, names: BTreeSet::new(), written: Written::default() };
        Ok(Self { folder: folder.to_owned(), earlier, run: Mutex::new(run) })
    }

    /// Writes one file, whole, when it is new or changed.
    ///
    /// # Errors
    /// When the machine refuses; the old file is then still whole.
    pub fn put(&self, name: &str, bytes: &[u8]) -> Result<(), WriteFailure> {
        let path = self.folder.join(name);
        if !self.earlier.files.contains(name) {
            writeln!(self.run().journal, "{name}").map_err(|error| WriteFailure { path: path.clone(), error })?;
        }
        let right = fs::read(&path).is_ok_and(|old| old == *bytes);
        if !right {
            put(&path, bytes, name.starts_with("private/"))?;
        }
        let mut run = self.run();
        run.names.insert(name.to_owned());
        *(if right { &mut run.written.unchanged } else { &mut run.written.changed }) += 1;
        Ok(())
    }

    /// Ends the run: removes what is stale but for what is `kept`, and keeps the list of what may be removed next time.
    ///
    /// # Errors
    /// At the first file the machine refuses.
    pub fn finish(self, kept: &BTreeSet<String>) -> Result<Written, WriteFailure> {
        let Run { names, mut written, .. } = self.run.into_inner().unwrap_or_else(PoisonError::into_inner);
        let mut listed = Manifest { files: names };
        for name in self.earlier.files.iter().filter(|name| !listed.files.contains(*name)).cloned().collect::<Vec<_>>()
        {
            let path = self.folder.join(&name);
            if kept.contains(&name) {
                listed.files.insert(name);
                continue;
            }
            match fs::remove_file(&path) {
                Ok(()) => written.removed += 1,
                Err(error) if error.kind() == io::ErrorKind::NotFound => {}
                Err(error) => return Err(WriteFailure { path, error }),
            }
        }
        let manifest = self.folder.join(Manifest::PATH);
        if listed != self.earlier || !manifest.exists() {
            put(&manifest, listed.to_text().as_bytes(), true)?;
        }
        let journal = self.folder.join(Manifest::JOURNAL);
        fs::remove_file(&journal).map_err(|error| WriteFailure { path: journal, error })?;
        Ok(written)
    }

    fn run(&self) -> MutexGuard<'_, Run> {
        self.run.lock().unwrap_or_else(PoisonError::into_inner)
    }
}

/// Removes files that this program wrote, and their names from the list of what it wrote. Gives those that were there.
///
/// # Errors
/// At the first file the machine refuses.
pub fn remove(folder: &Path, names: &BTreeSet<String>) -> Result<BTreeSet<String>, WriteFailure> {
    let mut removed = BTreeSet::new();
    for name in names {
        let path = folder.join(name);
        match fs::remove_file(&path) {
            Ok(()) => drop(removed.insert(name.clone())),
            Err(error) if error.kind() == io::ErrorKind::NotFound => {}
            Err(error) => return Err(WriteFailure { path, error }),
        }
    }
    let path = folder.join(Manifest::PATH);
    if let Some(mut listed) = fs::read_to_string(&path).ok().and_then(|text| Manifest::parse(&text)) {
        let before = listed.files.len();
        listed.files.retain(|name| !names.contains(name));
        if listed.files.len() != before {
            put(&path, listed.to_text().as_bytes(), true)?;
        }
    }
    Ok(removed)
}

/// Writes one file whole: a draft beside it, renamed into place.
fn put(path: &Path, bytes: &[u8], private: bool) -> Result<(), WriteFailure> {
    let fail = |error: io::Error| WriteFailure { path: path.to_owned(), error };
    let folder = path.parent().unwrap_or_else(|| Path::new("."));
    let draft = || tempfile::Builder::new().prefix(".draft").tempfile_in(folder);
    let mut draft = match draft() {
        Err(error) if error.kind() == io::ErrorKind::NotFound => {
            fs::create_dir_all(folder).map_err(fail)?;
            draft().map_err(fail)?
        }
        other => other.map_err(fail)?,
    };
    draft.write_all(bytes).map_err(fail)?;
    readable(draft.as_file(), private).map_err(fail)?;
    draft.persist(path).map_err(|lost| fail(lost.error))?;
    Ok(())
}

/// Public files may be read by a web server, private ones by their owner only.
#[cfg(unix)]
fn readable(file: &fs::File, private: bool) -> io::Result<()> {
    use std::os::unix::fs::PermissionsExt;
    file.set_permissions(fs::Permissions::from_mode(if private { 0o600 } else { 0o644 }))
}

#[cfg(not(unix))]
fn readable(_file: &fs::File, _private: bool) -> io::Result<()> {
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    fn files(list: &[(&str, &str)]) -> Files {
        list.iter().map(|(name, text)| ((*name).to_owned(), text.as_bytes().to_vec())).collect()
    }

    #[test]
    fn only_changes_are_written_stale_pages_go_and_kept_ones_stay() {
        let folder = tempfile::tempdir().expect("a folder");
        let none = BTreeSet::new();
        let first = files(&[("public/a.html", "a"), ("public/b.html", "b"), ("public/c.html", "c")]);
        let written = write(folder.path(), &first, &none).expect("written");
        assert_eq!(written, Written { changed: 3, unchanged: 0, removed: 0 });

        let second = files(&[("public/a.html", "a2")]);
        let kept = BTreeSet::from(["public/b.html".to_owned()]);
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
        let written = write(folder.path(), &files(&[("public/b.html", "b")]), &BTreeSet::new()).expect("written");
        assert_eq!(written, Written { changed: 1, unchanged: 0, removed: 1 });
        assert!(!folder.path().join("public/a.html").exists());
        assert!(!folder.path().join(Manifest::JOURNAL).exists());
    }

    #[test]
    fn a_persons_own_file_is_never_removed() {
        let folder = tempfile::tempdir().expect("a folder");
        fs::create_dir_all(folder.path().join("public")).expect("a folder");
        fs::write(folder.path().join("public/own.txt"), "mine").expect("written");
        write(folder.path(), &files(&[]), &BTreeSet::new()).expect("written");
        assert!(folder.path().join("public/own.txt").exists());
    }
}
