//! The page at an address that holds nothing: it says nothing more.
//!
//! In: words. Out: [`MissingPage`]. Knows nothing of: salons, clients, what an address once held.

use serde::Serialize;

use super::mood::Mood;
use super::mood::mood;
use super::words::Words;

/// The page of a missing address; the same for a withdrawn link, an expired page and a wrong address.
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
    /// Its colours: nobody's.
    pub mood: Mood,
}

/// The page of a missing address.
#[must_use]
pub fn missing_page(words: &dyn Words) -> MissingPage {
    MissingPage {
        lang: words.language().to_owned(),
        dir: words.direction().to_owned(),
        title: words.pattern("missing.title"),
        text: words.pattern("missing.text"),
        mood: mood(None, None),
    }
}
