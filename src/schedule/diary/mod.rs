//! What is proposed, booked and cancelled, and when the house is open.
//!
//! In: the salon, its bookings file, busy times of other calendars. Out: [`Diary`], free times, changes made or refused with the reason.
//! Knows nothing of: which date is best.
//!
//! Times inside are [`Minute`]s, counted from 1970 in UTC, so that the two clock changes of a year shift nothing; people and files see local times.

mod appointment;
mod busy;
mod change;
mod events;
mod file;
mod fill;
mod free;
mod hours;

pub use appointment::{Appointment, Booked, Diary, Proposal, Purpose, State};
pub use busy::{Busy, read_busy};
pub use change::{Change, Desk, change};
pub use events::{EventWords, book_calendar, identifier};
pub use file::{BOOKINGS, read_bookings};
pub use fill::{Candidate, NotOffered, fill};
pub use free::{Refusal, does, refusal};
pub(in crate::schedule) use hours::days;
pub use hours::{Minute, NotThere, Stretch, local, minute_of, not_there, open, working};
