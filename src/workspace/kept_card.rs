//! Texts kept sealed until a day, one for a mark, in `private/kept/`.
//!
//! Sealed by AES-256 in Galois/Counter Mode (NIST SP 800-38D) under a key made from the salon's secret and the mark,
//! with a nonce of 96 random bits. The last day is bound to the text: whoever changes it in the file makes the text unreadable.

use std::fs;
use std::io::ErrorKind;
use std::path::Path;

use aes_gcm::Aes256Gcm;
use aes_gcm::KeyInit;
use aes_gcm::aead::Aead;
use aes_gcm::aead::Payload;
use chrono::NaiveDate;
use data_encoding::BASE64;
use hmac::Hmac;
use hmac::Mac;
use sha2::Sha256;

use super::store::private_folder;
use super::{Failure, Secret, private_names, store};

/// The folder of the kept texts, relative to the salon folder.
pub const KEPT_FOLDER: &str = "private/kept";

const HEAD: &str = "# The test-and-incident card of a client who was forgotten, sealed with the salon's secret. The first run of pages on this day removes it.";

/// The first byte of the message a key is made from; those of links, marks and pages begin otherwise.
const PURPOSE: u8 = 16;

const NONCE: usize = 12;

fn cipher(secret: &Secret, mark: &str) -> Aes256Gcm {
    let mut mac = Hmac::<Sha256>::new_from_slice(secret.bytes()).expect("HMAC takes a key of any length");
    mac.update(&[PURPOSE]);
    mac.update(mark.as_bytes());
    let key: [u8; 32] = mac.finalize().into_bytes().into();
    Aes256Gcm::new(&key.into())
}

/// Keeps a text for a mark until a day, on which it goes.
///
/// # Errors
/// When the machine refuses; what was kept before is then still whole.
pub fn keep_card(folder: &Path, secret: &Secret, mark: &str, until: NaiveDate, text: &str) -> Result<(), Failure> {
    let path = private_folder(folder)?.join("kept").join(format!("{mark}.toml"));
    let mut nonce = [0_u8; NONCE];
    getrandom::fill(&mut nonce).map_err(|error| Failure {
        doing: "seal",
        path: path.clone(),
        why: format!("the system gave no randomness: {error}"),
        hint: "Run the command again.".to_owned(),
    })?;
    let day = until.to_string();
    let payload = Payload { msg: text.as_bytes(), aad: day.as_bytes() };
    let sealed = cipher(secret, mark).encrypt(&nonce.into(), payload).expect("a card is far under 64 GB");
    let sealed = BASE64.encode(&[&nonce[..], &sealed].concat());
    store(&path, format!("{HEAD}\nformat = 1\nuntil = {day}\nsealed = \"{sealed}\"\n").as_bytes())
}

/// The text kept for a mark, and the day on which it goes; nothing when none is kept.
///
/// # Errors
/// When it is there and cannot be read or opened: the file was changed, or the secret is another one.
pub fn kept_card(folder: &Path, secret: &Secret, mark: &str) -> Result<Option<(NaiveDate, String)>, Failure> {
    let path = folder.join(KEPT_FOLDER).join(format!("{mark}.toml"));
    let file = match fs::read_to_string(&path) {
        Ok(file) => file,
        Err(error) if error.kind() == ErrorKind::NotFound => return Ok(None),
        Err(error) => return Err(Failure::io("read", &path, &error)),
    };
    opened(&file, &cipher(secret, mark)).map(Some).ok_or_else(|| Failure {
        doing: "open",
        path,
        why: "it was changed, or sealed with another secret than private/link-secret".to_owned(),
        hint: "Put back your backup of private/link-secret.".to_owned(),
    })
}

fn opened(file: &str, cipher: &Aes256Gcm) -> Option<(NaiveDate, String)> {
    let (until, sealed) = (last_day(file)?, field(file, "sealed")?);
    let bytes = BASE64.decode(sealed.trim_matches('"').as_bytes()).ok()?;
    let (nonce, sealed) = bytes.split_first_chunk::<NONCE>()?;
    let day = until.to_string();
    let text = cipher.decrypt(&(*nonce).into(), Payload { msg: sealed, aad: day.as_bytes() }).ok()?;
    Some((until, String::from_utf8(text).ok()?))
}

fn field<'a>(file: &'a str, name: &str) -> Option<&'a str> {
    file.lines().find_map(|line| line.strip_prefix(name)?.trim_start().strip_prefix('=')).map(str::trim)
}

fn last_day(file: &str) -> Option<NaiveDate> {
    field(file, "until")?.parse().ok()
}

/// Removes every kept text whose day has come. Gives how many went, and the names of files that do not tell their day.
///
/// # Errors
/// When the machine refuses.
pub fn drop_cards_due(folder: &Path, today: NaiveDate) -> Result<(usize, Vec<String>), Failure> {
    let (mut gone, mut odd) = (0, Vec::new());
    for name in private_names(folder, "kept") {
        let path = folder.join(KEPT_FOLDER).join(&name);
        let file = fs::read_to_string(&path).map_err(|error| Failure::io("read", &path, &error))?;
        match last_day(&file) {
            Some(until) if until > today => {}
            Some(_) => {
                super::drop_private(folder, &format!("kept/{name}"))?;
                gone += 1;
            }
            None => odd.push(format!("{KEPT_FOLDER}/{name}")),
        }
    }
    Ok((gone, odd))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn day(text: &str) -> NaiveDate {
        text.parse().expect("a day")
    }

    #[test]
    fn a_card_is_opened_by_its_own_secret_only_and_says_nothing_without() {
        let folder = tempfile::tempdir().expect("a folder");
        let (secret, other) = (Secret::from_bytes([7; 32]), Secret::from_bytes([8; 32]));
        let mark = "ab".repeat(32);
        keep_card(folder.path(), &secret, &mark, day("2029-11-25"), "blisters").expect("kept");
        let read = |secret| kept_card(folder.path(), secret, &mark);
        assert_eq!(read(&secret).expect("opened"), Some((day("2029-11-25"), "blisters".to_owned())));
        assert!(read(&other).is_err());
        assert_eq!(kept_card(folder.path(), &secret, "none").expect("nothing there"), None);
        let path = folder.path().join(KEPT_FOLDER).join(format!("{mark}.toml"));
        let file = fs::read_to_string(&path).expect("there");
        assert!(!file.contains("blisters") && file.parse::<toml::Table>().is_ok(), "{file}");
        fs::write(&path, file.replace("2029", "2039")).expect("written");
        assert!(read(&secret).is_err(), "the day is bound to the text");
        // The same text once more is sealed otherwise.
        keep_card(folder.path(), &secret, &mark, day("2029-11-25"), "blisters").expect("kept");
        assert_ne!(fs::read_to_string(&path).expect("there"), file);
    }

    #[test]
    fn a_card_goes_on_its_day_and_one_without_a_day_is_told() {
        let folder = tempfile::tempdir().expect("a folder");
        let secret = Secret::from_bytes([7; 32]);
        keep_card(folder.path(), &secret, "aa", day("2029-11-25"), "x").expect("kept");
        assert_eq!(drop_cards_due(folder.path(), day("2029-11-24")).expect("looked"), (0, Vec::new()));
        fs::write(folder.path().join(KEPT_FOLDER).join("odd.toml"), "until = soon\n").expect("written");
        let odd = vec![format!("{KEPT_FOLDER}/odd.toml")];
        assert_eq!(drop_cards_due(folder.path(), day("2029-11-25")).expect("looked"), (1, odd));
        assert_eq!(kept_card(folder.path(), &secret, "aa").expect("gone"), None);
    }
}
