//! A script as a page carries it: without comments and spaces, its own names one letter long.
//!
//! In: the text of a script of this program. Out: the same script, shorter. Knows nothing of: what a script does.
//!
//! Every page carries its script, and a name of one letter packs to a third of a longer one. It knows the JavaScript that
//! the scripts of this program are written in, not all there is: strings in double quotes, no templates, no regular
//! expressions, no destructuring, and every statement ended by its own `;` or `}`.

use std::cmp::Reverse;
use std::collections::BTreeMap;

/// The script without comments, without spaces that part nothing, and with short names for what it declares.
///
/// Names are exchanged one for one through the whole script, so whatever was the same name still is, and no other.
#[must_use]
pub(super) fn squeeze(script: &str) -> String {
    let tokens = tokens(script);
    let short = short_names(&tokens);
    let mut squeezed = String::with_capacity(script.len());
    for (at, token) in tokens.iter().enumerate() {
        let text = if is_reference(&tokens, at) { short.get(token).map_or(*token, String::as_str) } else { token };
        if squeezed.ends_with(is_word) && text.starts_with(is_word) {
            squeezed.push(' ');
        }
        squeezed.push_str(text);
    }
    squeezed
}

fn is_word(letter: char) -> bool {
    letter.is_ascii_alphanumeric() || letter == '_' || letter == '$'
}

/// Strings, words, numbers, spreads and single signs; comments are left out.
fn tokens(script: &str) -> Vec<&str> {
    let mut tokens = Vec::new();
    let mut rest = script.trim_start();
    while let Some(first) = rest.chars().next() {
        let length = match first {
            '"' => string_length(rest),
            _ if rest.starts_with("//") => rest.find('\n').unwrap_or(rest.len()),
            _ if rest.starts_with("...") => 3,
            _ if is_word(first) => rest.find(|letter| !is_word(letter)).unwrap_or(rest.len()),
            _ => first.len_utf8(),
        };
        let (token, after) = rest.split_at(length);
        if !token.starts_with("//") {
            tokens.push(token);
        }
        rest = after.trim_start();
    }
    tokens
}

/// Bytes of the string at the front, quotes and escaped quotes among them.
fn string_length(text: &str) -> usize {
    let mut escaped = false;
    for (at, letter) in text.char_indices().skip(1) {
        match letter {
            _ if escaped => escaped = false,
            '\\' => escaped = true,
            '"' => return at + 1,
            _ => {}
        }
    }
    text.len()
}

/// A short name for each name that the script declares.
fn short_names<'a>(tokens: &[&'a str]) -> BTreeMap<&'a str, String> {
    let mut declared: Vec<&str> = Vec::new();
    for at in 0..tokens.len() {
        for name in declared_at(tokens, at) {
            if !declared.contains(&name) {
                declared.push(name);
            }
        }
    }
    // The most used first: their letters then stand in one order in every script, which packs best.
    let uses = |name: &str| (0..tokens.len()).filter(|at| tokens[*at] == name && is_reference(tokens, *at)).count();
    declared.sort_by_cached_key(|name| Reverse(uses(name)));
    let letters = ('a'..='z').chain('A'..='Z').map(String::from);
    let free = letters.filter(|letter| declared.contains(&letter.as_str()) || !tokens.contains(&letter.as_str()));
    declared.iter().copied().zip(free).collect()
}

/// The names declared by the token here: by a `const`, by a further name of its list or a default, by an arrow.
fn declared_at<'a>(tokens: &[&'a str], at: usize) -> Vec<&'a str> {
    let (name, after) = (tokens[at], |by: usize| tokens.get(at + by).copied());
    let listed = name.starts_with(is_word) && after(1) == Some("=") && !matches!(after(2), Some("=" | ">"));
    match at.checked_sub(1).map(|before| tokens[before]) {
        Some("const" | "let") => vec![name],
        Some(",") if listed => vec![name],
        _ if (after(1), after(2)) != (Some("="), Some(">")) => Vec::new(),
        _ if name == ")" => {
            let open = tokens[..at].iter().rposition(|token| *token == "(").unwrap_or(at);
            let heads = (open + 1..at).filter(|head| matches!(tokens[head - 1], "(" | ","));
            heads.map(|head| tokens[head]).collect()
        }
        _ => vec![name],
    }
}

/// Whether a word stands for what was declared: not the name of a property, nor of a field of an object.
fn is_reference(tokens: &[&str], at: usize) -> bool {
    let before = at.checked_sub(1).map(|before| tokens[before]);
    let field = matches!(before, Some("{" | ",")) && tokens.get(at + 1) == Some(&":");
    before != Some(".") && !field
}

#[cfg(test)]
mod tests {
    use super::*;

    const SCRIPTS: [&str; 3] = [include_str!("today.js"), include_str!("seal.js"), include_str!("jump.js")];

    #[test]
    fn spaces_and_comments_go_and_names_grow_short_but_not_words_of_others() {
        let script = "// Says it.\nconst words = \"a  b\", text = words.text;\nfor (const word of [...words]) say({ text: word, at: (text) / 2 });\n";
        assert_eq!(squeeze(script), "const a=\"a  b\",b=a.text;for(const c of[...a])say({text:c,at:(b)/2});");
    }

    #[test]
    fn what_an_arrow_takes_is_renamed_with_its_default_and_a_global_letter_is_left_alone() {
        let script =
            "const look = (what, from = document) => a(from, what) ? b[what] : what;\nconst twice = (x) => x + x;\n";
        assert_eq!(squeeze(script), "const f=(c,e=document)=>a(e,c)?b[c]:c;const g=(d)=>d+d;");
    }

    #[test]
    fn a_string_with_a_quote_in_it_stays_whole() {
        assert_eq!(squeeze(r#"say("one \" two // three");"#), r#"say("one \" two // three");"#);
    }

    /// What [`squeeze`] does not know must not be in what it is given.
    #[test]
    fn the_scripts_are_written_in_what_is_known() {
        for script in SCRIPTS {
            for line in script.lines().filter(|line| !line.starts_with("//")) {
                assert!(line.is_empty() || line.ends_with([';', '{', '}']), "no end of a statement: {line}");
            }
            let tokens = tokens(script);
            for pair in tokens.windows(2) {
                let unknown = match pair {
                    [one, other] if one == other => matches!(*one, "+" | "-"),
                    ["const" | "let", name] => !name.starts_with(is_word),
                    ["(" | "=" | "," | "return", after] => *after == "/",
                    ["function" | "`" | "'", _] => true,
                    _ => false,
                };
                assert!(!unknown, "{pair:?}");
            }
        }
    }

    #[test]
    fn each_name_of_the_scripts_has_a_short_one_of_its_own() {
        for script in SCRIPTS {
            let tokens = tokens(script);
            let short = short_names(&tokens);
            assert!(!short.is_empty() && short.values().all(|name| name.len() == 1));
            let mut names: Vec<&String> = short.values().collect();
            names.sort();
            names.dedup();
            assert_eq!(names.len(), short.len(), "two names became one");
            assert!(squeeze(script).len() < script.len());
        }
    }
}
