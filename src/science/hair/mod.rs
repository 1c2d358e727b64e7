//! Hair as a coloured fibre: the bundle law, lightened stages, natural depth, porosity and growth.
//!
//! | room | law |
//! |---|---|
//! | [`fibre`] | Kubelka–Munk colour of a bundle |
//! | [`stage`] | K/S of lightened hair |
//! | [`melanin`], [`depth`] | K/S of natural hair |
//! | [`base`] | what a tone lies on, white fibres mixed in |
//! | [`porosity`] | factors of uptake and leaving |
//! | [`growth`] | length grown |
//!
//! In: what a stylist sees of the hair. Out: spectra, colours, lengths. Knows nothing of: dyes.

pub mod base;
pub mod depth;
pub mod fibre;
pub mod growth;
pub mod melanin;
pub mod porosity;
pub mod stage;
