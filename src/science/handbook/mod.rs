//! Figures of the laws, drawn by the program itself.
//!
//! In: the laws. Out: the drawings below, kept as text beside this file; a test draws them again and compares. Knows nothing of: clients.
//!
//! # How dye leaves
//! The violet band of each class ([`leaving`](crate::science::fade::kinetics::leaving)); whole lines lightened, porous hair, dashed undamaged hair.
//!
#![doc = include_str!("fade_curves.md")]
//!
//! # Against measurement
//! Points with their printed errors, and the model through them ([`measured`](crate::science::fade::measured)). The dashed series was held out of the fit.
//!
#![doc = include_str!("measured_curves.md")]
//!
//! # Bands
//! [`dye::band`](crate::science::dye::band).
//!
#![doc = include_str!("bands.md")]
//!
//! # Base stages
//! [`hair::stage`](crate::science::hair::stage): assumed, set by eye to the trade's words.
//!
#![doc = include_str!("base_stages.md")]

pub mod figures;
pub mod plot;
