//! The board: the coming weeks by stylist and day, for the salon only.
//!
//! In: the diary, the due list, the salon, what the fit told, words. Out: [`Board`]. Knows nothing of: templates, how a date was found.
//!
//! Proposals and bookings differ by their words and by their outline, never by colour alone.

mod chart;
mod make;
mod slot;

pub use chart::{Chart, ChartRow};
pub use make::board;
pub use slot::Slot;

use std::collections::BTreeMap;

use chrono::NaiveDate;
use serde::Serialize;

use super::mood::Mood;
use super::words::Words;
use crate::record::ClientCode;
use crate::salon::Salon;
use crate::schedule::diary::Busy;
use crate::schedule::due::Due;
use crate::schedule::fit::Book;

/// The board.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Board {
    /// Language, a BCP 47 tag.
    pub lang: String,
    /// Direction, "ltr" or "rtl".
    pub dir: String,
    /// Title of the document.
    pub title: String,
    /// Colours of the page.
    pub mood: Mood,
    /// The salon's name.
    pub salon: String,
    /// "Made on Wednesday 25 November 2026".
    pub made: String,
    /// Heading of what needs a person.
    pub notes_heading: String,
    /// What needs a person: who does not fit, what has to be moved.
    pub notes: Vec<String>,
    /// How the marks of a visit read.
    pub key: Vec<Key>,
    /// The weeks.
    pub weeks: Vec<Week>,
    /// Words of the row of stylists.
    pub stylist_label: String,
    /// Words of the row of loads.
    pub load_label: String,
    /// The chart of demand.
    pub chart: Chart,
}

/// One line of the key.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Key {
    /// "booked", "proposed", or a part of a visit; also a class of the style sheet.
    pub mark: &'static str,
    /// Its words.
    pub words: String,
}

/// One week.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Week {
    /// "Week of 30 November".
    pub heading: String,
    /// Its days.
    pub days: Vec<Day>,
    /// A row for each stylist; nothing in a week in which the salon is closed.
    pub rows: Vec<Row>,
    /// Said in place of rows: the salon is closed.
    pub closed: Option<String>,
}

/// One day of a week.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Day {
    /// "Tuesday 1 December".
    pub label: String,
    /// Taken and worked hours in words: "5.5 of 18 hours".
    pub load: String,
    /// The same as a bar.
    pub load_svg: String,
}

/// One stylist's week.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Row {
    /// The stylist's name.
    pub stylist: String,
    /// A cell a day.
    pub cells: Vec<Cell>,
}

/// One stylist's day.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Cell {
    /// The day, for a narrow screen on which the head of the table is not beside it.
    pub day: String,
    /// Nothing at all stands in it.
    pub empty: bool,
    /// Why nobody is there; nothing when the stylist works.
    pub absent: Option<String>,
    /// Times that another calendar takes: "14:00 to 16:00: another calendar".
    pub busy: Vec<String>,
    /// The visits, in order.
    pub slots: Vec<Slot>,
}

/// What a board is made from.
#[derive(Clone, Copy)]
pub struct BoardSources<'a> {
    /// The salon.
    pub salon: &'a Salon,
    /// The due list.
    pub due: &'a [Due],
    /// The fitted book.
    pub book: &'a Book,
    /// Busy times of other calendars.
    pub busy: &'a Busy,
    /// First names by code.
    pub names: &'a BTreeMap<ClientCode, String>,
    /// Today, and how many weeks are shown.
    pub span: (NaiveDate, u32),
    /// The words of the salon's language.
    pub words: &'a dyn Words,
}
