//! The files of clients and records by name, and what they look like, without reading them.
//!
//! In: a salon folder. Out: [`Listed`]. Knows nothing of: what is known of a file by its look.

use std::fs::{self, DirEntry};
use std::path::Path;

use rayon::prelude::*;

use super::folder::{LARGEST, bytes_of, read_house};
use super::known::{Clock, Mark};
use super::store::DRAFT;
use super::{Failure, Texts};
use crate::diagnostic::SourceText;

/// A salon folder of which only what is about no client has been read.
#[derive(Debug)]
pub struct Listed {
    /// What [`read_folder`](super::read_folder()) reads, but for clients and records.
    pub texts: Texts,
    /// The client files, sorted as [`Texts`] has them.
    pub clients: Vec<Entry>,
    /// The visit records, sorted as [`Texts`] has them.
    pub records: Vec<Entry>,
}

/// A file that has not been read.
#[derive(Debug)]
pub struct Entry {
    /// Its name, relative to the salon folder.
    pub name: String,
    /// By what it is known again, when that can be believed.
    pub mark: Option<Mark>,
}

/// Reads what is about no client, and lists the files of the others; nothing when there is an entry that cannot be looked at.
///
/// Whoever lists holds the salon's lock: a draft among the files is that of a run that was stopped, and goes. One that cannot be
/// removed does no harm: nothing reads it.
///
/// # Errors
/// As [`read_folder`](super::read_folder()).
pub fn list_folder(folder: &Path, clock: Option<&Clock>) -> Result<Option<Listed>, Failure> {
    let texts = read_house(folder)?;
    let (clients, records) = rayon::join(|| tree(folder, "clients", clock), || tree(folder, "records", clock));
    Ok(clients.zip(records).map(|(clients, records)| Listed { texts, clients, records }))
}

/// One client file or record by its name; nothing when there is something to say about it, which [`read_folder`](super::read_folder()) says.
#[must_use]
pub fn read_listed(folder: &Path, name: &str) -> Option<SourceText> {
    let bytes = bytes_of(name, &folder.join(name), LARGEST).ok()?;
    SourceText::from_bytes(name, &bytes).ok()
}

/// The files that [`read_folder`](super::read_folder()) would read of a part; nothing when it would have something to say about an entry.
fn tree(folder: &Path, part: &str, clock: Option<&Clock>) -> Option<Vec<Entry>> {
    match fs::symlink_metadata(folder.join(part)) {
        Ok(about) => about.is_dir().then_some(())?,
        Err(error) => return (error.kind() == std::io::ErrorKind::NotFound).then(Vec::new),
    }
    list(folder, part.to_owned(), false, clock)
}

/// What stands in a folder: a file to read, another folder, or nothing of ours.
enum Kind {
    File(Option<Mark>),
    Folder,
    Other,
}

/// The files of one folder and of those in it, in the order of their names.
fn list(salon: &Path, here: String, hidden: bool, clock: Option<&Clock>) -> Option<Vec<Entry>> {
    let entries: Vec<DirEntry> = fs::read_dir(salon.join(&here)).ok()?.collect::<Result<_, _>>().ok()?;
    let entries = entries.into_par_iter().map(|entry| {
        let name = format!("{here}/{}", entry.file_name().to_string_lossy());
        kind(&entry, &name, hidden, clock).map(|kind| (name, kind))
    });
    let mut entries = entries.collect::<Option<Vec<(String, Kind)>>>()?;
    entries.sort_unstable_by(|(one, _), (other, _)| one.cmp(other));
    let folders: Vec<String> =
        entries.iter().filter(|(_, kind)| matches!(kind, Kind::Folder)).map(|(name, _)| name.clone()).collect();
    let below = |name: String| {
        let hidden = hidden || is_hidden(&name);
        list(salon, name, hidden, clock)
    };
    let mut inside = folders.into_par_iter().map(below).collect::<Option<Vec<_>>>()?.into_iter();
    let mut found = Vec::with_capacity(entries.len());
    for (name, kind) in entries {
        match kind {
            Kind::File(mark) => found.push(Entry { name, mark }),
            Kind::Folder => found.extend(inside.next().into_iter().flatten()),
            Kind::Other => {}
        }
    }
    Some(found)
}

/// What an entry is; nothing when there would be something to say about it.
fn kind(entry: &DirEntry, name: &str, hidden: bool, clock: Option<&Clock>) -> Option<Kind> {
    let kind = entry.file_type().ok()?;
    if kind.is_file() && name.rsplit('/').next().is_some_and(|last| last.starts_with(DRAFT)) {
        let _ = fs::remove_file(entry.path());
        return Some(Kind::Other);
    }
    let ours = !hidden && !is_hidden(name);
    if ours && Path::new(name).extension().is_some_and(|ending| ending == "toml") {
        // What is no ordinary file is told by whoever reads it, and so is a name that is no text.
        let sound = kind.is_file() && entry.file_name().to_str().is_some();
        return sound.then(|| Kind::File(clock.and_then(|clock| clock.mark(name, &entry.metadata().ok()?))));
    }
    // A link to a folder may hide records.
    let hides = ours && kind.is_symlink() && entry.path().is_dir();
    (!hides).then_some(if kind.is_dir() { Kind::Folder } else { Kind::Other })
}

fn is_hidden(name: &str) -> bool {
    name.rsplit('/').next().is_some_and(|last| last.starts_with('.'))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::workspace::read_folder;

    #[test]
    fn a_folder_is_listed_as_it_is_read_and_drafts_of_a_stopped_run_go() {
        let folder = tempfile::tempdir().expect("a folder");
        let draft = format!("records/2026/{DRAFT}x7Yz01");
        let names = ["records/2026/b.toml", "records/2026/a.toml", "records/2026-x/c.toml", "records/2026.toml"];
        let others = ["records/.old/x.toml", "records/.y.toml", "records/2026/notes.txt", "clients/b", &draft];
        for name in names.iter().chain(&others).chain(&["clients/b.toml", "clients/b-1.toml", "salon.toml"]) {
            let path = folder.path().join(name);
            fs::create_dir_all(path.parent().expect("a parent")).expect("a folder");
            fs::write(path, "format = 1\n").expect("written");
        }
        let listed = list_folder(folder.path(), None).expect("there").expect("nothing odd");
        let texts = read_folder(folder.path()).expect("there");
        let names = |entries: &[Entry]| entries.iter().map(|entry| entry.name.clone()).collect::<Vec<_>>();
        let read = |texts: &[SourceText]| texts.iter().map(|text| text.name.clone()).collect::<Vec<_>>();
        assert_eq!(names(&listed.clients), read(&texts.clients));
        assert_eq!(names(&listed.records), read(&texts.records));
        assert_eq!((listed.clients.len(), listed.records.len()), (2, 4));
        assert!(!folder.path().join(draft).exists() && folder.path().join("records/.y.toml").exists());
        fs::create_dir(folder.path().join("records/2026/odd.toml")).expect("a folder");
        assert!(list_folder(folder.path(), None).expect("there").is_none(), "a folder with the name of a file");
    }
}
