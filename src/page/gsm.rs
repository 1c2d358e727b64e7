//! The phone networks' own alphabet, by which a text message is counted.
//!
//! In: a text. Out: its length, and the text with only characters that have a place there. Knows nothing of: what a message says.
//!
//! Source: 3GPP TS 23.038 §6.2.1, the 7-bit default alphabet and its extension; the tables are from memory.

/// Characters of one text message in this alphabet: 140 octets of 7 bits.
pub const GSM_LENGTH: usize = 160;

/// Characters of one text message in any other alphabet: UCS-2, 140 octets of 16 bits.
pub const OTHER_LENGTH: usize = 70;

/// The default alphabet without the escape to its extension.
const BASIC: &str = "@£$¥èéùìòÇ\nØø\rÅåΔ_ΦΓΛΩΠΨΣΘΞÆæßÉ !\"#¤%&'()*+,-./0123456789:;<=>?¡ABCDEFGHIJKLMNOPQRSTUVWXYZÄÖÑÜ§¿abcdefghijklmnopqrstuvwxyzäöñüà";

/// Its extension: an escape and a character, two places each.
const EXTENSION: &str = "\u{c}^{}\\[~]|€";

/// How many places a character takes; nothing when it has none.
pub(super) fn places(c: char) -> Option<usize> {
    if BASIC.contains(c) { Some(1) } else { EXTENSION.contains(c).then_some(2) }
}

/// The length of a text in places; nothing when a character has none.
#[must_use]
pub fn length(text: &str) -> Option<usize> {
    text.chars().map(places).sum()
}

/// Whether a text goes out as one message, in this alphabet or, when it has to, in the other.
pub(super) fn fits_one(text: &str) -> bool {
    length(text).map_or_else(|| text.encode_utf16().count() <= OTHER_LENGTH, |length| length <= GSM_LENGTH)
}

/// A text in this alphabet: typographic marks become plain ones, what has no place there a question mark.
pub(super) fn plain(text: &str) -> String {
    let plain = |c: char| match c {
        '’' | '‘' => '\'',
        '“' | '”' => '"',
        '–' | '—' => '-',
        '\n' | '\r' | '\t' | '\u{c}' | '\u{a0}' => ' ',
        c if places(c).is_some() => c,
        _ => '?',
    };
    text.chars().map(plain).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_text_is_counted_as_the_standard_counts_it() {
        assert_eq!((BASIC.chars().count(), EXTENSION.chars().count()), (127, 10), "the escape has no character");
        assert_eq!((length("abc"), length("€5"), length(""), length("Ł")), (Some(3), Some(3), Some(0), None));
        assert_eq!(plain("Łódź’s – café"), "??d?'s - café");
    }
}
