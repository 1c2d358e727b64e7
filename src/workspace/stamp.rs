//! What the texts of a salon folder look like from outside, to notice that one changed.

use std::collections::BTreeMap;
use std::fs;
use std::fs::Metadata;
use std::path::{Path, PathBuf};
use std::time::SystemTime;

use walkdir::WalkDir;

use super::{BOOKINGS_FILE, ESTIMATE_FILE};

/// When a file was changed, and its size in bytes.
pub type Seen = (Option<SystemTime>, u64);

/// Every file a page depends on, as it was seen.
pub type Stamp = BTreeMap<PathBuf, Seen>;

/// The stamp of a salon folder. A file that cannot be looked at is left out, and counts as changed when it comes back.
#[must_use]
pub fn stamp(folder: &Path) -> Stamp {
    let parts = ["salon.toml", ESTIMATE_FILE, BOOKINGS_FILE, "clients", "records", "content", "themes"];
    let entries = parts.iter().flat_map(|part| WalkDir::new(folder.join(part)).into_iter().filter_map(Result::ok));
    let files = entries.filter(|entry| entry.file_type().is_file());
    files.filter_map(|entry| Some((entry.path().to_owned(), seen(&entry.metadata().ok()?)))).collect()
}

/// A file beside the salon folder, as it stands in a stamp; nothing when it cannot be looked at.
#[must_use]
pub fn stamp_of(file: &Path) -> Option<(PathBuf, Seen)> {
    Some((file.to_owned(), seen(&fs::metadata(file).ok()?)))
}

fn seen(metadata: &Metadata) -> Seen {
    (metadata.modified().ok(), metadata.len())
}
