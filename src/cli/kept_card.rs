//! What is said of the test-and-incident card of a client who is forgotten.

use std::path::Path;

use afterhue::plan::day_in_words;
use afterhue::rights::Card;
use afterhue::workspace::{self, Failure};
use chrono::NaiveDate;

use super::terminal;

/// Shows what is kept, before anything is removed.
pub(crate) fn show(card: &Card) {
    terminal::say(&format!(
        "This is kept, sealed, until {}; the first run of pages on that day removes it:",
        day_in_words(card.until)
    ));
    card.text.lines().for_each(|line| terminal::say(&format!("  {line}")));
}

/// Removes the cards whose day has come, and says so.
pub(crate) fn drop_due(folder: &Path, today: NaiveDate) -> Result<(), Failure> {
    let (gone, odd) = workspace::drop_cards_due(folder, today)?;
    if gone > 0 {
        let cards = terminal::count(gone, "card", "cards");
        terminal::say(&format!("{cards} of forgotten clients removed: the day has come."));
    }
    for name in odd {
        terminal::say(&format!("{name} does not tell on which day it goes. Look at it, and remove it by hand."));
    }
    Ok(())
}
