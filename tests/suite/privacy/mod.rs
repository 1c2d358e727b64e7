//! What never becomes public, and what the threat model of DEVELOPERS.md promises.
//!
//! Which fields are private is not listed here: every field of the tables in `form` is, unless [`fields::MAY_SHAPE`] says otherwise.

pub(crate) mod fields;
mod forgotten;
pub(crate) mod in_memory;
mod markers;
mod promises;
mod published;
mod sealed;
mod unmoved;
