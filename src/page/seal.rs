//! A sealed page: its text, packed and closed under a key that stands only in the client's own link.
//!
//! In: the salon's link secret, a client code, a link number, the text of a page. Out: [`Seal`] and [`Closed`].
//! Knows nothing of: what a page says, where it lies, who opens it.
//!
//! The key follows from secret, client and link number alone, so a printed code keeps working when the page changes.
//! The nonce follows from the text as well, so the same text gives the same bytes and no nonce meets two texts.

use aes_gcm::Aes128Gcm;
use aes_gcm::KeyInit;
use aes_gcm::aead::Aead;
use data_encoding::BASE32_NOPAD;
use data_encoding::BASE64;
use miniz_oxide::deflate::compress_to_vec_zlib;

use super::link::hmac_sha256;
use super::link::message;
use crate::record::ClientCode;

/// Characters of a key in an address: 26 × 5 bits hold its 128.
pub const KEY_LENGTH: usize = 26;

/// A closed text is a multiple of this many bytes long, tag apart, so that its length tells little.
pub const PADDED_TO: usize = 1024;

/// How hard the packing tries, 0 to 10.
const PACKING: u8 = 10;

/// What each value made from the secret is for: the first byte of its message. A link's begins with a letter or digit, a forgotten mark's with 0.
const KEY: u8 = 1;
const NONCE: u8 = 2;
const SALT: u8 = 3;

/// What closes one client's page.
#[derive(Clone, PartialEq, Eq)]
pub struct Seal {
    key: [u8; 16],
    nonces: [u8; 32],
    salt: [u8; 32],
}

/// Never shows the key, so that no message can leak it.
impl std::fmt::Debug for Seal {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str("Seal(…)")
    }
}

/// A text that only its key opens, in base64.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Closed {
    /// The nonce, 12 bytes.
    pub nonce: String,
    /// Ciphertext and its tag of 16 bytes.
    pub text: String,
}

impl Seal {
    /// The seal of a client's page under one link.
    ///
    /// # Source
    /// HMAC-SHA-256 as a derivation of keys: NIST SP 800-108r1, with the purpose in the message's first byte.
    #[must_use]
    pub fn of(secret: &[u8], client: &ClientCode, number: u32) -> Self {
        Self::from(secret, &message(client, number))
    }

    /// A seal that is no client's: for a page on which a theme is tried.
    #[must_use]
    pub fn of_sample() -> Self {
        Self::from(b"sample", b"")
    }

    fn from(secret: &[u8], whose: &[u8]) -> Self {
        let made = |purpose: u8| hmac_sha256(secret, &[&[purpose], whose].concat());
        let mut key = [0; 16];
        key.copy_from_slice(&made(KEY)[..16]);
        Self { key, nonces: made(NONCE), salt: made(SALT) }
    }

    /// The key as it stands after the `#` of the address: 26 lower-case base32 characters.
    ///
    /// What stands there is never sent to a server (RFC 9110, section 7.1; RFC 3986, section 3.5).
    #[must_use]
    pub fn fragment(&self) -> String {
        BASE32_NOPAD.encode(&self.key).to_lowercase()
    }

    /// A comment for a style text whose hash everyone may see: without the secret nobody can try which colours it holds.
    #[must_use]
    pub fn salt(&self) -> String {
        format!("/*{}*/", BASE32_NOPAD.encode(&self.salt[..16]).to_lowercase())
    }

    /// Packs a text, fills it up to a multiple of [`PADDED_TO`] bytes and closes it.
    ///
    /// Inside stand the length of the packed text in 4 bytes, most significant first, the text packed by zlib (RFC 1950), and zeros.
    ///
    /// # Source
    /// AES in Galois/Counter Mode: NIST SP 800-38D, here with a 128-bit key, a 96-bit nonce and a 128-bit tag, as the Web Cryptography API opens it.
    #[must_use]
    pub fn close(&self, text: &str) -> Closed {
        let packed = compress_to_vec_zlib(text.as_bytes(), PACKING);
        let length = u32::try_from(packed.len()).expect("a page is far under 4 GB");
        let mut inside = length.to_be_bytes().to_vec();
        inside.extend_from_slice(&packed);
        inside.resize(inside.len().next_multiple_of(PADDED_TO), 0);
        let mut nonce = [0; 12];
        nonce.copy_from_slice(&hmac_sha256(&self.nonces, &inside)[..12]);
        let cipher = Aes128Gcm::new(&self.key.into());
        let closed = cipher.encrypt(&nonce.into(), inside.as_slice()).expect("a page is far under 64 GB");
        Closed { nonce: BASE64.encode(&nonce), text: BASE64.encode(&closed) }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use data_encoding::HEXLOWER;

    fn seal(secret: &[u8], client: &str, number: u32) -> Seal {
        Seal::of(secret, &ClientCode::try_new(client).expect("a plain code"), number)
    }

    fn bytes(base64: &str) -> Vec<u8> {
        BASE64.decode(base64.as_bytes()).expect("base64")
    }

    fn opened(seal: &Seal, closed: &Closed) -> Option<Vec<u8>> {
        let nonce: [u8; 12] = bytes(&closed.nonce).try_into().expect("12 bytes");
        Aes128Gcm::new(&seal.key.into()).decrypt(&nonce.into(), bytes(&closed.text).as_slice()).ok()
    }

    /// Test case 3 of Viega & `McGrew`, "The Galois/Counter Mode of Operation" (2005), appendix B; written down from memory, where a slip would fail.
    #[test]
    fn the_cipher_gives_the_vector_of_the_gcm_specification() {
        let hex = |text: &str| HEXLOWER.decode(text.as_bytes()).expect("hexadecimal");
        let key: [u8; 16] = hex("feffe9928665731c6d6a8f9467308308").try_into().expect("16 bytes");
        let nonce: [u8; 12] = hex("cafebabefacedbaddecaf888").try_into().expect("12 bytes");
        let text = hex(concat!(
            "d9313225f88406e5a55909c5aff5269a86a7a9531534f7da2e4c303d8a318a72",
            "1c3c0c95956809532fcf0e2449a6b525b16aedf5aa0de657ba637b391aafd255"
        ));
        let closed = hex(concat!(
            "42831ec2217774244b7221b784d0d49ce3aa212f2c02a4e035c17e2329aca12e",
            "21d514b25466931c7d8f6a5aac84aa051ba30b396a0aac973d58e091473f5985",
            "4d5c2af327cd64a62cf35abd2ba6fab4"
        ));
        assert_eq!(Aes128Gcm::new(&key.into()).encrypt(&nonce.into(), text.as_slice()).expect("it fits"), closed);
    }

    #[test]
    fn what_is_closed_opens_with_its_own_key_only_and_holds_the_text() {
        let one = seal(b"secret", "wren", 1);
        let closed = one.close("<p>Rose</p>");
        let inside = opened(&one, &closed).expect("its own key");
        let length = u32::from_be_bytes(inside[..4].try_into().expect("4 bytes")) as usize;
        let text = miniz_oxide::inflate::decompress_to_vec_zlib(&inside[4..4 + length]).expect("packed");
        assert_eq!(text, b"<p>Rose</p>");
        assert!(inside[4 + length..].iter().all(|byte| *byte == 0));
        for other in [seal(b"secret", "wren", 2), seal(b"secret", "wren1", 1), seal(b"other", "wren", 1)] {
            assert!(opened(&other, &closed).is_none());
            assert_ne!(other.fragment(), one.fragment());
            assert_ne!(other.salt(), one.salt());
        }
    }

    #[test]
    fn a_changed_bit_anywhere_opens_nothing() {
        let one = seal(b"secret", "wren", 1);
        let closed = one.close("x");
        let whole = bytes(&closed.text);
        for at in (0..whole.len()).step_by(97).chain([whole.len() - 1]) {
            let mut changed = whole.clone();
            changed[at] ^= 1;
            assert!(opened(&one, &Closed { text: BASE64.encode(&changed), ..closed.clone() }).is_none(), "byte {at}");
        }
    }

    #[test]
    fn the_same_text_gives_the_same_bytes_and_another_text_another_nonce() {
        let one = seal(b"secret", "wren", 1);
        assert_eq!(one.close("a"), one.close("a"));
        let nonces: std::collections::BTreeSet<String> =
            (0..500).map(|at| one.close(&format!("text {at}")).nonce).collect();
        assert_eq!(nonces.len(), 500);
        assert_ne!(one.close("a").nonce, seal(b"secret", "robin", 1).close("a").nonce);
    }

    #[test]
    fn lengths_come_in_whole_steps() {
        let one = seal(b"secret", "wren", 1);
        // Text that does not pack well: digits of a run of squares.
        let text: String = (0_u64..2_000).map(|at| (at * at * 7_919 % 1_000_003).to_string()).collect();
        let lengths: std::collections::BTreeSet<usize> =
            (0..text.len()).step_by(50).map(|end| bytes(&one.close(&text[..end]).text).len() - 16).collect();
        assert!(lengths.iter().all(|length| length % PADDED_TO == 0), "{lengths:?}");
        assert!(lengths.len() > 2 && lengths.len() < 12, "{lengths:?}");
    }

    #[test]
    fn a_key_is_long_enough_and_never_a_link_s_own_signs() {
        let code = ClientCode::try_new("wren").expect("a plain code");
        let fragment = seal(b"secret", "wren", 1).fragment();
        assert_eq!(fragment.len(), KEY_LENGTH);
        let link = crate::page::link::link(b"secret", &code, 1, "https://care.example");
        assert_ne!(&fragment[..KEY_LENGTH - 1], &link.token[..KEY_LENGTH - 1]);
    }
}
