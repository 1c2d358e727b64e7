//! The salon's own settings.
//!
//! In: the text of `salon.toml`. Out: [`Salon`], every setting filled in; every fault with its place.
//! Knows nothing of: any client.

mod practice;

pub use practice::{ByShade, Practice, ShadeKind, WeekRange};

use chrono::{NaiveDate, NaiveTime, Weekday};

use crate::units::Minutes;

/// A salon.
#[derive(Debug, Clone, PartialEq)]
pub struct Salon {
    /// The name shown.
    pub name: String,
    /// How clients reach it.
    pub contact: SalonContact,
    /// Base address of the site, without a slash at the end: "https://care.example".
    pub base_address: String,
    /// Time zone.
    pub time_zone: chrono_tz::Tz,
    /// Units on pages.
    pub units: Units,
    /// Language of pages when the client has none.
    pub language: String,
    /// Opening hours, by weekday; none means closed.
    pub hours: Vec<OpenHours>,
    /// Closed days, from and to inclusive.
    pub closures: Vec<(NaiveDate, NaiveDate)>,
    /// Stylists.
    pub stylists: Vec<Stylist>,
    /// Number of chairs.
    pub chairs: u16,
    /// Services as spans of chair time.
    pub services: Vec<Service>,
    /// Every editable common-practice value.
    pub practice: Practice,
    /// Theme folder name.
    pub theme: String,
    /// Accent colour as `#rrggbb`.
    pub accent: Option<String>,
    /// Emergency wording.
    pub emergency: Emergency,
    /// Days after the last refresh window at which a page expires.
    pub page_expires_after_days: u32,
    /// Whether pages are sealed unless a client says otherwise.
    pub sealed: bool,
}

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

/// Units on pages.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Units {
    /// Millimetres, centimetres, °C.
    Metric,
    /// Inches, °F.
    Imperial,
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

/// A stylist.
#[derive(Debug, Clone, PartialEq)]
pub struct Stylist {
    /// Code used in records.
    pub code: String,
    /// Name shown.
    pub name: String,
    /// Working days; empty means every open day.
    pub days: Vec<Weekday>,
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
