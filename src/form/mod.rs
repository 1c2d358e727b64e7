//! The field tables of our files, and how a text is held against one.
//!
//! In: a TOML text and a table of fields. Out: typed values with their places, and every fault at once.
//! Knows nothing of: what the fields mean together; that is the business of `record` and `salon`.
//!
//! The only module that knows TOML. A [`Form`] is a tree of [`Section`]s of [`Field`]s, each with what it wants, what it is and an example;
//! [`Section::walk`] visits them all, for whoever writes a schema or a commented file from the same table.

mod commented;
mod edit;
mod field;
mod filled;
mod filled_in;
mod findings;
mod left_out;
mod moment;
mod number;
mod read;
mod schema;
mod shape;
mod syntax;
mod value;

pub use commented::{Live, commented};
pub use edit::{with_section, with_value};
pub use field::{Choices, Field, Limits, Section, Wants, about, number, whole, word, words};
pub use filled::Filled;
pub use filled_in::{FilledIn, Remarks, Typed, filled_in, quoted, remarks_of, typed_count, typed_of};
pub use findings::Findings;
pub use left_out::without_sections;
pub use read::{FORMAT, Form, WRITTEN_BY_HAND, read};
pub use schema::schema;
pub use shape::Shape;
