//! The shapes of text a field may want.

/// A shape of text.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Shape {
    /// One line, at most 200 characters.
    Line,
    /// Several lines, at most 10 000 characters.
    Prose,
    /// A phone number in international form: "+44 20 7946 0000".
    Phone,
    /// A short number to dial: "999".
    Dial,
    /// An e-mail address.
    Email,
    /// Small letters, digits and hyphens.
    Code,
    /// `#rrggbb`.
    HexColour,
    /// A language tag: "en", "en-GB".
    Language,
    /// Two capital letters of a country: "GB".
    Country,
    /// Three capital letters of a currency: "GBP".
    Currency,
    /// A path inside the salon folder: "logo.svg".
    Path,
}

const UNPRINTABLE: &str = "this holds a sign that cannot be printed";
const HIDDEN: &str = "this holds a hidden sign that turns the reading direction or cannot be seen";

impl Shape {
    /// What to do about a refusal, when an example would not help: the sign cannot be seen.
    pub(super) fn advice(refusal: &str) -> Option<String> {
        let unseen = [UNPRINTABLE, HIDDEN].contains(&refusal);
        unseen
            .then(|| "Type it anew between the quotation marks; such a sign comes along when text is copied".to_owned())
    }

    /// What the shape is, in words that fit behind "wants".
    #[must_use]
    pub const fn wanted(self) -> &'static str {
        match self {
            Self::Line => "one line of text, at most 200 characters",
            Self::Prose => "text of at most 10000 characters",
            Self::Phone => "a phone number that begins with + and the country's number",
            Self::Dial => "a number to dial, digits and spaces only",
            Self::Email => "an e-mail address",
            Self::Code => "a code of 2 to 32 small letters, digits or hyphens",
            Self::HexColour => "a colour as # and six digits or letters a to f",
            Self::Language => "a language as two or three small letters, and perhaps a country",
            Self::Country => "a country as two capital letters",
            Self::Currency => "a currency as three capital letters",
            Self::Path => "a file inside the salon folder",
        }
    }

    /// What is wrong with a text of this shape, in words that fit behind "this", or nothing.
    #[must_use]
    pub fn refusal(self, text: &str) -> Option<&'static str> {
        let unprintable = |c: char| c.is_control() && !(self == Self::Prose && matches!(c, '\n' | '\r' | '\t'));
        if text.trim().is_empty() {
            return Some("this is empty");
        }
        // Most texts are plain letters, digits and marks, of which none is any of these.
        if !text.bytes().all(|byte| (b' '..=b'~').contains(&byte)) {
            if self != Self::Prose && text.contains('\n') {
                return Some("this has several lines");
            }
            if text.chars().any(unprintable) {
                return Some(UNPRINTABLE);
            }
            if text.chars().any(hides) {
                return Some(HIDDEN);
            }
        }
        if text.chars().count() > if self == Self::Prose { 10_000 } else { 200 } {
            return Some("this is too long");
        }
        if self == Self::Code && is_device(text) {
            return Some("Windows keeps this name for a device, so no file can have it");
        }
        (!self.fits(text)).then_some("this is not one")
    }

    /// What a text of the wrong shape was surely meant to be: a code with capitals or underscores.
    pub(super) fn meant(self, text: &str) -> Option<String> {
        let code = text.trim().to_lowercase().replace('_', "-");
        (self == Self::Code && self.refusal(&code).is_none()).then_some(code)
    }

    fn fits(self, text: &str) -> bool {
        match self {
            Self::Line | Self::Prose => true,
            Self::Phone => is_phone(text),
            Self::Dial => text.len() <= 20 && text.chars().all(|c| c.is_ascii_digit() || c == ' '),
            Self::Email => is_email(text),
            Self::Code => is_code(text),
            Self::HexColour => {
                text.len() == 7 && text.starts_with('#') && text[1..].chars().all(|c| c.is_ascii_hexdigit())
            }
            Self::Language => is_language(text),
            Self::Country => text.len() == 2 && text.chars().all(|c| c.is_ascii_uppercase()),
            Self::Currency => text.len() == 3 && text.chars().all(|c| c.is_ascii_uppercase()),
            Self::Path => !text.starts_with('/') && !text.contains(['\\', ':']) && !text.split('/').any(|p| p == ".."),
        }
    }
}

/// Signs that turn the reading direction of what follows, or that nobody sees: a name with one reads as another name.
///
/// Source: the bidirectional formatting characters of Unicode Standard Annex 9, table 1, without the three plain marks
/// (which turn nothing by themselves), and the invisible format characters; the joiners stay, as scripts need them.
fn hides(c: char) -> bool {
    matches!(c, '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}' | '\u{200b}' | '\u{2060}'..='\u{2064}' | '\u{feff}')
}

/// International form (ITU-T E.164 allows at most 15 digits): a plus, then digits with spaces between.
fn is_phone(text: &str) -> bool {
    let Some(rest) = text.strip_prefix('+') else { return false };
    let digits = rest.chars().filter(char::is_ascii_digit).count();
    rest.starts_with(|c: char| c.is_ascii_digit())
        && rest.chars().all(|c| c.is_ascii_digit() || c == ' ')
        && (7..=15).contains(&digits)
}

fn is_email(text: &str) -> bool {
    let Some((person, house)) = text.split_once('@') else { return false };
    let plain = |part: &str| !part.is_empty() && !part.contains([' ', '@', '<', '>', '"', ',', ';', '\\']);
    plain(person) && plain(house) && house.contains('.') && !house.starts_with('.') && !house.ends_with('.')
}

fn is_code(text: &str) -> bool {
    let plain = |c: char| c.is_ascii_lowercase() || c.is_ascii_digit() || c == '-';
    (2..=32).contains(&text.len()) && text.chars().all(plain) && !text.starts_with('-') && !text.ends_with('-')
}

/// Names that no file can have on Windows, whatever stands behind a full stop: codes become names of files.
///
/// Source: Microsoft, "Naming Files, Paths, and Namespaces" (from memory).
fn is_device(text: &str) -> bool {
    let port = |name: &str| {
        text.strip_prefix(name)
            .is_some_and(|number| number.len() == 1 && number.chars().all(|c| matches!(c, '1'..='9')))
    };
    ["con", "prn", "aux", "nul"].contains(&text) || port("com") || port("lpt")
}

/// A language and perhaps a region (the common part of BCP 47).
fn is_language(text: &str) -> bool {
    let mut parts = text.split('-');
    let language = parts.next().unwrap_or_default();
    let small = (2..=3).contains(&language.len()) && language.chars().all(|c| c.is_ascii_lowercase());
    small && parts.all(|part| (2..=8).contains(&part.len()) && part.chars().all(|c| c.is_ascii_alphanumeric()))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn check(shape: Shape, good: &[&str], bad: &[&str]) {
        good.iter().for_each(|text| assert_eq!(shape.refusal(text), None, "{text}"));
        bad.iter().for_each(|text| assert!(shape.refusal(text).is_some(), "{text}"));
    }

    #[test]
    fn each_shape_takes_its_own_and_refuses_others() {
        check(Shape::Phone, &["+44 7700 900456"], &["07700 900456", "+44", "+44-7700-900456", "+ 447700900456"]);
        check(Shape::Email, &["wren@example.org"], &["wren", "wren@", "a b@example.org", "a@b@c.org", "a@org"]);
        check(Shape::Code, &["wren-04", "con-1", "com0", "com10"], &["Wren", "w", "-wren", "wren_04", "con", "lpt9"]);
        check(Shape::HexColour, &["#7a4b3a", "#7A4B3A"], &["7a4b3a", "#7a4b3", "#7a4b3g", "#é4b3a"]);
        check(Shape::Language, &["en", "en-GB", "nds"], &["English", "EN", "e", "en-"]);
        check(Shape::Path, &["logo.svg", "art/logo.svg"], &["/etc/x", "../x", "c:\\x", "art/../../x"]);
        check(Shape::Line, &["Ines"], &["", "  ", "a\nb", "a\u{7}", "a\u{202e}b", "a\u{2066}b", "a\u{200b}b"]);
        check(Shape::Prose, &["a\n\tb", "ab\u{200d}c"], &["a\u{0}", "a\u{202e}b"]);
    }
}
