//! The deposit fit against a slower, plainer search: a coarse five-load grid with local polish.

use afterhue::science::colour::cielab::Lab;
use afterhue::science::colour::delta_e::ciede2000;
use afterhue::science::dye::band::{BANDS, Loads, absorption};
use afterhue::science::dye::deposit::fit;
use afterhue::science::hair::base::Base;
use afterhue::units::Fraction;

use super::{lightened, named, natural};

/// Loads of the grid, the same for every band.
const GRID: [f64; 7] = [0.0, 0.06, 0.2, 0.6, 1.6, 5.0, 16.0];
/// How much worse than the grid a fit may be, ΔE00.
const ALLOWED: f64 = 0.1;

/// The best ΔE00 of the grid, polished: each load in turn up and down by ever smaller factors, from the three best points.
fn by_grid(base: &Base, wished: Lab) -> f64 {
    let misfit = |loads: &[f64; BANDS]| ciede2000(base.colour_under(&absorption(&Loads(*loads))), wished);
    let points = GRID.len().pow(BANDS as u32);
    let mut best: Vec<([f64; BANDS], f64)> = Vec::new();
    for point in 0..points {
        let loads = std::array::from_fn(|band| GRID[point / GRID.len().pow(band as u32) % GRID.len()]);
        best.push((loads, misfit(&loads)));
        best.sort_by(|one, other| one.1.total_cmp(&other.1));
        best.truncate(3);
    }
    best.into_iter().map(|(loads, found)| polished(misfit, loads, found)).fold(f64::INFINITY, f64::min)
}

fn polished(misfit: impl Fn(&[f64; BANDS]) -> f64, mut loads: [f64; BANDS], mut found: f64) -> f64 {
    let mut step = 0.5;
    while step > 1e-4 {
        let before = found;
        for band in 0..BANDS {
            for to in [loads[band] * (1.0 + step) + 0.02 * step, (loads[band] * (1.0 - step) - 0.02 * step).max(0.0)] {
                let tried = std::array::from_fn(|i| if i == band { to } else { loads[i] });
                let next = misfit(&tried);
                if next < found {
                    (loads, found) = (tried, next);
                }
            }
        }
        if found > before - 1e-4 {
            step /= 2.0;
        }
    }
    found
}

/// A seeded row of numbers between 0 and 1 (the MINSTD generator of Park & Miller 1988).
struct Seeded(u64);

impl Seeded {
    fn next(&mut self) -> f64 {
        self.0 = self.0 * 48_271 % 2_147_483_647;
        self.0 as f64 / 2_147_483_647.0
    }

    fn between(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * self.next()
    }
}

/// A base and a colour wished on it: every second within reach by construction, the others anywhere on hair.
fn pair(seeded: &mut Seeded, index: usize) -> (Base, Lab) {
    let pigment = if index % 5 == 4 { natural(seeded.between(2.0, 9.0)) } else { lightened(seeded.between(5.0, 10.0)) };
    let white = if index % 7 == 6 { seeded.between(0.1, 0.6) } else { 0.0 };
    let base = Base { white: Fraction::from_fraction(white), ..pigment };
    let wished = if index.is_multiple_of(2) {
        let loads = std::array::from_fn(|_| seeded.between(-0.5, 1.5).max(0.0).powi(3));
        base.colour_under(&absorption(&Loads(loads)))
    } else {
        Lab::from_lch(seeded.between(20.0, 84.0), seeded.between(0.0, 45.0), seeded.between(0.0, 360.0))
    };
    (base, wished)
}

#[test]
fn a_fit_is_no_worse_than_a_polished_grid_on_two_hundred_pairs() {
    let mut seeded = Seeded(20_260_301);
    for index in 0..200 {
        let (base, wished) = pair(&mut seeded, index);
        let (found, grid) = (fit(&base, wished).residual, by_grid(&base, wished));
        assert!(found <= grid + ALLOWED, "pair {index}: {found:.3} against {grid:.3}, {base:?}, {wished:?}");
    }
}

#[test]
fn a_fit_takes_no_more_dye_than_the_loads_that_made_the_colour() {
    let mut seeded = Seeded(77);
    for index in 0..60 {
        let base = lightened(seeded.between(6.0, 10.0));
        let made = Loads(std::array::from_fn(|_| seeded.between(-0.5, 1.2).max(0.0).powi(2)));
        let deposit = fit(&base, base.colour_under(&absorption(&made)));
        assert!(deposit.residual < 0.1, "{index}: {deposit:?}");
        assert!(deposit.loads.total() < made.total() * 1.01 + 0.02, "{index}: {deposit:?} against {made:?}");
    }
}

#[test]
fn the_same_wish_gives_the_same_deposit() {
    let base = lightened(9.5);
    assert_eq!(fit(&base, named("rose pastel")), fit(&base, named("rose pastel")));
}
