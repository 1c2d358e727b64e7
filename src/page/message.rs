//! The message that brings a client the link: its words, its length, and the addresses that open it in a phone's own programs.
//!
//! In: the salon, a link, words. Out: [`Message`]. Knows nothing of: who sends it, and how.

use std::fmt::Write as _;

use super::gsm::{GSM_LENGTH, OTHER_LENGTH, fits_one, length, places};
use super::link::Link;
use super::words::Words;

/// A message.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Message {
    /// The text, with the link.
    pub text: String,
    /// The subject of an e-mail.
    pub subject: String,
}

/// The message about a link: with the salon's name, or without it when only that fits into one text message.
#[must_use]
pub fn message(salon: &str, link: &Link, words: &dyn Words) -> Message {
    let say = |key| words.say(key, &[("salon", salon), ("link", &link.address)]);
    let (full, short) = (say("message.page"), say("message.short"));
    let text = if fits_one(&full) || !fits_one(&short) { full } else { short };
    Message { text, subject: words.pattern("message.subject") }
}

impl Message {
    /// `sms:` with the text filled in; `?&body=` is understood by the phones of both large families. Common practice, no source.
    #[must_use]
    pub fn sms(&self, phone: &str) -> String {
        let number: String = phone.chars().filter(|c| c.is_ascii_digit()).collect();
        format!("sms:+{number}?&body={}", percent(&self.text))
    }

    /// `mailto:` with subject and text filled in (RFC 6068).
    #[must_use]
    pub fn mailto(&self, email: &str) -> String {
        let address = email.split('@').map(percent).collect::<Vec<_>>().join("@");
        format!("mailto:{address}?subject={}&body={}", percent(&self.subject), percent(&self.text))
    }

    /// What to say about the length, when the text is longer than one text message.
    #[must_use]
    pub fn too_long(&self) -> Option<String> {
        if fits_one(&self.text) {
            return None;
        }
        let odd = self.text.chars().find(|c| places(*c).is_none());
        Some(match (length(&self.text), odd) {
            (Some(length), _) => {
                format!("{length} characters: one text message holds {GSM_LENGTH}, so this is sent as several")
            }
            (None, Some(odd)) => format!(
                "{} characters with \"{odd}\" among them: one text message then holds {OTHER_LENGTH}, so this is sent as several",
                self.text.encode_utf16().count()
            ),
            (None, None) => return None,
        })
    }
}

/// A text in an address: every octet but the unreserved ones as `%XX` (RFC 3986 §2.1, §2.3).
fn percent(text: &str) -> String {
    let mut out = String::with_capacity(text.len() * 2);
    for octet in text.bytes() {
        match octet {
            b'a'..=b'z' | b'A'..=b'Z' | b'0'..=b'9' | b'-' | b'.' | b'_' | b'~' => out.push(char::from(octet)),
            _ => write!(out, "%{octet:02X}").expect("a string takes any text"),
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::page::catalogue::Catalogue;

    fn of(salon: &str, base: &str) -> Message {
        let code = crate::record::ClientCode::try_new("wren-04").expect("a code");
        let words = Catalogue::shipped("en").expect("English is shipped");
        message(salon, &crate::page::link::link(b"secret", &code, 1, base), words)
    }

    #[test]
    fn a_usual_message_is_one_and_a_long_name_gives_way_to_the_link() {
        let usual = of("Tollemarsh Hair Rooms", "https://care.example.org");
        assert!(usual.text.starts_with("Tollemarsh Hair Rooms: ") && usual.too_long().is_none(), "{usual:?}");
        let long = of(&"A very long name ".repeat(9), "https://care.example.org");
        assert!(!long.text.contains("A very long name") && long.too_long().is_none(), "{long:?}");
        let odd = of("Ĉielo", "https://care.example.org");
        assert!(odd.text.contains("/c/") && odd.too_long().is_none_or(|said| said.contains("70")), "{odd:?}");
        let never = of("Rooms", &format!("https://{}.example.org", "a".repeat(150)));
        assert!(never.too_long().is_some_and(|said| said.contains("160")));
    }

    /// RFC 3986 §2.1 and RFC 6068 §6.1 give the forms.
    #[test]
    fn addresses_are_encoded_octet_by_octet() {
        let message = Message { text: "A & B: 50% ✓\nc/x?".to_owned(), subject: "Café".to_owned() };
        assert_eq!(
            message.sms("+44 7700 900456"),
            "sms:+447700900456?&body=A%20%26%20B%3A%2050%25%20%E2%9C%93%0Ac%2Fx%3F"
        );
        assert!(
            message.mailto("a+b?c@example.org").starts_with("mailto:a%2Bb%3Fc@example.org?subject=Caf%C3%A9&body=A%20")
        );
    }
}
