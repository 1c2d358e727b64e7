//! A sealed page from outside: what everybody sees who has no key, and the closed text.
//!
//! In: words, the emergency number, a closed text. Out: [`SealedPage`]. Knows nothing of: salons, clients, what is inside.

use serde::Serialize;

use super::mood::Mood;
use super::mood::mood;
use super::seal::Closed;
use super::words::Words;

/// A sealed page from outside; the same for every client of a salon but for the closed text.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct SealedPage {
    /// Language, a BCP 47 tag.
    pub lang: String,
    /// Direction, "ltr" or "rtl".
    pub dir: String,
    /// Title; names nobody and nothing.
    pub title: String,
    /// "This page is closed".
    pub heading: String,
    /// How it opens.
    pub lead: String,
    /// Said when the address holds no key.
    pub no_key: String,
    /// Said when the key is wrong or the text was changed: the cipher cannot tell which.
    pub not_opened: String,
    /// Said where no script runs.
    pub no_script: String,
    /// What nobody should wait for a page to do.
    pub sore: String,
    /// Its colours: nobody's.
    pub mood: Mood,
    /// Nonce of the closed text, base64.
    pub nonce: String,
    /// The closed text, base64.
    pub closed: String,
}

/// A sealed page from outside.
#[must_use]
pub fn sealed_page(closed: Closed, emergency: &str, words: &dyn Words) -> SealedPage {
    let say = |key| words.pattern(key);
    SealedPage {
        lang: words.language().to_owned(),
        dir: words.direction().to_owned(),
        title: say("sealed.title"),
        heading: say("sealed.heading"),
        lead: say("sealed.lead"),
        no_key: say("sealed.no-key"),
        not_opened: say("sealed.not-opened"),
        no_script: say("sealed.no-script"),
        sore: words.say("sealed.sore", &[("number", emergency)]),
        mood: mood(None, None),
        nonce: closed.nonce,
        closed: closed.text,
    }
}
