//! Storing a file so that a crash leaves the old one or the new one, never half of one.

use std::fs::{self, File};
use std::io::{ErrorKind, Write};
use std::path::{Path, PathBuf};

use super::Failure;

/// How the name of a draft begins; no person names a file so.
pub(super) const DRAFT: &str = ".afterhue-draft-";

/// The folder for what never leaves the salon, made when it is missing, for its owner only.
pub(super) fn private_folder(folder: &Path) -> Result<PathBuf, Failure> {
    let private = folder.join("private");
    if private.is_symlink() {
        return Err(Failure {
            doing: "use",
            path: private,
            why: "it is a link to another place, and what is private must not leave the salon folder".to_owned(),
            hint: "Put the folder itself here.".to_owned(),
        });
    }
    let mut builder = fs::DirBuilder::new();
    #[cfg(unix)]
    {
        use std::os::unix::fs::DirBuilderExt;
        builder.mode(0o700);
    }
    match builder.create(&private) {
        Err(error) if error.kind() != ErrorKind::AlreadyExists => Err(Failure::io("make", &private, &error)),
        _ => Ok(private),
    }
}

/// Writes a file whole: a draft in the same folder, flushed, renamed into place, and the folder flushed.
///
/// Missing folders above the file are made, but never a salon folder: one that has vanished, as with a stick pulled out, is not made anew.
///
/// # Errors
/// When the machine refuses; the old file is then still whole.
pub fn store(path: &Path, bytes: &[u8]) -> Result<(), Failure> {
    let folder = path.parent().unwrap_or_else(|| Path::new("."));
    make(folder).map_err(|error| Failure::io("make", folder, &error))?;
    let fail = |error: &std::io::Error| Failure::io("write", path, error);
    let mut draft = tempfile::Builder::new().prefix(DRAFT).tempfile_in(folder).map_err(|error| fail(&error))?;
    draft.write_all(bytes).map_err(|error| fail(&error))?;
    draft.as_file().sync_all().map_err(|error| fail(&error))?;
    // Who could read the old file can read the new one; a new file is its owner's alone.
    if let Ok(old) = fs::metadata(path) {
        draft.as_file().set_permissions(old.permissions()).map_err(|error| fail(&error))?;
    }
    draft.persist(path).map_err(|lost| fail(&lost.error))?;
    sync_folder(folder)
}

/// Makes a folder; those above it only where they lie in a salon folder that is there.
fn make(folder: &Path) -> std::io::Result<()> {
    match fs::create_dir(folder) {
        Err(error) if error.kind() == ErrorKind::AlreadyExists => Ok(()),
        Err(error) if error.kind() == ErrorKind::NotFound => {
            let salon = folder.ancestors().any(|above| above.join("salon.toml").exists());
            if salon { fs::create_dir_all(folder) } else { Err(error) }
        }
        made => made,
    }
}

/// The same, but refused when the file no longer holds what was read: somebody else changed it since.
///
/// # Errors
/// When it changed, or when the machine refuses; the file there is then still whole.
pub fn store_unless_changed(path: &Path, before: Option<&str>, bytes: &[u8]) -> Result<(), Failure> {
    let now = match fs::read_to_string(path) {
        Ok(text) => Some(text),
        Err(error) if error.kind() == ErrorKind::NotFound => None,
        Err(error) => return Err(Failure::io("read", path, &error)),
    };
    if now.as_deref() != before {
        return Err(Failure {
            doing: "write",
            path: path.to_owned(),
            why: "somebody else changed it in the meantime".to_owned(),
            hint: "Run the command again.".to_owned(),
        });
    }
    store(path, bytes)
}

/// Flushes a folder, so that a rename in it survives a power cut.
pub(super) fn sync_folder(folder: &Path) -> Result<(), Failure> {
    if cfg!(unix) {
        File::open(folder)
            .and_then(|folder| folder.sync_all())
            .map_err(|error| Failure::io("flush", folder, &error))?;
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn nothing_is_stored_in_place_of_a_salon_folder_that_has_vanished() {
        let folder = tempfile::tempdir().expect("a folder");
        let gone = folder.path().join("stick");
        store(&gone.join("private/bookings.toml"), b"x").expect_err("it is gone");
        assert!(!gone.exists());
        fs::create_dir(&gone).expect("a folder");
        fs::write(gone.join("salon.toml"), "format = 1\n").expect("written");
        for name in ["private/bookings.toml", "records/2026/first.toml"] {
            store(&gone.join(name), b"x").expect("it is there");
            assert_eq!(fs::read(gone.join(name)).expect("stored"), b"x");
        }
    }
}
