//! What if I wash more or less: the dates at other numbers of washes, chosen without any script.
//!
//! In: the plan. Out: [`WhatIfBlock`]. Knows nothing of: how a choice is shown.

use serde::Serialize;

use super::Sources;
use crate::page::words::colour;
use crate::plan::{DateRange, WhatIf};
use crate::science::colour::naming;

/// The section.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct WhatIfBlock {
    /// Heading.
    pub heading: String,
    /// What the rest of the page counts on.
    pub lead: String,
    /// What is chosen: "Washes a week".
    pub legend: String,
    /// The choices.
    pub choices: Vec<Choice>,
}

/// One choice with its outcome.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Choice {
    /// Washes a week, also its mark in the page.
    pub washes: u8,
    /// Chosen when the page opens: the one nearest to the rhythm advised.
    pub chosen: bool,
    /// What follows, in sentences; the first leads.
    pub outcome: Vec<String>,
}

/// The section of a plan; nothing when the colour has no date to move.
pub(super) fn what_if(sources: &Sources<'_>) -> Option<WhatIfBlock> {
    let plan = sources.plan;
    plan.nearly_back?;
    let advised = plan.rhythm.per_week;
    let distance = |choice: &WhatIf| (f64::from(choice.washes) - advised).abs();
    let nearest = plan.what_if.iter().min_by(|one, other| distance(one).total_cmp(&distance(other)))?.washes;
    let words = sources.words;
    Some(WhatIfBlock {
        heading: words.pattern("what-if.heading"),
        lead: sources.every_days("numbers.rhythm"),
        legend: words.pattern("what-if.washes"),
        choices: plan
            .what_if
            .iter()
            .map(|choice| Choice {
                washes: choice.washes,
                chosen: choice.washes == nearest,
                outcome: outcome(sources, choice),
            })
            .collect(),
    })
}

fn outcome(sources: &Sources<'_>, choice: &WhatIf) -> Vec<String> {
    let (words, dates) = (sources.words, sources.dates());
    let count = choice.washes.to_string();
    let base = sources.leading().map(|zone| colour(words, naming::name(zone.bare))).unwrap_or_default();
    let day = |range: Option<DateRange>| range.and_then(|range| range.usual).map(|day| dates.weekday(day));
    let at = words.say(if choice.washes == 1 { "what-if.at-one" } else { "what-if.at" }, &[("count", &count)]);
    let mut lines = vec![match day(choice.nearly_back) {
        Some(back) => words.say("what-if.nearly-back", &[("at", &at), ("base", &base), ("date", &back)]),
        None => words.say("what-if.never", &[("at", &at)]),
    }];
    lines.extend(day(choice.turns).map(|turns| words.say("what-if.turns", &[("date", &turns)])));
    lines.extend(choice.refresh.map(|window| {
        words.say(
            "what-if.refresh",
            &[("date", &dates.weekday(window.best)), ("span", &dates.span(window.earliest, window.latest))],
        )
    }));
    lines
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::page::sample::Sample;

    #[test]
    fn one_choice_is_chosen_and_each_says_what_follows() {
        let sample = Sample::rose();
        let block = what_if(&sample.sources()).expect("the sample has dates");
        assert_eq!(block.choices.iter().filter(|choice| choice.chosen).count(), 1);
        assert!(block.choices.iter().all(|choice| !choice.outcome.is_empty()));
    }
}
