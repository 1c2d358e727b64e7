//! What prepares a client's next visit, in words for the stylist: odd returns, edges, overlaps, and the mix that tops the colour up.
//!
//! In: a history without health facts, its plan, words. Out: lines. Knows nothing of: what forbids the service; that is for the gates.

use super::mix::mix;
use super::words::{Dates, Words};
use crate::forecast::{ZoneForecast, lightening_overlap};
use crate::plan::{Plan, VisitPart, date_range};
use crate::record::Shareable;
use crate::salon::Salon;
use crate::units::{Days, Worded};

/// The lines, in the order a stylist works: look, lighten, tone, book.
#[must_use]
pub fn next_visit_lines(history: &Shareable, salon: &Salon, plan: &Plan, words: &dyn Words) -> Vec<String> {
    let dates = Dates::of_service(words, plan.service);
    let mut lines = look(history, plan, words, dates);
    for overlap in lightening_overlap(history, salon) {
        let (from, to) = (millimetres(overlap.from.to_mm()), millimetres(overlap.to.to_mm()));
        let (times, placement) = (overlap.times.to_string(), (overlap.placement + 1).to_string());
        let places = [("placement", placement.as_str()), ("from", &from), ("to", &to), ("times", &times)];
        lines.push(words.say("next-visit.overlap", &places));
    }
    lines.extend(top_ups(history, plan, words, dates));
    if let Some(check) = plan.doubt.colour_check {
        lines.push(words.say("next-visit.check", &[("date", &dates.weekday(check.best))]));
    }
    if let Some(day) = plan.doubt.message {
        lines.push(words.say("next-visit.message", &[("date", &dates.weekday(day))]));
    }
    lines
}

/// Whole millimetres: nobody measures a parting closer.
fn millimetres(length: f64) -> String {
    format!("{length:.0}")
}

fn look(history: &Shareable, plan: &Plan, words: &dyn Words, dates: Dates<'_>) -> Vec<String> {
    let forecast = &plan.forecast;
    let wild = forecast.wild.iter().map(|wild| {
        let seen_on = dates.weekday(history.visits()[wild.seen_at].date);
        words.say("next-visit.wild", &[("date", &seen_on), ("dye", wild.class.word())])
    });
    let edges = forecast.edges.iter().filter_map(|edge| {
        let day = date_range(plan.service, edge.noticeable?).usual?;
        let name = |zone: usize| forecast.zones[zone].name.word();
        let places = [("one", name(edge.nearer)), ("other", name(edge.farther)), ("date", &dates.weekday(day))];
        Some(words.say("next-visit.edge", &places))
    });
    wild.chain(edges).collect()
}

/// What each zone needs on the best day of the next refresh.
fn top_ups(history: &Shareable, plan: &Plan, words: &dyn Words, dates: Dates<'_>) -> Vec<String> {
    let refresh = plan.visits.iter().find(|visit| visit.parts.contains(&VisitPart::Refresh));
    let Some(day) = refresh.map(|visit| visit.window.best) else { return Vec::new() };
    // A count of days within half a year.
    let Some(days) = Days::try_new((day - plan.service).num_days() as f64) else { return Vec::new() };
    let dose = plan.forecast.clock.dose_on(days);
    let line = |zone: &ZoneForecast| {
        let placement = history.latest().placements.get(zone.placement)?;
        let left = format!("{:.0}", zone.share_after(dose)?.to_fraction() * 100.0);
        let (number, date) = ((zone.placement + 1).to_string(), dates.weekday(day));
        let mix = mix(words, zone, placement, dose);
        let places =
            [("zone", zone.name.word()), ("placement", &number), ("left", &left), ("date", &date), ("mix", &mix)];
        Some(words.say("next-visit.left", &places))
    };
    plan.forecast.zones.iter().filter_map(line).collect()
}
