//! Stage between plan and page: the home-care passages this plan needs, each with its reason.
//!
//! In: the passages shipped with the program, a salon's own, and what is known of a client without health facts.
//! Out: the passages that apply, in order, each with the facts that made it apply.
//! Knows nothing of: HTML, the salon's settings, a client's health.
//!
//! ```text
//! content-templates/en/*.md ─► passage ─► library ─► select ─► page
//!                                 ▲                    ▲
//!                             condition ◄── fact ──► facts ◄── Shareable, Plan
//! ```

mod condition;
mod fact;
mod facts;
mod front_matter;
mod library;
mod passage;
mod select;
mod shipped;
mod text;
mod wording;

pub use condition::{Because, Condition, ConditionFault};
pub use fact::Fact;
pub use facts::Facts;
pub use library::{Library, REVIEWED};
pub use passage::{CareLevel, Evidence, Passage, Priority, Section};
pub use select::{Reason, Selected, WORD_LIMIT, left_out, select};
pub use text::{Measure, Placeholder, Text};
pub use wording::{NEVER_SAY, NeverSay, never_said};
