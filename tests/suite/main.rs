//! The one integration test binary: a module for each subject.

mod agreement;
mod architecture;
mod cli;
mod crowd;
mod demo;
mod dice;
mod laws;
mod learning;
mod pages;
mod privacy;
mod published;
mod readme;
mod records;
mod returns;
mod salon_copy;
mod words;
