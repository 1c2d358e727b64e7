//! Fading: the dose, the law of leaving, and how sure anyone can be.
//!
//! | room | law |
//! |---|---|
//! | [`dose`] | habits of a week as a dose in washes |
//! | [`kinetics`] | two pools leaving with the dose, and in light |
//! | [`conditioner`] | what a colour conditioner adds at home |
//! | [`uncertainty`] | log-normal spread of the rate |
//! | [`rate`] | the rate as a distribution |
//! | [`learning`] | what returns teach about a client's rate |
//! | [`pooling`] | what all returns teach about a salon's clients |
//! | [`measured`] | all of it held against published measurements |
//! | [`probability`] | normal and Student-t distribution functions |
//!
//! In: habits, dye class, hair. Out: loads left after a dose, and the rate's range. Knows nothing of: dates.

pub mod conditioner;
pub mod dose;
pub mod kinetics;
pub mod learning;
pub mod measured;
pub mod pooling;
pub mod probability;
pub mod rate;
pub mod uncertainty;
