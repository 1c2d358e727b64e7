//! The one integration test binary: a module for each subject.

mod laws;
mod published;
mod records;
