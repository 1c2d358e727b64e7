//! The chairside, asked as a tablet without script asks it.

mod door;
mod tablet;
mod visits;
