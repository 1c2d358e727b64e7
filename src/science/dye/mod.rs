//! Dye on hair: classes, bands, shades by name, peroxide strength, and what was deposited.
//!
//! | room | law |
//! |---|---|
//! | [`class`] | published life of each class in washes |
//! | [`band`] | a dye's K/S as a sum of Gaussian bands |
//! | [`deposit`] | the least loads that give a finished colour |
//! | [`top_up`] | the mix that brings faded hair back |
//! | [`shade`] | the colour a name stands for |
//! | [`peroxide`] | volume strength, g/L and label |
//!
//! In: a base and a finished colour. Out: loads. Knows nothing of: washing.

pub mod band;
pub mod class;
pub mod deposit;
mod descent;
pub mod peroxide;
pub mod shade;
pub mod top_up;
