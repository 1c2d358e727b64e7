//! Every text of a salon folder.

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
    texts.clients = read_tree(folder, "clients", &["toml"], &mut texts.report);
    texts.records = read_tree(folder, "records", &["toml"], &mut texts.report);
    texts.content = read_tree(folder, "content", &["md", "toml"], &mut texts.report);
    texts.themes = read_tree(folder, "themes", &["html", "css", "svg", "toml"], &mut texts.report);
    Ok(texts)
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
        Ok(bytes) => match String::from_utf8(bytes) {
            Ok(text) => Some(SourceText { name, text }),
            Err(error) => {
                let good = error.utf8_error().valid_up_to();
                let before = &error.as_bytes()[..good];
                let line = before.iter().filter(|byte| **byte == b'\n').count() + 1;
                let fault = Diagnostic::fault(&name, format!("line {line} holds a byte that is not text (UTF-8)"));
                report.push(
                    fault.hint("Save the file again as UTF-8; most editors ask for the encoding under “Save as”."),
                );
                None
            }
        },
        Err(error) => {
            let fault = Diagnostic::fault(&name, format!("this file could not be read: {error}"));
            report.push(fault.hint("Check who owns it and whether you may read it."));
            None
        }
    }
}

/// The name of a file in messages: relative to the folder, forward slashes.
fn name_of(folder: &Path, path: &Path) -> String {
    let below = path.strip_prefix(folder).unwrap_or(path);
    below.components().map(|part| part.as_os_str().to_string_lossy()).collect::<Vec<_>>().join("/")
}
