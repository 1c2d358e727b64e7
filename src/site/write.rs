//! The only writer of pages.

use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::io::{self, Write};
use std::path::{Path, PathBuf};

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

/// How the name of a draft begins; no person names a file so.
const DRAFT: &str = ".afterhue-draft-";

/// Writes files below a folder: only those that changed, each whole; then removes what an earlier run wrote and this one did not.
///
/// Files that are kept stay as they are: they belong to records that could not be read this time.
/// Nothing is removed that the manifest of an earlier run does not list, so that a person's own files are safe.
/// Drafts that a stopped run left are taken away. A page is renamed into place and not flushed: if the power fails,
/// the next run finds that its bytes are not right and writes it again. The list itself is flushed.
///
/// # Errors
/// At the first file the machine refuses, and where a folder on the way is a link to another place; everything written before is whole.
pub fn write(folder: &Path, files: &Files, kept: &Kept) -> Result<Written, WriteFailure> {
    let manifest_path = folder.join(Manifest::PATH);
    let earlier = fs::read_to_string(&manifest_path).ok().and_then(|text| Manifest::parse(&text)).unwrap_or_default();
    let mut written = Written::default();
    let mut place = Place::new(folder);
    // The list of what may be ours grows before the first file is written, so that a crash leaves nothing unlisted.
    let mut listed = Manifest { files: earlier.files.iter().chain(files.keys()).cloned().collect() };
    place.clear_drafts(&listed)?;
    if listed != earlier {
        place.put(Manifest::PATH, listed.to_text().as_bytes())?;
    }
    for (name, bytes) in files {
        if place.holds(name, bytes) {
            written.unchanged += 1;
            continue;
        }
        place.put(name, bytes)?;
        written.changed += 1;
    }
    let stale: Vec<&String> =
        earlier.files.iter().filter(|name| !files.contains_key(*name) && !kept.keeps(name)).collect();
    for name in &stale {
        place.check_parents(name)?;
        let path = folder.join(name);
        match fs::remove_file(&path) {
            Ok(()) => written.removed += 1,
            Err(error) if error.kind() == io::ErrorKind::NotFound => {}
            Err(error) => return Err(WriteFailure { path, error }),
        }
    }
    for name in stale {
        listed.files.remove(name);
    }
    if listed != earlier {
        place.put(Manifest::PATH, listed.to_text().as_bytes())?;
    }
    Ok(written)
}

/// Writes private files of fixed names below a folder: only those that changed, each whole. Nothing is removed.
///
/// # Errors
/// At the first file the machine refuses; everything written before is whole.
pub fn write_private(folder: &Path, files: &Files) -> Result<Written, WriteFailure> {
    let (mut written, mut place) = (Written::default(), Place::new(folder));
    for (name, bytes) in files {
        place.check_parents(name)?;
        if fs::read(folder.join(name)).is_ok_and(|old| old == *bytes) {
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
    let (mut removed, mut place) = (BTreeSet::new(), Place::new(folder));
    for name in names {
        place.check_parents(name)?;
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
            place.put(Manifest::PATH, listed.to_text().as_bytes())?;
        }
    }
    Ok(removed)
}

/// A salon folder that is written to, and the folders in it that are known to be there and to be no links.
struct Place<'a> {
    folder: &'a Path,
    sound: BTreeSet<PathBuf>,
}

impl<'a> Place<'a> {
    fn new(folder: &'a Path) -> Self {
        Self { folder, sound: BTreeSet::new() }
    }

    /// Whether a file is already right. A link in its place is not, whatever it leads to.
    fn holds(&self, name: &str, bytes: &[u8]) -> bool {
        let path = self.folder.join(name);
        fs::symlink_metadata(&path).is_ok_and(|kind| kind.is_file() && kind.len() == bytes.len() as u64)
            && fs::read(&path).is_ok_and(|old| old == *bytes)
    }

    /// Writes one file whole: a draft beside it, renamed into place; what is private is flushed first.
    fn put(&mut self, name: &str, bytes: &[u8]) -> Result<(), WriteFailure> {
        let path = self.folder.join(name);
        let private = name.starts_with("private/");
        self.check_parents(name)?;
        let fail = |error: io::Error| WriteFailure { path: path.clone(), error };
        let parent = path.parent().unwrap_or_else(|| Path::new("."));
        let mut draft = tempfile::Builder::new().prefix(DRAFT).tempfile_in(parent).map_err(fail)?;
        draft.write_all(bytes).map_err(fail)?;
        readable(draft.as_file(), private).map_err(fail)?;
        if private {
            draft.as_file().sync_all().map_err(fail)?;
        }
        draft.persist(&path).map_err(|lost| fail(lost.error))?;
        if private && cfg!(unix) {
            fs::File::open(parent).and_then(|folder| folder.sync_all()).map_err(fail)?;
        }
        Ok(())
    }

    /// Makes the folders above a file, and refuses one that is a link: what is written through it would leave the salon folder.
    ///
    /// The salon folder itself is never made: when it has vanished, as with a stick pulled out, nothing is written in its place.
    fn check_parents(&mut self, name: &str) -> Result<(), WriteFailure> {
        let mut path = self.folder.to_owned();
        let parents = name.rsplit_once('/').map_or("", |(parents, _)| parents);
        for part in parents.split('/').filter(|part| !part.is_empty()) {
            path.push(part);
            if self.sound.contains(&path) {
                continue;
            }
            let fail = |error: io::Error| WriteFailure { path: path.clone(), error };
            match make(&path, name.starts_with("private/")) {
                Err(error) if error.kind() != io::ErrorKind::AlreadyExists => return Err(fail(error)),
                _ => {}
            }
            let kind = fs::symlink_metadata(&path).map_err(fail)?;
            if kind.is_symlink() {
                let why =
                    "it is a link to another place, and nothing is written through a link; put the folder itself here";
                return Err(fail(io::Error::new(io::ErrorKind::InvalidInput, why)));
            }
            self.sound.insert(path.clone());
        }
        Ok(())
    }

    /// Takes away the drafts that a stopped run left beside the files it wrote.
    fn clear_drafts(&mut self, listed: &Manifest) -> Result<(), WriteFailure> {
        let parents: BTreeSet<&str> =
            listed.files.iter().filter_map(|name| name.rsplit_once('/').map(|(parents, _)| parents)).collect();
        for parent in parents {
            let path = self.folder.join(parent);
            let Ok(entries) = fs::read_dir(&path) else { continue };
            self.check_parents(&format!("{parent}/x"))?;
            for entry in entries.filter_map(Result::ok) {
                if entry.file_name().to_string_lossy().starts_with(DRAFT) {
                    let path = entry.path();
                    fs::remove_file(&path).map_err(|error| WriteFailure { path, error })?;
                }
            }
        }
        Ok(())
    }
}

/// Makes a folder; a private one for its owner only.
fn make(path: &Path, private: bool) -> io::Result<()> {
    let mut builder = fs::DirBuilder::new();
    #[cfg(unix)]
    {
        use std::os::unix::fs::DirBuilderExt;
        builder.mode(if private { 0o700 } else { 0o755 });
    }
    #[cfg(not(unix))]
    let _ = private;
    builder.create(path)
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
