//! What a person asks of the book, from words on the command line.

use afterhue::schedule::diary::Change;
use chrono::{NaiveDate, NaiveTime};

use crate::cli::args::BookArguments;

/// What to do beside planning.
pub(crate) enum Wish {
    /// Plan only.
    Plan,
    /// Change the diary first.
    Change(Change),
    /// Say who could take a slot.
    Fill(NaiveDate, NaiveTime, u16),
    /// Keep what a client answered to a check-in, and of which day it is.
    Answer(String, NaiveDate, String),
    /// Look back.
    Review,
}

/// What the arguments ask for.
///
/// # Errors
/// A sentence about what cannot be read.
pub(crate) fn wish(arguments: &BookArguments) -> Result<Wish, String> {
    let stylist = arguments.with.clone();
    if let Some([client, day, at]) = arguments.accept.as_deref() {
        let (client, date, time) = (client.clone(), date(day)?, time(at)?);
        return Ok(Wish::Change(Change::Accept { client, date, time, stylist }));
    }
    if let Some([client, day, at]) = arguments.move_to.as_deref() {
        let (client, date, time) = (client.clone(), date(day)?, time(at)?);
        return Ok(Wish::Change(Change::Move { client, date, time, stylist }));
    }
    if stylist.is_some() {
        return Err("--with goes with --accept or --move".to_owned());
    }
    if let Some([client, day]) = arguments.cancel.as_deref() {
        return Ok(Wish::Change(Change::Cancel { client: client.clone(), date: date(day)? }));
    }
    if let Some([day, at, minutes]) = arguments.fill.as_deref() {
        let length = minutes.parse().ok().filter(|length| (5..=1440).contains(length));
        let length = length.ok_or_else(|| format!("\"{minutes}\" is no number of minutes from 5 to 1440"))?;
        return Ok(Wish::Fill(date(day)?, time(at)?, length));
    }
    if let Some([client, day, words]) = arguments.answer.as_deref() {
        return Ok(Wish::Answer(client.clone(), date(day)?, words.clone()));
    }
    Ok(if arguments.review { Wish::Review } else { Wish::Plan })
}

fn date(text: &str) -> Result<NaiveDate, String> {
    text.parse().map_err(|_| format!("\"{text}\" is no date; write it as 2026-12-15"))
}

fn time(text: &str) -> Result<NaiveTime, String> {
    let forms = ["%H:%M", "%H:%M:%S"];
    let read = forms.iter().find_map(|form| NaiveTime::parse_from_str(text, form).ok());
    read.ok_or_else(|| format!("\"{text}\" is no time; write it as 10:15"))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn dates_and_times_are_read_or_told_how_to_write() {
        assert!(date("2026-12-15").is_ok() && date("15.12.2026").is_err());
        assert_eq!(time("9:05"), time("09:05:00"));
        assert!(time("25:00").is_err_and(|why| why.contains("10:15")));
    }
}
