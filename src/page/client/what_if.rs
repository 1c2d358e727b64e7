//! What if I wash more or less, with or without a colour conditioner: ribbon, dates and rhythm, chosen without any script.
//!
//! In: the plan. Out: [`WhatIfBlock`]. Knows nothing of: how a choice is shown.

use serde::Serialize;

use super::Sources;
use super::band::{Bands, Course};
use crate::page::words::base_words;
use crate::plan::{DateRange, WhatIf};

/// The section.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct WhatIfBlock {
    /// Heading.
    pub heading: String,
    /// What the rest of the page counts on.
    pub lead: String,
    /// What is chosen: "Washes a week".
    pub legend: String,
    /// The numbers of washes.
    pub choices: Vec<Choice>,
    /// With or without a conditioner, where that can be chosen.
    pub conditioner: Option<Conditioner>,
    /// One for each pair of choices.
    pub outcomes: Vec<Outcome>,
    /// The first and the last day of every band.
    pub ends: [String; 2],
}

/// One number of washes.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Choice {
    /// Washes a week, also its mark in the page.
    pub washes: u8,
    /// Chosen when the page opens: the one nearest to the rhythm advised.
    pub chosen: bool,
}

/// The choice of a conditioner.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Conditioner {
    /// What is chosen.
    pub legend: String,
    /// Words of doing without.
    pub without: String,
    /// Words of using it.
    pub with: String,
    /// Whether the client uses one: chosen when the page opens.
    pub used: bool,
}

/// What follows from a pair of choices.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Outcome {
    /// Its mark: "o2" without, "o2 with" with a conditioner.
    pub mark: String,
    /// The hair from the first day on.
    pub band_svg: Option<String>,
    /// In sentences; the first leads.
    pub lines: Vec<String>,
}

/// The section of a plan; nothing when the colour has no date to move.
pub(super) fn what_if(sources: &Sources<'_>, bands: &mut Bands) -> Option<WhatIfBlock> {
    let plan = sources.plan;
    plan.nearly_back?;
    let advised = plan.rhythm.per_week;
    let distance = |choice: &WhatIf| (f64::from(choice.washes) - advised).abs();
    let nearest = plan.what_if.iter().min_by(|one, other| distance(one).total_cmp(&distance(other)))?.washes;
    let words = sources.words;
    let used = sources.shareable.latest().habits.conditioner.as_ref().is_some_and(|one| one.uses.to_per_week() > 0.0);
    // Every band shows the same days, those of the page's own ribbon, so that one choice can be held against another.
    let last = sources.leading_steps().and_then(<[_]>::last)?;
    let washes = plan.what_if.iter().filter(|choice| !choice.conditioner).map(|choice| choice.washes);
    let base = sources.leading().map(|zone| base_words(words, zone)).unwrap_or_default();
    Some(WhatIfBlock {
        heading: words.pattern("what-if.heading"),
        lead: sources.every_days("numbers.rhythm"),
        legend: words.pattern("what-if.washes"),
        choices: washes.map(|washes| Choice { washes, chosen: washes == nearest }).collect(),
        conditioner: plan.what_if.iter().any(|choice| choice.conditioner).then(|| Conditioner {
            legend: words.pattern("what-if.conditioner"),
            without: words.pattern("what-if.without"),
            with: words.pattern("what-if.with"),
            used,
        }),
        outcomes: plan
            .what_if
            .iter()
            .map(|choice| outcome(sources, choice, &base, f64::from(last.day), bands))
            .collect(),
        ends: [sources.dates().day(plan.service), sources.dates().day(last.date)],
    })
}

fn outcome(sources: &Sources<'_>, choice: &WhatIf, base: &str, last: f64, bands: &mut Bands) -> Outcome {
    let (words, dates) = (sources.words, sources.dates());
    let count = choice.washes.to_string();
    let day = |range: Option<DateRange>| range.and_then(|range| range.usual).map(|day| dates.day(day));
    let at = words.say(if choice.washes == 1 { "what-if.at-one" } else { "what-if.at" }, &[("count", &count)]);
    let mut lines = vec![match day(choice.nearly_back) {
        Some(back) => words.say("what-if.nearly-back", &[("at", &at), ("base", base), ("date", &back)]),
        None => words.say("what-if.never", &[("at", &at)]),
    }];
    lines.extend(day(choice.turns).map(|turns| words.say("what-if.turns", &[("date", &turns)])));
    lines.push(rhythm(sources, choice.washes));
    lines.extend(choice.refresh.map(|window| {
        let (best, span) = (dates.weekday(window.best), dates.span(window.earliest, window.latest));
        let key = if window.earliest == window.latest { "what-if.refresh-day" } else { "what-if.refresh" };
        words.say(key, &[("date", &best), ("span", &span)])
    }));
    let name = words.say("what-if.swatch", &[("at", &at)]);
    Outcome {
        mark: format!("o{count}{}", if choice.conditioner { " with" } else { "" }),
        band_svg: (!choice.steps.is_empty()).then(|| bands.line(Course { steps: &choice.steps }, last, &name)),
        lines,
    }
}

/// Days between washes, as a person counts them: whole, or the two nearest.
fn rhythm(sources: &Sources<'_>, washes: u8) -> String {
    let (words, washes) = (sources.words, u32::from(washes.clamp(1, 7)));
    let (low, high) = (7 / washes, 7_u32.div_ceil(washes));
    match (low, high) {
        (_, 1) => words.pattern("what-if.every-day"),
        // "Every 1 or 2 days" would be said of 4 and of 5 alike.
        (1, _) if washes == 4 => words.pattern("what-if.every-other"),
        (1, _) => words.say("what-if.but", &[("count", &washes.to_string())]),
        (low, high) if low == high => words.say("what-if.every-days", &[("count", &low.to_string())]),
        (low, high) => words.say("what-if.every-few", &[("low", &low.to_string()), ("high", &high.to_string())]),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::page::sample::Sample;
    use crate::science::dye::deposit;
    use crate::science::fade::dose::Wear;
    use crate::units::PerWeek;

    #[test]
    fn one_choice_is_chosen_and_each_says_what_follows() {
        let sample = Sample::rose();
        let block = what_if(&sample.sources(), &mut Bands::default()).expect("the sample has dates");
        assert_eq!(block.choices.iter().filter(|choice| choice.chosen).count(), 1);
        let pairs = block.choices.len() * if block.conditioner.is_some() { 2 } else { 1 };
        assert_eq!(block.outcomes.len(), pairs);
        assert!(block.outcomes.iter().all(|outcome| outcome.lines.len() >= 3 && outcome.band_svg.is_some()));
    }

    #[test]
    fn a_rhythm_is_told_in_whole_days() {
        let sample = Sample::rose();
        let told = [1, 2, 3, 4, 5, 7].map(|washes| rhythm(&sample.sources(), washes));
        let wanted = ["7 days", "3 or 4 days", "2 or 3 days", "2 days, and 1 more", "5 days out of 7", "every day"];
        assert!(told.iter().zip(wanted).all(|(told, wanted)| told.contains(wanted)), "{told:?}");
    }

    #[test]
    fn a_glance_tells_the_dates_that_the_whole_forecast_tells() {
        let mut forecast = Sample::rose().forecast;
        for zone in &mut forecast.zones {
            (zone.deposit, zone.bare) = (deposit::fit(&zone.base, zone.finished), zone.base.bare());
        }
        let times = PerWeek::from_per_week;
        for sun_hours in [0.0, 7.0] {
            let forecast = forecast.with_conditioner(times(0.0)).under(Wear { sun_hours, ..forecast.habits });
            for (washes, uses) in [(1.0, 0.0), (3.0, 0.0), (2.0, 1.0), (7.0, 2.0)] {
                let whole = forecast.with_conditioner(times(uses)).with_washes(times(washes));
                let glance = forecast.glance(times(washes), times(uses));
                assert!(uses > 0.0 || glance.nearly_back.is_some());
                assert_eq!((glance.turns, glance.nearly_back), (whole.turns, whole.nearly_back));
                assert_eq!((glance.habits, glance.clock), (whole.habits, whole.clock));
            }
        }
    }
}
