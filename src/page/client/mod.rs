//! The client's page as data.
//!
//! In: [`Sources`], all of one client. Out: [`ClientPage`]. Knows nothing of: templates, files, today.

mod band;
mod blocks;
mod bracket;
mod contact;
mod first_screen;
mod page;
mod ribbon;
mod sources;

pub use blocks::{Block, Call, CareBox, CareBoxes, Entry, Why};
pub use contact::{Contact, Way};
pub use first_screen::{CalendarLink, FirstScreen, Step};
pub use page::{ClientPage, Help, Note, client_page};
pub use ribbon::{Ribbon, Row, Saying, ZoneKey};

pub use sources::Sources;

pub(super) use first_screen::{next_visit, shade};

use self::band::{Bands, Course};

/// The hair of the leading zone from today to its base, for a card.
pub(super) fn strand(sources: &Sources<'_>, name: &str, bands: &mut CardBands) -> Option<String> {
    let steps = sources.leading_steps().filter(|steps| !steps.is_empty())?;
    let last = steps.last().map_or(0.0, |step| f64::from(step.day));
    Some(bands.0.stretch(&[Course { steps }], 0.0, last, name))
}

/// Draws the strands of one sheet of cards, so that no two share a mark.
#[derive(Default)]
pub(super) struct CardBands(Bands);
