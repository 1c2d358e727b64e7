//! The invented crowd: client after client, from a seed.
//!
//! In: a seed and a number. Out: the files of that client; a salon folder with all of them.
//! Knows nothing of: what the program makes of them.

mod client;
mod dice;
mod look;
mod visit;
mod writing;

pub(crate) use writing::write;
