//! The chairside, asked as a tablet without script asks it.

mod door;
mod story;
pub(crate) mod tablet;
mod visits;
