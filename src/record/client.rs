//! A client file: who the client is, as far as a salon needs to know.

use chrono::NaiveDate;

use super::ClientCode;
use super::health::Health;
use super::words::HistoryKind;
use crate::diagnostic::Span;

/// A client.
#[derive(Debug, Clone, PartialEq)]
pub struct ClientFile {
    /// The file it came from.
    pub file: String,
    /// The code, which is the file's name.
    pub code: ClientCode,
    /// First name, when the salon keeps it.
    pub first_name: Option<String>,
    /// Whether the client wants the first name on the page.
    pub show_first_name: bool,
    /// Language of the page, a BCP 47 tag with a catalogue.
    pub language: Option<String>,
    /// How to reach the client.
    pub contact: Contact,
    /// Whether 16 or over is confirmed.
    pub age: AgeCheck,
    /// Consents, each with its date.
    pub consents: Consents,
    /// What was done to the hair before.
    pub history: Vec<HairHistoryEntry>,
    /// Which link this client has: raised by `relink`.
    pub link_number: u32,
    /// Whether the page is sealed; `None` leaves it to the salon.
    pub sealed: Option<bool>,
    /// Health facts: never public.
    pub health: Health,
}

/// How to reach a client.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Contact {
    /// Phone in international form, "+44 20 7946 0000".
    pub phone: Option<String>,
    /// E-mail address.
    pub email: Option<String>,
}

/// Whether the client is 16 or over.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum AgeCheck {
    /// Nobody recorded it.
    NotRecorded,
    /// Confirmed as 16 or over on this day.
    Confirmed(NaiveDate),
    /// Known to be under 16.
    Under16,
}

/// Consents, each dated, each separate.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Consents {
    /// To the service and a page.
    pub service: Option<NaiveDate>,
    /// To keep health data, explicit.
    pub health_data: Option<NaiveDate>,
    /// To photos.
    pub photo: Option<NaiveDate>,
    /// To marketing messages.
    pub marketing: Option<NaiveDate>,
}

/// One thing done to the hair before.
#[derive(Debug, Clone, PartialEq)]
pub struct HairHistoryEntry {
    /// What.
    pub kind: HistoryKind,
    /// When, when known.
    pub date: Option<NaiveDate>,
    /// A remark, private.
    pub note: Option<String>,
    /// Where the file tells it.
    pub span: Span,
}
