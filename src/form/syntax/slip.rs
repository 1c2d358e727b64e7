//! One slip of writing, told from the line it is on.

use super::bad_value::bad_value;
use crate::diagnostic::{Diagnostic, SourceText, Span};

/// One slip, told from the line it is on.
pub(super) fn slip(source: &SourceText, error: &str, span: Span, line: Span) -> Diagnostic {
    let text = &source.text[line.clone()];
    let fault = |message: &str| Diagnostic::fault(&source.name, message);
    if error.starts_with("duplicate") || error.starts_with("cannot extend") {
        return twice(source, span, line);
    }
    if let Some(value) =
        text.find('=').map(|at| line.start + at + 1..line.end).filter(|value| span.start >= value.start)
    {
        let name = source.text[line.start..value.start - 1].trim_matches(['\u{feff}', ' ', '\t']);
        if let Some(fault) = bad_value(source, error, name, &value, &span) {
            return fault;
        }
    }
    let words = text.trim_matches(['\u{feff}', ' ', '\t']);
    let whole_line = line.end - words.len().min(line.len())..line.end;
    if error.starts_with("unclosed") || error.starts_with("missing table") {
        let name = words.trim_matches(['[', ']', ' ']);
        let (open, close) = if words.starts_with("[[") { ("[[", "]]") } else { ("[", "]") };
        return fault("the square brackets of this section do not close")
            .at(span, "a bracket is missing here")
            .hint(format!("Write `{open}{name}{close}` on a line of its own"));
    }
    if error.starts_with("carriage return") {
        return fault("a line ends in a way that is no longer used").at(span, "after this").hint(
            "Save the file again with ordinary line ends (LF or CRLF); most editors offer it in the save dialog",
        );
    }
    if error.starts_with("cannot recurse") {
        return fault("too many brackets stand inside one another")
            .at(span, "here")
            .hint("Write each section under its own line in square brackets");
    }
    if error.starts_with("recursion limit") {
        return endless_name(source);
    }
    if ["//", ";", "--", "%"].iter().any(|sign| words.starts_with(sign)) {
        return fault("this line cannot be read").at(whole_line, "a remark?").hint("A remark begins with #");
    }
    no_field(source, words, whole_line)
}

/// The most parts a name has that the reader of TOML follows; it does not say where one has more.
const MOST_PARTS: usize = 50;

/// A name of more parts than any has.
fn endless_name(source: &SourceText) -> Diagnostic {
    let mut at = 0;
    let line = source.text.split_inclusive('\n').find_map(|line| {
        let start = at;
        at += line.len();
        (line.matches('.').count() > MOST_PARTS).then(|| start..start + line.trim_end().len())
    });
    let fault = Diagnostic::fault(&source.name, "this name has far more parts with full stops between them than any");
    let fault = fault.hint("A section stands on a line of its own, in square brackets, and has at most three parts");
    match line {
        Some(line) => fault.at(line, "here"),
        None => fault,
    }
}

/// A line that is not `name = value`.
fn no_field(source: &SourceText, words: &str, place: Span) -> Diagnostic {
    let fault = |message: &str| Diagnostic::fault(&source.name, message);
    let (before, after) =
        words.split_once('=').map_or((words, None), |(before, after)| (before.trim(), Some(after.trim())));
    if let (None, Some((name, value))) = (after, words.split_once(':')) {
        return fault("a colon stands where an equals sign is wanted").at(place, "").hint(format!(
            "Write `{} = {}`",
            name.trim(),
            value.trim()
        ));
    }
    match after {
        Some(value) if before.contains([' ', '\t']) => fault("the name of a field has no spaces")
            .at(place.start..place.start + before.len(), "this has")
            .hint(format!("Write `{} = {value}`", before.split_whitespace().collect::<Vec<_>>().join("_"))),
        Some(_) if before.is_empty() => fault("the name of the field is missing")
            .at(place, "before the equals sign")
            .hint("A line is written `name = value`"),
        Some(_) => fault("this line cannot be read")
            .at(place, "here")
            .hint("A line is written `name = value`; a name has the letters a to z, digits, - and _ only"),
        None if looks_like_field(words) => {
            let (name, value) = words.split_once([' ', '\t']).unwrap_or((words, ""));
            fault("this line has no equals sign").at(place, "").hint(format!("Write `{name} = {}`", value.trim()))
        }
        None => fault("this line has no equals sign")
            .at(place, "a field?")
            .hint("A line is written `name = value`; a remark begins with #, a section stands in square brackets"),
    }
}

/// Whether a line is a name and then something that can only be a value.
fn looks_like_field(words: &str) -> bool {
    let Some((name, value)) = words.split_once([' ', '\t']) else { return false };
    let value = value.trim();
    name.chars().all(|c| c.is_ascii_alphanumeric() || c == '_')
        && (value.starts_with(|c: char| c.is_ascii_digit() || c == '"') || value == "true" || value == "false")
}

/// A field or section written twice.
fn twice(source: &SourceText, span: Span, line: Span) -> Diagnostic {
    let name = &source.text[span.clone()];
    let header = source.text[line.clone()].trim_start().starts_with('[');
    let first = first_line_of(source, name, header, line.start);
    let before = first.map_or_else(|| "before".to_owned(), |line| format!("on line {line}"));
    let written = source.text[line].trim().to_owned();
    if !header {
        return Diagnostic::fault(&source.name, format!("`{name}` is written twice in this section"))
            .at(span, "here again")
            .hint(format!("It is already {before}; keep one of the two"));
    }
    let fault =
        Diagnostic::fault(&source.name, format!("the section {written} is written twice")).at(span, "here again");
    if written.starts_with("[[") {
        let path = written.trim_matches(['[', ']']);
        return fault
            .hint(format!("It is already {before} as `[{path}]` or inside a line; write `[[{path}]]` each time"));
    }
    fault.hint(format!("It is already {before}; put the lines of both under one of them"))
}

/// The line on which a name was written first, looking upward and staying inside the section for a field.
fn first_line_of(source: &SourceText, name: &str, header: bool, before: usize) -> Option<usize> {
    let mut found = None;
    let mut offset = before;
    for line in source.text[..before].split_inclusive('\n').rev() {
        offset -= line.len();
        let words = line.trim_matches(['\u{feff}', ' ', '\t', '\r', '\n']);
        let is_header = words.starts_with('[');
        let candidate =
            if is_header { words.trim_matches(['[', ']', ' ']).rsplit('.').next() } else { words.split('=').next() };
        if is_header == header && candidate.map(str::trim) == Some(name) {
            found = Some(source.line_and_column(offset).0);
        }
        if is_header && !header {
            break;
        }
    }
    found
}
