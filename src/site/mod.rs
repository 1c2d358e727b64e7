//! The edge out: themes, rendering, and the only writer of pages.
//!
//! In: page data and a theme's texts. Out: HTML, `_headers`, and files.
//! Knows nothing of: salons, records, forecasts.

pub mod assets;
mod escaping;
pub mod logo;
mod manifest;
pub mod render;
pub mod theme;
pub mod trial;
mod write;

pub use write::{Files, Kept, MANIFEST_FILE, WriteFailure, Written, remove, write, write_private};
