//! Private texts, looked for in everything that would go up.

use std::borrow::Cow;
use std::collections::HashMap;

/// A text that must not stand in anything public.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Marker {
    /// The text.
    pub text: String,
    /// What it is, without saying it: "a phone number of wren-04".
    pub what: String,
    /// The beginning of the file names in which it must not stand, such as `c/ab/cdef`; nothing means anywhere.
    pub only_in: Option<String>,
}

/// Private texts by their first word, ready to be looked for.
#[derive(Debug)]
pub(super) struct Finder<'a> {
    by_first_word: HashMap<Vec<u8>, Vec<(Vec<u8>, &'a Marker)>>,
    /// Whether any first word begins with these two bytes: most words of a page need not be looked up.
    begins: Vec<bool>,
}

impl<'a> Finder<'a> {
    /// Takes the texts; one without a letter or digit cannot be found and is left out.
    pub(super) fn new(markers: &'a [Marker]) -> Self {
        let mut by_first_word: HashMap<_, Vec<_>> = HashMap::new();
        let mut begins = vec![false; 1 << 16];
        for marker in markers {
            let plain = plain(marker.text.as_bytes());
            let begin = plain.iter().position(|byte| is_word(*byte)).unwrap_or(plain.len());
            let plain = plain[begin..].to_vec();
            let word = plain[..word_end(&plain, 0)].to_vec();
            if !word.is_empty() {
                begins[beginning(&word)] = true;
                by_first_word.entry(word).or_default().push((plain, marker));
            }
        }
        Self { by_first_word, begins }
    }

    /// What of all this stands in a file, as whole words: in its name, or in its bytes as they are or as a reader would read them.
    pub(super) fn found(&self, name: &str, bytes: &[u8]) -> Vec<&'a Marker> {
        let mut found = Vec::new();
        self.look(name, &plain(name.as_bytes()), &mut found);
        if name.ends_with(".ics") {
            self.look(name, &plain(&unfolded(bytes)), &mut found);
        } else {
            self.look(name, &plain(bytes), &mut found);
        }
        if name.ends_with(".html") {
            // Once more without mark-up, which may stand in the middle of a text.
            self.look(name, &plain(&without_tags(bytes)), &mut found);
        }
        found.dedup();
        found
    }

    fn look(&self, name: &str, text: &[u8], found: &mut Vec<&'a Marker>) {
        let mut at = 0;
        while at < text.len() {
            if !is_word(text[at]) {
                at += 1;
                continue;
            }
            let end = word_end(text, at);
            let word = &text[at..end];
            let here = self.begins[beginning(word)].then(|| self.by_first_word.get(word)).flatten();
            let here = here.into_iter().flatten();
            let whole = |wanted: &[u8]| {
                text[at..].starts_with(wanted) && !text.get(at + wanted.len()).is_some_and(|next| is_word(*next))
            };
            let meant = |marker: &Marker| marker.only_in.as_ref().is_none_or(|stem| name.starts_with(stem.as_str()));
            found.extend(here.filter(|(wanted, marker)| meant(marker) && whole(wanted)).map(|(_, marker)| *marker));
            at = end;
        }
    }
}

fn is_word(byte: u8) -> bool {
    byte.is_ascii_alphanumeric() || byte >= 0x80
}

/// The first two bytes of a word as one number; of a word of one byte that byte.
fn beginning(word: &[u8]) -> usize {
    word.iter().take(2).fold(0, |number, byte| number << 8 | usize::from(*byte))
}

fn word_end(text: &[u8], at: usize) -> usize {
    text[at..].iter().position(|byte| !is_word(*byte)).map_or(text.len(), |length| at + length)
}

/// What a reader reads: `%41`, `&#x41;` and `\u0041` decoded, white space as one blank, letters small.
///
/// Not looked into: base64, packed files, pictures, and references by a name that no escaper writes, such as `&eacute;`.
fn plain(bytes: &[u8]) -> Vec<u8> {
    let mut out: Vec<u8> = Vec::with_capacity(bytes.len());
    let mut at = 0;
    while at < bytes.len() {
        if is_word(bytes[at]) {
            out.push(bytes[at].to_ascii_lowercase());
            at += 1;
            continue;
        }
        let rest = &bytes[at..];
        let (read, used): (Cow<'_, [u8]>, usize) = match rest[0] {
            b'%' => percent(rest),
            b'&' => entity(rest),
            b'\\' => escape(rest),
            _ => (rest[..1].into(), 1),
        };
        at += used;
        for byte in read.iter().map(u8::to_ascii_lowercase) {
            if !byte.is_ascii_whitespace() {
                out.push(byte);
            } else if out.last().is_some_and(|last| *last != b' ') {
                out.push(b' ');
            }
        }
    }
    if out.is_ascii() { out } else { small(&out) }
}

/// The same for letters and blanks beyond ASCII; bytes that are no text become a sign of their own.
fn small(bytes: &[u8]) -> Vec<u8> {
    let text = String::from_utf8_lossy(bytes).to_lowercase();
    let mut out = String::with_capacity(text.len());
    for c in text.chars() {
        if !c.is_whitespace() {
            out.push(c);
        } else if !out.ends_with(' ') {
            out.push(' ');
        }
    }
    out.into_bytes()
}

/// A calendar with its folded lines joined; a fold may stand between any two octets (RFC 5545 §3.1), also behind a backslash.
fn unfolded(bytes: &[u8]) -> Vec<u8> {
    let mut out = Vec::with_capacity(bytes.len());
    let mut at = 0;
    while at < bytes.len() {
        let rest = &bytes[at..];
        let end = if rest.starts_with(b"\r\n") { 2 } else { usize::from(rest[0] == b'\n') };
        if end > 0 && rest.get(end).is_some_and(|next| b" \t".contains(next)) {
            at += end + 1;
        } else {
            out.push(rest[0]);
            at += 1;
        }
    }
    out
}

/// A page without its tags: nothing in place of one that only marks words, a blank in place of any other.
fn without_tags(bytes: &[u8]) -> Vec<u8> {
    const MARKS: [&[u8]; 12] =
        [b"a", b"abbr", b"b", b"em", b"i", b"mark", b"s", b"small", b"span", b"strong", b"u", b"wbr"];
    let mut out = Vec::with_capacity(bytes.len());
    let mut at = 0;
    while at < bytes.len() {
        let begins = bytes[at] == b'<'
            && bytes.get(at + 1).is_some_and(|next| next.is_ascii_alphabetic() || b"/!".contains(next));
        if !begins {
            out.push(bytes[at]);
            at += 1;
            continue;
        }
        let Some(end) = bytes[at..].iter().position(|byte| *byte == b'>') else {
            out.extend_from_slice(&bytes[at..]);
            break;
        };
        let tag = bytes[at + 1..at + end].strip_prefix(b"/").unwrap_or(&bytes[at + 1..at + end]);
        let name = &tag[..tag.iter().position(|byte| !byte.is_ascii_alphanumeric()).unwrap_or(tag.len())];
        if !MARKS.iter().any(|mark| name.eq_ignore_ascii_case(mark)) {
            out.push(b' ');
        }
        at += end + 1;
    }
    out
}

/// What stands behind a backslash: in calendars a comma, a semicolon and a line's end (RFC 5545 §3.3.11), in JSON and
/// scripts also quotation marks, slashes and characters by number (RFC 8259 §7).
fn escape(rest: &[u8]) -> (Cow<'_, [u8]>, usize) {
    match rest.get(1) {
        Some(b'n' | b'N' | b'r' | b't') => (b" ".into(), 2),
        Some(b'u') => {
            let digits = rest.get(2..6).and_then(|digits| std::str::from_utf8(digits).ok());
            let read = digits.and_then(|digits| char::from_u32(u32::from_str_radix(digits, 16).ok()?));
            read.map_or((rest[..1].into(), 1), |read| (read.to_string().into_bytes().into(), 6))
        }
        Some(sign) if sign.is_ascii_punctuation() => (rest[1..2].into(), 2),
        _ => (rest[..1].into(), 1),
    }
}

/// `%41` as its byte, else the sign itself.
fn percent(rest: &[u8]) -> (Cow<'_, [u8]>, usize) {
    let pair = rest.get(1..3).and_then(|pair| std::str::from_utf8(pair).ok());
    match pair.and_then(|pair| u8::from_str_radix(pair, 16).ok()) {
        Some(byte) => (vec![byte].into(), 3),
        None => (rest[..1].into(), 1),
    }
}

/// A character reference of HTML as its character, else the sign itself.
fn entity(rest: &[u8]) -> (Cow<'_, [u8]>, usize) {
    let whole = || {
        let end = rest.iter().take(12).position(|byte| *byte == b';')?;
        let name = std::str::from_utf8(&rest[1..end]).ok()?;
        let number = name.strip_prefix('#').and_then(|digits| match digits.strip_prefix(['x', 'X']) {
            Some(hex) => u32::from_str_radix(hex, 16).ok(),
            None => digits.parse().ok(),
        });
        let read = match name {
            "amp" => '&',
            "lt" => '<',
            "gt" => '>',
            "quot" => '"',
            "apos" => '\'',
            "nbsp" => ' ',
            _ => char::from_u32(number?)?,
        };
        Some((read.to_string().into_bytes().into(), end + 1))
    };
    whole().unwrap_or((rest[..1].into(), 1))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn marker(text: &str, only_in: Option<&str>) -> Marker {
        Marker { text: text.to_owned(), what: format!("the text {text}"), only_in: only_in.map(str::to_owned) }
    }

    fn found(texts: &[&str], name: &str, said: &str) -> usize {
        let markers: Vec<Marker> = texts.iter().map(|text| marker(text, None)).collect();
        Finder::new(&markers).found(name, said.as_bytes()).len()
    }

    #[test]
    fn a_text_is_found_however_it_is_written() {
        for said in [
            "<p>Had a rash behind the ear, twice.",
            "HAD A RASH\n  behind the ear, twice",
            "had a rash behind the&#x20;ear&#44; twice",
            "mailto:?body=Had%20a%20rash%20behind%20the%20ear,%20twice",
        ] {
            assert_eq!(found(&["had a rash behind the ear, twice"], "c/x.html", said), 1, "{said}");
        }
        assert_eq!(found(&["rash, behind the ear"], "c/x.ics", "NOTE:a rash\\, beh\r\n ind the ear\r\n"), 1);
        assert_eq!(found(&["rash, behind the ear"], "c/x.ics", "NOTE:a rash\\\r\n , behind the ear\r\n"), 1);
        assert_eq!(found(&["o'brien & sons"], "c/x.html", "O&#39;Brien &amp; Sons"), 1);
        assert_eq!(found(&["+44 20 7946 0000"], "c/x.html", "tel:+44 20 7946 0000"), 1);
        assert_eq!(found(&["wren-04"], "c/wren-04.html", ""), 1, "in a name");
        assert_eq!(found(&["grüße"], "c/x.html", "Grüße"), 1);
        assert_eq!(found(&["Élodie's card"], "c/x.html", "ÉLODIE&#39;S\u{a0}CARD"), 1);
        assert_eq!(found(&["says \"no\" to dye/tint"], "x.json", r#""says \"no\"\nto dye\/tint""#), 1);
        assert_eq!(found(&["grüße"], "x.js", r"'gr\u00fc\u00DFe'"), 1);
    }

    #[test]
    fn mark_up_in_the_middle_of_a_text_hides_nothing() {
        for said in [
            "<p>Had a <em>rash</em> behind the <a href=\"/x\">ear</a>",
            "<li>had a rash</li>\n<li>behind the ear</li>",
            "had<br>a rash<!-- no --> behind the ear",
            "<b>h</b>ad a ra<wbr>sh behind the ear",
        ] {
            assert_eq!(found(&["had a rash behind the ear"], "c/x.html", said), 1, "{said}");
        }
        assert_eq!(found(&["rash"], "c/x.html", "ra<td>sh</td> <p title=\"ra\">sh"), 0);
        assert_eq!(found(&["1 < 2 rashes"], "c/x.html", "1 < 2 rashes > 3"), 1, "a sign alone is no tag");
    }

    #[test]
    fn a_part_of_a_word_is_not_the_text() {
        assert_eq!(found(&["ember-05", "rash"], "c/x.html", "september-05 ember-051 crash rashly rash2"), 0);
        assert_eq!(found(&["--", ""], "c/x.html", "-- "), 0);
    }

    #[test]
    fn a_name_is_looked_for_on_its_own_page_only() {
        let markers = [marker("Wren", Some("c/ab/one"))];
        let finder = Finder::new(&markers);
        assert_eq!(finder.found("c/ab/one.html", b"Dear Wren").len(), 1);
        assert_eq!(finder.found("c/ab/one-washing.ics", b"SUMMARY:Wren").len(), 1);
        assert_eq!(finder.found("c/ab/two.html", b"a wren").len(), 0);
    }
}
