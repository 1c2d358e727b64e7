//! Storing a file so that a crash leaves the old one or the new one, never half of one.

use std::fs::{self, File};
use std::io::Write;
use std::path::Path;

use super::Failure;

/// Writes a file whole: a draft in the same folder, flushed, renamed into place, and the folder flushed.
///
/// # Errors
/// When the machine refuses; the old file is then still whole.
pub fn store(path: &Path, bytes: &[u8]) -> Result<(), Failure> {
    let folder = path.parent().unwrap_or_else(|| Path::new("."));
    fs::create_dir_all(folder).map_err(|error| Failure::io("make", folder, &error))?;
    let fail = |error: &std::io::Error| Failure::io("write", path, error);
    let mut draft = tempfile::Builder::new().prefix(".draft").tempfile_in(folder).map_err(|error| fail(&error))?;
    draft.write_all(bytes).map_err(|error| fail(&error))?;
    draft.as_file().sync_all().map_err(|error| fail(&error))?;
    // Who could read the old file can read the new one; a new file is its owner's alone.
    if let Ok(old) = fs::metadata(path) {
        draft.as_file().set_permissions(old.permissions()).map_err(|error| fail(&error))?;
    }
    draft.persist(path).map_err(|lost| fail(&lost.error))?;
    sync_folder(folder)
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
