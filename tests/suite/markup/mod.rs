//! Whatever text goes in any field, a page's element tree is that of harmless text of the same shape.

mod chairside;
mod filled;
mod markdown;
mod pages;
mod tree;
