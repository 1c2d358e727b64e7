//! Fading: the dose, the law of leaving, and how sure anyone can be.

pub mod dose;
pub mod kinetics;
pub mod uncertainty;
