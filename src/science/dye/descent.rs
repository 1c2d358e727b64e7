//! Descent to the loads whose colour lies nearest to a wished one.
//!
//! Levenberg–Marquardt steps on the square of ΔE00, kept to non-negative loads. The gradient is that of the true ΔE00; only the curvature is an approximation, so where the descent rests does not depend on it.
//!
//! In: a base, a wished colour, a start, the bands allowed. Out: loads and how far off their colour is. Knows nothing of: which of several equal fits to prefer.

use super::band::{self, BANDS, Loads};
use crate::science::colour::cielab::{self, Lab};
use crate::science::colour::delta_e::ciede2000;
use crate::science::colour::spectrum::{SAMPLES, Spectrum};
use crate::science::colour::tristimulus::{self, Xyz};
use crate::science::hair::base::{self, Base};
use crate::science::hair::fibre;

/// Steps after which a descent stops wherever it is; a usual one takes fewer than ten.
const LONGEST: usize = 60;
/// A descent that loses less than this share of the square of its ΔE00 in a step is coming to rest.
const SLOW: f64 = 0.1;
/// One that slows down this far outside what is asked for, in ΔE00, comes to rest outside. A test holds both numbers against
/// descending to the end: with twice the share, some of three thousand fits differ.
const FAR_OUTSIDE: f64 = 2.0;
/// Square of a ΔE00 that no eye, instrument or page can tell from none.
const NOTHING: f64 = 1e-8;
/// The step of the difference quotients, in CIELAB units: small enough for one side to do.
const STEP: f64 = 1e-6;
type Row = [f64; BANDS];

/// A base and a colour wished on it.
pub(super) struct Descent {
    /// K/S of the fibres by kind, each with its share of the hair.
    fibres: Vec<(f64, Spectrum)>,
    wished: Lab,
    /// Curvature of ΔE00² about the wished colour: ΔE00² ≈ dᵀ·metric·d for a small CIELAB difference d.
    metric: [[f64; 3]; 3],
}

/// Where a descent came to rest.
#[derive(Debug, Clone, Copy)]
pub(super) struct Rest {
    pub(super) loads: Loads,
    pub(super) colour: Lab,
    pub(super) misfit: f64,
}

impl Descent {
    pub(super) fn new(base: &Base, wished: Lab) -> Self {
        let white = base.white.to_fraction();
        let mut fibres = vec![(1.0 - white, base.pigment.absorption())];
        if white > 0.0 {
            fibres.push((white, base::white_absorption()));
        }
        Self { fibres, wished, metric: metric(wished) }
    }

    /// Loads of the allowed bands, all alike, that would darken neutral hair about as far as wished.
    pub(super) fn even_start(&self, allowed: [bool; BANDS]) -> Loads {
        let (_, bare) = self.reflectances(&Loads::default());
        let luminance = |xyz: Xyz| fibre::absorption_ratio((xyz.y / 100.0).clamp(1e-3, 1.0));
        let missing = luminance(cielab::to_xyz(self.wished)) - luminance(bare);
        let share = (missing.max(0.0) + 0.05) / allowed.iter().filter(|band| **band).count().max(1) as f64;
        Loads(allowed.map(|band| if band { share } else { 0.0 }))
    }

    /// Descends from a start along the allowed bands; gives up, and rests nowhere, when it slows down far outside `within`, a ΔE00.
    /// Where that is infinite it always comes to rest.
    pub(super) fn descend(&self, start: Loads, allowed: [bool; BANDS], within: f64) -> Option<Rest> {
        let (mut slopes, xyz) = self.reflectances(&start);
        let mut at = self.rest(start, xyz);
        let mut damping = 1e-3;
        for _ in 0..LONGEST {
            let before = at.misfit * at.misfit;
            if before < NOTHING {
                break;
            }
            let (gradient, curvature) = self.model(&at, &slopes, allowed);
            let free: [bool; BANDS] = std::array::from_fn(|i| allowed[i] && (at.loads.0[i] > 0.0 || gradient[i] < 0.0));
            let mut stepped = false;
            while damping < 1e8 {
                let step = damped_step(&gradient, &curvature, free, damping);
                let loads = Loads(std::array::from_fn(|i| (at.loads.0[i] + step[i]).max(0.0)));
                let (next_slopes, next_xyz) = self.reflectances(&loads);
                let next = self.rest(loads, next_xyz);
                if next.misfit < at.misfit {
                    (at, slopes, stepped) = (next, next_slopes, true);
                    damping = (damping * 0.1).max(1e-9);
                    break;
                }
                damping *= 8.0;
            }
            let gained = before - at.misfit * at.misfit;
            if !stepped || gained < 1e-6 * before {
                break;
            }
            if at.misfit > within + FAR_OUTSIDE && gained < SLOW * before {
                return None;
            }
        }
        Some(at)
    }

    fn rest(&self, loads: Loads, xyz: Xyz) -> Rest {
        let colour = cielab::from_xyz(xyz);
        Rest { loads, colour, misfit: ciede2000(self.wished, colour) }
    }

    /// dR/dq of the mixed fibres at each wavelength, and the colour of their mixed reflectance.
    fn reflectances(&self, loads: &Loads) -> (Spectrum, Xyz) {
        let dye = band::absorption(loads);
        let mut mixed = [0.0; SAMPLES];
        let mut slopes = [0.0; SAMPLES];
        for (share, own) in &self.fibres {
            for i in 0..SAMPLES {
                let q = own.0[i] + dye.0[i];
                let root = (q * (q + 2.0)).sqrt();
                let r = share / (1.0 + q + root);
                mixed[i] += r;
                slopes[i] -= r / root;
            }
        }
        (Spectrum(slopes), tristimulus::of_reflectance(&Spectrum(mixed)))
    }

    /// Half the gradient of ΔE00² by load, and its Gauss–Newton curvature; nothing of bands that are not allowed.
    fn model(&self, at: &Rest, slopes: &Spectrum, allowed: [bool; BANDS]) -> (Row, [Row; BANDS]) {
        let by_lab = self.gradient_by_lab(at);
        let columns = lab_by_load(at.colour, slopes, allowed);
        let dot = |one: [f64; 3], other: [f64; 3]| one[0] * other[0] + one[1] * other[1] + one[2] * other[2];
        let weighted = columns.map(|column| self.metric.map(|row| dot(row, column)));
        let gradient = columns.map(|column| dot(by_lab, column) / 2.0);
        (gradient, std::array::from_fn(|i| std::array::from_fn(|j| dot(columns[i], weighted[j]))))
    }

    /// How ΔE00² answers each CIELAB coordinate.
    fn gradient_by_lab(&self, at: &Rest) -> [f64; 3] {
        let (lab, square) = (at.colour, at.misfit * at.misfit);
        let quotient = |up: Lab| (ciede2000(self.wished, up).powi(2) - square) / STEP;
        [
            quotient(Lab { l: lab.l + STEP, ..lab }),
            quotient(Lab { a: lab.a + STEP, ..lab }),
            quotient(Lab { b: lab.b + STEP, ..lab }),
        ]
    }
}

/// How CIELAB answers each load that may change: XYZ is a sum over reflectances, so it answers a band as a reflectance of its own.
fn lab_by_load(lab: Lab, slopes: &Spectrum, allowed: [bool; BANDS]) -> [[f64; 3]; BANDS] {
    std::array::from_fn(|i| {
        if !allowed[i] {
            return [0.0; 3];
        }
        let mut answered = band::unit_bands()[i];
        for (value, slope) in answered.0.iter_mut().zip(&slopes.0) {
            *value *= slope;
        }
        cielab::slope_at(lab, tristimulus::of_reflectance(&answered))
    })
}

/// The quadratic form of ΔE00² about a colour.
fn metric(about: Lab) -> [[f64; 3]; 3] {
    let square = |d: [f64; 3]| ciede2000(about, Lab::new(about.l + d[0], about.a + d[1], about.b + d[2])).powi(2);
    let unit = |i: usize| std::array::from_fn::<f64, 3, _>(|k| if k == i { 0.1 } else { 0.0 });
    let both = |i: usize, j: usize| std::array::from_fn::<f64, 3, _>(|k| unit(i)[k] + unit(j)[k]);
    std::array::from_fn(|i| {
        std::array::from_fn(|j| match i == j {
            true => square(unit(i)) / 0.01,
            false => (square(both(i, j)) - square(unit(i)) - square(unit(j))) / 0.02,
        })
    })
}

/// The step of (H + μ·diag H)·δ = −g over the free loads, by Cholesky.
fn damped_step(gradient: &Row, curvature: &[Row; BANDS], free: [bool; BANDS], damping: f64) -> Row {
    let mut lower = [[0.0; BANDS]; BANDS];
    let mut step = [0.0; BANDS];
    for i in (0..BANDS).filter(|i| free[*i]) {
        for j in (0..=i).filter(|j| free[*j]) {
            let known: f64 = lower[i][..j].iter().zip(&lower[j][..j]).map(|(one, other)| one * other).sum();
            let sum = curvature[i][j] - known;
            lower[i][j] = match i == j {
                // A ridge keeps the root real when five loads answer to three coordinates.
                true => (sum + curvature[i][i] * damping + 1e-12).max(1e-12).sqrt(),
                false => sum / lower[j][j],
            };
        }
        let known: f64 = (0..i).map(|k| lower[i][k] * step[k]).sum();
        step[i] = (-gradient[i] - known) / lower[i][i];
    }
    for i in (0..BANDS).rev().filter(|i| free[*i]) {
        let known: f64 = (i + 1..BANDS).filter(|k| free[*k]).map(|k| lower[k][i] * step[k]).sum();
        step[i] = (step[i] - known) / lower[i][i];
    }
    step
}
