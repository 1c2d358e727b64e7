//! Hair as a coloured fibre: the bundle law, lightened stages, natural depth, porosity and growth.

pub mod base;
pub mod depth;
pub mod fibre;
pub mod growth;
pub mod melanin;
pub mod porosity;
pub mod stage;
