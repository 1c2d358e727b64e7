//! Where two zones meet: how even they are over time, and when an edge becomes noticeable.

use super::curve::Curve;
use super::milestone::{Dose, first_below};
use super::{Clock, Milestone, ZoneForecast};
use crate::science::colour::grey_scale;
use crate::science::parameter::{Parameter, Source};
use crate::units::Washes;

/// The grey-scale rating between neighbours at which an edge is noticeable.
pub(super) const NOTICEABLE: Parameter = Parameter {
    name: "grey-scale rating between neighbouring zones at which an edge is noticeable",
    value: 4.0,
    low: 3.5,
    high: 4.5,
    unit: "grey-scale rating",
    source: Source::Published(&crate::science::bibliography::ISO_105_A02),
};

/// The edge between two neighbouring zones of one placement.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Edge {
    /// The zone nearer the scalp, an index into the forecast's zones.
    pub nearer: usize,
    /// The one beyond it.
    pub farther: usize,
    /// Grey-scale rating of one against the other on the day of the service, 5 alike to 1.
    pub fresh: f64,
    /// When they differ by the rating at which an edge is noticeable; nothing when they never do, or did so when fresh.
    pub noticeable: Option<Milestone>,
}

impl Edge {
    /// Whether the zones were told apart from the first day: a melt, a shadow at the roots, or a band that took less.
    #[must_use]
    pub fn from_the_start(&self) -> bool {
        self.fresh <= NOTICEABLE.value
    }

    /// The rating of one zone against the other after a dose.
    #[must_use]
    pub fn rating_after(&self, zones: &[ZoneForecast], dose: Washes) -> f64 {
        rating(&zones[self.nearer], &zones[self.farther], dose)
    }
}

fn rating(one: &ZoneForecast, other: &ZoneForecast, dose: Washes) -> f64 {
    grey_scale::rating(one.colour_after(dose), other.colour_after(dose))
}

/// Every edge, in the order of the zones.
pub(super) fn edges(curves: &[Curve<'_>], clock: &Clock) -> Vec<Edge> {
    let zones: Vec<&ZoneForecast> = curves.iter().map(|curve| curve.zone).collect();
    let mut edges = Vec::new();
    for (nearer, one) in zones.iter().enumerate() {
        // The next zone outward in the same placement; the record's zones may leave a gap and may be in any order.
        let beyond = (0..zones.len())
            .filter(|other| zones[*other].placement == one.placement && zones[*other].from >= one.to)
            .min_by(|a, b| zones[*a].from.to_mm().total_cmp(&zones[*b].from.to_mm()));
        if let Some(farther) = beyond.filter(|farther| zones[*farther].from <= one.to) {
            edges.push(edge(curves, nearer, farther, clock));
        }
    }
    edges
}

fn edge(curves: &[Curve<'_>], nearer: usize, farther: usize, clock: &Clock) -> Edge {
    let (one, other) = (&curves[nearer], &curves[farther]);
    let rating = |dose: Dose| grey_scale::rating(one.colour(dose), other.colour(dose));
    let mut edge = Edge { nearer, farther, fresh: rating(Dose::of_grid(0)), noticeable: None };
    if !edge.from_the_start() {
        let dose = first_below(rating, NOTICEABLE.value);
        edge.noticeable = dose.map(|dose| Milestone::at(dose, &one.zone.rate, clock));
    }
    edge
}

/// The earliest of the edges that were even when fresh.
pub(super) fn first(edges: &[Edge]) -> Option<Milestone> {
    edges
        .iter()
        .filter_map(|edge| edge.noticeable)
        .min_by(|one, other| one.dose.to_washes().total_cmp(&other.dose.to_washes()))
}
