//! The fields of a client file and of a visit record: every name, what it wants, what it is, an example.

mod client;
mod visit;

use crate::form::{Field, Form, Shape, WRITTEN_BY_HAND, Wants, whole};

use client::CLIENT_TOP;
use visit::VISIT_TOP;

const LINE: Wants = Wants::Text(Shape::Line);
const PROSE: Wants = Wants::Text(Shape::Prose);

/// A client file, `clients/CODE.toml`.
pub static CLIENT: Form = Form {
    what: "a client file",
    top: &CLIENT_TOP,
    smallest: "format = 1\nfirst_name = \"Wren\"\n",
    beside: Some(&VISIT),
    largest: WRITTEN_BY_HAND,
};

/// A visit record, `records/**/*.toml`.
pub static VISIT: Form = Form {
    what: "a visit record",
    top: &VISIT_TOP,
    smallest: "format = 1\nclient = \"wren-04\"\ndate = 2026-11-20\n\n[[placement]]\nkind = \"full head\"\ntoning = [{ dye = \"direct\" }]\nzone = [{ from_mm = 0, to_mm = 350, stage = 9.5, colour = { name = \"rose pastel\" } }]\n",
    beside: Some(&CLIENT),
    largest: WRITTEN_BY_HAND,
};

const FORMAT: Field = Field::new("format", whole(1.0, 1.0, ""), "the format of this file, always 1", "1").required();
