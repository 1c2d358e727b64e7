//! What the texts of a salon folder look like from outside, to notice that one changed.

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use std::time::SystemTime;

use walkdir::WalkDir;

use super::{BOOKINGS_FILE, ESTIMATE_FILE};

/// Every file a page depends on, with when it was changed and its size in bytes.
pub type Stamp = BTreeMap<PathBuf, (Option<SystemTime>, u64)>;

/// The stamp of a salon folder. A file that cannot be looked at is left out, and counts as changed when it comes back.
#[must_use]
pub fn stamp(folder: &Path) -> Stamp {
    let parts = ["salon.toml", ESTIMATE_FILE, BOOKINGS_FILE, "clients", "records", "content", "themes"];
    let entries = parts.iter().flat_map(|part| WalkDir::new(folder.join(part)).into_iter().filter_map(Result::ok));
    let files = entries.filter(|entry| entry.file_type().is_file());
    files
        .filter_map(|entry| {
            let metadata = entry.metadata().ok()?;
            Some((entry.into_path(), (metadata.modified().ok(), metadata.len())))
        })
        .collect()
}
