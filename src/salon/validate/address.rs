//! Where the pages are published, and the salon's time zone.

use chrono_tz::Tz;

use crate::diagnostic::nearest;
use crate::form::{Filled, Findings};

/// The base address, checked: `https`, a host, perhaps a path, and nothing behind it.
pub(super) fn base_address(file: &Filled, findings: &mut Findings<'_>) -> Option<String> {
    let address = file.text("base_address")?;
    let Some((message, better)) = refusal(address) else {
        return Some(address.to_owned());
    };
    let hint = format!("Write for example `base_address = \"{better}\"`");
    findings.fault(file.span_of("base_address"), message, "this address", hint);
    None
}

/// What is wrong with a base address, and a better one.
fn refusal(address: &str) -> Option<(&'static str, String)> {
    let example = || "https://care.example.org".to_owned();
    let (scheme, rest) = match address.split_once("://") {
        Some((scheme, rest)) => (scheme, rest),
        None => return Some(("the base address does not begin with https://", with_scheme(address))),
    };
    let host = rest.split(['/', '?', '#']).next().unwrap_or_default();
    let name = host.rsplit_once(':').map_or(host, |(name, _)| name);
    let port = host.rsplit_once(':').map(|(_, port)| port);
    let here = matches!(name, "localhost" | "127.0.0.1");
    let plain = |c: char| c.is_ascii_alphanumeric() || matches!(c, '-' | '.');
    if scheme != "https" && !(scheme == "http" && here) {
        return Some(("the base address does not begin with https://", with_scheme(rest)));
    }
    if name.is_empty() || !name.chars().all(plain) || name.starts_with(['.', '-']) || !(here || name.contains('.')) {
        return Some(("the base address has no name of a site", example()));
    }
    if port.is_some_and(|port| port.parse::<u16>().is_err()) {
        return Some(("the number behind the colon is no port", format!("{scheme}://{name}")));
    }
    if rest.contains(['?', '#']) {
        let end = address.find(['?', '#']).unwrap_or(address.len());
        return Some((
            "nothing with ? or # belongs in the base address",
            address[..end].trim_end_matches('/').to_owned(),
        ));
    }
    if address.ends_with('/') {
        return Some(("the base address has a slash at its end", address.trim_end_matches('/').to_owned()));
    }
    let path = |c: char| c.is_ascii_alphanumeric() || matches!(c, '-' | '.' | '_' | '~' | '/' | '%');
    let bad_path = !rest[host.len()..].chars().all(path) || rest[host.len()..].split('/').any(|part| part == "..");
    bad_path.then(|| ("the base address holds signs that no address has", format!("{scheme}://{host}")))
}

fn with_scheme(rest: &str) -> String {
    let host: String = rest
        .trim_matches('/')
        .chars()
        .take_while(|c| c.is_ascii_alphanumeric() || matches!(c, '-' | '.' | '/'))
        .collect();
    if host.contains('.') { format!("https://{host}") } else { "https://care.example.org".to_owned() }
}

/// The time zone, by its name in the IANA time zone database.
pub(super) fn time_zone(file: &Filled, findings: &mut Findings<'_>) -> Option<Tz> {
    let written = file.text("time_zone")?;
    if let Ok(zone) = written.parse() {
        return Some(zone);
    }
    let names: Vec<&str> = chrono_tz::TZ_VARIANTS.iter().map(|zone| zone.name()).collect();
    let cities: Vec<&str> = names.iter().map(|name| name.rsplit('/').next().unwrap_or(name)).collect();
    let spaced = written.replace(' ', "_");
    let city = spaced.rsplit('/').next().unwrap_or_default();
    let by_city =
        nearest(city, &cities, 1).first().and_then(|city| names.iter().find(|name| name.ends_with(*city)).copied());
    let hint = match nearest(&spaced, &names, 1).first().copied().or(by_city) {
        Some(near) => format!("Did you mean \"{near}\"?"),
        None => "Write a continent and a city with a slash between: \"Europe/London\", \"America/New_York\"".to_owned(),
    };
    findings.fault(file.span_of("time_zone"), format!("there is no time zone \"{written}\""), "not known", hint);
    None
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_address_is_https_or_this_machine_and_ends_with_its_last_name() {
        for good in [
            "https://care.example.org",
            "https://example.org/care",
            "https://example.org:8443",
            "http://localhost:8080",
            "http://127.0.0.1",
        ] {
            assert_eq!(refusal(good), None, "{good}");
        }
        for bad in [
            "http://example.org",
            "https://example.org/",
            "https://example.org?x=1",
            "https://example.org/#top",
            "care.example.org",
            "https://",
            "https://me@example.org",
            "https://example.org:port",
            "https://example.org/a b",
            "https://example.org/a/../b",
            "ftp://example.org",
            "https://rooms",
        ] {
            let (_, better) = refusal(bad).unwrap_or_else(|| panic!("{bad} is taken"));
            assert_eq!(refusal(&better), None, "{better} is proposed for {bad}");
        }
    }
}
