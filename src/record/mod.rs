//! Stage 1: what was done, to whom.
//!
//! In: the texts of client files and visit records. Out: [`ClientFile`], [`ServiceRecord`] and, per client, a [`History`]; every fault with its place.
//! Knows nothing of: colour to come, plans, pages.
//!
//! What may reach a public page is [`Shareable`]; what never may is [`Health`].

mod cautions;
mod client;
mod file;
mod health;
mod histories;
mod history;
mod validate;
mod visit;
mod words;

use crate::form::Shape;

pub use client::{AgeCheck, ClientFile, Consents, Contact, HairHistoryEntry};
pub use file::{CLIENT, VISIT};
pub use health::{AlertTest, Answers, Health, Incident, Reaction};
pub use histories::{Known, histories};
pub use history::{History, Shareable};
pub use validate::{client_named_in, read_client, read_visit};
pub use visit::{
    FinishedColour, Habits, Hair, HeatTools, HomeConditioner, LighteningStep, Placement, Seen, SeenZone, ServiceRecord,
    ToningPass, Wishes, Zone,
};
pub use words::{
    AfterWish, Area, Curl, Density, Elasticity, FoundBy, HistoryKind, Ph, PlacementKind, ScalpOil, SwimPlace, Texture,
    Took, ZoneName,
};

/// A client's code: 2 to 32 lower-case letters, digits or hyphens. Never a name.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct ClientCode(String);

impl ClientCode {
    /// A code, or nothing when it is not spelled as one.
    #[must_use]
    pub fn try_new(text: &str) -> Option<Self> {
        Shape::Code.refusal(text).is_none().then(|| Self(text.to_owned()))
    }

    /// The code as written.
    #[must_use]
    pub fn as_str(&self) -> &str {
        &self.0
    }
}

impl std::fmt::Display for ClientCode {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(&self.0)
    }
}
