//! The one integration test binary: a module for each subject.

mod agreement;
mod architecture;
mod book;
mod chairside;
mod cli;
mod commands;
mod crash;
mod crowd;
mod demo;
mod dice;
mod far;
mod handbook;
mod hostile;
mod incremental;
mod last_time;
mod laws;
mod learning;
mod markup;
mod pages;
mod privacy;
#[cfg(feature = "publish")]
mod publish;
mod published;
mod readme;
mod records;
mod returns;
mod salon_copy;
mod words;
