//! What a client may ask of the salon: a copy of everything, a new link, to be forgotten.
//!
//! In: a salon folder as read, a client's code. Out: the files that are about the client, handed over or gone.
//! Knows nothing of: the command line, HTTP, and how a person is asked first.
//!
//! The commands and the chairside both come here, so that a button and a command never do two different things.

mod about;
mod copy;
mod forget;
mod kept_card;
mod old_tests;
mod relink;

use std::path::Path;

use crate::page::link::Link;
use crate::pipeline::Read;
use crate::workspace::{Secret, Texts};

pub use about::kept_about;
pub use copy::{Files, copy_of_texts, exports_of, made_for, read_me};
pub use forget::{ALL_CARDS, Going, came_back, forget, going, still_standing};
pub use kept_card::{Card, card_of_forgotten};
pub use old_tests::drop_old_tests;
pub use relink::{raise, take_away, take_away_all};

/// A salon folder as it was read; whoever changes files holds the salon's lock from reading on.
#[derive(Debug, Clone, Copy)]
pub struct House<'a> {
    /// The salon folder.
    pub folder: &'a Path,
    /// Its texts.
    pub texts: &'a Texts,
    /// What they mean.
    pub read: &'a Read,
    /// The secret of its links.
    pub secret: &'a Secret,
}

/// The card of one client alone, relative to the salon folder.
#[must_use]
pub fn single_card(code: &str) -> String {
    format!("private/cards/{code}.html")
}

/// The files that are public under a link, relative to the salon folder.
#[must_use]
pub fn public_files(link: &Link) -> [String; 3] {
    [&link.path, &link.calendar_path, &link.washing_path].map(|path| format!("public/{path}"))
}
