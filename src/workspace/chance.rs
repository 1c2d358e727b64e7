//! Random marks, and small files kept beside the salon's: drafts of visits, a passcode's hash.

use std::fs;
use std::io::ErrorKind;
use std::path::Path;

use data_encoding::HEXLOWER;

use super::Failure;
use super::store::{DRAFT, private_folder, store, sync_folder};

/// Where the drafts of visits are kept, relative to the salon folder.
pub(super) const DRAFTS_FOLDER: &str = "private/drafts";

/// So many random bytes as hexadecimal digits.
///
/// # Errors
/// When the system gives no randomness.
pub fn random_mark(bytes: usize) -> Result<String, Failure> {
    let mut mark = vec![0_u8; bytes];
    getrandom::fill(&mut mark).map_err(|error| Failure {
        doing: "make",
        path: "a random mark".into(),
        why: format!("the system gave no randomness: {error}"),
        hint: "Run the command again.".to_owned(),
    })?;
    Ok(HEXLOWER.encode(&mark))
}

/// Keeps a text in `private/`, whole or not at all, for its owner only.
///
/// # Errors
/// When the machine refuses.
pub fn keep_private(folder: &Path, name: &str, text: &str) -> Result<(), Failure> {
    let path = private_folder(folder)?.join(name);
    store(&path, text.as_bytes())
}

/// A text kept in `private/`; nothing when it is not there.
///
/// # Errors
/// When it is there and cannot be read.
pub fn kept_private(folder: &Path, name: &str) -> Result<Option<String>, Failure> {
    let path = folder.join("private").join(name);
    match fs::read_to_string(&path) {
        Ok(text) => Ok(Some(text)),
        Err(error) if error.kind() == ErrorKind::NotFound => Ok(None),
        Err(error) => Err(Failure::io("read", &path, &error)),
    }
}

/// The names of the files kept in a folder of `private/`, in order.
#[must_use]
pub fn private_names(folder: &Path, part: &str) -> Vec<String> {
    let entries = fs::read_dir(folder.join("private").join(part)).into_iter().flatten().flatten();
    let names = entries.filter_map(|entry| entry.file_name().into_string().ok());
    let mut names: Vec<String> = names.filter(|name| !name.starts_with(DRAFT)).collect();
    names.sort();
    names
}

/// Takes a kept text away.
///
/// # Errors
/// When the machine refuses; one that is not there is gone already.
pub fn drop_private(folder: &Path, name: &str) -> Result<(), Failure> {
    let path = folder.join("private").join(name);
    match fs::remove_file(&path) {
        Err(error) if error.kind() != ErrorKind::NotFound => Err(Failure::io("remove", &path, &error)),
        _ => path.parent().map_or(Ok(()), sync_folder),
    }
}
