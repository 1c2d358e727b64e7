//! The hair under a zone's colour, read from this visit and, where it is silent, from the ones before.

use crate::record::{Placement, ServiceRecord, Shareable, ToningPass, Zone, ZoneName};
use crate::science::dye::class::DyeClass;
use crate::science::hair::base::{Base, Pigment};
use crate::science::hair::depth::NaturalDepth;
use crate::science::hair::growth;
use crate::science::hair::stage::LightenedStage;
use crate::science::parameter::{Parameter, Source};
use crate::units::{Days, Fraction, Millimetres, MillimetresPerDay};

/// How many natural depths an oxidative colour lifts, for each per cent of peroxide above the 3 % that only deposits.
pub(super) const LIFT_PER_PERCENT: Parameter = Parameter {
    name: "lift of an oxidative colour for each % of peroxide above 3 %",
    value: 1.0 / 3.0,
    low: 0.2,
    high: 0.45,
    unit: "depths/%",
    source: Source::CommonPractice,
};

/// The natural depth taken when nobody recorded one.
pub(super) const DEPTH_NOT_RECORDED: Parameter = Parameter {
    name: "natural depth when none is recorded",
    value: 5.0,
    low: 3.0,
    high: 8.0,
    unit: "depth",
    source: Source::Assumed("the middle of the scale; `check` asks for the real one"),
};

/// Peroxide that deposits without lifting, %. A label of the trade, not a measurement.
const DEPOSIT_ONLY: f64 = 3.0;

/// The base of a zone of the latest visit: lightened as recorded now, else as an earlier visit left this piece of fibre, else natural.
#[must_use]
pub fn zone_base(history: &Shareable, salon_growth: MillimetresPerDay, placement: &Placement, zone: &Zone) -> Base {
    base_at(worked(history), salon_growth, placement, zone)
}

/// The visits up to the one whose work is on the head now.
pub(super) fn worked(history: &Shareable) -> &[ServiceRecord] {
    let visits = history.visits();
    let last = visits.iter().rposition(|visit| !visit.placements.is_empty()).unwrap_or(visits.len() - 1);
    &visits[..=last]
}

/// The base of a zone of the last of these visits.
pub(super) fn base_at(
    visits: &[ServiceRecord],
    salon_growth: MillimetresPerDay,
    placement: &Placement,
    zone: &Zone,
) -> Base {
    let visit = visits.last().expect("a history holds at least one visit");
    let white = visit.hair.white.unwrap_or(Fraction::from_fraction(0.0));
    if let Some(stage) = zone.stage.or_else(|| inherited_stage(visits, salon_growth, placement, zone)) {
        return Base { pigment: Pigment::Lightened(stage), white };
    }
    let depth = visit.hair.natural_depth.map_or(DEPTH_NOT_RECORDED.value, NaturalDepth::value);
    let lifted = (depth + lift(placement, zone)).min(NaturalDepth::HIGH);
    let depth = NaturalDepth::try_new(lifted).expect("a recorded depth, raised and capped, stays on the scale");
    Base { pigment: Pigment::Natural(depth), white }
}

/// Depths by which the developer of the zone's permanent colour lifted it.
fn lift(placement: &Placement, zone: &Zone) -> f64 {
    let strongest = placement
        .toning
        .iter()
        .filter(|pass| pass.dye == DyeClass::Permanent && covers(pass, zone.name))
        .filter_map(|pass| pass.developer)
        .map(|strength| strength.to_percent())
        .fold(0.0, f64::max);
    (strongest - DEPOSIT_ONLY).max(0.0) * LIFT_PER_PERCENT.value
}

/// Whether a toning pass covered a zone.
pub(super) fn covers(pass: &ToningPass, zone: ZoneName) -> bool {
    pass.zones.is_empty() || pass.zones.contains(&zone)
}

/// The stage an earlier visit recorded for the fibre that now lies in the middle of a zone.
///
/// Going back in time the fibre moves toward the scalp by its growth; a trim takes length off the far end and moves nothing.
fn inherited_stage(
    visits: &[ServiceRecord],
    salon_growth: MillimetresPerDay,
    placement: &Placement,
    zone: &Zone,
) -> Option<LightenedStage> {
    let (latest, before) = visits.split_last()?;
    let middle = f64::midpoint(zone.from.to_mm(), zone.to.to_mm());
    let rate = latest.hair.growth.unwrap_or(salon_growth);
    before.iter().rev().find_map(|earlier| {
        let days = Days::try_new((latest.date - earlier.date).num_days() as f64)?;
        let then = middle - growth::grown(rate, days).to_mm();
        if then < 0.0 {
            return None;
        }
        stage_at(earlier, placement, Millimetres::try_new(then)?)
    })
}

/// The stage a visit recorded at a distance from the scalp, in the placement most like the one asked for.
fn stage_at(visit: &ServiceRecord, like: &Placement, at: Millimetres) -> Option<LightenedStage> {
    let found = |placement: &Placement| {
        placement.zones.iter().find(|zone| zone.from <= at && at <= zone.to).and_then(|zone| zone.stage)
    };
    let same = visit.placements.iter().filter(|placement| placement.kind == like.kind && placement.area == like.area);
    same.chain(visit.placements.iter()).find_map(found)
}
