//! The list of what an earlier run wrote, and from what.
//!
//! In: the stored bytes. Out: [`Manifest`]; and back. Knows nothing of: what a key was made from.
//!
//! A run writes in parts: a client's page with its calendar files is one, the printed cards are one. Each part is kept with the
//! key of everything that shaped it, so that a part of the same key whose files are still as they were written need not be made again.

mod list;
mod next;
mod old;
mod parts;
mod said;

use chrono::NaiveDate;

pub(super) use self::list::Manifest;
pub(super) use self::next::{Left, left, merged};
pub(super) use self::parts::Parts;
use super::outlet::About;

/// A SHA-256 digest of everything that shapes a part, or of a program.
pub type Key = [u8; 32];

/// Files that are made together.
#[derive(Debug, Default, Clone, PartialEq, Eq)]
pub(super) struct Part {
    /// What shaped them; nothing when they must be made again whatever it is.
    pub(super) key: Option<Key>,
    /// The last day on which they stand.
    pub(super) until: Option<NaiveDate>,
    /// Of the part of a client: what is known of them.
    pub(super) about: Option<About>,
    /// The files; none when that day had passed.
    pub(super) files: Vec<(String, Stamp)>,
}

/// By what a file is known not to have been touched since it was written.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Stamp {
    /// Its size, bytes.
    pub(super) bytes: u64,
    /// When it was last changed, nanoseconds since 1970.
    pub(super) modified: i64,
}
