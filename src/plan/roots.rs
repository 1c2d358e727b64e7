//! When new growth needs a visit, by technique.

use chrono::NaiveDate;

use super::window::{Window, day_after, within};
use crate::forecast::zone_base;
use crate::record::{PlacementKind, ServiceRecord, Shareable};
use crate::salon::{Salon, WeekRange};
use crate::science::colour::delta_e::ciede2000;
use crate::science::dye::band::{Loads, absorption};
use crate::science::dye::class::DyeClass;
use crate::science::hair::base::{Base, Pigment};
use crate::science::hair::growth;
use crate::science::parameter::{Parameter, Source};
use crate::units::{Days, Fraction, Millimetres, MillimetresPerDay};

/// Contrast of new growth against the colour above which it is seen early.
pub(super) const HIGH_CONTRAST: Parameter = Parameter {
    name: "contrast at the parting from which tint roots are due at the early end",
    value: 20.0,
    low: 12.0,
    high: 30.0,
    unit: "ΔE00",
    source: Source::Assumed("set by eye between depth-on-depth and dark-on-light partings"),
};

/// Share of white hair from which roots are timed as white cover.
pub(super) const WHITE_COVER: Parameter = Parameter {
    name: "share of white hair from which roots are white cover",
    value: 0.25,
    low: 0.15,
    high: 0.4,
    unit: "1",
    source: Source::CommonPractice,
};

/// A roots visit.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Roots {
    /// When.
    pub window: Window,
    /// Why then.
    pub reason: RootsReason,
    /// New growth expected on the best day, counted from what was left untouched.
    pub regrowth: Millimetres,
    /// New growth will be over the limit even on the best day: two-stage application, extra time.
    pub two_stage: bool,
}

/// Why a roots visit is due when it is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum RootsReason {
    /// On-scalp lightener: before growth leaves the warm zone by the scalp.
    ScalpLightener,
    /// Tint: contrast at the parting.
    Tint,
    /// White hair at the parting.
    WhiteCover,
    /// Foils.
    Foils,
    /// Freehand.
    Freehand,
}

/// The roots visit after the latest visit, from the last visit that treated the roots; nothing when none did.
pub(super) fn roots(history: &Shareable, salon: &Salon) -> Option<Roots> {
    let (treated, reason) = history.visits().iter().rev().find_map(|visit| Some((visit, technique(visit)?)))?;
    let latest = history.latest();
    let rate = latest.hair.growth.unwrap_or(salon.practice.growth);
    // What is on the head today counts from the latest visit when it was measured there, else from the treatment.
    let (since, start) = match latest.hair.regrowth {
        Some(seen) if latest.date > treated.date => (latest.date, seen.to_mm()),
        _ => (treated.date, treated.hair.left_untouched.map_or(0.0, Millimetres::to_mm)),
    };
    let grown_by = |day: NaiveDate| start + grown(rate, since, day);
    let practice = &salon.practice;
    let weeks = match reason {
        RootsReason::ScalpLightener => practice.scalp_retouch_weeks,
        RootsReason::Foils => practice.foils_weeks,
        RootsReason::Freehand => practice.freehand_weeks,
        RootsReason::Tint | RootsReason::WhiteCover => practice.tint_roots_weeks,
    };
    let mut window = weeks_after(treated.date, weeks)?;
    match reason {
        RootsReason::ScalpLightener => {
            let limit = day_after(since, days_to_grow(rate, practice.regrowth_stop_mm - start))?;
            window.latest = window.latest.min(limit).max(latest.date.succ_opt()?);
        }
        RootsReason::Tint if contrast(history, salon, treated) >= HIGH_CONTRAST.value => {
            window.best = window.earliest;
        }
        _ => {}
    }
    let window = within(window, latest.date)?;
    let regrowth = grown_by(window.best);
    Some(Roots {
        window,
        reason,
        regrowth: Millimetres::try_new(regrowth)?,
        two_stage: reason == RootsReason::ScalpLightener && regrowth > practice.regrowth_stop_mm,
    })
}

/// What a visit did to the roots.
fn technique(visit: &ServiceRecord) -> Option<RootsReason> {
    let lightened_on_scalp = |placement: &crate::record::Placement| {
        let reaches_scalp = matches!(placement.kind, PlacementKind::FullHead | PlacementKind::Regrowth);
        placement.lightening.iter().any(|step| step.on_scalp.unwrap_or(reaches_scalp))
    };
    let tinted_roots = |placement: &crate::record::Placement| {
        let from_scalp = placement.zones.iter().any(|zone| zone.from.to_mm() < 5.0);
        from_scalp && placement.toning.iter().any(|pass| pass.dye == DyeClass::Permanent)
    };
    let did = |kind: PlacementKind| {
        visit.placements.iter().any(|placement| placement.kind == kind && !placement.lightening.is_empty())
    };
    if visit.placements.iter().any(lightened_on_scalp) {
        Some(RootsReason::ScalpLightener)
    } else if visit.placements.iter().any(tinted_roots) {
        let white = visit.hair.white.map_or(0.0, Fraction::to_fraction);
        Some(if white >= WHITE_COVER.value { RootsReason::WhiteCover } else { RootsReason::Tint })
    } else if did(PlacementKind::Foils) {
        Some(RootsReason::Foils)
    } else if did(PlacementKind::Freehand) || did(PlacementKind::FaceFrame) || did(PlacementKind::Panel) {
        Some(RootsReason::Freehand)
    } else {
        None
    }
}

/// Contrast between the natural hair growing in and the colour at the roots of a visit.
fn contrast(history: &Shareable, salon: &Salon, visit: &ServiceRecord) -> f64 {
    let Some(depth) = visit.hair.natural_depth else { return 0.0 };
    let bare = absorption(&Loads::default());
    let white = visit.hair.white.unwrap_or(Fraction::from_fraction(0.0));
    let natural = Base { pigment: Pigment::Natural(depth), white }.colour_under(&bare);
    let at_scalp = visit.placements.iter().find_map(|placement| {
        let zone = placement.zones.iter().find(|zone| zone.from.to_mm() < 5.0)?;
        let colour = zone.colour.as_ref().map(|colour| colour.lab);
        Some(colour.unwrap_or_else(|| zone_base(history, salon.practice.growth, placement, zone).colour_under(&bare)))
    });
    at_scalp.map_or(0.0, |colour| ciede2000(natural, colour))
}

fn grown(rate: MillimetresPerDay, from: NaiveDate, to: NaiveDate) -> f64 {
    Days::try_new((to - from).num_days() as f64).map_or(0.0, |days| growth::grown(rate, days).to_mm())
}

fn days_to_grow(rate: MillimetresPerDay, length: f64) -> f64 {
    (length / rate.to_mm_per_day().max(0.05)).max(0.0).floor()
}

/// A practised interval after a day.
pub(super) fn weeks_after(day: NaiveDate, weeks: WeekRange) -> Option<Window> {
    Some(Window {
        earliest: day_after(day, weeks.earliest * 7.0)?,
        best: day_after(day, weeks.usual * 7.0)?,
        latest: day_after(day, weeks.latest * 7.0)?,
    })
}
