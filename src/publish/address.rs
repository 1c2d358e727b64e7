//! Where the pages go: `file:`, `s3:`, `gs:` or `az:`, read from what a person wrote.

use std::path::PathBuf;

use sha2::{Digest, Sha256};

use super::Refusal;

/// The address of a store: which kind, which bucket, which folder in it. It never holds a key.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Address {
    /// As it was written, without a slash at its end.
    text: String,
    /// What kind of store.
    pub(super) kind: Kind,
    /// The folder in the store, without slashes at its ends; empty for the root.
    pub(super) prefix: String,
}

/// A kind of store.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) enum Kind {
    /// A folder of this machine.
    Folder(PathBuf),
    /// Amazon S3, or a server that speaks like it.
    S3(String),
    /// Google Cloud Storage.
    Gs(String),
    /// Azure Blob Storage.
    Az(String),
}

impl Address {
    /// Reads an address.
    ///
    /// # Errors
    /// When it is none of the four kinds, names no bucket, or holds a key, a question mark or dots that climb.
    pub fn parse(text: &str) -> Result<Self, Refusal> {
        let wrong = |why: &str| {
            Refusal::Address(format!(
                "{why}\n  help: write s3://BUCKET/FOLDER, gs://BUCKET/FOLDER, az://CONTAINER/FOLDER or file:///A/FOLDER"
            ))
        };
        let Some((scheme, rest)) = text.split_once(':') else {
            return Err(wrong(&format!("\"{text}\" is no address of a store")));
        };
        if rest.contains(['?', '#', '@']) {
            // Said without the address: what stands there may be a key.
            return Err(wrong(
                "the address of a store holds no ?, # or @, and never a key: keys come from the environment",
            ));
        }
        if rest.split('/').any(|part| part == "." || part == "..") {
            return Err(wrong("the address of a store holds no . or .. between slashes"));
        }
        let text = text.trim_end_matches('/').to_owned();
        if scheme == "file" {
            let path = rest.strip_prefix("//").unwrap_or(rest);
            if !path.starts_with('/') || path.trim_matches('/').is_empty() {
                return Err(wrong("a folder is named from the root of this machine: file:///srv/site"));
            }
            return Ok(Self { text, kind: Kind::Folder(PathBuf::from(percent_decoded(path))), prefix: String::new() });
        }
        let kind = match scheme {
            "s3" => Kind::S3,
            "gs" => Kind::Gs,
            "az" => Kind::Az,
            _ => return Err(wrong(&format!("\"{scheme}:\" is no kind of store this program knows"))),
        };
        let rest = rest.strip_prefix("//").unwrap_or_default();
        let (bucket, prefix) = rest.split_once('/').unwrap_or((rest, ""));
        let plain = |c: char| c.is_ascii_alphanumeric() || matches!(c, '-' | '.' | '_');
        if bucket.is_empty() || !bucket.chars().all(plain) {
            return Err(wrong(&format!("\"{text}\" names no bucket")));
        }
        let prefix = prefix.trim_matches('/').to_owned();
        if !prefix.chars().all(|c| plain(c) || c == '/') || prefix.contains("//") {
            return Err(wrong("a folder in a store has letters, digits, - . _ and single slashes"));
        }
        Ok(Self { text, kind: kind(bucket.to_owned()), prefix })
    }

    /// The address as a person wrote it.
    #[must_use]
    pub fn as_str(&self) -> &str {
        &self.text
    }

    /// A short mark of the address, for the names of files kept about it.
    pub(super) fn mark(&self) -> String {
        let digest = Sha256::digest(self.text.as_bytes());
        data_encoding::HEXLOWER.encode(&digest[..8])
    }
}

/// A path with its `%41` read; what is no such pair stays.
fn percent_decoded(text: &str) -> String {
    let mut out = Vec::with_capacity(text.len());
    let bytes = text.as_bytes();
    let mut at = 0;
    while at < bytes.len() {
        let pair = bytes.get(at + 1..at + 3).and_then(|pair| std::str::from_utf8(pair).ok());
        match pair.filter(|_| bytes[at] == b'%').and_then(|pair| u8::from_str_radix(pair, 16).ok()) {
            Some(byte) => {
                out.push(byte);
                at += 3;
            }
            None => {
                out.push(bytes[at]);
                at += 1;
            }
        }
    }
    String::from_utf8_lossy(&out).into_owned()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_four_kinds_are_read_and_a_slash_at_the_end_is_the_same_address() {
        let read = |text: &str| Address::parse(text).unwrap_or_else(|why| panic!("{text}: {why}"));
        assert_eq!(read("s3://rooms/care"), read("s3://rooms/care/"));
        assert_eq!(read("s3://rooms").kind, Kind::S3("rooms".to_owned()));
        assert_eq!(read("gs://rooms.example.org/a/b").prefix, "a/b");
        assert_eq!(read("az://rooms").prefix, "");
        assert_eq!(read("file:///srv/my%20site/").kind, Kind::Folder(PathBuf::from("/srv/my site/")));
        assert_eq!(read("file:/srv/site").kind, Kind::Folder(PathBuf::from("/srv/site")));
        assert_ne!(read("s3://rooms/care").mark(), read("s3://rooms/cart").mark());
    }

    #[test]
    fn what_is_no_store_is_refused_and_a_key_in_it_is_not_repeated() {
        for bad in [
            "care",
            "https://rooms.example.org",
            "s3:",
            "s3://",
            "s3:///x",
            "gs://a b",
            "file:site",
            "file:///",
            "s3://a/../b",
            "s3://a/b//c",
        ] {
            let told = Address::parse(bad).expect_err(bad).to_string();
            assert!(told.contains("help: write s3://BUCKET"), "{told}");
        }
        let told = Address::parse("s3://AKIAKEY:secretsecret@rooms").expect_err("a key").to_string();
        assert!(!told.contains("secret"), "{told}");
    }
}
