//! One call per stage. Read this first.
//!
//! ```text
//! texts ─► read ─► History ─► forecast ─► plan ─► care ─► page ─► render ─► files
//! ```
//!
//! In: the texts of a salon folder, the secret, today's date. Out: every file of the site, complete in memory.
//! Knows nothing of: disks, clocks, the command line.
//!
//! [`read()`] checks everything and brings it together; [`build()`] runs one client after another through the stages,
//! [`build_each()`] does the same and hands out each file as soon as it is whole; [`sweep()`] does it without having the texts
//! of more than a few clients in memory.

mod book;
mod build;
mod forgotten;
mod key;
mod private_texts;
mod read;
mod sweep;

pub use book::{book_files, busy_times, due_again, due_list, fitted, look_back_at, messages_of};
pub use build::{
    Built, LINK_NUMBERS_KEPT, Stopped, Told, build, build_each, card_of, last_day, link_of, pages_of, small_card_of,
    words_of_house,
};
pub use forgotten::{OldTests, came_back, files_about, old_tests, tests_past_keeping};
pub use private_texts::{PrivateText, private_texts};
pub use read::{Read, no_such_client, read, still_to_come, words};
pub use sweep::{Survey, Swept, TextOf, sweep};
