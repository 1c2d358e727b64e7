//! One piece of advice as a page shows it: finished text, and where it stands.
//!
//! In: what `care` selected and `page/markdown` set. Out: [`Advice`]. Knows nothing of: why it was chosen.

pub use crate::care::{CareLevel as Urgency, Section};

/// One piece of advice.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Advice {
    /// Where it stands.
    pub section: Section,
    /// Heading, bare text.
    pub heading: String,
    /// Text as finished mark-up.
    pub body_html: String,
    /// The reason, as finished mark-up, one tap away.
    pub why_html: Option<String>,
    /// How urgent; only for care boxes.
    pub urgency: Option<Urgency>,
}
