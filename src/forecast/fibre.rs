//! What a fibre went through: zones move outward as hair grows and are cut by a trim, lightening stays with the fibre.

use super::base::worked;
use crate::record::{Area, LighteningStep, Placement, PlacementKind, ServiceRecord, Shareable, Zone};
use crate::salon::Salon;
use crate::science::hair::growth;
use crate::units::{Days, Millimetres, MillimetresPerDay};

/// A stretch of hair that the latest visit lightened and an earlier one had lightened before.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Overlap {
    /// The placement of the latest visit, an index into its placements.
    pub placement: usize,
    /// Where the stretch begins, from the scalp, on the day of that visit.
    pub from: Millimetres,
    /// Where it ends.
    pub to: Millimetres,
    /// How often this fibre has been lightened, that visit included.
    pub times: u32,
}

impl Overlap {
    /// How long the stretch is, mm.
    #[must_use]
    pub fn length(&self) -> f64 {
        self.to.to_mm() - self.from.to_mm()
    }
}

/// A stretch from the scalp, mm.
type Stretch = (f64, f64);

/// The overlaps of lightening of the visit whose work is on the head now, placement by placement, from the scalp outward.
///
/// A stretch lightened earlier has moved outward by what grew since; what a trim cut off is gone. Where the record tells how often a zone was lightened before (`lightened_before`) and that is more than the visits on record, it counts.
#[must_use]
pub fn lightening_overlap(history: &Shareable, salon: &Salon) -> Vec<Overlap> {
    let Some((latest, before)) = worked(history).split_last() else { return Vec::new() };
    let rate = latest.hair.growth.unwrap_or(salon.practice.growth);
    let mut overlaps = Vec::new();
    for (index, placement) in latest.placements.iter().enumerate() {
        let earlier: Vec<Vec<Stretch>> = (0..before.len())
            .map(|at| {
                let same = before[at].placements.iter().filter(|other| same_hair(placement, other));
                same.flat_map(lightened)
                    .filter_map(|zone| moved(zone, &before[at], &before[at + 1..], latest, rate))
                    .collect()
            })
            .collect();
        for zone in lightened(placement) {
            for ((from, to), times) in stretches(zone, &earlier).into_iter().filter(|(_, times)| *times > 1) {
                let (from, to) = (Millimetres::from_mm(from), Millimetres::from_mm(to));
                push(&mut overlaps, Overlap { placement: index, from, to, times });
            }
        }
    }
    overlaps
}

/// Adds a stretch; where it goes on from the last one, as often lightened, the two are one.
fn push(overlaps: &mut Vec<Overlap>, next: Overlap) {
    match overlaps.last_mut() {
        Some(last) if (last.placement, last.to, last.times) == (next.placement, next.from, next.times) => {
            last.to = next.to;
        }
        _ => overlaps.push(next),
    }
}

/// The zones a placement lightened.
fn lightened(placement: &Placement) -> impl Iterator<Item = &Zone> {
    let by = |step: &LighteningStep, zone: &Zone| step.zones.is_empty() || step.zones.contains(&zone.name);
    placement.zones.iter().filter(move |zone| placement.lightening.iter().any(|step| by(step, zone)))
}

/// Whether two placements can have met the same hairs: the same technique on the same part, or one that takes every hair there.
fn same_hair(one: &Placement, other: &Placement) -> bool {
    let whole = |area: Option<Area>| area.is_none_or(|area| area == Area::Whole);
    let every = |placement: &Placement| matches!(placement.kind, PlacementKind::FullHead | PlacementKind::Regrowth);
    (one.area == other.area || whole(one.area) || whole(other.area))
        && (one.kind == other.kind || every(one) || every(other))
}

/// Where a zone of an earlier visit lies at the latest one; nothing when a trim took it.
fn moved(
    zone: &Zone,
    then: &ServiceRecord,
    between: &[ServiceRecord],
    latest: &ServiceRecord,
    rate: MillimetresPerDay,
) -> Option<Stretch> {
    let grown = |from: &ServiceRecord, to: &ServiceRecord| {
        Days::try_new((to.date - from.date).num_days() as f64).map_or(0.0, |days| growth::grown(rate, days).to_mm())
    };
    let (mut from, mut to) = (zone.from.to_mm(), zone.to.to_mm());
    let mut length = then.hair.length.map(Millimetres::to_mm);
    let mut last = then;
    for visit in between.iter().chain(std::iter::once(latest)) {
        let more = grown(last, visit);
        (from, to) = (from + more, to + more);
        let cut = visit.hair.trimmed.map_or(0.0, Millimetres::to_mm);
        // The hair as it is after that visit, when somebody measured it.
        length = visit.hair.length.map(Millimetres::to_mm).or(length.map(|length| (length + more - cut).max(0.0)));
        to = length.map_or(to, |length| to.min(length));
        last = visit;
    }
    (from < to).then_some((from, to.min(Millimetres::HIGH)))
}

/// A zone cut at every end of an earlier stretch, each piece with how often it was lightened; equal neighbours are one.
fn stretches(zone: &Zone, earlier: &[Vec<Stretch>]) -> Vec<(Stretch, u32)> {
    let (low, high) = (zone.from.to_mm(), zone.to.to_mm());
    let mut ends: Vec<f64> = earlier.iter().flatten().flat_map(|(from, to)| [*from, *to]).collect();
    ends.retain(|end| low < *end && *end < high);
    ends.extend([low, high]);
    ends.sort_by(f64::total_cmp);
    ends.dedup();
    let told = 1 + u32::from(zone.lightened_before.unwrap_or(0));
    let mut pieces: Vec<(Stretch, u32)> = Vec::new();
    for pair in ends.windows(2) {
        let middle = f64::midpoint(pair[0], pair[1]);
        let covers = |visit: &&Vec<Stretch>| visit.iter().any(|(from, to)| (*from..*to).contains(&middle));
        // At most one count a visit: a history has few.
        let times = (1 + earlier.iter().filter(covers).count() as u32).max(told);
        match pieces.last_mut().filter(|(_, last)| *last == times) {
            Some(((_, to), _)) => *to = pair[1],
            None => pieces.push(((pair[0], pair[1]), times)),
        }
    }
    pieces
}

impl super::ZoneForecast {
    /// Where this zone lies some days after the service: its hair grows outward from the scalp, mm.
    #[must_use]
    pub fn place_after(&self, days: Days, rate: MillimetresPerDay) -> (Millimetres, Millimetres) {
        let grown = growth::grown(rate, days).to_mm();
        let at = |place: Millimetres| Millimetres::from_mm((place.to_mm() + grown).min(Millimetres::HIGH));
        (at(self.from), at(self.to))
    }
}
