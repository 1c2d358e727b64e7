//! What runs beside the chair: programs that answer a browser.
//!
//! In: a salon folder. Out: answers over HTTP on this machine. Knows nothing of: the command line.

mod view;

pub use view::view;
