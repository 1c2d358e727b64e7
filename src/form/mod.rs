//! The field tables of our files, and how a text is held against one.
//!
//! In: a TOML text and a table of fields. Out: typed values with their places, and every fault at once.
//! Knows nothing of: what the fields mean together; that is the business of `record` and `salon`.
//!
//! The only module that knows TOML.
