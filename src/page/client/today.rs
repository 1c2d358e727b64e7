//! What the page's one small script needs: the words of today, and how wash days are counted.
//!
//! In: the plan. Out: [`Today`]. Knows nothing of: today, which only the reader's own device does.
//!
//! Without script nothing of it is shown, and the dates of the page carry everything.

use serde::Serialize;

use super::Sources;

/// The section that a script fills.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Today {
    /// Heading: "This week".
    pub heading: String,
    /// Beside today's place in the ribbon.
    pub here: String,
    /// "On {date}: {words}", its places open.
    pub now: String,
    /// "By {date}: {words}", its places open.
    pub by: String,
    /// "When was your last wash?"
    pub ask: String,
    /// "Next wash: {date}", its place open.
    pub next: String,
    /// Days between washes.
    pub every: u32,
    /// In place of "tonight" from the next day until the first wash.
    pub until: String,
    /// In place of "first wash" once its day has passed.
    pub wash: String,
    /// In place of the best day once it has passed: "by {date}", its place open.
    pub last: String,
    /// In place of a visit whose last day has passed: "Ask us for a new day".
    pub again: String,
    /// Beside it: "{date} has passed.", its place open.
    pub past: String,
    /// The day of the service, in machine form.
    pub done: String,
    /// No wash before this day, in machine form.
    pub first: String,
    /// How a date is written, its places open; the reader's own browser names day and month in the page's language.
    pub date: String,
}

/// The words of today.
pub(super) fn today(sources: &Sources<'_>) -> Today {
    let words = sources.words;
    Today {
        heading: words.pattern("today.heading"),
        here: words.pattern("today.here"),
        now: words.pattern("today.now"),
        by: words.pattern("today.by"),
        ask: words.pattern("today.last-wash"),
        next: words.pattern("today.next-wash"),
        until: words.pattern("today.until"),
        wash: words.pattern("today.wash"),
        last: words.pattern("today.last"),
        again: words.pattern("today.again"),
        past: words.pattern("today.past"),
        done: sources.plan.service.to_string(),
        every: sources.plan.rhythm.every_days.max(1),
        first: sources.plan.first_wash.to_string(),
        date: words.pattern("date.weekday"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::page::sample::Sample;

    #[test]
    fn a_script_gets_the_rhythm_and_its_words_but_no_day_that_is_today() {
        let today = today(&Sample::rose().sources());
        assert_eq!((today.every, today.first.as_str()), (4, "2026-12-01"));
        assert_eq!((today.done.as_str(), today.until.as_str()), ("2026-11-28", "Until your first wash"));
        assert!(today.next.contains("{date}") && today.date.contains("{weekday}"));
    }
}
