//! The edge out: themes, rendering, and the only writer of pages.
//!
//! In: finished page data. Out: files. Knows nothing of: records, forecasts, plans.

mod assets;
mod manifest;
mod render;
mod theme;
mod write;

pub use assets::HEADERS;
pub use render::Renderer;
pub use write::{Files, WriteFailure, Written, write};
