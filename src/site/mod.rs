//! The edge out: themes, rendering, and the only writer of pages.
//!
//! In: page data and a theme's texts. Out: HTML, `_headers`, and files.
//! Knows nothing of: salons, records, forecasts.

pub mod assets;
mod context;
mod dialect;
mod escaping;
pub mod logo;
mod manifest;
mod outlet;
mod place;
mod queue;
pub mod render;
mod script;
pub mod theme;
mod told;
pub mod trial;
mod write;

pub use manifest::Key;
pub use outlet::{About, Made, Outlet, Still, Stood};
pub use place::WriteFailure;
pub use queue::{Queue, queued};
pub use write::{Files, Kept, MANIFEST_FILE, Writer, Written, pages_by_their_form, remove, write, write_private};
