//! Every free text of a salon's files, taken from the field tables, filled with what one likes.
//!
//! A field of a table is filled from the day it is there, unless [`LOOKED_UP`] says that its text must be one the program knows.

use afterhue::diagnostic::SourceText;
use afterhue::form::{Field, Section, Shape, Wants};
use afterhue::workspace::Texts;
use toml::{Table, Value};

use crate::dice::Dice;
use crate::privacy::fields::{Filler, KINDS};

/// Texts that are looked up: any other is a fault, so nothing of one's own can stand there. Kind, section, field.
const LOOKED_UP: [(&str, &str, &str); 3] =
    [("SALON", "", "base_address"), ("SALON", "", "time_zone"), ("VISIT", "habits.colour_conditioner", "shade")];

/// The note to the client is Markdown.
pub(super) const NOTE: (&str, &str, &str) = ("VISIT", "", "note");

/// Mark-up, and pieces of it that mean something to a browser, a template or a spreadsheet.
const PIECES: [&str; 40] = [
    "<",
    ">",
    "\"",
    "'",
    "&",
    "=",
    "`",
    "/",
    "\\",
    " ",
    "{{ salon }}",
    "{% raw %}",
    "{#",
    "</p>",
    "</svg>",
    "</title>",
    "</style>",
    "</script>",
    "</textarea>",
    "<script>alert(1)</script>",
    "<img src=x onerror=alert(1)>",
    "<svg/onload=alert(1)>",
    "<b",
    "<a href=javascript:x>",
    "<plaintext>",
    "<textarea>",
    "<style>*{}",
    "<!--",
    "-->",
    "<![CDATA[",
    "]]>",
    "<?x",
    "&lt;",
    "&#60;b&#62;",
    "\" onfocus=\"x",
    "' onfocus='x",
    "javascript:alert(1)",
    "é‘’“”",
    "w",
    "<table><tr><td>",
];

/// Pieces of one line that Markdown takes as words.
const WORDS_IN_MARKDOWN: [&str; 16] = [
    "<b>",
    "</p>",
    "</div>",
    "</section>",
    "<script>alert(1)</script>",
    "<img src=x onerror=alert(1)>",
    "<svg/onload=alert(1)>",
    "<!-- x -->",
    "\"",
    "'",
    "&lt;",
    "&#60;b&#62;",
    " w ",
    "é",
    "</svg>",
    "<plaintext>",
];

/// Texts of one's own for every field.
pub(super) struct Words {
    dice: Dice,
    harmless: bool,
    /// What was written, as it was written.
    pub(super) written: Vec<String>,
}

impl Words {
    /// Hostile words, or harmless ones of the same shape: the same letters, every other sign a letter.
    pub(super) fn new(seed: u64, harmless: bool) -> Self {
        Self { dice: Dice(seed), harmless, written: Vec::new() }
    }

    /// A text of at most so many pieces.
    fn text(&mut self, pieces: &[&str], most: usize) -> String {
        let many = 1 + self.dice.below(most);
        let text: String = (0..many).map(|_| pieces[self.dice.below(pieces.len())]).collect();
        // A number, so that no two texts are the same once they are harmless: some lists name each only once.
        let text: String = format!("w{}{text}w", self.written.len()).chars().take(190).collect();
        let text = if self.harmless { harmless(&text) } else { text };
        self.written.push(text.clone());
        text
    }

    /// The text of a field; nothing when only what it holds can stand there.
    fn of(&mut self, shape: Shape) -> Option<String> {
        match shape {
            Shape::Line => Some(self.text(&PIECES, 6)),
            Shape::Prose => Some(format!("{}\n{}", self.text(&PIECES, 6), self.text(&PIECES, 6))),
            Shape::Email if self.harmless => Some("oxharaxcoxxx@example.org".to_owned()),
            Shape::Email => Some("o'hara&co`='@example.org".to_owned()),
            // Made of letters, digits and a few signs; or a file that has to be there.
            Shape::Phone | Shape::Dial | Shape::Code | Shape::HexColour => None,
            Shape::Language | Shape::Country | Shape::Currency | Shape::Path => None,
        }
    }

    /// A note without Markdown.
    pub(super) fn note(&mut self) -> String {
        self.text(&WORDS_IN_MARKDOWN, 6)
    }
}

/// The same letters, digits and spaces, and a letter for every other sign; a dot where a word has signs alone and so counts as none:
/// a page takes as many words as it has room for.
fn harmless(text: &str) -> String {
    let plain = |word: &str| {
        let sign = if word.chars().any(char::is_alphanumeric) { 'x' } else { '.' };
        word.chars().map(|c| if c.is_alphanumeric() { c } else { sign }).collect::<String>()
    };
    text.split(' ').map(plain).collect::<Vec<_>>().join(" ")
}

/// The same salon with every field there is, and every free text of it from `words`.
pub(super) fn filled(texts: &Texts, words: &mut Words) -> Texts {
    let mut filler = Filler::new(11, true);
    let mut fill = |kind: &'static str, source: &SourceText| {
        let mut table: Table = filler.filled(kind, &source.text).parse().expect("TOML");
        let form = KINDS.iter().find(|(name, _)| *name == kind).expect("a kind").1;
        section(kind, &mut table, form.top, "", words);
        SourceText::new(source.name.clone(), toml::to_string(&table).expect("TOML"))
    };
    Texts {
        salon: texts.salon.as_ref().map(|source| fill("SALON", source)),
        bookings: texts.bookings.as_ref().map(|source| fill("BOOKINGS", source)),
        estimate: texts.estimate.as_ref().map(|source| fill("ESTIMATE", source)),
        clients: texts.clients.iter().map(|source| fill("CLIENT", source)).collect(),
        records: texts.records.iter().map(|source| fill("VISIT", source)).collect(),
        content: passages(words),
        pictures: texts.pictures.clone(),
        ..Texts::default()
    }
}

fn section(kind: &str, table: &mut Table, fields: &'static Section, path: &str, words: &mut Words) {
    for field in fields.fields {
        if let Some(below) = field.section() {
            let place = if path.is_empty() { field.name.to_owned() } else { format!("{path}.{}", field.name) };
            let inner: Vec<&mut Table> = match table.get_mut(field.name) {
                Some(Value::Table(one)) => vec![one],
                Some(Value::Array(list)) => list.iter_mut().filter_map(Value::as_table_mut).collect(),
                _ => Vec::new(),
            };
            inner.into_iter().for_each(|one| section(kind, one, below, &place, words));
        } else if let Some(value) = value(kind, path, field, words) {
            if path == "placement.zone.colour" && !table.contains_key("lab") {
                // Alone, the name is looked up; beside a colour it is free text.
                table.entry("hex").or_insert_with(|| Value::String("#e8b4b8".to_owned()));
            }
            table.insert(field.name.to_owned(), value);
        }
    }
}

fn value(kind: &str, path: &str, field: &Field, words: &mut Words) -> Option<Value> {
    let place = (kind, path, field.name);
    if LOOKED_UP.contains(&place) {
        return None;
    }
    if place == NOTE {
        return Some(Value::String(words.note()));
    }
    match field.wants {
        Wants::Text(shape) => words.of(shape).map(Value::String),
        Wants::Texts(shape, _) => {
            Some(Value::Array(vec![Value::String(words.of(shape)?), Value::String(words.of(shape)?)]))
        }
        _ => None,
    }
}

/// Passages of the salon's own, one for everybody in three sections; braces are places to fill, so none stands in them.
fn passages(words: &mut Words) -> Vec<SourceText> {
    let without_braces = |pieces: &[&'static str]| -> Vec<&str> {
        pieces.iter().copied().filter(|piece| !piece.contains(['{', '}'])).collect()
    };
    let (pieces, in_markdown) = (without_braces(&PIECES), without_braces(&WORDS_IN_MARKDOWN));
    let mut passage = |id: &str, section: &str, level: &str| {
        let mut said = |pieces: &[&str]| words.text(pieces, 5);
        let text = format!(
            "+++\nid = \"{id}\"\nsection = \"{section}\"\norder = 1\nuniversal = true\nheading = {}\n{level}evidence = \"common practice\"\nsource = {}\nwhy = {}\n+++\n{}\n",
            Value::String(said(&pieces)),
            Value::String(said(&pieces)),
            Value::String(said(&in_markdown)),
            said(&in_markdown),
        );
        SourceText::new(format!("content/{id}.md"), text)
    };
    vec![
        passage("our-first", "tonight", ""),
        passage("our-washing", "washing", ""),
        passage("our-care", "care-boxes", "level = \"tell\"\n"),
    ]
}
