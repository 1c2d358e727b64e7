//! Every text of a salon folder.

use std::collections::{BTreeMap, BTreeSet};
use std::fs::{self, File};
use std::io::Read;
use std::path::Path;

use walkdir::{DirEntry, WalkDir};

use super::Failure;
use crate::diagnostic::{Checked, Diagnostic, Report, SourceText};

/// No file a person writes for a salon is larger than this, in bytes.
pub(super) const LARGEST: u64 = 1024 * 1024;

/// Where `learn` stores the salon's estimate, relative to the salon folder.
pub const ESTIMATE_FILE: &str = "private/salon-estimate.toml";

/// Where `book` keeps the salon's appointments, relative to the salon folder.
pub const BOOKINGS_FILE: &str = "private/bookings.toml";

/// The bookings of a large salon over some years, in bytes.
const LARGEST_BOOKINGS: u64 = 64 * 1024 * 1024;

/// The texts of a salon folder, each list sorted by name.
#[derive(Debug, Default)]
pub struct Texts {
    /// `salon.toml`; nothing when it is missing.
    pub salon: Option<SourceText>,
    /// `private/salon-estimate.toml`; nothing before the first `learn`.
    pub estimate: Option<SourceText>,
    /// `private/bookings.toml`; nothing before the first `book`.
    pub bookings: Option<SourceText>,
    /// `clients/*.toml`.
    pub clients: Vec<SourceText>,
    /// `records/**/*.toml`.
    pub records: Vec<SourceText>,
    /// `content/**`: the salon's own passages and words.
    pub content: Vec<SourceText>,
    /// `themes/NAME/**`: the salon's own themes.
    pub themes: Vec<SourceText>,
    /// Client files and visit records that are there and could not be read as a text, with as much of it as could be made out.
    pub unread: Vec<SourceText>,
    /// Pictures beside `salon.toml` and in folders of their own, by name: the salon's sign may be among them.
    pub pictures: BTreeMap<String, Vec<u8>>,
    /// The marks of clients who were forgotten.
    pub forgotten: BTreeSet<String>,
    /// What could not be read as a text.
    pub report: Report,
    /// Those files and folders, by name, that the machine would not let us read: no fault of theirs.
    pub refused: Vec<String>,
}

impl Texts {
    /// Every text, for excerpts in messages.
    #[must_use]
    pub fn all(&self) -> Vec<SourceText> {
        let lists = [&self.clients, &self.records, &self.content, &self.themes];
        self.salon
            .iter()
            .chain(&self.estimate)
            .chain(&self.bookings)
            .chain(lists.into_iter().flatten())
            .cloned()
            .collect()
    }

    /// With what there was to say while they were read.
    fn told(self, Told { report, refused }: Told) -> Self {
        Self { report, refused, ..self }
    }
}

/// Reads every text of a salon folder.
///
/// A file that is no text, too large, or a folder in a file's place becomes a fault in the report; the others are still read.
///
/// # Errors
/// When the folder itself cannot be read.
pub fn read_folder(folder: &Path) -> Result<Texts, Failure> {
    let (mut texts, mut told) = read_house_telling(folder)?;
    texts.clients = read_tree(folder, "clients", &["toml"], &mut told, &mut texts.unread);
    texts.records = read_tree(folder, "records", &["toml"], &mut told, &mut texts.unread);
    Ok(texts.told(told))
}

/// What [`read_folder`] reads, but for clients and records.
pub(super) fn read_house(folder: &Path) -> Result<Texts, Failure> {
    let (texts, told) = read_house_telling(folder)?;
    Ok(texts.told(told))
}

/// Everything that is about no client, and what there is to say about it.
fn read_house_telling(folder: &Path) -> Result<(Texts, Told), Failure> {
    fs::read_dir(folder).map_err(|error| Failure::io("open", folder, &error))?;
    let (mut texts, mut told) = (Texts::default(), Told::default());
    let salon = folder.join("salon.toml");
    if salon.is_symlink() || salon.exists() {
        texts.salon = read_text(folder, &salon, &mut told).ok();
    } else {
        let missing = Diagnostic::fault("salon.toml", "this folder has no salon.toml, so it is not a salon folder yet")
            .hint("Go to the folder that holds salon.toml, or name it after the command.");
        told.report.push(missing);
    }
    // What cannot be looked at may well be there: reading it says why not.
    let may_be_there = |path: &Path| path.is_symlink() || path.try_exists().unwrap_or(true);
    let estimate = folder.join(ESTIMATE_FILE);
    if may_be_there(&estimate) {
        texts.estimate = read_text(folder, &estimate, &mut told).ok();
    }
    let bookings = folder.join(BOOKINGS_FILE);
    if may_be_there(&bookings) {
        texts.bookings = read_text_up_to(folder, &bookings, LARGEST_BOOKINGS, &mut told).ok();
    }
    texts.forgotten = super::forgotten::read(folder)?;
    texts.pictures = read_pictures(folder);
    // A passage or a theme that cannot be read belongs to no client.
    texts.content = read_tree(folder, "content", &["md", "toml"], &mut told, &mut Vec::new());
    texts.themes = read_tree(folder, "themes", &["html", "css", "svg", "toml"], &mut told, &mut Vec::new());
    Ok((texts, told))
}

/// Folders in which no sign is looked for.
const NOT_PICTURES: [&str; 6] = ["clients", "records", "content", "themes", "public", "private"];

/// Small SVG and PNG files. One that cannot be read is not there: whoever names it is told.
fn read_pictures(folder: &Path) -> BTreeMap<String, Vec<u8>> {
    let wanted = |path: &Path| path.extension().is_some_and(|kind| kind == "svg" || kind == "png");
    let inside = |entry: &DirEntry| {
        entry.depth() == 0
            || !(hidden(entry.path(), folder) || NOT_PICTURES.iter().any(|name| entry.file_name() == *name))
    };
    let entries = WalkDir::new(folder).max_depth(3).sort_by_file_name().into_iter().filter_entry(inside).flatten();
    let files = entries.filter(|entry| entry.file_type().is_file() && wanted(entry.path()));
    let small = files.filter(|entry| entry.metadata().is_ok_and(|about| about.len() <= LARGEST));
    small.filter_map(|entry| Some((name_of(folder, entry.path()), fs::read(entry.path()).ok()?))).collect()
}

/// Reads every file of the given kinds below a part of the folder. Links are told and not followed, not even for the part itself.
fn read_tree(
    folder: &Path,
    part: &str,
    kinds: &[&str],
    told: &mut Told,
    unread: &mut Vec<SourceText>,
) -> Vec<SourceText> {
    let root = folder.join(part);
    if !root.is_symlink() && !root.exists() {
        return Vec::new();
    }
    let mut texts = Vec::new();
    for entry in WalkDir::new(&root).follow_root_links(false).sort_by_file_name() {
        match entry {
            Ok(entry) if hidden(entry.path(), &root) || !concerns_us(&entry, kinds) => {}
            Ok(entry) => match read_text(folder, entry.path(), told) {
                Ok(text) => texts.push(text),
                Err(text) => unread.push(text),
            },
            Err(error) => {
                let name = error.path().map_or_else(|| part.to_owned(), |path| name_of(folder, path));
                let fault = Diagnostic::fault(&name, format!("this could not be read: {error}"));
                told.report.push(fault.hint("Check who owns it and whether you may read it."));
                if error.io_error().is_some() {
                    told.refused.push(name.clone());
                }
                unread.push(SourceText::new(name, ""));
            }
        }
    }
    texts
}

/// Whether an entry is a file of these kinds by its name, or a link that hides a folder of such files.
fn concerns_us(entry: &DirEntry, kinds: &[&str]) -> bool {
    let named = entry.path().extension().and_then(|kind| kind.to_str()).is_some_and(|kind| kinds.contains(&kind));
    named || (entry.path_is_symlink() && (entry.depth() == 0 || entry.path().is_dir()))
}

fn hidden(path: &Path, root: &Path) -> bool {
    let below = path.strip_prefix(root).unwrap_or(path);
    below.components().any(|part| part.as_os_str().to_string_lossy().starts_with('.'))
}

/// The text of a calendar file anywhere on this machine, named as the person named it.
#[must_use]
pub fn read_calendar(path: &Path) -> Checked<SourceText> {
    let mut told = Told::default();
    let text = read_text_up_to(Path::new(""), path, LARGEST_BOOKINGS, &mut told).ok();
    Checked::new(text, told.report)
}

/// The text of a file, or as much of one as could be made out, and then a fault.
fn read_text(folder: &Path, path: &Path, told: &mut Told) -> Result<SourceText, SourceText> {
    read_text_up_to(folder, path, LARGEST, told)
}

fn read_text_up_to(folder: &Path, path: &Path, largest: u64, told: &mut Told) -> Result<SourceText, SourceText> {
    let name = name_of(folder, path);
    match bytes_of(&name, path, largest) {
        Ok(bytes) => SourceText::from_bytes(&name, &bytes).map_err(|fault| {
            told.report.push(*fault);
            SourceText::new(&name, String::from_utf8_lossy(&bytes))
        }),
        Err(Unread { fault, refused }) => {
            told.report.push(*fault);
            told.refused.extend(refused.then(|| name.clone()));
            Err(SourceText::new(name, ""))
        }
    }
}

/// Why a file was not read.
pub(super) struct Unread {
    fault: Box<Diagnostic>,
    /// Whether the machine refused; otherwise the file itself is at fault.
    refused: bool,
}

/// What reading a folder says beside the texts.
#[derive(Default)]
struct Told {
    report: Report,
    /// Names of what the machine refused.
    refused: Vec<String>,
}

/// The bytes of an ordinary file of ordinary size; a link, a pipe or a folder in its place is a fault.
pub(super) fn bytes_of(name: &str, path: &Path, largest: u64) -> Result<Vec<u8>, Unread> {
    let diagnostic = |message: String, hint: &str| Box::new(Diagnostic::fault(name, message).hint(hint));
    let fault = |message: String, hint: &str| Unread { fault: diagnostic(message, hint), refused: false };
    let unreadable = |error: std::io::Error| {
        let message = format!("this file could not be read: {error}");
        Unread { fault: diagnostic(message, "Check who owns it and whether you may read it."), refused: true }
    };
    let about = fs::symlink_metadata(path).map_err(unreadable)?;
    let kind = about.file_type();
    if kind.is_symlink() {
        let message = "this is a link to another place, and links are not followed".to_owned();
        return Err(fault(message, "Put the file or folder itself here."));
    }
    if kind.is_dir() {
        let message = "this is a folder, but its name is that of a file".to_owned();
        return Err(fault(message, "Rename the folder, or put the file in its place."));
    }
    if !kind.is_file() {
        let message = "this is no ordinary file".to_owned();
        return Err(fault(message, "Put an ordinary text file in its place."));
    }
    // Room for all of it and a little more: the end is seen without growing.
    let mut bytes = Vec::with_capacity(usize::try_from(about.len().min(largest)).unwrap_or(0) + 64);
    let file = File::open(path).map_err(unreadable)?;
    // One byte more than allowed is enough to know, however long the file grows while it is read.
    file.take(largest + 1).read_to_end(&mut bytes).map_err(unreadable)?;
    if bytes.len() as u64 > largest {
        let size = fs::metadata(path).map_or(0, |metadata| metadata.len());
        let message =
            format!("this file has {size} bytes; no file of a salon is larger than {} MB", largest / (1024 * 1024));
        return Err(fault(message, "Look whether something else was saved under this name."));
    }
    Ok(bytes)
}

/// The name of a file in messages: relative to the folder, forward slashes.
fn name_of(folder: &Path, path: &Path) -> String {
    let below = path.strip_prefix(folder).unwrap_or(path);
    let name = below.components().map(|part| part.as_os_str().to_string_lossy()).collect::<Vec<_>>().join("/");
    // The root is a part of its own.
    if name.starts_with("//") { name[1..].to_owned() } else { name }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_no_text_is_told_and_the_other_files_are_still_read() {
        let folder = tempfile::tempdir().expect("a folder");
        let path = |name: &str| folder.path().join(name);
        fs::create_dir_all(path("records/2026/odd.toml")).expect("a folder with the name of a file");
        fs::write(path("records/good.toml"), "format = 1\n").expect("written");
        fs::write(path("records/latin.toml"), b"format = 1\nnote = \"caf\xe9\"\n").expect("written");
        fs::write(path("records/wide.toml"), b"\xff\xfef\x00").expect("written");
        fs::write(path("records/huge.toml"), vec![b'#'; 5 * 1024 * 1024]).expect("written");
        #[cfg(unix)]
        {
            std::os::unix::fs::symlink("nowhere.toml", path("records/dangling.toml")).expect("a link");
            std::os::unix::fs::symlink("/", path("records/elsewhere")).expect("a link");
            std::os::unix::fs::symlink("/etc", path("content")).expect("a link");
            std::os::unix::fs::symlink("/etc/hostname", path("salon.toml")).expect("a link");
        }
        let texts = read_folder(folder.path()).expect("the folder is there");
        let names: Vec<&str> = texts.records.iter().map(|text| text.name.as_str()).collect();
        assert_eq!(names, ["records/good.toml"]);
        let told: Vec<&str> = texts.report.items.iter().map(|item| item.file.as_str()).collect();
        let mut expected =
            vec!["records/2026/odd.toml", "records/huge.toml", "records/latin.toml", "records/wide.toml", "salon.toml"];
        if cfg!(unix) {
            expected.extend(["records/dangling.toml", "records/elsewhere", "content"]);
        }
        for name in expected {
            assert!(told.contains(&name), "{name} in {told:?}");
        }
        assert!(texts.report.items.iter().all(|item| !item.hints.is_empty()));
        assert!(texts.content.is_empty() && texts.salon.is_none(), "nothing was read through a link");
        let latin = texts.unread.iter().find(|text| text.name == "records/latin.toml").expect("told as unread");
        assert!(latin.text.starts_with("format = 1"), "as much as could be made out");
    }

    #[test]
    fn a_folder_that_is_not_there_is_a_failure_of_the_machine() {
        let failure = read_folder(Path::new("/no/such/folder")).expect_err("nothing there");
        assert!(failure.to_string().contains("/no/such/folder"), "{failure}");
    }
}
