//! The one integration test binary: a module for each subject.

mod architecture;
mod cli;
mod demo;
mod dice;
mod handbook;
mod laws;
mod learning;

mod pages;
mod privacy;
mod published;
mod records;
mod returns;
mod salon_copy;
mod words;
