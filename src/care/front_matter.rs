//! The fields of a passage, between two lines of `+++` at the top of its file.
//!
//! In: the text of a passage file. Out: its fields as read, and where the text below them is.
//! Knows nothing of: what the fields mean together.

use super::passage::{CareLevel, Evidence, Priority, Section};
use crate::diagnostic::Diagnostic;
use crate::diagnostic::SourceText;
use crate::diagnostic::Span;
use crate::form::Section as Fields;
use crate::form::{Field, Form, Shape, WRITTEN_BY_HAND, Wants, whole, word};

const FENCE: &str = "+++";

/// The front matter of a passage.
pub(super) static FRONT_MATTER: Form = Form {
    what: "the front matter of a passage",
    top: &TOP,
    smallest: "+++\nid = \"our-steam\"\nsection = \"heat\"\norder = 50\nheading = \"Can I use steam?\"\nuniversal = true\nevidence = \"common practice\"\nsource = \"Our own practice\"\n+++\nNot on wet hair.\n",
    beside: None,
    largest: WRITTEN_BY_HAND,
};

static TOP: Fields = Fields::new(
    "",
    "the front matter of a passage",
    &[
        Field::new("id", Wants::Text(Shape::Code), "the name of the file without .md", "\"wash-water\"").required(),
        Field::new("section", word::<Section>(), "where on the page it stands", "\"washing\"").required(),
        Field::new("order", whole(0.0, 9999.0, ""), "its place in the section, low first", "10").required(),
        Field::new("priority", word::<Priority>(), "what stays when the page grows too long", "\"should\""),
        Field::new("heading", LINE, "a client's question or a short imperative", "\"Hot or cold water?\"").required(),
        Field::new("universal", Wants::YesNo, "whether it is for everybody", "true"),
        Field::new("when", LINE, "whom it is for, in facts", "\"pastel and not coily\""),
        Field::new("level", word::<CareLevel>(), "how urgent a care box is", "\"urgent\""),
        Field::new("evidence", word::<Evidence>(), "what it rests on", "\"common practice\"").required(),
        Field::new("source", PROSE, "the source in a few words", "\"Common practice, no source\"").required(),
        Field::new("why", PROSE, "the reason, when one is known", "\"Each wash takes some colour with it.\""),
    ],
);

const LINE: Wants = Wants::Text(Shape::Line);
const PROSE: Wants = Wants::Text(Shape::Prose);

/// A passage file taken apart.
pub(super) struct Parts {
    /// The file with all but the front matter blanked out, so that places in it are places in the file.
    pub(super) front: SourceText,
    /// Where the text is.
    pub(super) body: Span,
}

/// Takes a passage file apart.
///
/// # Errors
/// A fault, when there is no front matter or no end to it; boxed because it is rare and large.
pub(super) fn split(source: &SourceText) -> Result<Parts, Box<Diagnostic>> {
    let text = &source.text;
    let top = text.strip_prefix('\u{feff}').unwrap_or(text);
    let mut at = text.len() - top.len();
    let missing = |message: &str| {
        let hint = format!("Begin the file with these lines, for example:\n{}", FRONT_MATTER.smallest.trim_end());
        Box::new(Diagnostic::fault(&source.name, message).hint(hint))
    };
    let mut lines = top.split_inclusive('\n');
    match lines.next() {
        Some(first) if first.trim_end() == FENCE => at += first.len(),
        _ => return Err(missing("the passage does not begin with a line +++")),
    }
    let start = at;
    for line in lines {
        if line.trim_end() == FENCE {
            let front = SourceText::new(&source.name, blanked(text, &(start..at)));
            return Ok(Parts { front, body: at + line.len()..text.len() });
        }
        at += line.len();
    }
    Err(missing("the front matter of the passage has no second line +++"))
}

/// The text with every byte outside a place turned into a space, line ends kept.
fn blanked(text: &str, keep: &Span) -> String {
    let blank = |part: &str| part.bytes().map(|byte| if byte == b'\n' { '\n' } else { ' ' }).collect::<String>();
    format!("{}{}{}", blank(&text[..keep.start]), &text[keep.clone()], blank(&text[keep.end..]))
}
