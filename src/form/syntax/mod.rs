//! What is wrong with the writing itself, told in the words of a person who fills in a form.
//!
//! The reader goes on after each slip, so that every one is told; one message a line is enough.

mod bad_value;
mod recover;
mod slip;
mod unclosed;

pub(super) use bad_value::number_meant;
pub(super) use recover::recovered;

use toml::de::{DeTable, Error};

use crate::diagnostic::{Diagnostic, SourceText, Span};

use slip::slip;
use unclosed::{never_closed, never_closed_fault};

/// More slips of writing than this are not told: the file is hardly one of ours.
const MOST_SLIPS: usize = 200;
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
