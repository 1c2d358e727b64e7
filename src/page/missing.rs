//! The page at an address where nothing is. It says nothing else: not whether anything ever was there.
//!
//! In: the salon, words. Out: [`MissingPage`]. Knows nothing of: any client.

use serde::Serialize;

use super::mood::{Mood, mood};
use super::words::Words;
use crate::salon::Salon;
use crate::science::colour::srgb::Srgb;

/// The page of an address without a page.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct MissingPage {
    /// Language, a BCP 47 tag.
    pub lang: String,
    /// Direction, "ltr" or "rtl".
    pub dir: String,
    /// Title and heading.
    pub title: String,
    /// One sentence.
    pub text: String,
    /// Its colours.
    pub mood: Mood,
}

/// The page at an address where nothing is.
#[must_use]
pub fn missing_page(salon: &Salon, words: &dyn Words) -> MissingPage {
    MissingPage {
        lang: words.language().to_owned(),
        dir: words.direction().to_owned(),
        title: words.pattern("missing.title"),
        text: words.pattern("missing.text"),
        mood: mood(None, salon.accent.as_deref().and_then(Srgb::from_hex)),
    }
}
