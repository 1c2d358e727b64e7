//! A container made in Azure's store: `publish` makes none, and the crate that speaks for it cannot.

use data_encoding::BASE64;
use hmac::{Hmac, KeyInit, Mac};
use sha2::Sha256;

/// The version of the protocol, and a day on which it is spoken; Azurite asks for no other clock.
const VERSION: &str = "2021-08-06";

/// The request that makes a container: its line and headers, signed with the account's key.
///
/// Source: Microsoft's documents of "Create Container" and "Authorize with Shared Key" (Blob service, 2009-09-19 and later).
pub(crate) fn make_container((account, key): (&str, &str), name: &str) -> (String, String) {
    let date = chrono::Utc::now().format("%a, %d %b %Y %H:%M:%S GMT").to_string();
    // The path holds the account, as on every server that is not the account's own host, and the signed text holds it twice.
    let resource = format!("/{account}/{account}/{name}\nrestype:container");
    let signed = format!("PUT\n\n\n\n\n\n\n\n\n\n\n\nx-ms-date:{date}\nx-ms-version:{VERSION}\n{resource}");
    let key = BASE64.decode(key.as_bytes()).expect("base64");
    let mut mac = Hmac::<Sha256>::new_from_slice(&key).expect("a key of any length");
    mac.update(signed.as_bytes());
    let signature = BASE64.encode(&mac.finalize().into_bytes());
    let line = format!("PUT /{account}/{name}?restype=container");
    let headers =
        format!("x-ms-date: {date}\r\nx-ms-version: {VERSION}\r\nAuthorization: SharedKey {account}:{signature}\r\n");
    (line, headers)
}
