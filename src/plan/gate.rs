//! Gates: what forbids or delays the next service. Private; they may name health facts.

use chrono::NaiveDate;

use super::Plan;
use crate::record::History;
use crate::salon::Salon;

/// Something to settle before the next service. A gate may forbid, never clear.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub enum Gate {
    /// Age 16 is not confirmed.
    AgeNotConfirmed,
    /// An alert test is due by this day.
    AlertTestDue {
        /// The latest day to make it.
        by: Option<NaiveDate>,
    },
    /// A test was made and not read.
    AlertTestUnread,
    /// A past reaction blocks this dye type whatever a test says.
    PastReaction {
        /// To what.
        to: String,
    },
    /// A black henna tattoo on record: a doctor's word first.
    BlackHenna,
    /// A medicine, pregnancy, scalp or breathing answer: ask again that day.
    AskAgain,
    /// Elasticity failed: no lightening.
    WeakHair,
    /// The same hair was lightened too recently; not before this day.
    RelightenGap {
        /// The first day.
        from: NaiveDate,
    },
    /// Henna or metallic dye: an incompatibility test first.
    IncompatibilityTest,
    /// An incident is on record.
    Incident,
    /// Peroxide above the limit was used.
    PeroxideOverLimit,
    /// Answers that nobody recorded.
    NotRecorded {
        /// Which, in words.
        what: &'static str,
    },
}

/// Every gate before the next service of this client.
#[must_use]
pub fn gates(_history: &History, _salon: &Salon, _plan: &Plan) -> Vec<Gate> {
    todo!()
}
