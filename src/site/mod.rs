//! The edge out: themes, rendering, and the only writer of pages.
//!
//! In: page data and a theme's texts. Out: HTML, `_headers`, and files.
//! Knows nothing of: salons, records, forecasts.

pub mod assets;
mod manifest;
pub mod render;
pub mod theme;
mod write;

pub use write::{Files, WriteFailure, Writer, Written, write};
