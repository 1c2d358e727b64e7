//! Learning a client's rate from what is seen on return.
//!
//! | law | what it says |
//! |---|---|
//! | [`Observation`] | what share a zone should have kept, at each rate |
//! | [`Evidence`] | how well one visit fits each rate |
//! | [`Belief`] | which rates are believed, before and after |
//!
//! In: share left as a tapped step or a number, the dose since, the law of the zone. Out: a [`RateDistribution`] for the next visit. Knows nothing of: dates, files.
//!
//! Everything lives on one fixed grid of ln rate, so that the same returns give the same bytes on any machine.

use super::probability::student_cdf;
use super::rate::RateDistribution;
use super::uncertainty::normal_quantile;
use crate::science::parameter::Parameter;
use crate::units::{Fraction, Interval};

/// Points of the grid of ln rate.
pub const POINTS: usize = 161;
/// Its ends: a rate from an eleventh to eleven times the usual.
const REACH: f64 = 2.4;
/// Its step.
const STEP: f64 = 2.0 * REACH / (POINTS - 1) as f64;
/// A share is computed at every so-manieth point and read between them: it is smooth.
const STRIDE: usize = 4;

/// Noise of a share judged by eye: the scale of its Student-t as [`perceived`].
pub const SHARE_NOISE: Parameter = Parameter::assumed(
    "noise of a share judged on return",
    0.35,
    0.20,
    0.60,
    "logit",
    "a share of one half is then told as 0.42 to 0.58 two times in three; nobody measured how well stylists judge it",
);
/// A share this small is hardly told from none, and one this near the whole hardly from all.
pub const EYE_FLOOR: Parameter = Parameter::assumed(
    "share of the colour that an eye hardly tells from none",
    0.05,
    0.02,
    0.10,
    "1",
    "a twentieth of a usual pastel is about one ΔE00, less than one tress differs from itself when measured again",
);
/// A share given as one number stands for this much either side.
pub const POINT_HALF_WIDTH: Parameter =
    Parameter::common_practice("half width of a share given as one number", 0.025, 0.01, 0.05, "1");
/// Spread of counted washes.
pub const COUNT: Parameter = Parameter::assumed(
    "spread of the rate from washes counted on return",
    0.10,
    0.03,
    0.25,
    "σ of ln rate",
    "one wash in ten miscounted over a month",
);
/// More scatter of a visit between which a colour conditioner was used.
pub const CONDITIONER: Parameter = Parameter::assumed(
    "spread of the rate when a colour conditioner was used",
    0.20,
    0.05,
    0.40,
    "σ of ln rate",
    "it adds colour, how much each time is not known",
);
/// Probability below which an observation is told as wild, at either end.
pub const WILD: Parameter = Parameter::assumed(
    "probability below which an observation is told as wild",
    0.01,
    0.002,
    0.03,
    "1",
    "one return in fifty is then looked at twice without cause",
);

/// Every number of this module.
pub const PARAMETERS: &[&Parameter] = &[&SHARE_NOISE, &EYE_FLOOR, &POINT_HALF_WIDTH, &COUNT, &CONDITIONER, &WILD];

/// ln rate of a point of the grid.
#[must_use]
pub fn ln_rate(point: usize) -> f64 {
    -REACH + STEP * point as f64
}

/// A share on the scale on which an eye errs evenly.
///
/// ```text
/// g(s) = ln( (s + ε) / (1 − s + ε) )
/// ```
///
/// | symbol | meaning | unit | range |
/// |---|---|---|---|
/// | `s` | share left | 1 | 0 to 1 |
/// | `ε` | [`EYE_FLOOR`] | 1 | > 0 |
///
/// The logit, bounded at both ends: one part in a thousand and one in a hundred look alike.
///
/// # Validity
/// For an eye that compares with the fresh colour and the bare base; an instrument would err otherwise.
///
/// # Uncertainty
/// The range of ε, which matters only for the steps at either end.
///
/// # Source
/// Chosen here.
#[must_use]
pub fn perceived(share: f64) -> f64 {
    ((share + EYE_FLOOR.value) / (1.0 - share + EYE_FLOOR.value)).ln()
}

/// What was seen of one zone, beside what each rate would have left.
#[derive(Debug, Clone, PartialEq)]
pub struct Observation {
    /// The share expected at each rate, as perceived.
    expected: [f64; POINTS],
    /// The ends of the share seen, as perceived; infinite where the step has no end.
    seen: (f64, f64),
}

impl Observation {
    /// An observation: the share the law leaves at a rate, and the share seen.
    ///
    /// A tapped step is its interval. A share given as one number is that number with [`POINT_HALF_WIDTH`] either side.
    /// A step that begins at nothing, or ends at everything, is open on that side.
    #[must_use]
    pub fn new(share_at: impl Fn(f64) -> f64, left: Interval<Fraction>) -> Self {
        let mut expected = [0.0; POINTS];
        for point in (0..POINTS).step_by(STRIDE) {
            expected[point] = perceived(share_at(ln_rate(point).exp()));
        }
        for point in 0..POINTS {
            let (before, part) = (point / STRIDE * STRIDE, (point % STRIDE) as f64 / STRIDE as f64);
            if point != before {
                expected[point] = expected[before] * (1.0 - part) + expected[before + STRIDE] * part;
            }
        }
        let (mut low, mut high) = (left.low.to_fraction(), left.high.to_fraction());
        if high - low < 2.0 * POINT_HALF_WIDTH.value {
            let middle = f64::midpoint(low, high);
            (low, high) = (middle - POINT_HALF_WIDTH.value, middle + POINT_HALF_WIDTH.value);
        }
        let low = if low <= 0.0 { f64::NEG_INFINITY } else { perceived(low) };
        let high = if high >= 1.0 { f64::INFINITY } else { perceived(high) };
        Self { expected, seen: (low, high) }
    }

    /// Probability of seeing at most the upper end, and at most the lower end, at a point of the grid.
    fn below(&self, point: usize) -> (f64, f64) {
        let at = |end: f64| student_cdf((end - self.expected[point]) / SHARE_NOISE.value);
        (at(self.seen.1), at(self.seen.0))
    }
}

/// How well what was seen at one visit fits each rate of the client.
#[derive(Debug, Clone, PartialEq)]
pub struct Evidence {
    likelihood: [f64; POINTS],
    at_most: [f64; POINTS],
    at_least: [f64; POINTS],
}

impl Evidence {
    /// The evidence of one visit; nothing when no zone was seen.
    ///
    /// ```text
    /// ℓ(x) = exp( 1/n · Σ ln[ T₄((g(b) − g(sᵢ(x)))/ν) − T₄((g(a) − g(sᵢ(x)))/ν) ] )
    /// L(λ) = ∫ ℓ(x) · N(x; λ, σ) dx
    /// ```
    ///
    /// | symbol | meaning | unit |
    /// |---|---|---|
    /// | `a`, `b` | ends of the share seen | 1 |
    /// | `sᵢ(x)` | share zone i keeps at ln rate x over the dose counted | 1 |
    /// | `g` | a share as [`perceived`] | 1 |
    /// | `T₄`, `ν` | Student-t with four degrees of freedom, its scale [`SHARE_NOISE`] | 1 |
    /// | `σ` | scatter of one visit about the client's own rate | 1 |
    /// | `λ` | ln rate of the client | 1 |
    ///
    /// # Validity
    /// Zones of one visit share the washes, the light they were seen in and the eye that judged them, so they are no independent witnesses: they count together as one, by the mean of their logarithms.
    ///
    /// # Uncertainty
    /// The scale of the eye's error and the scatter of a visit are assumed: [`PARAMETERS`].
    ///
    /// # Source
    /// Chosen here: a rate for the client, scatter for the visit, heavy tails for the eye.
    #[must_use]
    pub fn of_visit(zones: &[Observation], scatter: f64) -> Option<Self> {
        if zones.is_empty() {
            return None;
        }
        let n = zones.len() as f64;
        let (mut seen, mut most, mut least) = ([0.0; POINTS], [0.0; POINTS], [0.0; POINTS]);
        for point in 0..POINTS {
            let mut ln = 0.0;
            for zone in zones {
                let (high, low) = zone.below(point);
                ln += (high - low).max(f64::MIN_POSITIVE).ln() / n;
                most[point] += high / n;
                least[point] += (1.0 - low) / n;
            }
            seen[point] = ln.exp();
        }
        let kernel = Kernel::new(scatter);
        let through = |values: &[f64; POINTS]| kernel.through(values);
        Some(Self { likelihood: through(&seen), at_most: through(&most), at_least: through(&least) })
    }

    /// The likelihood at each point of the grid.
    #[must_use]
    pub const fn likelihood(&self) -> &[f64; POINTS] {
        &self.likelihood
    }

    /// How likely something at least as far out was, given what was believed without it: the smaller of both ends.
    #[must_use]
    pub fn surprise(&self, without: &Belief) -> f64 {
        without.mean_of(&self.at_most).min(without.mean_of(&self.at_least))
    }
}

/// What is believed of a client's ln rate: a probability for each point of the grid.
#[derive(Debug, Clone, PartialEq)]
pub struct Belief([f64; POINTS]);

impl Belief {
    /// The belief before any return: ln rate is normal about a centre.
    ///
    /// # Panics
    /// When the spread is not above zero.
    #[must_use]
    pub fn prior(centre: f64, sigma: f64) -> Self {
        assert!(sigma > 0.0, "nobody is certain of a rate");
        Self::normalised(std::array::from_fn(|point| -((ln_rate(point) - centre) / sigma).powi(2) / 2.0))
    }

    /// The belief after one more visit: prior times likelihood.
    #[must_use]
    pub fn after(&self, evidence: &Evidence) -> Self {
        let ln = |value: f64| value.max(f64::MIN_POSITIVE).ln();
        Self::normalised(std::array::from_fn(|point| ln(self.0[point]) + ln(evidence.likelihood[point])))
    }

    /// From logarithms, whatever their sum.
    fn normalised(ln: [f64; POINTS]) -> Self {
        let most = ln.iter().copied().fold(f64::NEG_INFINITY, f64::max);
        let raw = ln.map(|value| (value - most).exp());
        let sum: f64 = raw.iter().sum();
        Self(raw.map(|value| value / sum))
    }

    fn mean_of(&self, values: &[f64; POINTS]) -> f64 {
        self.0.iter().zip(values).map(|(weight, value)| weight * value).sum()
    }

    /// The mean of ln rate.
    #[must_use]
    pub fn mean(&self) -> f64 {
        self.mean_of(&std::array::from_fn(ln_rate))
    }

    /// The standard deviation of ln rate.
    #[must_use]
    pub fn sd(&self) -> f64 {
        let mean = self.mean();
        self.mean_of(&std::array::from_fn(|point| (ln_rate(point) - mean).powi(2))).sqrt()
    }

    /// The rate of the next visit: the client's own rate with the scatter of one visit about it.
    ///
    /// The mixture's distribution function is summed on the grid and read back between its points on the scale of normal quantiles, on which a normal distribution is a straight line.
    #[must_use]
    pub fn next_visit(&self, scatter: f64) -> RateDistribution {
        let kernel = Kernel::new(scatter);
        let (means, mut below) = (kernel.through(&self.0), 0.0);
        // (normal quantile, ln rate) of the edges between the points.
        let mut edges: Vec<(f64, f64)> = Vec::with_capacity(POINTS);
        for (point, mean) in means.into_iter().enumerate() {
            below += mean;
            let z = if below > 1e-12 && below < 1.0 - 1e-12 { normal_quantile(below) } else { continue };
            if edges.last().is_none_or(|(last, _)| z > *last) {
                edges.push((z, ln_rate(point) + STEP / 2.0));
            }
        }
        RateDistribution::through(|z| read_between(&edges, z))
    }
}

/// The value at a place between known ones; beyond the last two on either side, along their line.
fn read_between(known: &[(f64, f64)], at: f64) -> f64 {
    assert!(known.len() > 1, "a belief covers more than one step of its grid");
    let above = known.partition_point(|(place, _)| *place < at).clamp(1, known.len() - 1);
    let ((x0, y0), (x1, y1)) = (known[above - 1], known[above]);
    y0 + (y1 - y0) * (at - x0) / (x1 - x0)
}

/// A normal distribution on the grid, about any of its points.
struct Kernel(Vec<f64>);

impl Kernel {
    /// Weights from the middle outward, five σ far.
    ///
    /// A spread of less than a step is widened to one: a narrower one would fall between the points.
    fn new(sigma: f64) -> Self {
        let sigma = sigma.max(STEP);
        let far = ((5.0 * sigma / STEP).ceil() as usize).min(POINTS - 1);
        let raw: Vec<f64> = (0..=far).map(|off| (-(off as f64 * STEP / sigma).powi(2) / 2.0).exp()).collect();
        let sum = raw[0] + 2.0 * raw[1..].iter().sum::<f64>();
        Self(raw.into_iter().map(|weight| weight / sum).collect())
    }

    /// The mean of values about each point; past an end of the grid its last value stands.
    fn through(&self, values: &[f64; POINTS]) -> [f64; POINTS] {
        let far = self.0.len() - 1;
        let before = std::iter::repeat_n(values[0], far);
        let beyond = std::iter::repeat_n(values[POINTS - 1], far);
        let padded: Vec<f64> = before.chain(values.iter().copied()).chain(beyond).collect();
        let mut beside = [0.0; POINTS];
        // Weight by weight over all points, not point by point: a processor then adds several at once.
        for (off, weight) in self.0.iter().enumerate().skip(1) {
            let (left, right) = (&padded[far - off..], &padded[far + off..]);
            for ((sum, left), right) in beside.iter_mut().zip(left).zip(right) {
                *sum += weight * (left + right);
            }
        }
        std::array::from_fn(|point| self.0[0] * values[point] + beside[point])
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn seen(low: f64, high: f64) -> Interval<Fraction> {
        Interval { low: Fraction::from_fraction(low), high: Fraction::from_fraction(high) }
    }

    /// One pool: after a dose of one time constant at the usual rate.
    fn one_pool(rate: f64) -> f64 {
        (-rate).exp()
    }

    fn evidence(low: f64, high: f64) -> Evidence {
        Evidence::of_visit(&[Observation::new(one_pool, seen(low, high))], 0.15).expect("a zone was seen")
    }

    #[test]
    fn a_belief_without_returns_is_the_log_normal_it_began_as() {
        // Second way: the sum of two independent normal variables, textbook.
        let (level, visit) = (0.32, 0.2);
        let learned = Belief::prior(0.1, level).next_visit(visit);
        let plain = RateDistribution::log_normal(0.1, f64::hypot(level, visit));
        for p in [0.02, 0.1, 0.3, 0.5, 0.8, 0.9, 0.98] {
            assert!((learned.quantile(p) / plain.quantile(p) - 1.0).abs() < 2e-3, "{p}");
        }
        assert!((learned.median() / plain.median() - 1.0).abs() < 2e-3);
    }

    #[test]
    fn seeing_less_left_than_expected_makes_the_rate_higher_and_surer() {
        let prior = Belief::prior(0.0, 0.32);
        let after = prior.after(&evidence(0.1, 0.2));
        assert!(after.mean() > prior.mean() + 0.1 && after.sd() < prior.sd());
        let other = prior.after(&evidence(0.55, 0.65));
        assert!(other.mean() < prior.mean() - 0.05);
    }

    #[test]
    fn seeing_just_what_was_expected_moves_little() {
        let share = one_pool(1.0);
        let after = Belief::prior(0.0, 0.32).after(&evidence(share - 0.05, share + 0.05));
        assert!(after.mean().abs() < 0.03, "{}", after.mean());
    }

    #[test]
    fn a_wild_observation_moves_less_than_a_believable_one() {
        let learned = (0..3).fold(Belief::prior(0.0, 0.32), |belief, _| belief.after(&evidence(0.3, 0.4)));
        let wild = evidence(0.95, 1.0);
        let odd = evidence(0.55, 0.65);
        assert!(wild.surprise(&learned) < WILD.value, "{}", wild.surprise(&learned));
        assert!(odd.surprise(&learned) > WILD.value);
        let moved = |by: &Evidence| (learned.after(by).mean() - learned.mean()).abs();
        assert!(moved(&wild) < 1.5 * moved(&odd), "{} {}", moved(&wild), moved(&odd));
    }

    #[test]
    fn two_zones_of_one_visit_that_say_the_same_count_as_one() {
        let zone = Observation::new(one_pool, seen(0.1, 0.2));
        let one = Evidence::of_visit(std::slice::from_ref(&zone), 0.15);
        let two = Evidence::of_visit(&[zone.clone(), zone], 0.15);
        let (one, two) = (one.expect("seen"), two.expect("seen"));
        for (one, two) in one.likelihood().iter().zip(two.likelihood()) {
            assert!((one - two).abs() < 1e-12);
        }
        assert_eq!(Evidence::of_visit(&[], 0.15), None);
    }

    #[test]
    fn every_share_can_be_seen_even_none_and_all() {
        for (low, high) in [(0.0, 0.0), (1.0, 1.0), (0.0, 0.1), (0.9, 1.0), (0.0, 1.0)] {
            let after = Belief::prior(0.0, 0.5).after(&evidence(low, high));
            assert!(after.mean().is_finite() && after.sd() > 0.0, "{low} {high}");
        }
        // A step that holds every share says nothing.
        let blind = Belief::prior(0.2, 0.3).after(&evidence(0.0, 1.0));
        assert!((blind.mean() - 0.2).abs() < 1e-9);
    }
}
