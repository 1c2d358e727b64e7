//! Health facts. They are seen by gates and private sheets only, and never change a byte of a public page.

use chrono::NaiveDate;

/// Everything about a client's health, from the client file and from each visit.
///
/// Nothing here has a default answer: what nobody recorded is "not recorded".
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Health {
    /// Allergy alert tests.
    pub alert_tests: Vec<AlertTest>,
    /// Reactions.
    pub reactions: Vec<Reaction>,
    /// Answers of the consultation.
    pub answers: Answers,
    /// Incidents.
    pub incidents: Vec<Incident>,
    /// Why questions were left open, when somebody said so.
    pub left_open: Option<String>,
}

impl Health {
    /// Whether nothing of the client's health stands here; why a question was left open is no such fact.
    #[must_use]
    pub fn tells_nothing(&self) -> bool {
        *self == Self { left_open: self.left_open.clone(), ..Self::default() }
    }
}

/// One allergy alert test.
#[derive(Debug, Clone, PartialEq)]
pub struct AlertTest {
    /// The product tested, in the salon's words.
    pub product: Option<String>,
    /// The day it was applied.
    pub applied: NaiveDate,
    /// The day it was read; unread is not clear.
    pub read: Option<NaiveDate>,
    /// Whether nothing was seen.
    pub clear: Option<bool>,
    /// Who read it.
    pub read_by: Option<String>,
}

/// A reaction to a product.
#[derive(Debug, Clone, PartialEq)]
pub struct Reaction {
    /// To what: a dye class, lightener, or in the salon's words.
    pub to: String,
    /// When.
    pub date: Option<NaiveDate>,
    /// What happened.
    pub note: Option<String>,
}

/// Answers of the consultation; `None` is "not asked".
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Answers {
    /// Ever had a black henna tattoo.
    pub black_henna: Option<bool>,
    /// A medicine or treatment that may change skin or hair.
    pub medicine: Option<bool>,
    /// Pregnant or breastfeeding.
    pub pregnancy: Option<bool>,
    /// Sore, broken or diseased scalp.
    pub scalp_condition: Option<bool>,
    /// Asthma or breathing trouble with lightener.
    pub breathing: Option<bool>,
}

/// Something that went wrong.
#[derive(Debug, Clone, PartialEq)]
pub struct Incident {
    /// When.
    pub date: Option<NaiveDate>,
    /// What happened and what was done.
    pub note: String,
}
