//! afterhue turns a finished-service record into the client's own care page, with dates computed from how *that* colour leaves *that* hair.
//!
//! This is its handbook. It opens on the laws; [one way through the house](#one-way-through-the-house) follows, then what is simplified and what is left out.
//!
//! # The laws
//!
//! Every law has its equation, a table of its symbols with units and ranges, where it holds, how sure it is and where it comes from.
//! What they come to is held against published measurements, row by row, in [`science::fade::measured`]; drawings are in [`science::handbook`].
//! Sources stand in [`science::bibliography`] with how much of each was read; every assumed number is a [`Parameter`](science::parameter::Parameter) and [`science::parameters`] lists them all.
//!
//! | law | where | equation | source |
//! |---|---|---|---|
//! | tristimulus values of a reflectance | [`colour::tristimulus`](science::colour::tristimulus) | X = k Σ R·S·x̄ | CIE 015:2018 |
//! | CIELAB | [`colour::cielab`](science::colour::cielab) | L\* = 116·f(Y/Yₙ) − 16 | CIE 015:2018 |
//! | Hunter L, a, b, for old measurements only | [`colour::hunter`](science::colour::hunter) | L = 100·√(Y/Yₙ) | `HunterLab` 2008 |
//! | Oklab, for blends on a screen | [`colour::oklab`](science::colour::oklab) | two matrices about a cube root | Ottosson 2020 |
//! | sRGB; contrast | [`colour::srgb`](science::colour::srgb) | (L₁ + 0.05)/(L₂ + 0.05) | IEC 61966-2-1; WCAG 2.2 |
//! | colour difference | [`colour::delta_e`](science::colour::delta_e) | ΔE00 | Sharma, Wu & Dalal 2005 |
//! | grey-scale rating | [`colour::grey_scale`](science::colour::grey_scale) | 5 − ΔE/1.7, then 5 − log₂(ΔE/0.85) | ISO 105-A02, ISO 105-A05 |
//! | names of colours | [`colour::naming`](science::colour::naming) | a rule on lightness, chroma and hue | our own; checked on a survey, Munroe 2010 |
//! | colour of a bundle of fibres | [`hair::fibre`](science::hair::fibre) | R = 1 + q − √(q² + 2q) | Kubelka & Munk 1931 |
//! | lightened stages | [`hair::stage`](science::hair::stage) | q = k + y·E + r·E + m·(λ/550)^−3.33 | assumed, to the trade's words |
//! | natural depths | [`hair::depth`](science::hair::depth), [`hair::melanin`](science::hair::melanin) | μ = 6.6·10¹⁰·λ^−3.33 | Donner & Jensen 2006; J. Cosmet. Sci. 51, 2000 |
//! | white and pigmented fibres together | [`hair::base`](science::hair::base) | R = (1 − w)·R₁ + w·R₂ | area mixing |
//! | porosity | [`hair::porosity`](science::hair::porosity) | bounded by √(D₁/D₂) | J. Soc. Cosmet. Chem. 44, 1993 |
//! | growth | [`hair::growth`](science::hair::growth) | length = rate · time | Loussouarn et al. 2005 |
//! | dyes as bands | [`dye::band`](science::dye::band) | q = Σ xᵢ·bandᵢ(λ) | assumed, by hue family |
//! | life of a dye class | [`dye::class`](science::dye::class) | N washes | Evans & Wickett 2012 |
//! | what was deposited | [`dye::deposit`](science::dye::deposit) | min Σ xᵢ at least ΔE00 | our own |
//! | top-up | [`dye::top_up`](science::dye::top_up) | min ΔE00 over one strength | our own |
//! | strength of peroxide | [`dye::peroxide`](science::dye::peroxide) | c = 2n/Vm | stoichiometry |
//! | the dose of a week; light | [`fade::dose`](science::fade::dose) | D = (n·s + r·ρ)·w·h + p·c + g·d; ℓ = μ·σ·t/D | each factor its own; Locke & Jachowicz 2005 |
//! | how dye leaves | [`fade::kinetics`](science::fade::kinetics) | f = (φ·e^(−D/τ) + (1 − φ)·e^(−κD))·e^(−ℓD) | fitted: J. Cosmet. Sci. 72(3), 2021; Locke & Jachowicz 2005 |
//! | home colour conditioner | [`fade::conditioner`](science::fade::conditioner) | x = a·∫f | the law of leaving; the load of a use is assumed |
//! | how sure | [`fade::uncertainty`](science::fade::uncertainty), [`fade::rate`](science::fade::rate) | σ² = Σ σᵢ² of ln rate | Evans & Wickett 2012; assumed |
//! | what a return teaches | [`fade::learning`](science::fade::learning) | p(λ \| seen) ∝ L(λ)·p(λ) on a grid | Bayes |
//! | what a salon's clients share | [`fade::pooling`](science::fade::pooling) | λᵢ ~ N(m, τ²) | normal hierarchical model |
//! | distribution functions | [`fade::probability`](science::fade::probability), [`normal_quantile`](science::fade::uncertainty::normal_quantile) | Φ, T₄, z(p) | West 2005; Wichura 1988 |
//! | seen share and grey scale of a zone; its two dates | [`forecast`] | s = ΔE00(now, bare)/ΔE00(fresh, bare) | our own |
//!
//! # One way through the house
//!
//! ```text
//!  texts, today            pure core                                             files
//!  workspace ─► record ─► forecast ─► plan ─► care ─► page ─► site ─► public/ and private/
//!               salon ─┘      ▲          └──► schedule ─┘
//!                          science: colour ◄ hair ◄ dye ◄ fade
//! ```
//!
//! Read [`pipeline`] first: one call for each stage.
//! A record is text; [`form`] holds it against a table of fields and tells every fault with its place; [`record`] and [`salon`] make typed values of it.
//! [`forecast`] asks [`science`] how the colour of each zone leaves and knows no calendar; [`plan`] puts days on it.
//! [`care`] chooses passages, [`schedule`] writes calendar text, [`page`] makes plain data with every string ready, [`site`] renders and writes.
//! Only [`workspace`], the writer of [`site`] and the command line touch files or the clock.
//! With the cargo feature of that name, `publish` puts `public/` into an object store.
//!
//! # Scope
//!
//! Colour laid on lightened, natural or part-white hair by temporary, direct, demi-permanent and permanent dyes, and how it looks after any number of washes, under light, heat, pools and home colour, for each zone of a head, with a range that returns narrow.
//!
//! # Simplifications
//!
//! - One observer (CIE 1931 2°), one illuminant (D65), one grid (380 to 780 nm at 5 nm), f64 throughout.
//! - Hair is a thick bundle with one Kubelka–Munk constant; dye absorbs and does not scatter; gloss is left out.
//! - The colours of lightened stages are assumed, set by eye to the trade's words: no measurement of bleached hair by stage was found.
//! - Dyes are five smooth bands, not substances; of many mixes that give one colour the one with least dye is taken.
//! - Two pools leave with a dose counted in washes; causes add. Washes come as a line over the days, not as steps.
//! - The constants of leaving are fitted to oxidative colour on pale swatches; that direct dyes share the loose pool and the effect of light is assumed.
//! - The hair's own colour stays as it is: neither sun nor water moves it here.
//! - No benefit is credited that nobody measured: a gentle shampoo counts as an ordinary one, a light filter as none.
//! - The rate is log-normal; a date's range runs from its 10 % to its 90 % point.
//!
//! # Out of scope
//!
//! - Dyes fixed with tannins or metal salts: they hold best where others hold worst.
//! - Green from copper or pools: a caution, never a forecast.
//! - How far a lightener lifts in a time, and what it does to the fibre.
//! - How colours look under other lights than daylight.
//! - Every question of health: a record may hold such facts, and nothing public depends on them.

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

pub mod rights;

pub mod chairside;

#[cfg(feature = "publish")]
pub mod publish;
