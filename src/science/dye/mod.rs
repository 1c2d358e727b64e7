//! Dye on hair: classes, bands and what was deposited.

pub mod band;
pub mod class;
pub mod deposit;
pub mod shade;
