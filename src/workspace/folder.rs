//! Every text of a salon folder.

use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::Path;

use walkdir::WalkDir;

use super::Failure;
use crate::diagnostic::{Diagnostic, Report, SourceText};

/// No file a person writes for a salon is larger than this, in bytes.
const LARGEST: u64 = 1024 * 1024;

/// Where `learn` stores the salon's estimate, relative to the salon folder.
pub const ESTIMATE_FILE: &str = "private/salon-estimate.toml";

/// The texts of a salon folder, each list sorted by name.
#[derive(Debug, Default)]
pub struct Texts {
    /// `salon.toml`; nothing when it is missing.
    pub salon: Option<SourceText>,
    /// `private/salon-estimate.toml`; nothing before the first `learn`.
    pub estimate: Option<SourceText>,
    /// `clients/*.toml`.
    pub clients: Vec<SourceText>,
    /// `records/**/*.toml`.
    pub records: Vec<SourceText>,
    /// `content/**`: the salon's own passages and words.
    pub content: Vec<SourceText>,
    /// `themes/NAME/**`: the salon's own themes.
    pub themes: Vec<SourceText>,
    /// Pictures beside `salon.toml` and in folders of their own, by name: the salon's sign may be among them.
    pub pictures: BTreeMap<String, Vec<u8>>,
    /// The marks of clients who were forgotten.
    pub forgotten: BTreeSet<String>,
    /// What could not be read as a text.
    pub report: Report,
}

impl Texts {
    /// Every text, for excerpts in messages.
    #[must_use]
    pub fn all(&self) -> Vec<SourceText> {
        let lists = [&self.clients, &self.records, &self.content, &self.themes];
        self.salon.iter().chain(&self.estimate).chain(lists.into_iter().flatten()).cloned().collect()
    }
}

/// Reads every text of a salon folder.
///
/// A file that is no text, too large, or a folder in a file's place becomes a fault in the report; the others are still read.
///
/// # Errors
/// When the folder itself cannot be read.
pub fn read_folder(folder: &Path) -> Result<Texts, Failure> {
    fs::read_dir(folder).map_err(|error| Failure::io("open", folder, &error))?;
    let mut texts = Texts::default();
    let salon = folder.join("salon.toml");
    if salon.exists() {
        texts.salon = read_text(folder, &salon, &mut texts.report);
    } else {
        let missing = Diagnostic::fault("salon.toml", "this folder has no salon.toml, so it is not a salon folder yet")
            .hint("Go to the folder that holds salon.toml, or name it after the command.");
        texts.report.push(missing);
    }
    let estimate = folder.join(ESTIMATE_FILE);
    if estimate.exists() {
        texts.estimate = read_text(folder, &estimate, &mut texts.report);
    }
    texts.forgotten = super::forgotten::read(folder)?;
    texts.clients = read_tree(folder, "clients", &["toml"], &mut texts.report);
    texts.records = read_tree(folder, "records", &["toml"], &mut texts.report);
    texts.content = read_tree(folder, "content", &["md", "toml"], &mut texts.report);
    texts.themes = read_tree(folder, "themes", &["html", "css", "svg", "toml"], &mut texts.report);
    texts.pictures = read_pictures(folder);
    Ok(texts)
}

/// Folders in which no sign is looked for.
const NOT_PICTURES: [&str; 6] = ["clients", "records", "content", "themes", "public", "private"];

/// Small SVG and PNG files. One that cannot be read is not there: whoever names it is told.
fn read_pictures(folder: &Path) -> BTreeMap<String, Vec<u8>> {
    let wanted = |path: &Path| path.extension().is_some_and(|kind| kind == "svg" || kind == "png");
    let inside = |entry: &walkdir::DirEntry| {
        entry.depth() == 0
            || !(hidden(entry.path(), folder) || NOT_PICTURES.iter().any(|name| entry.file_name() == *name))
    };
    let entries = WalkDir::new(folder).max_depth(3).sort_by_file_name().into_iter().filter_entry(inside).flatten();
    let files = entries.filter(|entry| entry.file_type().is_file() && wanted(entry.path()));
    let small = files.filter(|entry| entry.metadata().is_ok_and(|about| about.len() <= LARGEST));
    small.filter_map(|entry| Some((name_of(folder, entry.path()), fs::read(entry.path()).ok()?))).collect()
}

/// Reads every file of the given kinds below a part of the folder. Links are not followed out of it.
fn read_tree(folder: &Path, part: &str, kinds: &[&str], report: &mut Report) -> Vec<SourceText> {
    let root = folder.join(part);
    if !root.exists() {
        return Vec::new();
    }
    let mut texts = Vec::new();
    for entry in WalkDir::new(&root).sort_by_file_name() {
        match entry {
            Ok(entry) => {
                let wanted =
                    entry.path().extension().and_then(|kind| kind.to_str()).is_some_and(|kind| kinds.contains(&kind));
                if !wanted || hidden(entry.path(), &root) {
                    continue;
                }
                let name = name_of(folder, entry.path());
                if entry.path_is_symlink() {
                    let caution =
                        Diagnostic::fault(&name, "this is a link to another place, and links are not followed");
                    report.push(caution.hint("Put the file itself here."));
                } else if entry.file_type().is_dir() {
                    let fault = Diagnostic::fault(&name, "this is a folder, but its name is that of a file");
                    report.push(fault.hint("Rename the folder, or put the file in its place."));
                } else {
                    texts.extend(read_text(folder, entry.path(), report));
                }
            }
            Err(error) => {
                let name = error.path().map_or_else(|| part.to_owned(), |path| name_of(folder, path));
                let fault = Diagnostic::fault(&name, format!("this could not be read: {error}"));
                report.push(fault.hint("Check who owns it and whether you may read it."));
            }
        }
    }
    texts
}

fn hidden(path: &Path, root: &Path) -> bool {
    let below = path.strip_prefix(root).unwrap_or(path);
    below.components().any(|part| part.as_os_str().to_string_lossy().starts_with('.'))
}

fn read_text(folder: &Path, path: &Path, report: &mut Report) -> Option<SourceText> {
    let name = name_of(folder, path);
    let size = fs::metadata(path).map_or(0, |metadata| metadata.len());
    if size > LARGEST {
        let fault =
            Diagnostic::fault(&name, format!("this file has {size} bytes; no file of a salon is larger than 1 MB"));
        report.push(fault.hint("Look whether something else was saved under this name."));
        return None;
    }
    match fs::read(path) {
        Ok(bytes) => SourceText::from_bytes(&name, &bytes).map_err(|fault| report.push(*fault)).ok(),
        Err(error) => {
            let fault = Diagnostic::fault(&name, format!("this file could not be read: {error}"));
            report.push(fault.hint("Check who owns it and whether you may read it"));
            None
        }
    }
}

/// The name of a file in messages: relative to the folder, forward slashes.
fn name_of(folder: &Path, path: &Path) -> String {
    let below = path.strip_prefix(folder).unwrap_or(path);
    below.components().map(|part| part.as_os_str().to_string_lossy()).collect::<Vec<_>>().join("/")
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
        std::os::unix::fs::symlink("nowhere.toml", path("records/dangling.toml")).expect("a link");
        let texts = read_folder(folder.path()).expect("the folder is there");
        let names: Vec<&str> = texts.records.iter().map(|text| text.name.as_str()).collect();
        assert_eq!(names, ["records/good.toml"]);
        let told: Vec<&str> = texts.report.items.iter().map(|item| item.file.as_str()).collect();
        let mut expected =
            vec!["records/2026/odd.toml", "records/huge.toml", "records/latin.toml", "records/wide.toml", "salon.toml"];
        if cfg!(unix) {
            expected.push("records/dangling.toml");
        }
        for name in expected {
            assert!(told.contains(&name), "{name} in {told:?}");
        }
        assert!(texts.report.items.iter().all(|item| !item.hints.is_empty()));
    }

    #[test]
    fn a_folder_that_is_not_there_is_a_failure_of_the_machine() {
        let failure = read_folder(Path::new("/no/such/folder")).expect_err("nothing there");
        assert!(failure.to_string().contains("/no/such/folder"), "{failure}");
    }
}
