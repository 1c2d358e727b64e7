//! Cautions that may be public: they come from hair state, service and habits, never from health.

use crate::forecast::Forecast;
use crate::record::{Elasticity, HistoryKind, Shareable, SwimPlace};

/// A caution of the plan.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Caution {
    /// Hair was lightened at this visit: the scalp may be sore later.
    Lightened,
    /// Hair that stretches or breaks: no more lightening until the stylist has looked.
    WeakHair,
    /// Lightening on relaxed hair.
    LightenedRelaxed,
    /// The base is too warm for the shade: it looks warmer than its name from the start.
    TooWarmBase,
    /// Fresh and bare differ by so little that no fade date is given.
    NoFadeDate,
    /// Pool water or copper may tint pale hair green.
    GreenTint,
    /// Henna or metallic dye in the history.
    HennaOrMetallic,
}

/// The cautions of a visit, in a fixed order.
pub(super) fn cautions(history: &Shareable, forecast: &Forecast) -> Vec<Caution> {
    let visit = history.latest();
    let lightened = visit.placements.iter().any(|placement| !placement.lightening.is_empty());
    let weak = visit
        .placements
        .iter()
        .flat_map(|placement| &placement.zones)
        .any(|zone| matches!(zone.elasticity, Some(Elasticity::Breaks | Elasticity::NoReturn)));
    let past = |kind| history.client().history.iter().any(|entry| entry.kind == kind);
    let pool = visit.habits.swims.is_some_and(|swims| swims.to_per_week() > 0.0)
        && !matches!(visit.habits.swim_place, Some(SwimPlace::Sea | SwimPlace::Lake));
    let found = [
        (lightened, Caution::Lightened),
        (weak, Caution::WeakHair),
        (lightened && past(HistoryKind::Relaxer), Caution::LightenedRelaxed),
        (forecast.zones.iter().any(|zone| zone.too_warm.is_some()), Caution::TooWarmBase),
        (!forecast.zones.is_empty() && forecast.nearly_back.is_none(), Caution::NoFadeDate),
        (pool || visit.habits.copper, Caution::GreenTint),
        (past(HistoryKind::HennaOrMetallic), Caution::HennaOrMetallic),
    ];
    found.into_iter().filter_map(|(holds, caution)| holds.then_some(caution)).collect()
}
