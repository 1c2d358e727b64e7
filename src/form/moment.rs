//! Days and times: what a person wrote and probably meant.

use chrono::{NaiveDate, NaiveTime};
use toml::value::{Date, Time};

/// The calendar day of a date in a file, when there is such a day between 1900 and 2199.
pub(super) fn day(date: Date) -> Option<NaiveDate> {
    let day = NaiveDate::from_ymd_opt(date.year.into(), date.month.into(), date.day.into())?;
    (1900..2200).contains(&date.year).then_some(day)
}

/// The time of day of a time in a file.
pub(super) fn time(time: Time) -> Option<NaiveTime> {
    NaiveTime::from_hms_opt(time.hour.into(), time.minute.into(), time.second.unwrap_or(0).into())
}

/// The days a text such as "20/11/2026", "20.11.26" or "20 November 2026" can mean; empty when it is none.
pub(super) fn days_meant(text: &str) -> Vec<NaiveDate> {
    let trimmed = text.trim().trim_matches(['"', '\'']);
    if trimmed.len() > 40 {
        return Vec::new();
    }
    let parts: Vec<&str> = trimmed.split([' ', '/', '.', '-', ',']).filter(|part| !part.is_empty()).collect();
    let [one, two, three] = parts[..] else { return Vec::new() };
    let readings = [(three, two, one), (three, one, two), (one, two, three)];
    let year_first = one.len() == 4 && one.chars().all(|c| c.is_ascii_digit());
    let mut days: Vec<NaiveDate> = readings
        .into_iter()
        .filter(|(year, ..)| if year_first { *year == one && year.len() == 4 } else { *year == three })
        .filter_map(|(year, month, day)| {
            let year = year.parse().ok().filter(|_| matches!(year.len(), 2 | 4))?;
            let year = if year < 100 { year + 2000 } else { year };
            NaiveDate::from_ymd_opt(year, month_number(month)?, day_number(day)?)
        })
        .filter(|day| (1900..2200).contains(&chrono::Datelike::year(day)))
        .collect();
    days.dedup();
    days
}

/// Whether a text is written as a day is, in three numbers of which one is a year, whether there is such a day or not.
pub(super) fn is_written_as_a_day(text: &str) -> bool {
    let parts: Vec<&str> = text.trim().split(['/', '.', '-']).collect();
    let is_number = |part: &&str| matches!(part.len(), 1 | 2 | 4) && part.chars().all(|c| c.is_ascii_digit());
    parts.len() == 3 && parts.iter().all(is_number) && parts.iter().filter(|part| part.len() == 4).count() == 1
}

/// The time a text such as "10.30", "10:30" or "2pm" can mean.
pub(super) fn time_meant(text: &str) -> Option<NaiveTime> {
    let lower = text.trim().trim_matches(['"', '\'']).to_lowercase();
    let (clock, add) = match (lower.strip_suffix("pm"), lower.strip_suffix("am")) {
        (Some(clock), _) => (clock, 12),
        (_, Some(clock)) => (clock, 0),
        _ => (lower.as_str(), 0),
    };
    let mut parts = clock.trim().split([':', '.', 'h']);
    let hour: u32 = parts.next()?.trim().parse().ok()?;
    let minute: u32 = parts.next().map_or(Ok(0), str::parse).ok()?;
    NaiveTime::from_hms_opt(if hour < 12 { hour + add } else { hour }, minute, 0)
}

fn day_number(text: &str) -> Option<u32> {
    text.trim_end_matches(|c: char| c.is_ascii_alphabetic()).parse().ok()
}

fn month_number(text: &str) -> Option<u32> {
    const MONTHS: [&str; 12] = ["jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec"];
    let lower = text.to_lowercase();
    let by_name = MONTHS.iter().zip(1..).find(|(month, _)| lower.starts_with(**month)).map(|(_, number)| number);
    by_name.or_else(|| text.parse().ok())
}

/// What to write for a day that was written another way.
pub(super) fn how_to_write_a_day(field: &str, text: &str) -> String {
    let written = |day: &NaiveDate| format!("`{field} = {day}`");
    match &days_meant(text)[..] {
        [] => format!("Write the year, the month and the day, without quotation marks: `{field} = 2026-11-20`"),
        [day] => format!("Write the year, the month and the day, without quotation marks: {}", written(day)),
        [day, other, ..] => {
            format!(
                "Write the year, the month and the day, without quotation marks: {} or {}",
                written(day),
                written(other)
            )
        }
    }
}

/// What to write for a time that was written another way.
pub(super) fn how_to_write_a_time(field: &str, text: &str) -> String {
    let meant = time_meant(text).map_or("14:30:00".to_owned(), |time| time.to_string());
    format!("Write hours, minutes and seconds, without quotation marks: `{field} = {meant}`")
}

#[cfg(test)]
mod tests {
    use super::*;

    fn check(text: &str, expected: &[&str]) {
        let days: Vec<String> = days_meant(text).iter().map(NaiveDate::to_string).collect();
        assert_eq!(days, expected, "{text}");
    }

    #[test]
    fn a_day_is_guessed_from_the_ways_people_write_it() {
        check("20/11/2026", &["2026-11-20"]);
        check("20.11.26", &["2026-11-20"]);
        check("2026/11/20", &["2026-11-20"]);
        check("20 November 2026", &["2026-11-20"]);
        check("Nov 20, 2026", &["2026-11-20"]);
        check("20th Nov 2026", &["2026-11-20"]);
    }

    #[test]
    fn a_day_that_can_be_read_two_ways_is_told_both_ways() {
        check("3/4/2026", &["2026-04-03", "2026-03-04"]);
        check("4/4/2026", &["2026-04-04"]);
    }

    #[test]
    fn a_day_that_is_in_no_calendar_is_still_written_as_one() {
        for text in ["31.11.2026", "2026/13/40", "30-2-2026"] {
            assert!(days_meant(text).is_empty() && is_written_as_a_day(text), "{text}");
        }
        for text in ["1.2.3", "12.5", "rose pastel", "2026.2027.1", "a.11.2026", "192.168.0.1", ""] {
            assert!(!is_written_as_a_day(text), "{text}");
        }
    }

    #[test]
    fn what_is_no_day_gives_none() {
        for text in ["", "soon", "31/02/2026", "1/2", "99999999999/1/1", "é/é/é"] {
            check(text, &[]);
        }
    }

    #[test]
    fn a_time_is_guessed_from_the_ways_people_write_it() {
        for (text, expected) in
            [("10:30", "10:30:00"), ("10.30", "10:30:00"), ("2pm", "14:00:00"), ("12 pm", "12:00:00")]
        {
            assert_eq!(time_meant(text).map(|time| time.to_string()).as_deref(), Some(expected), "{text}");
        }
        assert_eq!(time_meant("noon"), None);
    }
}
