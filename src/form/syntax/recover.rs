//! Reading over every slip, so that what follows one is told too.

use std::collections::BTreeSet;

use toml::de::{DeTable, Error};

/// Reads a text as far as it goes, over every slip.
///
/// The reader of TOML stops at a line that is no field; such lines are blanked, byte for byte, and the text is read again.
/// Most texts have none and are read once.
pub(in crate::form) fn recovered<T>(text: &str, with: impl FnOnce(DeTable<'_>, Vec<Error>) -> T) -> T {
    let (table, errors) = DeTable::parse_recoverable(text);
    if !errors.iter().any(stops_the_reader) {
        return with(table.into_inner(), by_place(errors));
    }
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
    with(table.into_inner(), by_place(errors))
}

fn by_place(mut errors: Vec<Error>) -> Vec<Error> {
    errors.sort_by_key(|error| error.span().map(|span| span.start));
    errors
}

/// More readings than this are never needed: each finds every such line that the one before did not hide.
const MOST_READINGS: usize = 5;

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
