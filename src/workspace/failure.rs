//! What the machine refused.

use std::fmt;
use std::io;
use std::path::{Path, PathBuf};

/// A failure of the machine, not of the salon's files: exit code 3.
#[derive(Debug)]
pub struct Failure {
    /// What was being done, in words: "write".
    pub doing: &'static str,
    /// To what.
    pub path: PathBuf,
    /// Why not, as the system says it.
    pub why: String,
    /// What to do about it.
    pub hint: String,
}

impl Failure {
    /// A failure with the system's own reason and a hint that fits it.
    #[must_use]
    pub fn io(doing: &'static str, path: &Path, error: &io::Error) -> Self {
        let hint = match error.kind() {
            io::ErrorKind::NotFound => {
                "Check the folder's name; the command takes the salon folder, the one that holds salon.toml."
            }
            io::ErrorKind::PermissionDenied if doing == "read" => "Check who owns it and whether you may read it.",
            io::ErrorKind::PermissionDenied => "Check who owns the folder and whether you may write there.",
            io::ErrorKind::StorageFull | io::ErrorKind::QuotaExceeded | io::ErrorKind::FileTooLarge => {
                "Free some space and run the command again; nothing that was there is lost."
            }
            io::ErrorKind::ReadOnlyFilesystem => "The disk is read-only; copy the folder to one that can be written.",
            _ => "Run the command again; what was written before is whole.",
        };
        Self { doing, path: path.to_owned(), why: error.to_string(), hint: hint.to_owned() }
    }
}

impl fmt::Display for Failure {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "could not {} {}: {}\n  help: {}", self.doing, self.path.display(), self.why, self.hint)
    }
}

impl std::error::Error for Failure {}
