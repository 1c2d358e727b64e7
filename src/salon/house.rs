//! The salon's house: how it is reached, when it is open, who works there and what they do.

use chrono::{NaiveDate, NaiveTime, Weekday};

use crate::units::Minutes;
use crate::units::worded;

/// How clients reach the salon.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct SalonContact {
    /// Phone, international form with a plus.
    pub phone: Option<String>,
    /// Number for text messages, when another.
    pub text: Option<String>,
    /// E-mail.
    pub email: Option<String>,
    /// Street address in one line.
    pub address: Option<String>,
}

worded! {
    /// Units on pages.
    Units, "units" {
        /// Millimetres, centimetres, °C.
        Metric = "metric",
        /// Inches, °F.
        Imperial = "imperial",
    }
}

/// Opening hours of one weekday.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct OpenHours {
    /// The day.
    pub day: Weekday,
    /// Opens.
    pub open: NaiveTime,
    /// Closes.
    pub close: NaiveTime,
}

/// A break on one weekday.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Pause {
    /// The day.
    pub day: Weekday,
    /// Begins.
    pub from: NaiveTime,
    /// Ends.
    pub to: NaiveTime,
}

/// A stylist.
#[derive(Debug, Clone, PartialEq)]
pub struct Stylist {
    /// Code used in records.
    pub code: String,
    /// Name shown.
    pub name: String,
    /// Working days; empty means every open day.
    pub days: Vec<Weekday>,
    /// Working hours on some of those days; a day without any has the opening hours.
    pub hours: Vec<OpenHours>,
    /// Breaks, by weekday.
    pub pauses: Vec<Pause>,
    /// The last working day, when this stylist is leaving.
    pub leaves: Option<NaiveDate>,
    /// Service codes this stylist does; empty means all.
    pub skills: Vec<String>,
    /// Absences, from and to inclusive.
    pub absences: Vec<(NaiveDate, NaiveDate)>,
}

/// A service as spans of chair time: hands-on, developing, hands-on.
#[derive(Debug, Clone, PartialEq)]
pub struct Service {
    /// Code: "refresh", "roots", "alert-test" and the salon's own.
    pub code: String,
    /// Name shown.
    pub name: String,
    /// Hands-on before developing.
    pub hands_on: Minutes,
    /// Developing.
    pub developing: Minutes,
    /// Hands-on after.
    pub finishing: Minutes,
    /// Buffer behind it.
    pub buffer: Minutes,
    /// Price range shown, in the salon's currency.
    pub price: Option<(f64, f64)>,
}

/// Emergency wording by country.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Emergency {
    /// ISO 3166-1 alpha-2 country.
    pub country: String,
    /// Number to call: "999".
    pub number: String,
    /// Advice line, when there is one: "111".
    pub advice_line: Option<String>,
}
