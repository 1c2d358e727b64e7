//! A text a person wrote, and places in it.

use super::Diagnostic;

/// A text with the name it is known by, a path relative to the salon folder.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SourceText {
    /// The name shown in messages, with forward slashes: `records/2026/wren.toml`.
    pub name: String,
    /// The whole text.
    pub text: String,
}

impl SourceText {
    /// A text by its name.
    #[must_use]
    pub fn new(name: impl Into<String>, text: impl Into<String>) -> Self {
        Self { name: name.into(), text: text.into() }
    }

    /// A text from the bytes of a file.
    ///
    /// # Errors
    /// A fault naming the line and column of the first byte that is no UTF-8 text, boxed because it is rare and large.
    pub fn from_bytes(name: &str, bytes: &[u8]) -> Result<Self, Box<Diagnostic>> {
        let error = match std::str::from_utf8(bytes) {
            Ok(text) => return Ok(Self::new(name, text)),
            Err(error) => error,
        };
        let as_utf8 = "Save the file again as UTF-8: most editors offer it as an encoding in the save dialog";
        if bytes.starts_with(&[0xff, 0xfe]) || bytes.starts_with(&[0xfe, 0xff]) {
            let message = "the file is saved as UTF-16, and only UTF-8 is read";
            return Err(Box::new(Diagnostic::fault(name, message).hint(as_utf8)));
        }
        let before = String::from_utf8_lossy(&bytes[..error.valid_up_to()]);
        let (line, column) = line_and_column(&before, before.len());
        let bad = bytes[error.valid_up_to()];
        let message = format!("line {line}, column {column} holds a byte that is not text (0x{bad:02x})");
        Err(Box::new(Diagnostic::fault(name, message).hint(as_utf8)))
    }

    /// The line and column of a byte, both counted from 1, the column in characters.
    #[must_use]
    pub fn line_and_column(&self, offset: usize) -> (usize, usize) {
        line_and_column(&self.text, offset)
    }

    /// The byte range of the line that holds a byte, without its line end.
    #[must_use]
    pub fn line_around(&self, offset: usize) -> std::ops::Range<usize> {
        let offset = floor(&self.text, offset);
        let start = self.text[..offset].rfind('\n').map_or(0, |end| end + 1);
        let end = self.text[offset..].find('\n').map_or(self.text.len(), |length| offset + length);
        let line = &self.text[start..end];
        start..start + line.trim_end_matches('\r').len()
    }
}

/// The byte order mark some editors put before the first letter; it is no letter and takes no column.
pub(super) const BYTE_ORDER_MARK: char = '\u{feff}';

fn line_and_column(text: &str, offset: usize) -> (usize, usize) {
    let before = &text[..floor(text, offset)];
    let start = before.rfind('\n').map_or(0, |end| end + 1);
    let line = before.matches('\n').count() + 1;
    let column = before[start..].trim_start_matches(BYTE_ORDER_MARK).chars().count() + 1;
    (line, column)
}

/// The nearest character border at or before a byte.
pub(super) fn floor(text: &str, offset: usize) -> usize {
    let mut offset = offset.min(text.len());
    while !text.is_char_boundary(offset) {
        offset -= 1;
    }
    offset
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_column_counts_characters_and_not_the_byte_order_mark() {
        let source = SourceText::new("x.toml", "\u{feff}café = 1\r\nb = 2");
        assert_eq!(source.line_and_column(source.text.find('1').unwrap()), (1, 8));
        assert_eq!(source.line_and_column(source.text.find('b').unwrap()), (2, 1));
        assert_eq!(source.line_and_column(usize::MAX), (2, 6));
        let first = source.line_around(4);
        assert_eq!(&source.text[first], "\u{feff}café = 1");
    }

    #[test]
    fn the_first_bad_byte_is_named_by_line_and_column() {
        let fault = SourceText::from_bytes("x.toml", b"a = 1\nname = \"Ren\xe9e\"").unwrap_err();
        assert_eq!(fault.message, "line 2, column 12 holds a byte that is not text (0xe9)");
        assert!(SourceText::from_bytes("x.toml", b"\xff\xfea\0").unwrap_err().message.contains("UTF-16"));
        assert_eq!(SourceText::from_bytes("x.toml", "é".as_bytes()).unwrap().text, "é");
    }
}
