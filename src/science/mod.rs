//! The laws: colour, hair, dye and fading. No client, no date, no file, no HTML.

pub mod bibliography;
pub mod parameter;

pub mod colour;

pub mod hair;

pub mod dye;

pub mod fade;
