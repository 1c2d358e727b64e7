//! The book: the fit against brute force and on random salons, the command, its calendar and its pages.

mod fit;
mod salons;
