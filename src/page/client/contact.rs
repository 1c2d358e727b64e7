//! How to reach the salon: links a phone understands, built only from what is spelled right.
//!
//! In: the salon's contact lines. Out: [`Contact`]. Knows nothing of: opening hours, clients.

use std::fmt::Write;

use serde::Serialize;

use crate::page::words::Words;
use crate::salon::Salon;

/// How to reach the salon.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Contact {
    /// Heading.
    pub heading: String,
    /// Phone, text, e-mail, in this order.
    pub ways: Vec<Way>,
    /// Street address.
    pub address: Option<String>,
}

/// One way to reach it.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Way {
    /// `tel:`, `sms:` or `mailto:` address; nothing when the line cannot be made one.
    pub href: Option<String>,
    /// What it does: "Call".
    pub label: String,
    /// The number or address as shown, always left to right.
    pub value: String,
}

/// The contact lines of a salon.
pub(super) fn contact(salon: &Salon, words: &dyn Words) -> Contact {
    let lines = &salon.contact;
    let way = |key: &str, value: &Option<String>, href: fn(&str) -> Option<String>| {
        let value = value.clone()?;
        let href = href(&value);
        // A number that became a link stays in one piece at the end of a line.
        let value = if href.is_some() { value.replace(' ', "\u{a0}") } else { value };
        Some(Way { href, label: words.pattern(key), value })
    };
    let text = if lines.text.is_some() { &lines.text } else { &lines.phone };
    let ways = [
        way("reach.call", &lines.phone, |number| Some(format!("tel:{}", number_of(number)?))),
        way("reach.text", text, |number| Some(format!("sms:{}", number_of(number)?))),
        way("reach.write", &lines.email, mailto),
    ];
    Contact {
        heading: words.pattern("reach.heading"),
        ways: ways.into_iter().flatten().collect(),
        address: lines.address.clone(),
    }
}

/// An international number without its spaces (RFC 3966 global number); nothing when it is not one.
fn number_of(text: &str) -> Option<String> {
    let number: String = text.chars().filter(|c| !matches!(c, ' ' | '-' | '(' | ')' | '.' | '\u{a0}')).collect();
    let digits = number.strip_prefix('+')?;
    ((5..=15).contains(&digits.len()) && digits.chars().all(|c| c.is_ascii_digit())).then_some(number)
}

/// A `mailto:` address (RFC 6068), everything outside the unreserved set percent-encoded; nothing without one "@".
fn mailto(address: &str) -> Option<String> {
    let (local, domain) = address.split_once('@')?;
    if local.is_empty() || domain.is_empty() || domain.contains('@') || address.contains(char::is_whitespace) {
        return None;
    }
    Some(format!("mailto:{}@{}", percent(local), percent(domain)))
}

fn percent(text: &str) -> String {
    let mut out = String::new();
    for byte in text.bytes() {
        if byte.is_ascii_alphanumeric() || b"-._~+".contains(&byte) {
            out.push(char::from(byte));
        } else {
            write!(out, "%{byte:02X}").expect("a string takes any text");
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_number_becomes_a_link_only_when_it_is_international() {
        assert_eq!(number_of("+44 20 7946 0000"), Some("+442079460000".to_owned()));
        for text in ["020 7946 0000", "+44 20 \"><script>", "+1", "javascript:alert(1)", "+1234567890123456"] {
            assert_eq!(number_of(text), None, "{text}");
        }
    }

    #[test]
    fn an_e_mail_address_is_encoded_as_its_standard_says() {
        assert_eq!(mailto("hello@example.org"), Some("mailto:hello@example.org".to_owned()));
        assert_eq!(mailto("a'b?c&d@example.org"), Some("mailto:a%27b%3Fc%26d@example.org".to_owned()));
        for text in ["hello", "a@b@c", "@example.org", "a b@example.org"] {
            assert_eq!(mailto(text), None, "{text}");
        }
    }
}
