//! The edge in: texts and today's date from the salon's folder, and what must be stored safely. The only source of randomness.
//!
//! In: a folder. Out: [`Texts`], the [`Secret`], today's date.
//! Knows nothing of: what the texts mean.

mod failure;
mod folder;
mod forgotten;
mod secret;
mod stamp;
mod store;

pub use failure::Failure;
pub use folder::{ESTIMATE_FILE, Texts, read_folder};
pub use forgotten::{FORGOTTEN_FILE, keep_forgotten};
pub use secret::{Secret, secret};
pub use stamp::{Stamp, stamp};
pub use store::store;

pub use chrono_tz::UTC;

use chrono::NaiveDate;

/// Today's date on this machine's clock and in a time zone.
#[must_use]
pub fn today(zone: chrono_tz::Tz) -> NaiveDate {
    chrono::Utc::now().with_timezone(&zone).date_naive()
}
