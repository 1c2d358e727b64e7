//! The chairside, asked as a tablet without script asks it.

mod door;
mod story;
mod tablet;
mod visits;
