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
}

/// Codes by which stores say that a key is not theirs, is out of date, or may not do this.
const KEY_REFUSED: [&str; 7] = [
    "AccessDenied",
    "AuthenticationFailed",
    "ExpiredToken",
    "InvalidAccessKeyId",
    "InvalidToken",
    "NotSignedUp",
    "SignatureDoesNotMatch",
];

/// What a refusal means, and what to do about it.
fn meaning(error: &Error, to: &Address) -> (String, String) {
    let address = to.as_str();
    let text = chain(error);
    let key = key_of(&to.kind);
    if text.contains("NoSuchBucket") || text.contains("ContainerNotFound") || matches!(error, Error::NotFound { .. }) {
        let help = "make the bucket first, at whoever keeps it, and look for a slip in its name";
        return (format!("there is no such bucket: {address}"), help.to_owned());
    }
    if asked_the_machine(&text) {
        return (format!("no key to {address} was found"), format!("set {key} and run the same command again"));
    }
    let refused = matches!(error, Error::PermissionDenied { .. } | Error::Unauthenticated { .. });
    if refused || KEY_REFUSED.iter().any(|code| text.contains(code)) {
        let help = format!("check {key}; the key must be allowed to list, write and remove there");
        return (format!("the key was refused at {address}"), help);
    }
    if matches!(error, Error::UnknownConfigurationKey { .. })
        || text.contains("Missing")
        || text.contains("must be specified")
    {
        return (format!("a setting for {address} is missing"), format!("set {key}"));
    }
    if text.contains("error sending request")
        || text.contains("connect")
        || text.contains("dns")
        || text.contains("timed out")
    {
        let help = "check the network of this machine and the endpoint, and run the same command again: it goes on where it stopped";
        return (format!("{address} could not be reached"), help.to_owned());
    }
    let help = "run the same command again: it goes on where it stopped. Nothing was removed after this";
    (format!("{address} refused"), help.to_owned())
}

/// The variables in which a key stands, by the kind of store.
fn key_of(kind: &Kind) -> &'static str {
    match kind {
        Kind::Folder(_) => "the rights of the folder",
        Kind::S3(_) => {
            "AWS_ACCESS_KEY_ID, AWS_SECRET_ACCESS_KEY and AWS_REGION (AWS_ENDPOINT for a store that is not Amazon's)"
        }
        Kind::Gs(_) => "GOOGLE_SERVICE_ACCOUNT, the path of the service account's file",
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

/// The store's own words in one line: its code and message when it gave such, else the shortest of the errors.
fn own_words(error: &Error) -> String {
    let text = chain(error);
    let part = |tag: &str| {
        let rest = text.split_once(&format!("<{tag}>"))?.1;
        Some(rest.split_once(&format!("</{tag}>"))?.0.trim().to_owned()).filter(|inner| !inner.is_empty())
    };
    match (part("Code"), part("Message")) {
        (Some(code), Some(message)) => format!("{code}: {message}"),
        (Some(code), None) => code,
        _ => {
            let last = text.rsplit(" | ").next().unwrap_or_default();
            last.split_whitespace().collect::<Vec<_>>().join(" ").chars().take(300).collect()
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn told(error: &Error) -> String {
        let to = Address::parse("s3://rooms/care").expect("an address");
        Refusal::store(error, &to).to_string()
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
}
