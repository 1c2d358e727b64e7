//! One piece of advice as a page shows it: finished text, and where it stands.
//!
//! In: what `care` selected and `page/markdown` set. Out: [`Advice`]. Knows nothing of: why it was chosen.

use std::ops::Deref;
use std::sync::Arc;

use serde::Serialize;
use serde::Serializer;

pub use crate::care::{CareLevel as Urgency, Section};

/// One piece of advice.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Advice {
    /// Where it stands.
    pub section: Section,
    /// How urgent; only for care boxes.
    pub urgency: Option<Urgency>,
    /// What it says.
    pub entry: Entry,
}

/// What a piece of advice says, shared by all who get the very same.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Entry(Arc<Told>);

/// A heading, a text, and the reason.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Told {
    /// Heading, bare text.
    pub heading: String,
    /// Text, finished mark-up.
    pub body_html: String,
    /// The reason, one tap away.
    pub why: Option<Why>,
}

/// A reason.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Why {
    /// What to tap.
    pub label: String,
    /// The reason, finished mark-up.
    pub body_html: String,
}

impl Entry {
    /// An entry that says this.
    #[must_use]
    pub fn new(told: Told) -> Self {
        Self(Arc::new(told))
    }

    /// Where it lies in memory: the same for entries that share one text, and for no other as long as one of them is there.
    #[must_use]
    pub fn place(&self) -> *const Told {
        Arc::as_ptr(&self.0)
    }
}

impl Deref for Entry {
    type Target = Told;

    fn deref(&self) -> &Told {
        &self.0
    }
}

impl Serialize for Entry {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        self.0.serialize(serializer)
    }
}
