//! What a salon's clients have in common: the shift of the usual rate, and how far clients differ about it.
//!
//! In: every client's evidence for one dye class. Out: a [`ClassEstimate`]. Knows nothing of: where it is stored, and when it is made.
//!
//! The water of a town, the products on the shelf and the hands of a team move every client of a salon alike. The estimate finds that from all returns together, so that a new client's first forecast begins where the salon's clients are.

use super::learning::{Evidence, POINTS, ln_rate};
use super::uncertainty::ClassSpread;
use crate::science::parameter::Parameter;

/// How far the spread between a salon's clients may differ from the published one.
pub const SPREAD_DOUBT: Parameter = Parameter::assumed(
    "doubt about the spread between clients of one salon",
    0.35,
    0.15,
    0.70,
    "σ of ln spread",
    "the spread between clients is assumed to within a factor of about one and a half",
);

/// Every number of this module.
pub const PARAMETERS: &[&Parameter] = &[&SPREAD_DOUBT];

/// What a salon knows of one dye class: the prior of a client without returns.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ClassEstimate {
    /// Shift of ln rate against the published rate.
    pub shift: f64,
    /// σ of a client's ln rate about it.
    pub sd: f64,
    /// Returns it stands on.
    pub returns: u32,
}

/// Spreads tried, as standard deviations of ln spread about the published one.
const SPREADS: [f64; 7] = [-2.0, -1.25, -0.6, 0.0, 0.6, 1.25, 2.0];

/// The estimate of one class; nothing without returns.
///
/// ```text
/// λᵢ ~ N(m, τ²)      m ~ N(0, σ_class²)      ln τ ~ N(ln τ₀, 0.35²)
/// p(m, τ | all) ∝ p(m)·p(τ)·Πᵢ ∫ Lᵢ(λ)·N(λ; m, τ²) dλ
/// shift = E[m]      sd² = E[τ²] + Var[m]
/// ```
///
/// | symbol | meaning |
/// |---|---|
/// | `λᵢ` | ln rate of client i |
/// | `m` | what the salon's clients have in common |
/// | `τ`, `τ₀` | spread between clients, and the one assumed for all salons |
/// | `σ_class` | doubt about the class itself: the published range of washes |
/// | `Lᵢ` | product of client i's evidence |
///
/// This is empirical Bayes with a prior on both unknowns: few returns leave both where the sources put them, many follow the salon. It begins from the published prior each time, so that making it twice gives the same.
///
/// # Validity
/// Clients of one salon and one class, as if drawn from one normal distribution of ln rate.
///
/// # Uncertainty
/// `sd` of the result; how far the spread itself is in doubt is [`SPREAD_DOUBT`].
///
/// # Source
/// The normal hierarchical model, textbook; the grid is chosen here.
#[must_use]
pub fn estimate(spread: ClassSpread, clients: &[Vec<&Evidence>]) -> Option<ClassEstimate> {
    let likelihoods: Vec<[f64; POINTS]> =
        clients.iter().filter(|visits| !visits.is_empty()).map(|visits| product(visits)).collect();
    if likelihoods.is_empty() {
        return None;
    }
    let mut cells: Vec<(f64, f64, f64)> = Vec::with_capacity(POINTS * SPREADS.len());
    for doubt in SPREADS {
        let tau = spread.clients * (doubt * SPREAD_DOUBT.value).exp();
        let off: Vec<f64> =
            (0..POINTS).map(|apart| (-((ln_rate(apart) - ln_rate(0)) / tau).powi(2) / 2.0).exp() / tau).collect();
        for point in 0..POINTS {
            let m = ln_rate(point);
            let prior = -(m / spread.class).powi(2) / 2.0 - doubt * doubt / 2.0;
            let all: f64 = likelihoods
                .iter()
                .map(|one| {
                    let sum: f64 = one.iter().enumerate().map(|(at, value)| value * off[at.abs_diff(point)]).sum();
                    sum.max(f64::MIN_POSITIVE).ln()
                })
                .sum();
            cells.push((prior + all, m, tau));
        }
    }
    let most = cells.iter().map(|cell| cell.0).fold(f64::NEG_INFINITY, f64::max);
    let weights: Vec<f64> = cells.iter().map(|cell| (cell.0 - most).exp()).collect();
    let total: f64 = weights.iter().sum();
    let mean = |of: &dyn Fn(f64, f64) -> f64| {
        cells.iter().zip(&weights).map(|((_, m, tau), weight)| weight * of(*m, *tau)).sum::<f64>() / total
    };
    let shift = mean(&|m, _| m);
    let variance = mean(&|m, tau| tau * tau + (m - shift).powi(2));
    let returns = clients.iter().map(Vec::len).sum::<usize>();
    Some(ClassEstimate { shift, sd: variance.sqrt(), returns: u32::try_from(returns).unwrap_or(u32::MAX) })
}

/// The product of one client's evidence, its greatest value 1.
fn product(visits: &[&Evidence]) -> [f64; POINTS] {
    let ln: [f64; POINTS] = std::array::from_fn(|point| {
        visits.iter().map(|evidence| evidence.likelihood()[point].max(f64::MIN_POSITIVE).ln()).sum()
    });
    let most = ln.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    ln.map(|value| (value - most).exp())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::science::dye::class::DyeClass;
    use crate::science::fade::learning::Observation;
    use crate::science::fade::uncertainty::class_spread;
    use crate::units::{Fraction, Interval};

    /// A client whose hair kept what one pool keeps at a rate.
    fn client(rate: f64) -> Evidence {
        let left = Interval::exactly(Fraction::from_fraction((-rate).exp()));
        Evidence::of_visit(&[Observation::new(|rate| (-rate).exp(), left)], 0.15).expect("a zone was seen")
    }

    fn of(rates: &[f64]) -> ClassEstimate {
        let clients: Vec<Evidence> = rates.iter().map(|rate| client(*rate)).collect();
        let clients: Vec<Vec<&Evidence>> = clients.iter().map(|one| vec![one]).collect();
        estimate(class_spread(DyeClass::Direct), &clients).expect("there are returns")
    }

    #[test]
    fn many_clients_who_fade_faster_shift_the_usual_rate_and_one_hardly_does() {
        let many = of(&[1.5; 40]);
        assert!((many.shift - 1.5_f64.ln()).abs() < 0.08, "{many:?}");
        let one = of(&[1.5]);
        assert!(one.shift > 0.0 && one.shift < 0.6 * many.shift, "{one:?}");
        assert_eq!((many.returns, one.returns), (40, 1));
        assert_eq!(estimate(class_spread(DyeClass::Direct), &[]), None);
    }

    #[test]
    fn what_is_known_of_the_salon_narrows_the_prior() {
        let spread = class_spread(DyeClass::Direct);
        let many = of(&[0.9; 40]);
        assert!(many.sd < spread.level(), "{many:?}");
        let scattered: Vec<f64> = (0..40).map(|i| if i % 2 == 0 { 0.6 } else { 1.7 }).collect();
        assert!(of(&scattered).sd > many.sd);
    }
}
