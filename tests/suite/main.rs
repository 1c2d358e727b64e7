//! The one integration test binary: a module for each subject.

mod architecture;
mod cli;
mod demo;
mod laws;

mod privacy;
mod published;
mod salon_copy;
mod words;
