//! What is wrong with the writing itself, told in the words of a person who fills in a form.
//!
//! The reader goes on after each slip, so that every one is told; one message a line is enough.

use std::collections::BTreeSet;

use toml::Spanned;
use toml::de::{DeTable, DeValue, Error};

use super::moment;
use crate::diagnostic::{Diagnostic, SourceText, Span};

/// The parts of a text that could not be read, where other faults would only be echoes.
#[derive(Debug, Default)]
pub(super) struct Broken {
    ranges: Vec<Span>,
    /// The first words of the lines in those parts: a field that seems missing may be one of them.
    names: Vec<String>,
}

impl Broken {
    /// Whether a place lies in a part that could not be read.
    pub(super) fn covers(&self, place: &Span) -> bool {
        self.ranges.iter().any(|range| range.contains(&place.start))
    }

    /// Whether a field is named in a part that could not be read.
    pub(super) fn mentions(&self, name: &str) -> bool {
        self.names.iter().any(|known| known == name)
    }

    fn add(&mut self, source: &SourceText, range: Span) {
        for line in source.text[range.start..range.end.min(source.text.len())].lines() {
            let first: &str = line.trim_start_matches(['[', ' ', '\t', '\u{feff}', '{', ',']);
            let end = first.find(['=', ' ', ']', ':', '\t']).unwrap_or(first.len());
            self.names.extend(first[..end].split('.').map(str::to_owned));
        }
        self.ranges.push(range);
    }
}

/// Reads a text as far as it goes, over every slip.
///
/// The reader of TOML stops at a line that is no field; such lines are blanked, byte for byte, and the text is read again.
pub(super) fn recovered<T>(text: &str, with: impl FnOnce(DeTable<'_>, Vec<Error>) -> T) -> T {
    let mut blanked = text.to_owned();
    let mut kept: Vec<Error> = Vec::new();
    for _ in 0..MOST_READINGS {
        let (_, errors) = DeTable::parse_recoverable(&blanked);
        let stops: Vec<Error> = errors.into_iter().filter(stops_the_reader).collect();
        if stops.is_empty() {
            break;
        }
        blanked = without_lines(&blanked, &stops);
        kept.extend(stops);
    }
    let (table, mut errors) = DeTable::parse_recoverable(&blanked);
    errors.extend(kept);
    errors.sort_by_key(|error| error.span().map(|span| span.start));
    with(table.into_inner(), errors)
}

/// More readings than this are never needed: each finds every such line that the one before did not hide.
const MOST_READINGS: usize = 5;
/// More slips of writing than this are not told: the file is hardly one of ours.
const MOST_SLIPS: usize = 200;

fn stops_the_reader(error: &Error) -> bool {
    ["key with no value", "invalid key-value pair"].iter().any(|stop| error.message().starts_with(stop))
}

/// The text with the lines of these errors blanked, each by as many spaces as it has bytes, so that every other place stays where it is.
fn without_lines(text: &str, stops: &[Error]) -> String {
    let starts: BTreeSet<usize> = stops.iter().filter_map(Error::span).map(|span| span.start).collect();
    let mut blanked = String::with_capacity(text.len());
    for line in text.split_inclusive('\n') {
        let body = line.trim_end_matches('\n');
        let range = blanked.len()..=blanked.len() + body.len();
        if starts.range(range).next().is_some() {
            blanked.push_str(&" ".repeat(body.len()));
            blanked.push_str(&line[body.len()..]);
        } else {
            blanked.push_str(line);
        }
    }
    blanked
}

/// The faults of writing, one a line, and the parts that could not be read.
pub(super) fn faults(source: &SourceText, table: &DeTable<'_>, errors: &[Error]) -> (Vec<Diagnostic>, Broken) {
    let mut broken = Broken::default();
    let mut faults = Vec::new();
    for (place, what) in never_closed(source, table, errors) {
        if broken.covers(&place) {
            continue;
        }
        broken.add(source, place.start..source.text.len() + 1);
        faults.push(never_closed_fault(source, place, what));
    }
    let mut told: Vec<usize> = Vec::new();
    for error in errors {
        if faults.len() >= MOST_SLIPS {
            break;
        }
        let span = error.span().unwrap_or(0..0);
        let line = source.line_around(span.start);
        if told.contains(&line.start) || broken.covers(&span) {
            continue;
        }
        told.push(line.start);
        faults.push(slip(source, error.message(), span, line.clone()));
        let header = source.text[line.clone()].trim_start().starts_with('[');
        let unread = if header && !error.message().starts_with("duplicate") {
            line.start..next_header(&source.text, line.end)
        } else {
            line.start..line.end + 1
        };
        if !error.message().starts_with("duplicate") {
            broken.add(source, unread.start..unread.end.min(source.text.len()));
        }
    }
    (faults, broken)
}

/// Where the next line in square brackets begins.
fn next_header(text: &str, from: usize) -> usize {
    let mut start = from;
    for line in text[from..].split_inclusive('\n') {
        if start > from && line.trim_start().starts_with('[') {
            return start;
        }
        start += line.len();
    }
    text.len()
}

/// Lists, braces and long texts that run to the end of the file because nothing closes them, with what they are.
fn never_closed(source: &SourceText, table: &DeTable<'_>, errors: &[Error]) -> Vec<(Span, &'static str)> {
    let mut found = Vec::new();
    for error in errors {
        let what = match error.message() {
            message if message.starts_with("unclosed array,") => "list",
            message if message.starts_with("unclosed inline table") => "group",
            message if message.starts_with("invalid multi-line") => "long text",
            _ => continue,
        };
        let end = error.span().map_or(source.text.len(), |span| span.start);
        let mut place = None;
        table.iter().for_each(|(_, value)| outermost_ending_at(value, end, what, &mut place));
        found.extend(place.map(|place| (place, what)));
    }
    found.sort_by_key(|(place, _)| place.start);
    found
}

fn outermost_ending_at(value: &Spanned<DeValue<'_>>, end: usize, what: &str, place: &mut Option<Span>) {
    if place.is_some() {
        return;
    }
    let fits = match value.get_ref() {
        DeValue::Array(_) => what == "list",
        DeValue::Table(_) => what == "group",
        DeValue::String(_) => what == "long text",
        _ => false,
    };
    // The end may be told a little before the span's own, by the white space between.
    if fits && value.span().end >= end && value.span().start < end && value.span().len() > 1 {
        *place = Some(value.span());
        return;
    }
    match value.get_ref() {
        DeValue::Array(items) => items.iter().for_each(|item| outermost_ending_at(item, end, what, place)),
        DeValue::Table(table) => table.iter().for_each(|(_, item)| outermost_ending_at(item, end, what, place)),
        _ => {}
    }
}

fn never_closed_fault(source: &SourceText, place: Span, what: &str) -> Diagnostic {
    let (open, close) = match what {
        "list" => ("[", "]"),
        "group" => ("{", "}"),
        _ if source.text[place.clone()].starts_with("'''") => ("'''", "'''"),
        _ => ("\"\"\"", "\"\"\""),
    };
    Diagnostic::fault(&source.name, format!("this {what} begins with {open} and is never closed"))
        .at(place.start..place.start + open.len(), "it begins here")
        .hint(format!("Write {close} where the {what} ends"))
        .hint("What follows could not be read; correct this first, then look again")
}

/// One slip, told from the line it is on.
fn slip(source: &SourceText, error: &str, span: Span, line: Span) -> Diagnostic {
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
    if ["//", ";", "--", "%"].iter().any(|sign| words.starts_with(sign)) {
        return fault("this line cannot be read").at(whole_line, "a remark?").hint("A remark begins with #");
    }
    no_field(source, words, whole_line)
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

/// A value that cannot be read, told from what stands behind the equals sign.
fn bad_value(source: &SourceText, error: &str, name: &str, value: &Span, span: &Span) -> Option<Diagnostic> {
    let fault = |message: String, place: Span, label: &str| Diagnostic::fault(&source.name, message).at(place, label);
    let after = &source.text[value.clone()];
    let start = value.end - after.trim_start().len();
    let raw = without_remark(after).trim();
    let place = start..start + raw.len();
    if raw.is_empty() {
        let message = format!("nothing is written behind `{name} =`");
        return Some(
            fault(message, value.start - 1..value.start, "a value is wanted")
                .hint("Write a value, or take the line out"),
        );
    }
    if error.starts_with("invalid basic string") || error.starts_with("invalid literal string") {
        return Some(
            fault("this text has no closing quotation mark".to_owned(), place, "it begins here")
                .hint(format!("Write `{name} = {raw}{}`", &raw[..1])),
        );
    }
    if error.contains("escape") || error.contains("unicode value") || error.contains("unicode hexadecimal") {
        return Some(
            fault("a backslash inside quotation marks means something special".to_owned(), span.clone(), "here")
                .hint("Write the backslash twice, or put the text between single quotation marks '…'"),
        );
    }
    if raw.starts_with(['[', '{']) {
        return bad_list(source, error, span, raw);
    }
    Some(bad_plain_value(name, raw, error, |message| fault(message, place.clone(), "")))
}

fn bad_list(source: &SourceText, error: &str, span: &Span, raw: &str) -> Option<Diagnostic> {
    let fault = |message: &str, label: &str| Diagnostic::fault(&source.name, message).at(span.clone(), label);
    let what = if raw.starts_with('[') { "list" } else { "group" };
    if error.starts_with("missing comma") {
        return Some(
            fault(&format!("a comma is missing in this {what}"), "before this")
                .hint("Write a comma between one and the next"),
        );
    }
    if error.starts_with("extra comma") {
        return Some(fault(&format!("there is a comma too many in this {what}"), "here").hint("Take it out"));
    }
    if error.starts_with("string values") {
        let word = &source.text[span.clone()];
        return Some(fault("text needs quotation marks", "").hint(format!("Write \"{}\"", straight(word))));
    }
    None
}

/// A value that stands alone and without quotation marks.
fn bad_plain_value(name: &str, raw: &str, error: &str, fault: impl Fn(String) -> Diagnostic) -> Diagnostic {
    let lower = raw.to_lowercase();
    if ["yes", "y", "true", "on"].contains(&lower.as_str()) {
        return fault(format!("`{raw}` is not how a yes is written")).hint(format!("Write `{name} = true`"));
    }
    if ["no", "n", "false", "off"].contains(&lower.as_str()) {
        return fault(format!("`{raw}` is not how a no is written")).hint(format!("Write `{name} = false`"));
    }
    if error.starts_with("invalid date") || !moment::days_meant(raw).is_empty() {
        let message =
            if moment::days_meant(raw).is_empty() { "there is no such day" } else { "a day is written another way" };
        return fault(message.to_owned()).hint(moment::how_to_write_a_day(name, raw));
    }
    if error.starts_with("invalid time") || (raw.contains(':') && moment::time_meant(raw).is_some()) {
        return fault("there is no such time, or it is written another way".to_owned())
            .hint(moment::how_to_write_a_time(name, raw));
    }
    if (lower.ends_with("am") || lower.ends_with("pm")) && moment::time_meant(raw).is_some() {
        return fault("a time is written another way".to_owned()).hint(moment::how_to_write_a_time(name, raw));
    }
    if let Some(number) = number_meant(raw) {
        return fault("a number is written with digits and a point only".to_owned())
            .hint(format!("Write `{name} = {number}`; the unit is known from the field's name"));
    }
    if raw.contains('=') && !raw.contains('"') {
        return fault("two fields are on one line".to_owned()).hint("Write each field on a line of its own");
    }
    if raw.starts_with('"') || raw.starts_with('\'') || error.starts_with("unexpected key or value") {
        return fault("something is left over behind the value".to_owned())
            .hint("Write each field on a line of its own; a remark begins with #");
    }
    fault("text needs quotation marks".to_owned()).hint(format!("Write `{name} = \"{}\"`", straight(raw)))
}

/// The number in "6%", "40 min", "1,5", "08" or ".5".
pub(super) fn number_meant(text: &str) -> Option<f64> {
    let signed: String = text.trim().replace(',', ".");
    let end = signed.find(|c: char| !(c.is_ascii_digit() || c == '.' || c == '-')).unwrap_or(signed.len());
    let (digits, unit) = signed.split_at(end);
    let plain_unit = unit.trim().chars().all(|c| c.is_alphabetic() || matches!(c, '%' | '°' | '.')) && unit.len() <= 12;
    digits.parse().ok().filter(|number: &f64| plain_unit && number.is_finite())
}

/// The text without curly or doubled quotation marks round it.
fn straight(text: &str) -> &str {
    text.trim_matches(['“', '”', '„', '‘', '’', '«', '»', '"', '\'', '`'])
}

/// The text before a remark, as far as quotation marks allow to tell.
fn without_remark(text: &str) -> &str {
    if text.contains(['"', '\'']) { text } else { text.split('#').next().unwrap_or(text) }
}
