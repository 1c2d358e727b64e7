//! One call per stage. Read this first.
//!
//! ```text
//! texts ─► read ─► History ─► forecast ─► plan ─► care ─► page ─► render ─► files
//! ```
//!
//! In: the texts of a salon folder, the secret, today's date. Out: every file of the site, complete in memory.
//! Knows nothing of: disks, clocks, the command line.
//!
//! [`read()`] checks everything and brings it together; [`build()`] runs one client after another through the stages.

mod build;
mod read;

pub use build::{Built, build};
pub use read::{Read, no_such_client, read, words};
