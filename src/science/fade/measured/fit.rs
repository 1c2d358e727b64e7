//! The fit: the constants of least squared misfit over the rows that are not held out.
//!
//! In: the rows. Out: [`Constants`], and the mean life of each dye class. Knows nothing of: what is shipped.
//!
//! `cargo run --release --example fit` prints it; a test runs it and holds the shipped values against it.

use super::constants::{Constants, FITTED, PARAMETERS};
use super::washed::{Part, Washed, rows};

/// Where the search begins: a guess of the right size, far from the answer.
const START: [f64; FITTED] = [0.25, 0.25, 1.1, 1.0, 0.010, 0.7, 0.010];
/// Rounds of the search; the last fifty change no digit.
const ROUNDS: usize = 200;

/// Σ misfit² over the fitted rows.
#[must_use]
pub fn badness(at: &Constants) -> f64 {
    misfits(at).iter().map(|misfit| misfit * misfit).sum()
}

/// The fitted constants.
///
/// ```text
/// min Σ ((ΔE_model(θ) − ΔE_measured) / error)²      low ≤ θ ≤ high of each parameter
/// ```
///
/// | symbol | meaning | unit |
/// |---|---|---|
/// | `θ` | the seven constants, [`PARAMETERS`] | as each says |
/// | `error` | printed beside the row; 1 where none is | ΔE |
///
/// Levenberg and Marquardt's damped least squares on ln θ, so that no constant turns negative; slopes by central differences; each step is cut back to the believable range. No chance is in it: it gives the same digits every time.
///
/// # Validity
/// Sixteen rows, seven constants.
///
/// # Uncertainty
/// The printed errors are of repeated swatches; the choice of swatch ([`super::swatch`]) adds what no row tells. The ranges of the parameters are wider than the fit's own for that reason.
///
/// # Source
/// The method is textbook; the rows: J. Cosmet. Sci. 72(3) p. 278 (2021), Locke & Jachowicz 2005.
#[must_use]
pub fn fit() -> Constants {
    let mut at = Constants(START);
    let mut damping = 1.0;
    for _ in 0..ROUNDS {
        let next = step(&at, damping);
        if badness(&next) < badness(&at) {
            at = next;
            damping = f64::max(damping / 3.0, 1e-9);
        } else {
            damping = f64::min(damping * 4.0, 1e12);
        }
    }
    at
}

fn fitted() -> impl Iterator<Item = &'static Washed> {
    rows().iter().filter(|row| row.part == Part::Fitted)
}

fn misfits(at: &Constants) -> Vec<f64> {
    fitted().map(|row| row.misfit(at)).collect()
}

/// The believable range of one constant.
fn range(one: usize) -> (f64, f64) {
    (PARAMETERS[one].low.max(1e-6), PARAMETERS[one].high)
}

/// The point with ln θ of each constant moved, within its range.
fn moved(at: &Constants, by: &[f64; FITTED]) -> Constants {
    Constants(std::array::from_fn(|one| {
        let (low, high) = range(one);
        (at.0[one] * by[one].exp()).clamp(low, high)
    }))
}

/// ∂misfit/∂ln θ of one constant, for every row.
fn slope(at: &Constants, one: usize) -> Vec<f64> {
    const SMALL: f64 = 1e-4;
    let beside = |sign: f64| {
        let mut point = *at;
        point.0[one] *= (sign * SMALL).exp();
        misfits(&point)
    };
    beside(1.0).iter().zip(beside(-1.0)).map(|(up, down)| (up - down) / (2.0 * SMALL)).collect()
}

/// One damped step: `(JᵀJ + d·diag)·δ = −Jᵀr`. A constant that stands at the end of its range and would leave it stays.
fn step(at: &Constants, damping: f64) -> Constants {
    let slopes: [Vec<f64>; FITTED] = std::array::from_fn(|one| slope(at, one));
    let misfits = misfits(at);
    let dot = |one: &[f64], other: &[f64]| one.iter().zip(other).map(|(a, b)| a * b).sum::<f64>();
    let downhill: [f64; FITTED] = std::array::from_fn(|one| -dot(&slopes[one], &misfits));
    let stays = |one: usize| {
        let (low, high) = range(one);
        (at.0[one] <= low && downhill[one] < 0.0) || (at.0[one] >= high && downhill[one] > 0.0)
    };
    let mut system: [[f64; FITTED + 1]; FITTED] = [[0.0; FITTED + 1]; FITTED];
    for row in 0..FITTED {
        if !stays(row) {
            for column in (0..FITTED).filter(|column| !stays(*column)) {
                system[row][column] = dot(&slopes[row], &slopes[column]);
            }
            system[row][FITTED] = downhill[row];
        }
        system[row][row] = system[row][row] * (1.0 + damping) + 1e-12;
    }
    moved(at, &solved(system))
}

/// Gauss's elimination with the largest pivot.
fn solved(mut system: [[f64; FITTED + 1]; FITTED]) -> [f64; FITTED] {
    for column in 0..FITTED {
        let largest = |one: &usize, other: &usize| system[*one][column].abs().total_cmp(&system[*other][column].abs());
        let pivot = (column..FITTED).max_by(largest).expect("a row is left");
        system.swap(column, pivot);
        for row in column + 1..FITTED {
            let factor = system[row][column] / system[column][column];
            let above = system[column];
            for (cell, above) in system[row].iter_mut().zip(above).skip(column) {
                *cell -= factor * above;
            }
        }
    }
    let mut found = [0.0; FITTED];
    for row in (0..FITTED).rev() {
        let known: f64 = (row + 1..FITTED).map(|column| system[row][column] * found[column]).sum();
        found[row] = (system[row][FITTED] - known) / system[row][row];
    }
    found
}
