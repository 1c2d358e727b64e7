//! How many washes each class is said to last, as published, and the model's life.
//!
//! In: `data/dye_class_longevity.csv`. Out: one case a row, and the mean life of each class. Knows nothing of: the fit of the pools.

use super::case::{Case, Standing};
use crate::science::bibliography::{DA_FRANCA_2015, EVANS_WICKETT_2012};
use crate::science::dye::band::BANDS;
use crate::science::dye::class::{DyeClass, WASHED_OUT};
use crate::science::fade::kinetics::leaving;
use crate::science::hair::porosity::Porosity;
use crate::science::table;
use crate::units::Washes;

/// The classes with a life in washes.
pub const WITH_A_LIFE: [DyeClass; 3] = [DyeClass::Temporary, DyeClass::Direct, DyeClass::Demi];

fn class(word: &str) -> DyeClass {
    match word {
        word if word.starts_with("temporary") => DyeClass::Temporary,
        word if word.starts_with("demi") => DyeClass::Demi,
        word if word.starts_with("permanent") => DyeClass::Permanent,
        _ => DyeClass::Direct,
    }
}

/// The published life of a row: the middle of its range, or its one number.
fn middle(row: &[&str]) -> Option<f64> {
    let (low, high): (Option<f64>, Option<f64>) = (row[1].parse().ok(), row[2].parse().ok());
    low.zip(high).map(|(low, high)| f64::midpoint(low, high)).or(low).or(high)
}

fn table() -> impl Iterator<Item = Vec<&'static str>> {
    table::cells(include_str!("../data/dye_class_longevity.csv"))
}

/// The life fitted for a class: of all numbers the one of least squared distance from its rows, which is their mean.
#[must_use]
pub fn mean_life(of: DyeClass) -> Option<f64> {
    let middles: Vec<f64> = table().filter(|row| class(row[0]) == of).filter_map(|row| middle(&row)).collect();
    (!middles.is_empty()).then(|| middles.iter().sum::<f64>() / middles.len() as f64)
}

/// The dose at which a tenth is left, averaged over the bands, on lightened porous hair.
#[must_use]
pub fn life(class: DyeClass) -> f64 {
    let law = leaving(class, true, Porosity::Porous);
    let left = |dose: f64| {
        let each = |band| law.remaining(band, Washes::from_washes(dose)).to_fraction();
        (0..BANDS).map(each).sum::<f64>() / BANDS as f64
    };
    let (mut before, mut after) = (0.0, 1000.0);
    for _ in 0..60 {
        let middle = f64::midpoint(before, after);
        if left(middle) > WASHED_OUT.value { before = middle } else { after = middle }
    }
    after
}

/// A source as the header of the file spells it out.
fn source(cell: &str) -> String {
    const NAMES: [(&str, &str); 4] = [
        ("P1", EVANS_WICKETT_2012.short),
        ("P2", DA_FRANCA_2015.short),
        ("P3", "text attributed to Draelos, not confirmed"),
        ("P4", "trade article 2006"),
    ];
    NAMES.iter().fold(cell.to_owned(), |text, (short, name)| text.replace(short, name))
}

/// One case for each row, L1 onward.
pub(super) fn cases() -> Vec<Case> {
    table().enumerate().map(|(index, row)| case(index + 1, &row)).collect()
}

fn case(number: usize, row: &[&str]) -> Case {
    let class = class(row[0]);
    let life = life(class);
    let measured = match (row[1], row[2]) {
        ("", "") => "grows out, yet fades".to_owned(),
        ("", high) => format!("up to {high} washes"),
        (low, high) if low == high => format!("{low} wash"),
        (low, high) => format!("{low} to {high} washes"),
    };
    let told = |standing| Case::new(format!("L{number}"), row[0], measured.clone(), &source(row[5]), standing);
    match middle(row) {
        Some(middle) => told(Standing::Fitted).number(life, middle, 1).note("residual from the middle of the range"),
        None => told(Standing::Compared)
            .direction(format!("a tenth left after {life:.0} washes"), life > 24.0 && life.is_finite())
            .note("on lightened hair, by washing alone; over twice as long as any other class"),
    }
}
