//! Facts of transport and heat, as published, and measured colours of natural hair.
//!
//! In: `data/kinetics.csv`, `data/hair_lab_measured.csv`. Out: one case a row. Knows nothing of: the fit, which uses none of them.

use super::case::{Case, Standing};
use super::constants::Constants;
use super::washed::rows;
use crate::science::bibliography::{
    COPPER_FADE_2021, CRANK_1975, FIBRE_EQUATION_2007, HAIR_COLOURANTS_1967, HAIR_LUSTRE_2000, HELIX_HALF_LIFE_2018,
    HOLMES_1964, MCMULLEN_JACHOWICZ_1998, WAGNER_JOEKES_2005,
};
use crate::science::colour::cielab::Lab;
use crate::science::colour::delta_e::cie76;
use crate::science::dye::class::DyeClass;
use crate::science::fade::dose::Warmth;
use crate::science::fade::kinetics::leaving;
use crate::science::hair::base::Base;
use crate::science::hair::depth::NaturalDepth;
use crate::science::hair::porosity::{self, Porosity};
use crate::science::table;

const UPTAKE: Standing =
    Standing::Outside("uptake is not modelled: what was taken up is found from the finished colour");
const PROXY: Standing =
    Standing::Outside("a proxy, protein and not dye: it only bounds the range of the warmth factors");
const HEAT: Standing = Standing::Outside("damage of the fibre by heat, not loss of dye");
const USED_BELOW: Standing =
    Standing::Outside("a constant of diffusion, used by the row of a 5 min soak and by the bounds of porosity");
const HALF: Standing =
    Standing::Outside("a whole fibre into endless water; a wash is five minutes, see the row of a soak");

/// One case for each row of both files: K1 onward and H1 onward.
pub(super) fn cases(at: &Constants) -> Vec<Case> {
    let kinetics = table::cells(include_str!("../data/kinetics.csv"));
    let colours = table::cells(include_str!("../data/hair_lab_measured.csv"));
    let kinetics = kinetics.enumerate().map(|(index, row)| kinetic(at, index + 1, &row));
    kinetics.chain(colours.enumerate().map(|(index, row)| colour(index + 1, &row))).collect()
}

/// The source of each row of `kinetics.csv`.
fn source(number: usize) -> String {
    match number {
        1..=3 => HOLMES_1964.short.to_owned(),
        4 => HAIR_COLOURANTS_1967.short.to_owned(),
        5 => "positron lifetime study of a permanent dye, abstract".to_owned(),
        6 => FIBRE_EQUATION_2007.short.to_owned(),
        7..=12 => WAGNER_JOEKES_2005.short.to_owned(),
        13 | 14 => format!("computed from {}", WAGNER_JOEKES_2005.short),
        15 | 16 => format!("computed from {} by {}", HOLMES_1964.short, CRANK_1975.short),
        17..=20 => format!("computed from {}", COPPER_FADE_2021.short),
        21 => MCMULLEN_JACHOWICZ_1998.short.to_owned(),
        _ => HELIX_HALF_LIFE_2018.short.to_owned(),
    }
}

fn kinetic(at: &Constants, number: usize, row: &[&str]) -> Case {
    let measured = format!("{} {}", row[1], row[2]).trim().to_owned();
    let told = |standing| {
        let case = Case::new(format!("K{number}"), row[0], measured.clone(), &source(number), standing);
        if row[4].is_empty() { case } else { case.note(row[3]) }
    };
    let value: f64 = row[1].parse().unwrap_or(f64::NAN);
    let compared = || told(Standing::Compared);
    match number {
        1..=3 => told(USED_BELOW),
        4..=6 => told(UPTAKE),
        7..=12 => told(PROXY),
        13 | 14 => warmth(value, compared()),
        15 => told(HALF),
        16 => soak(value, compared()),
        17 => compared().number(exponent(at, ["A9", "A10", "A11", "A12"]), value, 2),
        18 => told(Standing::HeldOut).number(exponent(at, ["A13", "A14", "A15", "A16"]), value, 2),
        19 => spread(compared(), concave(at, "A9", "A12"), concave(at, "A13", "A16"), 1.5..=2.5),
        20 => spread(compared(), concave(at, "A1", "A4"), concave(at, "A5", "A8"), 0.8..=1.5),
        _ => told(HEAT),
    }
}

/// The model's one factor for warmth beside the proxy's for ten degrees or more.
fn warmth(proxy: f64, case: Case) -> Case {
    let (cool, hot) = (Warmth::Cool.factor(), Warmth::Hot.factor());
    let (said, met) =
        if proxy > 1.0 { (hot, hot <= proxy && hot >= 1.0) } else { (cool, cool >= proxy && cool <= 1.0) };
    case.direction(format!("{said}, between 1 and the proxy"), met)
        .note("protein, not dye: the model takes far less, for want of a measurement of dye")
}

/// What a wash takes of a direct dye's held pool beside what diffuses out of untreated hair in five minutes.
fn soak(per_cent: f64, case: Case) -> Case {
    let kappa = leaving(DyeClass::Direct, false, Porosity::Normal).kappa[0];
    let lost = 100.0 * (1.0 - (-kappa).exp());
    let bleached = per_cent * (porosity::DIFFUSION_BLEACHED.value / porosity::DIFFUSION_UNTREATED.value).sqrt();
    case.direction(format!("{lost:.1} % a wash"), lost >= per_cent && lost <= bleached)
        .note(format!("a bound: bleached hair would lose {bleached:.0} %, by √(45/3.6) of the dye-probe diffusion"))
}

fn modelled(at: &Constants, id: &str) -> (f64, f64) {
    let row = rows().iter().find(|row| row.id == id).expect("a row of measured fading");
    (row.washes, row.modelled(at))
}

/// ΔE at the last row over ΔE at the first.
#[must_use]
pub fn concave(at: &Constants, first: &str, last: &str) -> f64 {
    modelled(at, last).1 / modelled(at, first).1
}

fn spread(case: Case, one: f64, other: f64, within: std::ops::RangeInclusive<f64>) -> Case {
    let met = within.contains(&one) && within.contains(&other);
    case.direction(format!("{:.2} to {:.2}", one.min(other), one.max(other)), met)
}

/// The exponent of a power law through the modelled ΔE: the slope of ln ΔE on ln washes.
fn exponent(at: &Constants, ids: [&str; 4]) -> f64 {
    let points = ids.map(|id| modelled(at, id)).map(|(washes, change)| (washes.ln(), change.ln()));
    let mean = |of: fn(&(f64, f64)) -> f64| points.iter().map(of).sum::<f64>() / points.len() as f64;
    let (x, y) = (mean(|point| point.0), mean(|point| point.1));
    let across: f64 = points.iter().map(|point| (point.0 - x) * (point.1 - y)).sum();
    across / points.iter().map(|point| (point.0 - x).powi(2)).sum::<f64>()
}

/// A measured tress beside the natural depth its word names.
fn colour(number: usize, row: &[&str]) -> Case {
    let cell = |at: usize| row[at].parse::<f64>().expect("L, a and b of a tress");
    let measured = Lab::new(cell(1), cell(2), cell(3));
    let depth = if row[0].starts_with("black") { 1.0 } else { 3.0 };
    let model = Base::natural(NaturalDepth::try_new(depth).expect("a depth")).bare();
    let mut case = Case::new(
        format!("H{number}"),
        row[0],
        format!("{} {} {}", row[1], row[2], row[3]),
        HAIR_LUSTRE_2000.short,
        Standing::Compared,
    );
    case.modelled = Some(format!("{:.1} {:.1} {:.1}, depth {depth:.0}", model.l, model.a, model.b));
    case.residual = Some(cie76(model, measured));
    case.note(format!("residual as ΔE; measured for the 10° observer, computed for 2°; {}", row[7]))
}
