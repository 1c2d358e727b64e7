//! What speeds fading up or slows it down, as published, and whether the model does the same.
//!
//! In: `data/fade_factors.csv`. Out: one case a row. Knows nothing of: the fit.

use super::case::{Case, Standing};
use super::constants::Constants;
use super::swatch::{AUBURN, AUBURN_ON_BROWN, BROWN, Scale};
use super::washed::{Washed, rows};
use crate::science::bibliography::{
    BLEACH_FADE_2008, CONSUMER_NZ_2015, COPPER_FADE_2021, EVANS_WICKETT_2012, FUJII_2017, LOCKE_JACHOWICZ_2005,
    NOGUEIRA_2007, NOGUEIRA_JOEKES_2004, PIRES_OLIVEIRA_JOEKES, Reference, TAKAHASHI_NAKAMURA_2004, YUN_AHN_2023,
};
use crate::science::dye::class::DyeClass;
use crate::science::fade::dose::{HEAT_DAY, POOL_SWIM, RINSE, Shampoo, WaterHardness};
use crate::science::fade::kinetics::leaving;
use crate::science::hair::porosity::Porosity;
use crate::science::table;
use crate::units::{Washes, Worded};

const UV: Standing = Standing::Outside("light is one dose; its bands are not told apart, so no filter is credited");
const NATURAL: Standing = Standing::Outside("the hair's own colour stays as it is while dye leaves");
const TANNIN: Standing = Standing::Outside("dyes fixed with tannin and metal salts are outside the model");

/// The source of each row; where nothing is named, the words of the file stand.
const SOURCES: [Option<&Reference>; 18] = [
    Some(&LOCKE_JACHOWICZ_2005),
    Some(&LOCKE_JACHOWICZ_2005),
    Some(&LOCKE_JACHOWICZ_2005),
    Some(&LOCKE_JACHOWICZ_2005),
    Some(&LOCKE_JACHOWICZ_2005),
    Some(&BLEACH_FADE_2008),
    Some(&EVANS_WICKETT_2012),
    None,
    Some(&YUN_AHN_2023),
    Some(&CONSUMER_NZ_2015),
    None,
    Some(&FUJII_2017),
    Some(&COPPER_FADE_2021),
    Some(&TAKAHASHI_NAKAMURA_2004),
    Some(&NOGUEIRA_JOEKES_2004),
    Some(&NOGUEIRA_2007),
    Some(&PIRES_OLIVEIRA_JOEKES),
    Some(&EVANS_WICKETT_2012),
];

/// One case for each row, F1 onward, in the order of the file.
pub(super) fn cases(at: &Constants) -> Vec<Case> {
    let text = include_str!("../data/fade_factors.csv");
    table::cells(text).enumerate().map(|(index, row)| case(at, index + 1, &row)).collect()
}

fn case(at: &Constants, number: usize, row: &[&str]) -> Case {
    let measured = if row[2].is_empty() { row[1].to_owned() } else { format!("{} {}", row[1], row[2]) };
    let source = SOURCES[number - 1].map_or(row[3], |book| book.short);
    let told = |standing| Case::new(format!("F{number}"), row[0], measured.trim().to_owned(), source, standing);
    let compared = || told(Standing::Compared);
    match number {
        1 => light(at, told(Standing::Fitted)),
        2..=4 => told(UV),
        5 => hair_type(compared()),
        6 => bleached_first(compared()),
        7 => damaged(compared()),
        8 => told(TANNIN),
        9 => dye_over_shampoo(compared()),
        10 => {
            let rinse = RINSE.value <= Shampoo::Gentle.factor();
            let equal = Shampoo::Gentle.factor() >= Shampoo::Ordinary.factor();
            compared().direction(
                format!("gentle {} of ordinary, rinse {}", Shampoo::Gentle.factor(), RINSE.value),
                rinse && equal,
            )
        }
        11 => compared()
            .direction(format!("no credit: factor {}", Shampoo::Gentle.factor()), Shampoo::Gentle.factor() >= 1.0),
        12 => {
            let (hard, soft) = (WaterHardness::Hard.factor(), WaterHardness::Soft.factor());
            compared().direction(format!("hard {hard} of medium, soft {soft}"), hard > soft)
        }
        13 => copper(at, told(Standing::Fitted)),
        14..=16 => told(NATURAL),
        17 => pool(compared()),
        _ => compared().direction(format!("{} wash a day of hot tools", HEAT_DAY.value), HEAT_DAY.value > 0.0),
    }
}

/// A row of measured fading by its name.
fn row(id: &str) -> &'static Washed {
    rows().iter().find(|row| row.id == id).expect("a row of the file")
}

/// How much more light with washing does than washing alone, four washes and 32 h: B6 over B5.
#[must_use]
pub fn light_over_washing(at: &Constants) -> f64 {
    row("B6").modelled(at) / row("B5").modelled(at)
}

fn light(at: &Constants, case: Case) -> Case {
    let ratio = light_over_washing(at);
    case.number(ratio, row("B6").measured / row("B5").measured, 2)
        .note("as a ratio, through B5 and B6; the last digit of the 10 is illegible")
}

/// ΔE with copper over ΔE without, after two washes: red and brown.
fn copper(at: &Constants, case: Case) -> Case {
    let ratio = |with: &str, without: &str| row(with).modelled(at) / row(without).modelled(at);
    let (red, brown) = (ratio("A1", "A5"), ratio("A9", "A13"));
    case.direction(format!("ratios {red:.2} and {brown:.2} for 1.54 and 1.33"), red > 1.1 && brown > 1.1)
        .note("the red is fitted; the brown's chelant rows are held out")
}

/// Ten washes of the same auburn mix on white and on brown hair.
fn hair_type(case: Case) -> Case {
    let pale = AUBURN.change(&leaving(DyeClass::Permanent, true, Porosity::Porous), 10.0, Scale::Cielab);
    let brown = AUBURN_ON_BROWN.change(&leaving(DyeClass::Permanent, false, Porosity::Normal), 10.0, Scale::Cielab);
    case.direction(format!("10 washes: ΔE {pale:.1} on white, {brown:.1} on brown"), pale > 2.0 * brown)
}

/// What a direct dye loses between two doses, averaged over its bands.
fn lost(lightened: bool, porosity: Porosity, from: f64, to: f64) -> f64 {
    let law = leaving(DyeClass::Direct, lightened, porosity);
    let left =
        |dose| (0..5).map(|band| law.remaining(band, Washes::from_washes(dose)).to_fraction()).sum::<f64>() / 5.0;
    left(from) - left(to)
}

fn bleached_first(case: Case) -> Case {
    let (bleached, untouched) = (lost(true, Porosity::Porous, 0.0, 15.0), lost(false, Porosity::Normal, 0.0, 15.0));
    let (first, next) = (lost(true, Porosity::Porous, 0.0, 2.0), lost(true, Porosity::Porous, 2.0, 4.0));
    let said = format!(
        "15 washes take {bleached:.2} against {untouched:.2}; the first two {first:.2}, the next two {next:.2}"
    );
    case.direction(said, bleached > untouched && first > 1.3 * next)
}

fn damaged(case: Case) -> Case {
    let (worn, sound) = (lost(true, Porosity::OverPorous, 0.0, 4.0), lost(false, Porosity::Normal, 0.0, 4.0));
    case.direction(format!("4 washes take {worn:.2} of over-porous, {sound:.2} of undamaged"), worn > sound)
}

fn dye_over_shampoo(case: Case) -> Case {
    let most = Shampoo::WORDS.iter().map(|(shampoo, ..)| shampoo.factor()).fold(0.0, f64::max);
    let lives = DyeClass::Demi.washes().expect("a life").value / DyeClass::Direct.washes().expect("a life").value;
    case.direction(format!("classes differ {lives:.1}-fold, shampoos {most:.1}-fold"), lives > most)
        .note("the pH of a shampoo is not recorded")
}

fn pool(case: Case) -> Case {
    let law = leaving(DyeClass::Permanent, true, Porosity::Porous);
    let (before, after) = (BROWN.colour(&law, 0.0), BROWN.colour(&law, 8.0 * POOL_SWIM.value));
    case.direction(
        format!("8 swims: L* {:.1} to {:.1}, b* {:.1} to {:.1}", before.l, after.l, before.b, after.b),
        after.l > before.l && after.b > before.b,
    )
    .note("by the dye that leaves; what chlorine does to the hair itself is not in it")
}
