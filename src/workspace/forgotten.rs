//! The marks of forgotten clients, one a line, in `private/forgotten.toml`.

use std::collections::BTreeSet;
use std::fs;
use std::io::ErrorKind;
use std::path::Path;

use super::{Failure, store};

/// Where the marks are kept, relative to the salon folder.
pub const FORGOTTEN_FILE: &str = "private/forgotten.toml";

const HEAD: &str = "# Marks of clients who were forgotten, so that a backup that brings one back is told. They say nothing without the salon's secret.\nformat = 1\nmarks = [\n";

/// The marks kept so far. The file is ours alone: a line that is not a mark in quotation marks is passed over.
///
/// # Errors
/// When the file is there and cannot be read.
pub(super) fn read(folder: &Path) -> Result<BTreeSet<String>, Failure> {
    let path = folder.join(FORGOTTEN_FILE);
    let text = match fs::read_to_string(&path) {
        Ok(text) => text,
        Err(error) if error.kind() == ErrorKind::NotFound => return Ok(BTreeSet::new()),
        Err(error) => return Err(Failure::io("read", &path, &error)),
    };
    let mark = |line: &str| {
        let mark = line.trim().trim_end_matches(',').strip_prefix('"')?.strip_suffix('"')?.to_owned();
        (mark.len() == 64 && mark.chars().all(|c| c.is_ascii_hexdigit())).then_some(mark)
    };
    Ok(text.lines().filter_map(mark).collect())
}

/// Keeps one more mark.
///
/// # Errors
/// When the machine refuses; the earlier marks are then still kept.
pub fn keep_forgotten(folder: &Path, mark: &str) -> Result<(), Failure> {
    let mut marks = read(folder)?;
    marks.insert(mark.to_owned());
    let lines: String = marks.iter().map(|mark| format!("    \"{mark}\",\n")).collect();
    store(&folder.join(FORGOTTEN_FILE), format!("{HEAD}{lines}]\n").as_bytes())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn marks_are_kept_once_and_found_again() {
        let folder = tempfile::tempdir().expect("a folder");
        assert!(read(folder.path()).expect("none yet").is_empty());
        let (one, other) = ("ab".repeat(32), "cd".repeat(32));
        for mark in [&other, &one, &one] {
            keep_forgotten(folder.path(), mark).expect("kept");
        }
        assert_eq!(read(folder.path()).expect("read"), BTreeSet::from([one, other]));
        let text = fs::read_to_string(folder.path().join(FORGOTTEN_FILE)).expect("there");
        let table: toml::Table = text.parse().expect("TOML");
        assert_eq!(table["marks"].as_array().map(Vec::len), Some(2));
    }
}
