//! The look at everything before anything leaves: what is in `public/`, and whether it may go.

use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::Path;
use std::time::SystemTime;

use rayon::prelude::*;
use sha2::{Digest, Sha256};

use crate::site::assets::HEADERS;

use super::address::Kind;
use super::markers::Finder;
use super::{Order, Refusal};

/// Files that some hosts read as settings and an object store would hand out as pages.
const SETTINGS: [&str; 2] = ["_headers", "_redirects"];

/// How many faults of one kind are told by name.
const TOLD: usize = 5;

/// A folder that may go.
#[derive(Debug)]
pub(super) struct Ready {
    /// Name below `public/` → SHA-256 of its bytes in hexadecimal digits.
    pub(super) files: BTreeMap<String, String>,
    /// The `Cache-Control` of every file.
    pub(super) cache: String,
    /// When the newest of them was written.
    pub(super) newest: Option<SystemTime>,
    /// Whether a file of settings was left out.
    pub(super) headers_left: bool,
}

/// Looks at everything.
///
/// # Errors
/// Every reason at once why it may not go.
pub(super) fn preflight(order: &Order<'_>) -> Result<Ready, Refusal> {
    let mut faults = Vec::new();
    if !order.base_address.starts_with("https://") {
        faults.push(format!(
            "the base address {} is not https, so that pages could be read on the way\n  help: set base_address in salon.toml to the https:// address, and run: afterhue pages",
            order.base_address
        ));
    }
    if inside(order) {
        faults.push("that address lies in the salon folder itself\n  help: name a folder elsewhere".to_owned());
    }
    let public = order.folder.join("public");
    let mut walk = Walk::default();
    match fs::symlink_metadata(&public) {
        Ok(kind) if kind.is_symlink() => {
            faults.push("public is a link to another place\n  help: put the folder itself here".to_owned());
        }
        Ok(_) => walk.below(&public, ""),
        Err(_) => {}
    }
    if !walk.names.contains("404.html") {
        faults.push("public/ holds no finished site\n  help: run: afterhue pages".to_owned());
    }
    faults.append(&mut walk.faults());
    let headers_left = SETTINGS.iter().any(|name| walk.names.remove(*name));
    let finder = Finder::new(order.markers);
    let looked: Vec<_> = walk.names.par_iter().map(|name| look(&public, name, &finder)).collect();
    let (mut files, mut newest, mut told) = (BTreeMap::new(), None, 0);
    for (name, one) in walk.names.iter().zip(looked) {
        match one {
            Ok((sha256, written)) => {
                newest = newest.max(written);
                files.insert(name.clone(), sha256);
            }
            Err(fault) => {
                told += 1;
                if told <= TOLD {
                    faults.push(fault);
                }
            }
        }
    }
    if told > TOLD {
        faults.push(format!("and {} more files like these", told - TOLD));
    }
    if !faults.is_empty() {
        return Err(Refusal::Folder(faults));
    }
    Ok(Ready { files, cache: cache_control(HEADERS).to_owned(), newest, headers_left })
}

/// Reads a file: its digest and when it was written, or why it may not go.
fn look(public: &Path, name: &str, finder: &Finder<'_>) -> Result<(String, Option<SystemTime>), String> {
    let path = public.join(name);
    let written = fs::metadata(&path).and_then(|about| about.modified()).ok();
    let bytes = fs::read(&path).map_err(|error| format!("public/{name} could not be read: {error}"))?;
    if let Some(marker) = finder.found(name, &bytes).first() {
        return Err(format!(
            "public/{name} holds {}, which must never be public\n  help: run: afterhue pages; if it is still there, look which note, passage or file of your own says it",
            marker.what
        ));
    }
    Ok((digest(&bytes), written))
}

/// SHA-256 in hexadecimal digits.
pub(super) fn digest(bytes: &[u8]) -> String {
    data_encoding::HEXLOWER.encode(&Sha256::digest(bytes))
}

/// Whether a folder to publish to lies in the salon folder.
fn inside(order: &Order<'_>) -> bool {
    let Kind::Folder(to) = &order.to.kind else { return false };
    match (to.canonicalize(), order.folder.canonicalize()) {
        (Ok(to), Ok(salon)) => to.starts_with(salon),
        _ => false,
    }
}

/// What lies in `public/`, and what of it may not go.
#[derive(Debug, Default)]
struct Walk {
    names: BTreeSet<String>,
    links: Vec<String>,
    hidden: Vec<String>,
    odd: Vec<String>,
}

impl Walk {
    fn below(&mut self, folder: &Path, above: &str) {
        let Ok(entries) = fs::read_dir(folder) else {
            self.odd.push(format!("public/{above}"));
            return;
        };
        for entry in entries.filter_map(Result::ok) {
            let part = entry.file_name();
            let name = format!("{above}{}", part.to_string_lossy());
            let told = format!("public/{name}");
            let plain =
                part.to_str().is_some_and(|part| part.chars().all(|c| !c.is_control() && !"\\%?#*".contains(c)));
            match entry.file_type() {
                Ok(kind) if kind.is_symlink() => self.links.push(told),
                _ if part.to_string_lossy().starts_with('.') => self.hidden.push(told),
                Ok(kind) if kind.is_dir() && plain => self.below(&entry.path(), &format!("{name}/")),
                Ok(kind) if kind.is_file() && plain => drop(self.names.insert(name)),
                _ => self.odd.push(told),
            }
        }
    }

    fn faults(&self) -> Vec<String> {
        let kinds = [
            (&self.links, "is a link to another place", "put the file itself here, or remove the link"),
            (&self.hidden, "is hidden or half written", "remove it, or run: afterhue pages"),
            (&self.odd, "is no ordinary file, or has a name no address can have", "remove or rename it"),
        ];
        let told = |(names, what, help): (&Vec<String>, &str, &str)| {
            let mut names = names.clone();
            names.sort();
            let first = names.first()?;
            let more = if names.len() > 1 { format!(" (and {} more)", names.len() - 1) } else { String::new() };
            Some(format!("{first}{more} {what}\n  help: {help}"))
        };
        kinds.into_iter().filter_map(told).collect()
    }
}

/// The `Cache-Control` that a `_headers` file gives to every file.
fn cache_control(headers: &str) -> &str {
    let every = headers.split("\n\n").find(|part| part.starts_with("/*\n")).unwrap_or_default();
    every.lines().find_map(|line| line.trim().strip_prefix("Cache-Control: ")).unwrap_or("no-store")
}

/// The type of a file by its ending.
///
/// Source: the IANA registry of media types; RFC 5545 for calendars, whose charset is UTF-8.
pub(super) fn content_type(name: &str) -> &'static str {
    match name.rsplit_once('.').map_or("", |(_, ending)| ending) {
        "html" => "text/html; charset=utf-8",
        "ics" => "text/calendar; charset=utf-8",
        "css" => "text/css; charset=utf-8",
        "js" => "text/javascript; charset=utf-8",
        "txt" => "text/plain; charset=utf-8",
        "svg" => "image/svg+xml",
        "png" => "image/png",
        "jpg" | "jpeg" => "image/jpeg",
        "webp" => "image/webp",
        "ico" => "image/vnd.microsoft.icon",
        "pdf" => "application/pdf",
        "json" => "application/json",
        "woff2" => "font/woff2",
        _ => "application/octet-stream",
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::publish::{Address, Marker};

    struct Salon(tempfile::TempDir);

    impl Salon {
        fn new() -> Self {
            let salon = Self(tempfile::tempdir().expect("a folder"));
            salon.write("public/404.html", "missing");
            salon.write("public/_headers", HEADERS);
            salon.write("public/c/ab/x.html", "Dear you");
            salon
        }

        fn write(&self, name: &str, text: &str) {
            let path = self.0.path().join(name);
            fs::create_dir_all(path.parent().expect("a folder")).expect("made");
            fs::write(path, text).expect("written");
        }

        fn look(&self, base_address: &str, to: &str, markers: &[Marker]) -> Result<Ready, String> {
            let to = Address::parse(to).expect("an address");
            let order = Order {
                folder: self.0.path(),
                to: &to,
                base_address,
                markers,
                inputs_changed: None,
                dry_run: true,
                take_over: false,
                at_once: 1,
            };
            preflight(&order).map_err(|refusal| refusal.to_string())
        }

        fn refused(&self) -> String {
            self.look("https://care.example.org", "s3://rooms", &[]).expect_err("refused")
        }
    }

    #[test]
    fn a_finished_site_goes_without_its_settings_and_with_their_cache_control() {
        let ready = Salon::new().look("https://care.example.org", "s3://rooms", &[]).expect("it may go");
        assert_eq!(ready.files.keys().collect::<Vec<_>>(), ["404.html", "c/ab/x.html"]);
        // FIPS 180-2, example of the text "abc", by the digest itself; here of the page.
        assert_eq!(digest(b"abc"), "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
        assert_eq!(ready.files["c/ab/x.html"], digest(b"Dear you"));
        assert_eq!(ready.cache, "private, max-age=0, must-revalidate");
        assert!(ready.headers_left);
    }

    #[test]
    fn every_reason_is_told_at_once_and_what_to_do_about_each() {
        let salon = Salon::new();
        salon.write("public/c/.afterhue-draft-x7", "half");
        salon.write("public/.git/config", "x");
        #[cfg(unix)]
        std::os::unix::fs::symlink("/etc/hostname", salon.0.path().join("public/c/host")).expect("a link");
        let marker = Marker { text: "dear you".to_owned(), what: "a note about a client".to_owned(), only_in: None };
        let told = salon.look("http://localhost:8080", "s3://rooms", &[marker]).expect_err("refused");
        for wanted in
            ["is not https", "public/.git (and 1 more) is hidden", "public/c/ab/x.html holds a note about a client"]
        {
            assert!(told.contains(wanted), "{wanted}: {told}");
        }
        assert_eq!(told.contains("public/c/host is a link"), cfg!(unix), "{told}");
        assert!(!told.to_lowercase().contains("dear you"), "the private text is not repeated: {told}");
    }

    #[test]
    fn an_unfinished_site_and_a_place_in_the_salon_folder_are_refused() {
        let salon = Salon::new();
        let here = format!("file://{}/public", salon.0.path().display());
        let told = salon.look("https://care.example.org", &here, &[]).expect_err("refused");
        assert!(told.contains("in the salon folder itself"), "{told}");
        fs::remove_file(salon.0.path().join("public/404.html")).expect("removed");
        assert!(salon.refused().contains("no finished site"));
        fs::remove_dir_all(salon.0.path().join("public")).expect("removed");
        assert!(salon.refused().contains("run: afterhue pages"));
    }

    #[test]
    fn pages_and_calendars_have_their_types() {
        assert_eq!(content_type("c/ab/x.html"), "text/html; charset=utf-8");
        assert_eq!(content_type("c/ab/x-washing.ics"), "text/calendar; charset=utf-8");
        assert_eq!(content_type("odd"), "application/octet-stream");
    }
}
