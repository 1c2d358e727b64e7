//! afterhue turns a finished-service record into the client's own care page, with dates computed from how *that* colour leaves *that* hair.
//!
//! ```text
//!  texts, today            pure core                                             files
//!  workspace ─► record ─► forecast ─► plan ─► care ─► page ─► site ─► public/ and private/
//!               salon ─┘      ▲          └──► schedule ─┘
//!                          science: colour ◄ hair ◄ dye ◄ fade
//! ```
//!
//! Start reading at [`pipeline`].
//!
//! # The laws
//!
//! | law | where | source |
//! |---|---|---|
//! | reflectance to tristimulus values, plain 5 nm sums | [`science::colour::tristimulus`] | CIE 015:2018 |
//! | CIELAB | [`science::colour::cielab`] | CIE 015:2018 |
//! | Oklab | [`science::colour::oklab`] | Ottosson 2020 |
//! | sRGB and contrast | [`science::colour::srgb`] | IEC 61966-2-1, WCAG 2.2 |
//! | colour difference, ΔE76 and CIEDE2000 | [`science::colour::delta_e`] | Sharma, Wu & Dalal 2005 |
//! | grey-scale rating | [`science::colour::grey_scale`] | ISO 105-A02, ISO 105-A05 |
//! | names of colours | [`science::colour::naming`] | a rule of our own, held against a survey (Munroe 2010) |
//! | colour of a bundle of fibres | [`science::hair::fibre`] | Kubelka & Munk 1931 |
//! | lightened stages | [`science::hair::stage`] | assumed, to the trade's words |
//! | natural depths, melanin | [`science::hair::depth`], [`science::hair::melanin`] | Donner & Jensen 2006 |
//! | growth | [`science::hair::growth`] | Loussouarn 2001, 2005 |
//! | dyes as bands | [`science::dye::band`] | assumed, by hue family |
//! | what was deposited | [`science::dye::deposit`] | least loads of least ΔE00 |
//! | strength of peroxide | [`science::dye::peroxide`] | stoichiometry |
//! | the dose of a week | [`science::fade::dose`] | factors with their sources |
//! | how dye leaves | [`science::fade::kinetics`] | two pools, held against J. Cosmet. Sci. 72(3) 2021 |
//! | how sure | [`science::fade::uncertainty`] | log-normal rate |
//!
//! # Scope and simplifications
//!
//! One observer (CIE 1931 2°), one illuminant (D65), one wavelength grid (380–780 nm at 5 nm), f64 throughout.
//! Hair is a thick bundle with one Kubelka–Munk constant; white and pigmented fibres mix by reflectance.
//! Dyes are five bands, not substances. Washes come as a line, not as steps.
//!
//! # Out of scope
//!
//! Dyes fixed with tannins or metal salts, green from copper as a forecast, lift by time, damage by time, appearance under other lights, and every question of health.

pub mod units;

pub mod diagnostic;

pub mod form;

pub mod science;

pub mod record;
pub mod salon;

pub mod forecast;

pub mod plan;

pub mod care;
pub mod schedule;

pub mod page;

pub mod workspace;

pub mod site;

pub mod pipeline;

pub mod chairside;
