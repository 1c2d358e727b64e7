//! The edge in: texts and today's date from the salon's folder, and what must be stored safely. The only source of randomness.
//!
//! In: a folder. Out: [`Texts`], the [`Secret`], today's date.
//! Knows nothing of: what the texts mean.

mod chance;
mod clock;
mod failure;
mod folder;
mod forgotten;
mod kept_card;
mod known;
mod list;
mod lock;
mod program;
mod search;
mod secret;
mod stamp;
mod store;

pub use chance::{drop_private, keep_private, kept_private, private_names, random_mark};
pub use clock::{clock_set_back, today};
pub use failure::Failure;
pub use folder::{BOOKINGS_FILE, ESTIMATE_FILE, Texts, read_calendar, read_folder};
pub use forgotten::{FORGOTTEN_FILE, keep_forgotten};
pub use kept_card::{KEPT_FOLDER, drop_cards_due, keep_card, kept_card};
pub use known::{CLOCK_STEP, Clock, Found, Known, Mark, READ_BEFORE, drop_read_before};
pub use list::{Entry, Listed, list_folder, read_listed};
pub use lock::{Lock, clear_drafts, lock, lock_to_list};
pub use program::program;
pub use search::files_holding;
pub use secret::{Secret, secret, secret_or_anew};
pub use stamp::{Seen, Stamp, stamp, stamp_of};
pub use store::{store, store_unless_changed};

pub use chrono_tz::UTC;
