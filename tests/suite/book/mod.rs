//! The book: the fit against brute force and on random salons, the command, its calendar and its pages.

mod command;
mod fit;
mod salons;
mod shown;
