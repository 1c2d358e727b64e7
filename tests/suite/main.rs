//! The one integration test binary: a module for each subject.

mod architecture;
mod cli;
mod demo;
mod laws;

mod pages;
mod privacy;
mod published;
mod records;
mod salon_copy;
mod words;
