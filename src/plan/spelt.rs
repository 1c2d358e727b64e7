//! Days as people say them.
//!
//! In: days. Out: words for whoever works in the salon. Knows nothing of: pages, whose words come from the catalogue of their language.
//!
//! In files and arguments, where people write a day, it is ISO 8601.

use chrono::{Datelike, NaiveDate};

/// A day as a person says it: "25 November 2027".
#[must_use]
pub fn day_in_words(day: NaiveDate) -> String {
    day.format("%-d %B %Y").to_string()
}

/// A day to come to, with the day of the week: "Wednesday 25 November 2027".
#[must_use]
pub fn weekday_in_words(day: NaiveDate) -> String {
    day.format("%A %-d %B %Y").to_string()
}

/// From one day to another, what both have said once: "3 to 9 December 2026".
#[must_use]
pub fn span_in_words(from: NaiveDate, to: NaiveDate) -> String {
    let first = match (from.year() == to.year(), from.month() == to.month()) {
        _ if from == to => return day_in_words(to),
        (true, true) => "%-d",
        (true, false) => "%-d %B",
        (false, _) => "%-d %B %Y",
    };
    format!("{} to {}", from.format(first), day_in_words(to))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn days_are_told_in_words_and_a_span_says_once_what_both_days_have() {
        let day = |text: &str| text.parse::<NaiveDate>().expect("a day");
        assert_eq!(day_in_words(day("2027-11-25")), "25 November 2027");
        assert_eq!(weekday_in_words(day("2026-12-01")), "Tuesday 1 December 2026");
        for (from, to, told) in [
            ("2026-12-03", "2026-12-09", "3 to 9 December 2026"),
            ("2026-11-29", "2026-12-06", "29 November to 6 December 2026"),
            ("2026-12-29", "2027-01-06", "29 December 2026 to 6 January 2027"),
            ("2026-12-03", "2026-12-03", "3 December 2026"),
        ] {
            assert_eq!(span_in_words(day(from), day(to)), told);
        }
    }
}
