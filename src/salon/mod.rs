//! The salon's own settings.
//!
//! In: the text of `salon.toml`. Out: [`Salon`], every setting filled in; every fault with its place.
//! Knows nothing of: any client.

mod book;
mod estimate;
mod file;
mod house;
mod practice;
mod retention;
mod validate;

pub use book::BookRules;
pub use estimate::{ESTIMATE, SalonEstimate, read_estimate};
pub use file::SALON;
pub use house::{Emergency, OpenHours, Pause, SalonContact, Service, Stylist, Units};
pub use practice::{ByShade, Practice, ShadeKind, WeekRange};
pub use retention::{CardKept, Retention};
pub use validate::read_salon;

use chrono::{Datelike, NaiveDate};

/// A salon.
#[derive(Debug, Clone, PartialEq)]
pub struct Salon {
    /// The name shown.
    pub name: String,
    /// How clients reach it.
    pub contact: SalonContact,
    /// Base address of the site, without a slash at the end: `https://care.example`.
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
    /// How the book is kept.
    pub book: BookRules,
    /// How long what concerns health is kept.
    pub retention: Retention,
    /// Theme folder name.
    pub theme: String,
    /// Accent colour as `#rrggbb`.
    pub accent: Option<String>,
    /// The salon's sign, a file inside the salon folder.
    pub logo: Option<String>,
    /// Currency of every price, ISO 4217: "GBP".
    pub currency: Option<String>,
    /// Emergency wording.
    pub emergency: Emergency,
    /// Days after the last refresh window at which a page expires.
    pub page_expires_after_days: u32,
    /// Whether pages are sealed unless a client says otherwise.
    pub sealed: bool,
    /// The stored estimate of how colour leaves here; it has a file of its own and is empty until that is read.
    pub estimate: SalonEstimate,
}

impl Salon {
    /// Whether clients can come on a day: a weekday with opening hours, in no closure. Without any hours every weekday counts.
    #[must_use]
    pub fn open_on(&self, day: NaiveDate) -> bool {
        let weekday = self.hours.is_empty() || self.hours.iter().any(|hours| hours.day == day.weekday());
        weekday && !self.closures.iter().any(|(from, to)| (*from..=*to).contains(&day))
    }
}
