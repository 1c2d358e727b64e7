//! Cautions that may be public: they come from hair state, service and habits, never from health.

use crate::forecast::{Forecast, ZoneForecast};
use crate::record::{Elasticity, HistoryKind, Shareable, SwimPlace};
use crate::units::Washes;

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
    /// The base is too deep for the shade: it looks deeper than its name from the start.
    TooDarkBase,
    /// Fresh and bare differ by so little that no fade date is given.
    NoFadeDate,
    /// The colour does not come nearly back to its base within the forecast.
    HoldsLong,
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
    let undated = !forecast.zones.is_empty() && forecast.nearly_back.and_then(|back| back.usual).is_none();
    let shared = forecast.share_after(Washes::from_washes(0.0)).is_some();
    let found = [
        (lightened, Caution::Lightened),
        (weak, Caution::WeakHair),
        (lightened && past(HistoryKind::Relaxer), Caution::LightenedRelaxed),
        (forecast.zones.iter().any(|zone| zone.too_warm.is_some() && !zone.too_dark()), Caution::TooWarmBase),
        (forecast.zones.iter().any(ZoneForecast::too_dark), Caution::TooDarkBase),
        (undated && !shared, Caution::NoFadeDate),
        (undated && shared, Caution::HoldsLong),
        (pool || visit.habits.copper, Caution::GreenTint),
        (past(HistoryKind::HennaOrMetallic), Caution::HennaOrMetallic),
    ];
    found.into_iter().filter_map(|(holds, caution)| holds.then_some(caution)).collect()
}
