//! The one integration test binary: a module for each subject.

mod agreement;
mod architecture;
mod book;
mod chairside;
mod cli;
mod commands;
mod crash;
mod demo;
mod dice;
mod handbook;
mod last_time;
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
