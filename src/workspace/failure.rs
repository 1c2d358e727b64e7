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
    /// Why not, in words where the reason is a usual one, else as the system says it.
    pub why: String,
    /// What to do about it.
    pub hint: String,
}

impl Failure {
    /// A failure with its reason and a hint that fits it.
    #[must_use]
    pub fn io(doing: &'static str, path: &Path, error: &io::Error) -> Self {
        let hint = match error.kind() {
            io::ErrorKind::NotFound | io::ErrorKind::NotADirectory => {
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
        Self { doing, path: path.to_owned(), why: reason(error), hint: hint.to_owned() }
    }
}

/// Why the machine refused, without the number it has for that.
fn reason(error: &io::Error) -> String {
    let told = error.to_string();
    // One that was made by us has words of its own.
    let Some((words, _)) = error.raw_os_error().and_then(|_| told.rsplit_once(" (os error ")) else { return told };
    let usual = match error.kind() {
        io::ErrorKind::NotFound => Some("there is no such file or folder"),
        io::ErrorKind::NotADirectory => Some("it is a file, or lies in one, and no folder"),
        io::ErrorKind::IsADirectory => Some("it is a folder and no file"),
        io::ErrorKind::PermissionDenied => Some("you have no permission for it"),
        io::ErrorKind::StorageFull => Some("the disk is full"),
        io::ErrorKind::QuotaExceeded => Some("your share of the disk is full"),
        io::ErrorKind::ReadOnlyFilesystem => Some("the disk is read-only"),
        _ => None,
    };
    usual.unwrap_or(words).to_owned()
}

impl fmt::Display for Failure {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "could not {} {}: {}\n  help: {}", self.doing, self.path.display(), self.why, self.hint)
    }
}

impl std::error::Error for Failure {}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_usual_reason_is_told_in_words_and_no_reason_by_its_number() {
        let told = |error: io::Error| Failure::io("open", Path::new("my-salon"), &error).to_string();
        let missing = std::fs::read_dir("no/such/salon").expect_err("it is not there");
        assert_eq!(
            told(missing).lines().next(),
            Some("could not open my-salon: there is no such file or folder"),
            "as the machine says it"
        );
        for number in 1..134 {
            let told = told(io::Error::from_raw_os_error(number));
            assert!(!told.contains("os error") && told.contains(": "), "{number}: {told}");
        }
        assert!(told(io::Error::other("it is a link (os error of ours)")).contains("it is a link (os error of ours)"));
    }
}
