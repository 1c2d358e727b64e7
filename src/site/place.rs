//! A salon folder that is written to: each file whole, nothing through a link.

use std::collections::BTreeSet;
use std::fs;
use std::io::{self, Read, Write};
use std::path::{Path, PathBuf};
use std::sync::{PoisonError, RwLock};
use std::time::UNIX_EPOCH;

use super::manifest::Stamp;

/// How the name of a draft begins; no person names a file so.
pub(super) const DRAFT: &str = ".afterhue-draft-";

/// A file that could not be written.
#[derive(Debug)]
pub struct WriteFailure {
    /// The path.
    pub path: PathBuf,
    /// Why.
    pub error: io::Error,
}

/// A salon folder, and the folders in it that are known to be there and to be no links.
#[derive(Debug)]
pub(super) struct Place {
    folder: PathBuf,
    /// The same from the root, for drafts: of any other the system would be asked each time where it is.
    absolute: PathBuf,
    sound: RwLock<BTreeSet<String>>,
}

impl Place {
    pub(super) fn new(folder: &Path) -> Self {
        let absolute = std::path::absolute(folder).unwrap_or_else(|_| folder.to_owned());
        Self { folder: folder.to_owned(), absolute, sound: RwLock::default() }
    }

    /// Where a name of the salon folder lies on this machine.
    pub(super) fn path(&self, name: &str) -> PathBuf {
        self.folder.join(name)
    }

    /// By what the file of a name is known; nothing when there is none, or a link or a folder in its place.
    pub(super) fn stamp(&self, name: &str) -> Option<Stamp> {
        stamp(&fs::symlink_metadata(self.path(name)).ok()?)
    }

    /// The stamp of a file that is already right. A link in its place is not, whatever it leads to.
    pub(super) fn holds(&self, name: &str, bytes: &[u8]) -> Option<Stamp> {
        let found = self.stamp(name).filter(|found| found.bytes == bytes.len() as u64)?;
        fs::read(self.path(name)).is_ok_and(|old| old == *bytes).then_some(found)
    }

    /// Writes one file whole: a draft beside it, renamed into place; what is private is flushed first.
    pub(super) fn put(&self, name: &str, bytes: &[u8]) -> Result<Option<Stamp>, WriteFailure> {
        let path = self.path(name);
        let private = name.starts_with("private/");
        self.check_parents(name)?;
        let fail = |error: io::Error| WriteFailure { path: path.clone(), error };
        let parent = path.parent().unwrap_or_else(|| Path::new("."));
        let beside = name.rsplit_once('/').map_or("", |(parents, _)| parents);
        let mut draft = draft(&self.absolute.join(beside), private).map_err(fail)?;
        draft.write_all(bytes).map_err(fail)?;
        if private {
            draft.as_file().sync_all().map_err(fail)?;
        }
        let about = draft.as_file().metadata().map_err(fail)?;
        readable(draft.as_file(), &about, private).map_err(fail)?;
        // Neither the mode nor the name changes it.
        let stamp = stamp(&about);
        draft.persist(&path).map_err(|lost| fail(lost.error))?;
        if private && cfg!(unix) {
            fs::File::open(parent).and_then(|folder| folder.sync_all()).map_err(fail)?;
        }
        Ok(stamp)
    }

    /// Removes one file, and tells whether it was there.
    pub(super) fn remove(&self, name: &str) -> Result<bool, WriteFailure> {
        self.check_parents(name)?;
        let path = self.path(name);
        match fs::remove_file(&path) {
            Ok(()) => Ok(true),
            Err(error) if error.kind() == io::ErrorKind::NotFound => Ok(false),
            Err(error) => Err(WriteFailure { path, error }),
        }
    }

    /// Opens a private file to add lines to, and tells what it holds from a run that did not end, if it was there.
    pub(super) fn journal(&self, name: &str) -> Result<(fs::File, Option<String>), WriteFailure> {
        self.check_parents(name)?;
        let path = self.path(name);
        let fail = |error: io::Error| WriteFailure { path: path.clone(), error };
        let old = match fs::symlink_metadata(&path) {
            Ok(kind) if kind.is_file() => true,
            // A link or a folder is no journal of ours, and nothing is written through it.
            Ok(_) => return Err(fail(io::Error::new(io::ErrorKind::InvalidInput, "it is no ordinary file"))),
            Err(_) => false,
        };
        let mut options = fs::OpenOptions::new();
        options.read(true).append(true).create_new(!old);
        #[cfg(unix)]
        {
            use std::os::unix::fs::OpenOptionsExt;
            options.mode(0o600);
        }
        let mut journal = options.open(&path).map_err(fail)?;
        let mut text = Vec::new();
        journal.read_to_end(&mut text).map_err(fail)?;
        Ok((journal, old.then(|| String::from_utf8_lossy(&text).into_owned())))
    }

    /// Makes the folders above a file, and refuses one that is a link: what is written through it would leave the salon folder.
    ///
    /// The salon folder itself is never made: when it has vanished, as with a stick pulled out, nothing is written in its place.
    pub(super) fn check_parents(&self, name: &str) -> Result<(), WriteFailure> {
        let parents = name.rsplit_once('/').map_or("", |(parents, _)| parents);
        if self.sound.read().unwrap_or_else(PoisonError::into_inner).contains(parents) {
            return Ok(());
        }
        let mut path = self.folder.clone();
        for part in parents.split('/').filter(|part| !part.is_empty()) {
            path.push(part);
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
        }
        self.sound.write().unwrap_or_else(PoisonError::into_inner).insert(parents.to_owned());
        Ok(())
    }

    /// The files below `public/c` whose names have the form of a client's page or calendar.
    pub(super) fn pages(&self) -> BTreeSet<String> {
        let names = |folder: PathBuf| fs::read_dir(folder).into_iter().flatten().filter_map(Result::ok);
        let name = |entry: fs::DirEntry| entry.file_name().into_string().ok();
        let mut found = BTreeSet::new();
        for folder in names(self.path("public/c")).filter_map(name).filter(|name| name.len() == 2) {
            let files = names(self.path("public/c").join(&folder)).filter_map(name).filter(|name| is_page(name));
            found.extend(files.map(|file| format!("public/c/{folder}/{file}")));
        }
        found
    }

    /// Takes away the drafts that a stopped run left beside the files it wrote.
    pub(super) fn clear_drafts(&self, folders: BTreeSet<String>) -> Result<(), WriteFailure> {
        for parent in folders {
            let Ok(entries) = fs::read_dir(self.path(&parent)) else { continue };
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

/// Whether a file's name has the form of a client's page or calendar: 24 characters of base32 and an ending.
fn is_page(name: &str) -> bool {
    let stem = name.strip_suffix(".html").or_else(|| name.strip_suffix("-washing.ics")).or(name.strip_suffix(".ics"));
    let of_token = |c: char| c.is_ascii_lowercase() || ('2'..='7').contains(&c);
    stem.is_some_and(|stem| stem.len() == 24 && stem.chars().all(of_token))
}

/// By what an ordinary file is known.
fn stamp(about: &fs::Metadata) -> Option<Stamp> {
    let since = about.modified().ok()?.duration_since(UNIX_EPOCH).ok()?;
    about.is_file().then_some(Stamp { bytes: about.len(), modified: i64::try_from(since.as_nanos()).ok()? })
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

/// A new file in a folder, open to whom it is meant for as far as the machine's habits allow.
fn draft(folder: &Path, private: bool) -> io::Result<tempfile::NamedTempFile> {
    let mut builder = tempfile::Builder::new();
    builder.prefix(DRAFT);
    #[cfg(unix)]
    builder.permissions(mode(private));
    #[cfg(not(unix))]
    let _ = private;
    builder.tempfile_in(folder)
}

/// Public files may be read by a web server, private ones by their owner only.
#[cfg(unix)]
fn mode(private: bool) -> fs::Permissions {
    use std::os::unix::fs::PermissionsExt;
    fs::Permissions::from_mode(if private { 0o600 } else { 0o644 })
}

/// Sets a file's mode where the machine's habits (`umask`) made it another.
#[cfg(unix)]
fn readable(file: &fs::File, about: &fs::Metadata, private: bool) -> io::Result<()> {
    use std::os::unix::fs::PermissionsExt;
    let wanted = mode(private);
    if about.permissions().mode() & 0o777 == wanted.mode() { Ok(()) } else { file.set_permissions(wanted) }
}

#[cfg(not(unix))]
fn readable(_file: &fs::File, _about: &fs::Metadata, _private: bool) -> io::Result<()> {
    Ok(())
}
