//! How long what concerns health is kept, where the salon has set it.

/// How long facts about health are kept. Nothing is set by default: a card is kept for nobody, and no test is too old to keep.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Retention {
    /// The test-and-incident card of a client who is forgotten; nothing when none is kept.
    pub card: Option<CardKept>,
    /// For how many days after it was applied an alert test stays on record.
    pub alert_test_days: Option<u32>,
}

/// Why and for how long the card of a forgotten client is kept. One without the other keeps nothing.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct CardKept {
    /// The reason, as it is shown to whoever asks to be forgotten.
    pub reason: String,
    /// Days from forgetting to the day on which the card goes.
    pub days: u32,
}
