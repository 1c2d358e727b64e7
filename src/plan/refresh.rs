//! When to refresh the colour, which zones run ahead, and when to trim.

use chrono::NaiveDate;

use super::roots::{Roots, weeks_after};
use super::visits::{Need, VisitPart};
use super::window::{DateRange, Window, day_after, within};
use crate::forecast::{Forecast, HORIZON, Milestone};
use crate::record::{AfterWish, ServiceRecord, Shareable};
use crate::salon::{Practice, Salon, ShadeKind, WeekRange};
use crate::science::parameter::{Parameter, Source};
use crate::units::Days;

/// How far a zone must run ahead of the rest before it is told as a top-up.
pub(super) const AHEAD_OF_THE_REST: Parameter = Parameter {
    name: "days by which a zone is nearly back before the rest to be told as a top-up",
    value: 7.0,
    low: 4.0,
    high: 14.0,
    unit: "d",
    source: Source::CommonPractice,
};

/// The narrowest refresh window: a shorter one is no window to a diary.
pub(super) const LEAST_WINDOW: Parameter = Parameter {
    name: "days a refresh window is open at least",
    value: 7.0,
    low: 4.0,
    high: 14.0,
    unit: "d",
    source: Source::CommonPractice,
};

/// The day until which the client wishes to keep the colour: the event, else the practised interval of the shade.
pub(super) fn wished(visit: &ServiceRecord, practice: &Practice, shade: Option<ShadeKind>) -> NaiveDate {
    let usual = shade.map_or(42.0, |shade| practice.refresh_weeks.of(shade).usual * 7.0);
    visit
        .wishes
        .event
        .filter(|event| *event > visit.date)
        .or_else(|| day_after(visit.date, usual))
        .unwrap_or(visit.date)
}

/// The refresh window: by the earlier of the two dates to keep the colour, by the later to let it soften.
///
/// The salon's practised interval bounds it on both sides, so that nobody is called in after a week for a hue that drifts.
pub(super) fn window(
    visit: &ServiceRecord,
    practice: &Practice,
    shade: ShadeKind,
    forecast: &Forecast,
) -> Option<Window> {
    let back = forecast.nearly_back?;
    let keep = visit.wishes.after.unwrap_or(AfterWish::Keep) == AfterWish::Keep;
    let by = match forecast.turns {
        Some(turns) if keep => sooner(turns, back),
        Some(turns) => later(turns, back),
        None => back,
    };
    let day = |at: Option<Days>| day_after(visit.date, at.unwrap_or(HORIZON).to_days());
    let bounds = weeks_after(visit.date, practice.refresh_weeks.of(shade))?;
    let hold = |date: NaiveDate| date.clamp(bounds.earliest, bounds.latest);
    let (earliest, latest) = (hold(day(by.earliest)?), hold(day(by.latest)?));
    // Where practice and forecast leave less than a week, the window opens later, never earlier.
    let latest = latest.max(day_after(earliest, LEAST_WINDOW.value)?);
    within(Window { earliest, best: hold(day(by.usual)?), latest }, visit.date)
}

fn order(milestone: Milestone) -> f64 {
    milestone.dose.to_washes()
}

fn sooner(one: Milestone, other: Milestone) -> Milestone {
    if order(one) <= order(other) { one } else { other }
}

fn later(one: Milestone, other: Milestone) -> Milestone {
    if order(one) <= order(other) { other } else { one }
}

/// A milestone on the calendar.
#[must_use]
pub fn date_range(service: NaiveDate, milestone: Milestone) -> DateRange {
    let day = |at: Option<Days>| at.and_then(|at| day_after(service, at.to_days()));
    DateRange { earliest: day(milestone.earliest), usual: day(milestone.usual), latest: day(milestone.latest) }
}

/// Zones that are nearly back more than [`AHEAD_OF_THE_REST`] before the whole head.
pub(super) fn top_up_zones(forecast: &Forecast) -> Vec<usize> {
    let usual = |milestone: Option<Milestone>| milestone.and_then(|milestone| milestone.usual).map(Days::to_days);
    let Some(whole) = usual(forecast.nearly_back) else { return Vec::new() };
    let ahead = |index: &usize| {
        usual(forecast.zones[*index].nearly_back).is_some_and(|day| whole - day > AHEAD_OF_THE_REST.value)
    };
    (0..forecast.zones.len()).filter(ahead).collect()
}

/// The next trim, counted from the last recorded one; nothing when none was ever recorded.
pub(super) fn trim(history: &Shareable, practice: &Practice) -> Option<Window> {
    let trimmed = |visit: &&ServiceRecord| visit.hair.trimmed.is_some_and(|length| length.to_mm() > 0.0);
    let last = history.visits().iter().rev().find(trimmed)?;
    within(weeks_after(last.date, practice.trim_weeks)?, history.latest().date)
}

/// The needs behind the next visits.
pub(super) fn needs(
    salon: &Salon,
    shade: Option<ShadeKind>,
    refresh: Option<Window>,
    roots: Option<Roots>,
    trim: Option<Window>,
) -> Vec<Need> {
    let practice = &salon.practice;
    let again = |weeks: WeekRange| {
        let days = |weeks: f64| (weeks * 7.0).round() as u32;
        (days(weeks.earliest), days(weeks.usual), days(weeks.latest))
    };
    let refresh = shade.zip(refresh).map(|(shade, first)| Need {
        part: VisitPart::Refresh,
        first,
        again: again(practice.refresh_weeks.of(shade)),
    });
    let roots = roots.map(|roots| Need {
        part: VisitPart::Roots,
        first: roots.window,
        again: again(match roots.reason {
            super::RootsReason::ScalpLightener => practice.scalp_retouch_weeks,
            super::RootsReason::Foils => practice.foils_weeks,
            super::RootsReason::Freehand => practice.freehand_weeks,
            super::RootsReason::Tint | super::RootsReason::WhiteCover => practice.tint_roots_weeks,
        }),
    });
    let trim = trim.map(|first| Need { part: VisitPart::Trim, first, again: again(practice.trim_weeks) });
    [refresh, roots, trim].into_iter().flatten().collect()
}
