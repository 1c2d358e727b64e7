//! The one integration test binary: a module for each subject.

mod architecture;
mod published;
