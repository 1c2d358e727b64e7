//! What the files of clients and records held when a run last read them, so that a run reads only those that changed since.
//!
//! In: a salon folder. Out: [`Known`]; and [`Found`], to be kept for the next run. Knows nothing of: what was found in a file; it
//! keeps a word (whose the file is) and a digest for whoever read it.
//!
//! The list is only a way to save reading: it is written whole and not flushed, and one that is damaged or of another program is none.

mod list;
mod look;
mod program;

pub use list::{Found, Known, READ_BEFORE, drop_read_before};
pub use look::{CLOCK_STEP, Clock, Mark};
