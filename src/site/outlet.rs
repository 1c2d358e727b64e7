//! Where the parts of a run go: to the disk, or into memory.

use chrono::NaiveDate;

use super::manifest::Key;
use crate::diagnostic::Diagnostic;

/// A part that was made: its files, and what they were made from.
#[derive(Debug)]
pub struct Made {
    /// A digest of everything that shaped the part but today.
    pub key: Key,
    /// The last day on which it stands; always, when there is none.
    pub until: Option<NaiveDate>,
    /// Of the part of a client: what is known of them.
    pub about: Option<About>,
    /// Path relative to the salon folder, and bytes; none when the last day has passed.
    pub files: Vec<(String, Vec<u8>)>,
}

/// What a later run has to know of a client whose part stands, so that it need not read the client's texts for it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct About {
    /// The day the client was last in the salon.
    pub last_seen: NaiveDate,
    /// What there was to say about the client's texts.
    pub told: Vec<Diagnostic>,
}

/// A client's part that was made before and still stands.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Stood {
    /// The name it goes by.
    pub part: String,
    /// What is known of the client.
    pub about: About,
    /// Whether it has files.
    pub still: Still,
}

/// What an earlier run made and need not be made again.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Still {
    /// Its files are still as they were written.
    Shown,
    /// Its last day has passed, so that it has no files.
    Expired,
}

/// Takes each part as soon as it is whole, from any thread. A part goes by the name of its first file.
pub trait Outlet: Sync {
    /// Why a part did not go out.
    type Failure: Send;

    /// Whether a part of this key was made before and still stands; then it need not be put.
    fn stands(&self, part: &str, key: &Key, today: NaiveDate) -> Option<Still>;

    /// The client's part that was made before from what this key stands for, when it still stands.
    fn stood(&self, _: &Key, _today: NaiveDate) -> Option<Stood> {
        None
    }

    /// Takes a part.
    ///
    /// # Errors
    /// When it did not go out; what went out before is whole.
    fn put(&self, part: &str, made: Made) -> Result<(), Self::Failure>;
}
