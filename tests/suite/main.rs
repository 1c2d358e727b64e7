//! The one integration test binary: a module for each subject.

mod published;
mod records;
