//! Why nothing more was published, in words a salon can act on.

use std::fmt;
use std::io;

use object_store::Error;

use super::Address;
use super::address::Kind;

/// Why publishing stopped.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Refusal {
    /// What was asked for cannot mean anything: exit code 2.
    Address(String),
    /// Something in the folder may not leave the salon; one line each: exit code 1.
    Folder(Vec<String>),
    /// The store or the machine refused: exit code 3.
    Machine(String),
}

impl fmt::Display for Refusal {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Address(why) | Self::Machine(why) => f.write_str(why),
            Self::Folder(lines) => f.write_str(&lines.join("\n")),
        }
    }
}

impl std::error::Error for Refusal {}

impl Refusal {
    /// The machine refused.
    pub(super) fn machine(doing: &str, error: &io::Error) -> Self {
        Self::Machine(format!("could not {doing}: {error}"))
    }

    /// The store refused: what it means, what to do, and its own words.
    pub(super) fn store(error: &Error, to: &Address) -> Self {
        let (what, help) = meaning(error, to);
        Self::Machine(format!("{what}\n  help: {help}\n  the store says: {}", own_words(error)))
    }

    /// Nothing was asked of the store yet: a setting is missing, or is none.
    pub(super) fn setting(error: &Error, to: &Address) -> Self {
        let (address, key) = (to.as_str(), key_of(&to.kind));
        Self::Machine(format!(
            "a setting for {address} is missing or cannot be used\n  help: set {key}\n  what is wrong with it: {}",
            what_is_wrong(error)
        ))
    }
}

/// Codes by which stores say that there is no bucket of a name, or can be none.
const NO_SUCH_BUCKET: [&str; 6] = [
    "NoSuchBucket",
    "ContainerNotFound",
    "InvalidBucketName",
    "InvalidResourceName",
    "ResourceNotFound",
    "404 Not Found",
];

/// Codes by which stores say that a key is not theirs, is out of date, or may not do this; the last three, of whoever
/// hands out passes for keys, are those of RFC 6749 §5.2.
const KEY_REFUSED: [&str; 17] = [
    "AccessDenied",
    "AuthenticationFailed",
    "AuthorizationFailure",
    "AuthorizationPermissionMismatch",
    "ExpiredToken",
    "InsufficientAccountPermissions",
    "InvalidAccessKeyId",
    "InvalidAuthenticationInfo",
    "InvalidToken",
    "NotSignedUp",
    "RequestTimeTooSkewed",
    "SignatureDoesNotMatch",
    "401 Unauthorized",
    "403 Forbidden",
    "invalid_client",
    "invalid_grant",
    "unauthorized_client",
];

/// Codes by which a store says that the bucket is in another region.
const OTHER_REGION: [&str; 4] =
    ["AuthorizationHeaderMalformed", "IllegalLocationConstraint", "PermanentRedirect", "redirect without LOCATION"];

/// What stands in an error when a request was never answered.
const NOT_REACHED: [&str; 4] = ["error sending request", "connect", "dns", "timed out"];

/// What stands in an error when the store, or something before it, has a fault of its own.
const STORES_FAULT: [&str; 5] = ["500 Internal", "502 Bad Gateway", "503 Service", "504 Gateway", "InternalError"];

/// What a refusal means, and what to do about it.
fn meaning(error: &Error, to: &Address) -> (String, String) {
    let (address, text, key) = (to.as_str(), chain(error), key_of(&to.kind));
    let says = |signs: &[&str]| signs.iter().any(|sign| text.contains(sign));
    if let Kind::Folder(_) = to.kind {
        let help = "look whether the folder is there, may be written by you and has room, and run the same command again: it goes on where it stopped";
        return (format!("{address} could not be read or written"), help.to_owned());
    }
    if asked_the_machine(&text) {
        return (format!("no key to {address} was found"), format!("set {key}; then run the same command again"));
    }
    if says(&NO_SUCH_BUCKET) || matches!(error, Error::NotFound { .. }) {
        let (bucket, names) = match to.kind {
            Kind::Az(_) => ("container", "its name and in AZURE_STORAGE_ACCOUNT_NAME"),
            _ => ("bucket", "its name"),
        };
        let help = format!("make the {bucket} first, at whoever keeps it, and look for a slip in {names}");
        return (format!("there is no such {bucket}: {address}"), help);
    }
    if says(&OTHER_REGION) {
        let help = "set AWS_REGION to the region in which the bucket was made".to_owned();
        return (format!("{address} is not in that region"), help);
    }
    let refused = matches!(error, Error::PermissionDenied { .. } | Error::Unauthenticated { .. });
    if refused || says(&KEY_REFUSED) {
        let help = format!(
            "check {key}, and the clock of this machine; the key must be allowed to list, write and remove there"
        );
        return (format!("the key was refused at {address}"), help);
    }
    if text.contains("URL scheme is not allowed") {
        let allow = match to.kind {
            Kind::Az(_) => "AZURE_ALLOW_HTTP",
            Kind::Gs(_) => "GOOGLE_ALLOW_HTTP",
            _ => "AWS_ALLOW_HTTP",
        };
        let help = format!("write the endpoint with https://, or, for a server on this machine, set {allow}=true");
        return (format!("the endpoint of {address} is not https"), help);
    }
    if says(&STORES_FAULT) {
        let help = "wait a little and run the same command again: it goes on where it stopped";
        return (format!("{address} has a fault of its own"), help.to_owned());
    }
    if says(&NOT_REACHED) {
        let named = if matches!(to.kind, Kind::Az(_)) { ", AZURE_STORAGE_ACCOUNT_NAME" } else { "" };
        let help = format!(
            "check the network of this machine{named} and the endpoint, and run the same command again: it goes on where it stopped"
        );
        return (format!("{address} could not be reached"), help);
    }
    let help = "run the same command again: it goes on where it stopped. Nothing was removed after this";
    (format!("{address} refused"), help.to_owned())
}

/// The variables in which a key stands, by the kind of store.
fn key_of(kind: &Kind) -> &'static str {
    match kind {
        Kind::Folder(_) => "nothing: a folder has no key",
        Kind::S3(_) => {
            "AWS_ACCESS_KEY_ID, AWS_SECRET_ACCESS_KEY and AWS_REGION (AWS_ENDPOINT for a store that is not Amazon's)"
        }
        Kind::Gs(_) => "GOOGLE_SERVICE_ACCOUNT (the path of the service account's file)",
        Kind::Az(_) => "AZURE_STORAGE_ACCOUNT_NAME and AZURE_STORAGE_ACCOUNT_KEY",
    }
}

/// Whether the library, finding no key, asked the machine it runs on for one; only machines in a data centre have such.
fn asked_the_machine(text: &str) -> bool {
    ["169.254.169.254", "169.254.170.2", "metadata.google.internal", "metadata/identity"]
        .iter()
        .any(|at| text.contains(at))
}

/// An error with everything that led to it.
fn chain(error: &dyn std::error::Error) -> String {
    let mut text = error.to_string();
    let mut source = error.source();
    while let Some(below) = source {
        text.push_str(" | ");
        text.push_str(&below.to_string());
        source = below.source();
    }
    text
}

/// What is wrong with a setting, in one line: which file or field, and why.
fn what_is_wrong(error: &Error) -> String {
    let text = chain(error);
    // The outermost error only says for which store.
    let (outermost, inner) = text.split_once(" | ").unwrap_or((&text, &text));
    let first = inner.split(" | ").next().unwrap_or(outermost);
    let last = inner.rsplit(" | ").next().unwrap_or(first);
    let both = if first.contains(last) { first.to_owned() } else { format!("{first}: {last}") };
    // A list of bytes may be a part of the key.
    let both = both.split('[').next().unwrap_or_default().trim_end_matches([' ', ':']);
    both.split_whitespace().collect::<Vec<_>>().join(" ").chars().take(300).collect()
}

/// The store's own words in one line: its code and message when it gave such, else the innermost of the errors, without
/// the page or table that came with it.
fn own_words(error: &Error) -> String {
    let text = chain(error);
    let one_line = |text: &str| text.lines().next().unwrap_or_default().trim().to_owned();
    let part = |tag: &str| {
        let rest = text.split_once(&format!("<{tag}>"))?.1;
        Some(one_line(rest.split_once(&format!("</{tag}>"))?.0.trim())).filter(|inner| !inner.is_empty())
    };
    match (part("Code"), part("Message")) {
        (Some(code), Some(message)) => format!("{code}: {message}"),
        (Some(code), None) => code,
        _ => {
            let last = text.rsplit(" | ").next().unwrap_or_default();
            let last = last.split(['<', '{']).next().unwrap_or_default().trim_end_matches([' ', ':', '\n']);
            last.split_whitespace().collect::<Vec<_>>().join(" ").chars().take(300).collect()
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn told(error: &Error) -> String {
        told_at("s3://rooms/care", error)
    }

    fn told_at(address: &str, error: &Error) -> String {
        Refusal::store(error, &Address::parse(address).expect("an address")).to_string()
    }

    fn generic(text: &str) -> Error {
        Error::Generic { store: "a store", source: says(text) }
    }

    fn says(text: &str) -> Box<dyn std::error::Error + Send + Sync> {
        text.to_owned().into()
    }

    #[test]
    fn each_refusal_says_what_to_do_and_keeps_the_stores_own_code() {
        let missing = Error::NotFound {
            path: "x".to_owned(),
            source: says("<Error><Code>NoSuchBucket</Code><Message>The bucket does not exist</Message></Error>"),
        };
        let text = told(&missing);
        assert!(
            text.contains("no such bucket: s3://rooms/care") && text.contains("NoSuchBucket: The bucket"),
            "{text}"
        );
        let denied = Error::PermissionDenied {
            path: "x".to_owned(),
            source: says("<Error><Code>SignatureDoesNotMatch</Code></Error>"),
        };
        let text = told(&denied);
        assert!(text.contains("the key was refused") && text.contains("AWS_SECRET_ACCESS_KEY"), "{text}");
        let none = Error::Generic { store: "S3", source: says("Error performing PUT http://169.254.169.254/latest") };
        assert!(told(&none).contains("no key to s3://rooms/care was found"), "{}", told(&none));
        let away = Error::Generic { store: "S3", source: says("error sending request") };
        assert!(told(&away).contains("could not be reached"), "{}", told(&away));
    }

    #[test]
    fn a_setting_that_is_none_is_told_with_its_file_and_without_a_part_of_the_key() {
        let told = |inner: &'static str| {
            let to = Address::parse("gs://rooms").expect("an address");
            Refusal::setting(&generic(inner), &to).to_string()
        };
        let text = told("Unable to open service account file from /k.json: No such file");
        assert!(text.contains("set GOOGLE_SERVICE_ACCOUNT") && text.contains("/k.json: No such file"), "{text}");
        let text = told("Error reading pem file: illegal section start: [45, 45, 45]");
        assert!(text.ends_with("illegal section start") && !text.contains("45"), "{text}");
    }

    /// As Azurite 3.37 and Google's and Amazon's documents word them.
    #[test]
    fn a_refusal_is_told_in_the_words_of_its_kind_of_store_and_in_one_line() {
        for (address, answer, wanted) in [
            (
                "az://rooms/care",
                "<Error><Code>ContainerNotFound</Code><Message>The specified container does not exist.\nRequestId:1\nTime:2</Message></Error>",
                [
                    "there is no such container: az://rooms/care",
                    "make the container first",
                    "says: ContainerNotFound: The specified container does not exist.",
                ],
            ),
            (
                "az://rooms/care",
                "<Error><Code>AuthorizationFailure</Code><Message>Server failed to authenticate the request.</Message></Error>",
                ["the key was refused", "AZURE_STORAGE_ACCOUNT_KEY", "AuthorizationFailure: Server failed"],
            ),
            (
                "gs://rooms/care",
                "Server returned non-2xx status code: 400 Bad Request: {\"error\":\"invalid_grant\",\"error_description\":\"x\"}",
                [
                    "the key was refused",
                    "GOOGLE_SERVICE_ACCOUNT (the path",
                    "says: Server returned non-2xx status code: 400",
                ],
            ),
            (
                "s3://rooms/care",
                "Received redirect without LOCATION, this normally indicates an incorrectly configured region",
                ["is not in that region", "set AWS_REGION", "says: Received redirect"],
            ),
            (
                "s3://rooms/care",
                "Server returned non-2xx status code: 500 Internal Server Error: <!doctype html>\n<title>500</title>",
                [
                    "has a fault of its own",
                    "wait a little",
                    "says: Server returned non-2xx status code: 500 Internal Server Error",
                ],
            ),
            (
                "gs://rooms/care",
                "HTTP error: builder error | URL scheme is not allowed",
                ["is not https", "GOOGLE_ALLOW_HTTP=true", "says: URL scheme is not allowed"],
            ),
            (
                "az://rooms/care",
                "error sending request | dns error",
                ["could not be reached", "AZURE_STORAGE_ACCOUNT_NAME", "says: dns error"],
            ),
        ] {
            let text = told_at(address, &generic(answer));
            wanted.iter().for_each(|wanted| assert!(text.contains(wanted), "{wanted}: {text}"));
            assert_eq!(text.lines().count(), 3, "{text}");
            assert!(!text.contains(['<', '{']), "{text}");
        }
    }
}
