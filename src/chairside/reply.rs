//! What was asked and what is answered, without HTTP's own types.

use crate::form::Typed;
use crate::workspace::Failure;

use super::guard::Session;

/// What was asked.
pub(super) struct Asked {
    /// The parts of the path, decoded.
    pub(super) path: Vec<String>,
    /// The fields behind the question mark.
    pub(super) query: Typed,
    /// The fields of a change, in their order; nothing when only a page is asked for.
    pub(super) posted: Option<Vec<(String, String)>>,
    /// Who asks.
    pub(super) session: Session,
}

impl Asked {
    /// A posted field, or an empty text.
    pub(super) fn field(&self, name: &str) -> &str {
        let posted = self.posted.iter().flatten();
        posted.into_iter().find(|(field, _)| field == name).map_or("", |(_, text)| text)
    }
}

/// What is answered.
#[derive(Debug, Clone, Default)]
pub(super) struct Reply {
    pub(super) status: u16,
    pub(super) kind: &'static str,
    pub(super) body: String,
    /// Where to go on.
    pub(super) location: Option<String>,
    /// A cookie to set.
    pub(super) cookie: Option<String>,
    /// A policy of its own, for a page of another make.
    pub(super) policy: Option<String>,
    /// Whether a page of this server may show it in a frame.
    pub(super) framed: bool,
}

impl Reply {
    /// A page.
    pub(super) fn page(status: u16, body: String) -> Self {
        Self { status, kind: "text/html; charset=utf-8", body, ..Self::default() }
    }

    /// Go on there.
    pub(super) fn go(place: impl Into<String>) -> Self {
        Self { status: 303, kind: "text/plain; charset=utf-8", location: Some(place.into()), ..Self::default() }
    }
}

/// The machine's refusal as a page's words.
pub(super) fn words_of(failure: &Failure) -> String {
    format!("Could not {} {}: {}. {}", failure.doing, failure.path.display(), failure.why, failure.hint)
}
