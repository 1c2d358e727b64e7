//! The model held against what others measured.
//!
//! | room | what |
//! |---|---|
//! | [`swatch`] | the swatches of the studies, as the model lays them out |
//! | [`washed`] | measured ΔE after washes and light: the rows the constants are fitted to, and those held out |
//! | [`factors`] | what speeds fading up or slows it down |
//! | [`lives`] | how many washes a class lasts |
//! | [`transport`] | diffusion, warmth, and measured colours of natural hair |
//! | [`constants`], [`fit`] | the fitted constants, and the procedure |
//! | [`case`], [`report`] | a row of the table, and the table |
//!
//! In: the published tables of `data/`. Out: the table below. Knows nothing of: clients.
//!
//! # How it is done
//!
//! Every row of five tables is a case under the conditions its source states. The seven constants of the pools, of copper and of light are fitted to the rows marked "fitted"; the lives of the classes are the means of their rows. Rows A13 to A16, B3, B4 and C1 are held out: they move nothing, and show whether the fit holds elsewhere. `cargo run --release --example fit` does it again and prints what it finds; a test does the same and holds the shipped values, which are rounded, against it.
//!
//! **Two scales of ΔE.** Rows A are CIELAB (1976) as far as their source tells. Locke & Jachowicz (rows B) worked with a Hunter instrument, so the model computes Hunter L, a, b for them ([`Hunter`](crate::science::colour::hunter::Hunter)), under D65 for the 2° observer because their illuminant was not read; the same change in CIELAB stands in the note. Neither is ΔE00, and no threshold of ΔE00 is applied to them.
//!
//! **What is chosen.** No study gives the L\*a\*b\* of its swatches. Base and fresh colour are set in [`swatch`] and are the same for all rows of a swatch. Unpigmented hair, natural white as well as bleached, is taken to lose dye as lightened, porous hair does. Hair that was "pre-washed in copper-containing water" keeps its copper under the plain shampoo and loses its effect under the one with a chelant.
//!
//! # What the held-out rows can show, and what they cannot
//!
//! No held-out row enters the fit. But all rows were known when the *form* of the law was chosen, so they are a check on the constants, not a blind test of the form:
//!
//! - Copper was made to act on the loose share and not on the dose after looking at how the two series of the brown draw together, A13 to A16 among them.
//! - Light was first a dose in washes. That left B2 at 9.1 for 15 and B6 at 13.9 for 10, so it became a loss of its own; B3 and B4 stood in the same listing.
//! - The red's loads were chosen with the pink-red band in front, because with the deposit that least load would choose, red and brown lose alike and the red series cannot be met.
//! - The rate of the red's held pool runs to whatever lower bound it is given: Σ is 24.9 at 0.001, 26.4 at 0.05 and 28.2 at 0.1. The dose that empties the loose pool moves with it, 0.51, 0.44 and 0.30 wash: two washes are the first row, so no row shows it. The bound 0.05 was set having seen these.
//! - C1 rests on one number that no row fixes, the rate of permanent colour on undamaged hair. Its published bounds are 0.283, untreated against bleached hair, and 0.467, hair opened by the colour's own peroxide; C1 meets 0.85 with the first and not with the second: the table has both. The first was taken knowing that C1 asks for 0.85.
//! - The loose share of undamaged hair is a sixth of that of lightened hair, as it was assumed before the fit; with the fit it came down from 0.05 to 0.025. C1 was known then too.
//!
//! A blind test needs a table that nobody here has seen.
//!
//! # The table
//!
//! Rows of the files: A to E `fade_measured.csv`, F `fade_factors.csv`, L `dye_class_longevity.csv`, K `kinetics.csv`, H `hair_lab_measured.csv`. A residual is modelled less measured.
//!
#![doc = include_str!("table.md")]

pub mod case;
pub mod constants;
pub mod factors;
pub mod fit;
pub mod lives;
pub mod report;
pub mod swatch;
pub mod transport;
pub mod washed;
