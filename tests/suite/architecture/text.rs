//! Rust source reduced to its code: comments and the insides of literals become spaces, so that only code is judged.

/// The code of a source text; every line keeps its number.
pub(super) fn code_only(source: &str) -> String {
    let chars: Vec<char> = source.chars().collect();
    let mut code = String::with_capacity(source.len());
    let mut at = 0;
    while at < chars.len() {
        let end = literal_or_comment(&chars, at);
        if end > at {
            code.extend(chars[at..end].iter().map(|c| if *c == '\n' { '\n' } else { ' ' }));
            at = end;
        } else {
            code.push(chars[at]);
            at += 1;
        }
    }
    code
}

/// Where the comment or literal that begins here ends; `at` itself when none begins here.
fn literal_or_comment(chars: &[char], at: usize) -> usize {
    let after_word = at > 0 && is_word(chars[at - 1]);
    match (chars[at], chars.get(at + 1)) {
        ('/', Some('/')) => until(chars, at, |rest| rest[0] == '\n').unwrap_or(chars.len()),
        ('/', Some('*')) => until(chars, at + 2, |rest| rest.starts_with(&['*', '/'])).map_or(chars.len(), |e| e + 2),
        ('r', Some('"' | '#')) if !after_word => raw_string(chars, at).unwrap_or(at),
        ('"', _) => quoted(chars, at, '"'),
        // A lifetime has no closing quote behind its first character; a character has.
        ('\'', Some('\\')) => quoted(chars, at, '\''),
        ('\'', Some(_)) if chars.get(at + 2) == Some(&'\'') => at + 3,
        _ => at,
    }
}

fn raw_string(chars: &[char], at: usize) -> Option<usize> {
    let hashes = chars[at + 1..].iter().take_while(|c| **c == '#').count();
    let open = at + 1 + hashes;
    if chars.get(open) != Some(&'"') {
        return None;
    }
    let close: Vec<char> = std::iter::once('"').chain(std::iter::repeat_n('#', hashes)).collect();
    Some(until(chars, open + 1, |rest| rest.starts_with(&close)).map_or(chars.len(), |e| e + close.len()))
}

fn quoted(chars: &[char], at: usize, quote: char) -> usize {
    let mut end = at + 1;
    while end < chars.len() && chars[end] != quote {
        end += if chars[end] == '\\' { 2 } else { 1 };
    }
    (end + 1).min(chars.len())
}

fn until(chars: &[char], from: usize, found: impl Fn(&[char]) -> bool) -> Option<usize> {
    (from..chars.len()).find(|at| found(&chars[*at..]))
}

/// Whether a character may stand inside a Rust word.
pub(super) fn is_word(c: char) -> bool {
    c.is_alphanumeric() || c == '_'
}

/// The words that directly follow a prefix such as `crate::`, wherever it begins a path of its own.
pub(super) fn words_after<'a>(code: &'a str, prefix: &str) -> Vec<&'a str> {
    let begins = |at: usize| !code[..at].ends_with(|c: char| is_word(c) || c == ':');
    code.match_indices(prefix)
        .filter(|(at, _)| begins(*at))
        .map(|(at, _)| {
            let rest = &code[at + prefix.len()..];
            &rest[..rest.find(|c| !is_word(c)).unwrap_or(rest.len())]
        })
        .collect()
}

/// Whether the code names an outside package: `name::…`, `::name::…` or `use name;`.
pub(super) fn names_package(code: &str, name: &str) -> bool {
    code.match_indices(name).any(|(at, _)| {
        let (before, behind) = (&code[..at], &code[at + name.len()..]);
        let root = before.strip_suffix("::").unwrap_or(before);
        let used_whole = before.trim_end().ends_with("use") && behind.starts_with([';', ' ']);
        !root.ends_with(is_word) && (behind.starts_with("::") || used_whole)
    })
}

/// The words of every `std::{…}` group.
pub(super) fn std_groups(code: &str) -> Vec<&str> {
    code.match_indices("std::{")
        .flat_map(|(at, open)| {
            let rest = &code[at + open.len()..];
            rest[..rest.find(';').unwrap_or(rest.len())].split(|c| !is_word(c))
        })
        .collect()
}
