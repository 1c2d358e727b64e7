//! The crowd on disk: the salon's own file, then one client after another.

use std::collections::BTreeSet;
use std::fs;
use std::io;
use std::path::{Path, PathBuf};

use super::client;

/// The settings of the salon the crowd goes to.
const SALON: &str = include_str!("salon.toml");

/// Writes a salon folder with a number of clients and says how many files it wrote.
///
/// # Errors
/// At the first file the machine refuses.
pub(crate) fn write(number: u64, folder: &Path, seed: u64) -> io::Result<u64> {
    fs::create_dir_all(folder)?;
    fs::write(folder.join("salon.toml"), SALON)?;
    let mut files = 1;
    let mut made: BTreeSet<PathBuf> = BTreeSet::new();
    for index in 1..=number {
        for (name, text) in client::client(seed, index).files {
            let path = folder.join(name);
            let parent = path.parent().expect("a file lies in a folder").to_owned();
            if !made.contains(&parent) {
                fs::create_dir_all(&parent)?;
                made.insert(parent);
            }
            fs::write(path, text)?;
            files += 1;
        }
    }
    Ok(files)
}
