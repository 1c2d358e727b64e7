//! One run at a time in a salon folder: the lock, and what a run that was stopped left behind.

use std::fs::{self, File, OpenOptions, TryLockError};
use std::path::Path;
use std::time::Duration;

use walkdir::WalkDir;

use super::Failure;
use super::chance::DRAFTS_FOLDER;
use super::store::{DRAFT, private_folder};

/// Held while a run writes; the system lets go of it when the run ends, however it ends.
#[derive(Debug)]
pub struct Lock {
    _file: Option<File>,
}

/// Waits until no other run writes in this salon folder, then takes away the drafts that a stopped run left.
///
/// `waiting` is called when there is something to wait for. A folder without `salon.toml` is no salon folder: nothing is written there, not even a lock.
///
/// # Errors
/// When the machine refuses.
pub fn lock(folder: &Path, waiting: impl FnOnce()) -> Result<Lock, Failure> {
    let lock = lock_to_list(folder, waiting)?;
    clear_drafts(folder);
    Ok(lock)
}

/// The same for a run that lists clients and records anyway and takes away the drafts among them: only those in `private/` go here.
///
/// # Errors
/// When the machine refuses.
pub fn lock_to_list(folder: &Path, waiting: impl FnOnce()) -> Result<Lock, Failure> {
    if !folder.join("salon.toml").exists() {
        return Ok(Lock { _file: None });
    }
    let private = private_folder(folder)?;
    let path = private.join("lock");
    let fail = |error: &std::io::Error| Failure::io("lock", &path, error);
    let file = options().open(&path).map_err(|error| fail(&error))?;
    match file.try_lock() {
        Ok(()) => {}
        Err(TryLockError::WouldBlock) => {
            waiting();
            file.lock().map_err(|error| fail(&error))?;
        }
        Err(TryLockError::Error(error)) => return Err(fail(&error)),
    }
    clear(&folder.join("private"));
    Ok(Lock { _file: Some(file) })
}

/// Takes away the drafts that a stopped run left among clients and records. Whoever does it holds the lock.
pub fn clear_drafts(folder: &Path) {
    if folder.join("salon.toml").exists() {
        ["clients", "records"].iter().for_each(|part| clear(&folder.join(part)));
    }
}

fn options() -> OpenOptions {
    let mut options = OpenOptions::new();
    options.create(true).truncate(false).write(true);
    #[cfg(unix)]
    {
        use std::os::unix::fs::OpenOptionsExt;
        options.mode(0o600);
    }
    options
}

/// A half-written file of a visit's draft is another run's work in hand until it is this old.
const IN_HAND: Duration = Duration::from_hours(1);

/// Removes drafts of runs that were stopped. One that cannot be removed does no harm: nothing reads it.
///
/// In `private/drafts` the chairside writes without the lock, as it must not wait for pages: there only old ones go.
fn clear(part: &Path) {
    for entry in WalkDir::new(part).follow_root_links(false).into_iter().filter_map(Result::ok) {
        if !(entry.file_type().is_file() && entry.file_name().to_string_lossy().starts_with(DRAFT)) {
            continue;
        }
        let unlocked = entry.path().parent().is_some_and(|folder| folder.ends_with(DRAFTS_FOLDER));
        let age = entry.metadata().ok().and_then(|about| about.modified().ok()?.elapsed().ok());
        if !unlocked || age.is_some_and(|age| age > IN_HAND) {
            let _ = fs::remove_file(entry.path());
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::sync::mpsc;

    #[test]
    fn a_second_run_is_told_and_waits_for_the_first() {
        let folder = tempfile::tempdir().expect("a folder");
        fs::write(folder.path().join("salon.toml"), "format = 1\n").expect("written");
        let first = lock(folder.path(), || panic!("nobody is here")).expect("locked");
        let (told, hears) = mpsc::channel();
        let path = folder.path().to_owned();
        let second = std::thread::spawn(move || {
            lock(&path, || told.send("waiting").expect("somebody listens")).expect("locked in the end");
            told.send("locked").expect("somebody listens");
        });
        assert_eq!(hears.recv(), Ok("waiting"));
        assert!(hears.try_recv().is_err(), "it has not gone on");
        drop(first);
        assert_eq!(hears.recv(), Ok("locked"));
        second.join().expect("it ended well");
    }

    #[test]
    fn drafts_of_a_stopped_run_go_and_a_persons_files_stay() {
        let folder = tempfile::tempdir().expect("a folder");
        let path = |name: &str| folder.path().join(name);
        fs::create_dir_all(path("records/2026")).expect("a folder");
        let draft = format!("records/2026/{DRAFT}x7Yz01");
        for name in ["salon.toml", "records/2026/.draft-of-mine.toml", &draft] {
            fs::write(path(name), "x").expect("written");
        }
        lock(folder.path(), || {}).expect("locked");
        assert!(!path(&draft).exists());
        assert!(path("records/2026/.draft-of-mine.toml").exists());
        let visit = format!("private/drafts/{DRAFT}x7Yz01");
        fs::create_dir_all(path("private/drafts")).expect("a folder");
        let in_hand = File::create(path(&visit)).expect("made");
        drop(lock(folder.path(), || {}).expect("locked"));
        assert!(path(&visit).exists(), "another run is writing it");
        in_hand.set_modified(std::time::SystemTime::now() - IN_HAND * 2).expect("an older time");
        drop(lock(folder.path(), || {}).expect("locked"));
        assert!(!path(&visit).exists());
    }

    #[test]
    fn a_folder_that_is_no_salon_stays_as_it_is() {
        let folder = tempfile::tempdir().expect("a folder");
        lock(folder.path(), || {}).expect("nothing to lock");
        assert_eq!(fs::read_dir(folder.path()).expect("there").count(), 0);
    }
}
