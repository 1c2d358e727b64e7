//! The lasting link of a client: an address nobody can guess, found again from the same secret.
//!
//! In: the salon's link secret, a client code, a link number, the base address. Out: [`Link`].
//! Knows nothing of: where the secret is kept, or who the client is.

use data_encoding::BASE32_NOPAD;
use hmac::{Hmac, KeyInit, Mac};
use sha2::Sha256;

use super::seal::KEY_LENGTH;
use super::seal::Seal;
use crate::record::ClientCode;

/// Characters of base32 in a token: 26 × 5 bits = 130 bits, above the 120 bits that the W3C TAG finding
/// "Good Practices for Capability URLs" asks for.
pub const TOKEN_LENGTH: usize = 26;

/// Where a client's page lies.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub struct Link {
    /// The unguessable part: 26 lower-case base32 characters.
    pub token: String,
    /// Path of the page below the site's root, `c/ab/cdef….html`.
    pub path: String,
    /// Path of the calendar file beside it.
    pub calendar_path: String,
    /// Path of the calendar file of the wash rhythm.
    pub washing_path: String,
    /// The whole address, as printed and put into the code; that of a sealed page ends with its key.
    pub address: String,
}

impl Link {
    /// The link with the key that opens a sealed page.
    #[must_use]
    pub fn with_key(self, seal: &Seal) -> Self {
        Self { address: format!("{}#{}", self.address, seal.fragment()), ..self }
    }

    /// The address as servers and caches know it: without a key.
    #[must_use]
    pub fn without_key(&self) -> &str {
        self.address.split('#').next().unwrap_or_default()
    }

    /// Whether the address ends with a key.
    #[must_use]
    pub fn is_sealed(&self) -> bool {
        self.address.contains('#')
    }

    /// Path of the page below the site's root, with its key when it is sealed: what opens it.
    #[must_use]
    pub fn path_and_key(&self) -> String {
        self.path.clone() + &self.address[self.without_key().len()..]
    }

    /// Name of the calendar file, as the page beside it refers to it.
    #[must_use]
    pub fn calendar_name(&self) -> &str {
        last_part(&self.calendar_path)
    }

    /// Name of the calendar file of the wash rhythm, as the page beside it refers to it.
    #[must_use]
    pub fn washing_name(&self) -> &str {
        last_part(&self.washing_path)
    }
}

fn last_part(path: &str) -> &str {
    path.rsplit('/').next().unwrap_or_default()
}

/// The link of a client: HMAC-SHA-256 over client code, a zero byte and the link number in decimal digits.
///
/// A code cannot hold a zero byte, so no two pairs of code and number give the same message.
/// `relink` raises the number, and the old address dies.
///
/// # Source
/// HMAC: RFC 2104; test vectors: RFC 4231. Base32: RFC 4648, in lower case and without padding.
#[must_use]
pub fn link(secret: &[u8], client: &ClientCode, number: u32, base_address: &str) -> Link {
    let mut token = BASE32_NOPAD.encode(&hmac_sha256(secret, &message(client, number))).to_lowercase();
    token.truncate(TOKEN_LENGTH);
    at(base_address, token)
}

/// Client code, a zero byte, the link number in decimal digits.
pub(super) fn message(client: &ClientCode, number: u32) -> Vec<u8> {
    [client.as_str().as_bytes(), &[0], number.to_string().as_bytes()].concat()
}

/// A link that leads nowhere, as long as every link under a base address is: for measuring a code.
#[must_use]
pub(super) fn specimen(base_address: &str, sealed: bool) -> Link {
    let link = at(base_address, "a".repeat(TOKEN_LENGTH));
    let key = if sealed { format!("#{}", "a".repeat(KEY_LENGTH)) } else { String::new() };
    Link { address: link.address + &key, ..link }
}

fn at(base_address: &str, token: String) -> Link {
    let stem = format!("c/{}/{}", &token[..2], &token[2..]);
    let path = format!("{stem}.html");
    let address = format!("{}/{path}", base_address.trim_end_matches('/'));
    Link { token, path, calendar_path: format!("{stem}.ics"), washing_path: format!("{stem}-washing.ics"), address }
}

/// The mark by which a forgotten client is known again, in 64 hexadecimal digits; without the secret it says nothing.
///
/// The message begins with a zero byte, which no link's does.
#[must_use]
pub fn forgotten_mark(secret: &[u8], client: &ClientCode) -> String {
    let mut message = vec![0];
    message.extend_from_slice(client.as_str().as_bytes());
    data_encoding::HEXLOWER.encode(&hmac_sha256(secret, &message))
}

/// HMAC-SHA-256 of a message.
pub(super) fn hmac_sha256(key: &[u8], message: &[u8]) -> [u8; 32] {
    let mut mac = Hmac::<Sha256>::new_from_slice(key).expect("HMAC takes a key of any length");
    mac.update(message);
    mac.finalize().into_bytes().into()
}

#[cfg(test)]
mod tests {
    use super::*;
    use data_encoding::HEXLOWER;

    fn check(key: &[u8], message: &[u8], expected: &str) {
        assert_eq!(HEXLOWER.encode(&hmac_sha256(key, message)), expected);
    }

    /// RFC 4231, sections 4.2 to 4.4, 4.7 (test cases 1, 2, 3 and 6).
    #[test]
    fn hmac_gives_the_vectors_of_rfc_4231() {
        check(&[0x0b; 20], b"Hi There", "b0344c61d8db38535ca8afceaf0bf12b881dc200c9833da726e9376c2e32cff7");
        check(
            b"Jefe",
            b"what do ya want for nothing?",
            "5bdcc146bf60754e6a042426089575c75a003f089d2739839dec58b964ec3843",
        );
        check(&[0xaa; 20], &[0xdd; 50], "773ea91e36800e46854db8ebd09181a72959098b3ef8c122d9635514ced565fe");
        check(
            &[0xaa; 131],
            b"Test Using Larger Than Block-Size Key - Hash Key First",
            "60e431591ee0b67f0d8a26aacbf5b77f8e0bc6213728c5140546040f0ee37f54",
        );
    }

    #[test]
    fn a_link_is_long_lower_case_and_lies_two_folders_deep() {
        let code = ClientCode::try_new("wren").expect("a plain code");
        let one = link(b"secret", &code, 1, "https://care.example/");
        assert_eq!(one.token.len(), TOKEN_LENGTH);
        assert!(one.token.chars().all(|c| c.is_ascii_lowercase() || ('2'..='7').contains(&c)), "{}", one.token);
        assert_eq!(one.path.len(), "c/ab/".len() + 24 + ".html".len());
        assert_eq!(one.address, format!("https://care.example/{}", one.path));
        assert_eq!(format!("c/{}/{}", &one.token[..2], one.calendar_name()), one.calendar_path);
    }

    #[test]
    fn a_sealed_link_is_the_same_with_its_key_behind_it() {
        let code = ClientCode::try_new("wren").expect("a plain code");
        let open = link(b"secret", &code, 1, "https://care.example/");
        let seal = Seal::of(b"secret", &code, 1);
        let sealed = open.clone().with_key(&seal);
        assert_eq!(sealed.address, format!("{}#{}", open.address, seal.fragment()));
        assert_eq!((sealed.without_key(), open.without_key()), (&*open.address, &*open.address));
        assert_eq!(sealed.path_and_key(), format!("{}#{}", open.path, seal.fragment()));
        assert_eq!(open.path_and_key(), open.path);
        assert_eq!(specimen("https://care.example", true).address.len(), sealed.address.len());
    }

    #[test]
    fn another_number_client_or_secret_moves_the_link() {
        let code = |text| ClientCode::try_new(text).expect("a plain code");
        let token = |secret: &[u8], client, number| link(secret, &code(client), number, "https://care.example").token;
        let first = token(b"secret", "wren", 1);
        assert_eq!(first, token(b"secret", "wren", 1));
        for other in [token(b"secret", "wren", 2), token(b"secret", "wren1", 1), token(b"other", "wren", 1)] {
            assert_ne!(first, other);
        }
    }
}
