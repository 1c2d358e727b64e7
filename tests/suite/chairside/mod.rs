//! The chairside, asked as a tablet without script asks it.

mod door;
pub(crate) mod tablet;
mod visits;
