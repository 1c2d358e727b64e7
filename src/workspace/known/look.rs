//! By what a file is known to hold what it held when it was last read, without reading it.
//!
//! In: a file as the system shows it. Out: a [`Mark`], when it can be believed. Knows nothing of: what was read.
//!
//! A file that is written gets the time of its folder's disk as the time of its last change, and nobody can set that one back,
//! as `touch -r`, `cp -p` or `rsync -t` set back the time beside it. So a file of the same name, inode, size and times is the
//! same file, unless it was written twice within one step of that clock, which on some disks is two seconds. Therefore a file is
//! only given a mark when its last change lies further back than that: whoever changes it from now on, changes its mark.

use std::fs::{File, Metadata};
use std::path::Path;
use std::time::{Duration, SystemTime};

use sha2::{Digest, Sha256};

use crate::workspace::store::{DRAFT, private_folder};

/// The coarsest step in which a disk keeps time.
pub const CLOCK_STEP: Duration = Duration::from_secs(2);

/// A digest of a file's name and of all that shows a change of it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct Mark([u8; 16]);

/// How long a mark is where it is stored, bytes.
pub(super) const MARK: usize = 16;

impl Mark {
    pub(super) const fn from_bytes(bytes: [u8; MARK]) -> Self {
        Self(bytes)
    }

    pub(super) const fn bytes(&self) -> &[u8; MARK] {
        &self.0
    }
}

/// What the system shows of a file beside its name.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Look {
    device: u64,
    inode: u64,
    bytes: u64,
    /// When its content was last changed, as far as it says, nanoseconds since 1970.
    pub(super) modified: i128,
    /// When anything about it was last changed, nanoseconds since 1970.
    pub(super) changed: i128,
}

impl Look {
    #[cfg(unix)]
    pub(super) fn of(about: &Metadata) -> Option<Self> {
        use std::os::unix::fs::MetadataExt;
        let nanoseconds = |seconds: i64, rest: i64| i128::from(seconds) * 1_000_000_000 + i128::from(rest);
        Some(Self {
            device: about.dev(),
            inode: about.ino(),
            bytes: about.size(),
            modified: nanoseconds(about.mtime(), about.mtime_nsec()),
            changed: nanoseconds(about.ctime(), about.ctime_nsec()),
        })
    }

    /// Other systems do not tell when a file was last changed whatever its times were set to.
    #[cfg(not(unix))]
    pub(super) fn of(_: &Metadata) -> Option<Self> {
        None
    }

    pub(super) fn mark(&self, name: &str) -> Mark {
        let Self { device, inode, bytes, modified, changed } = self;
        let mut all = Sha256::new();
        [device, inode, bytes].iter().for_each(|number| all.update(number.to_le_bytes()));
        [modified, changed].iter().for_each(|number| all.update(number.to_le_bytes()));
        all.update(name.as_bytes());
        Mark(*all.finalize().first_chunk().expect("a digest is longer"))
    }
}

/// The clock of the disk a salon folder lies on, as it stood when a run began to look.
#[derive(Debug, Clone, Copy)]
pub struct Clock {
    device: u64,
    /// Nanoseconds since 1970.
    pub(super) now: i128,
    step: i128,
}

impl Clock {
    /// Reads the clock off a file made for it; nothing when none can be made, or when the disk sets the time of a file's last
    /// change back with the other time.
    pub(super) fn of(folder: &Path, step: Duration) -> Option<Self> {
        let private = private_folder(folder).ok()?;
        let file = tempfile::Builder::new().prefix(DRAFT).tempfile_in(private).ok()?;
        let fresh = look(file.as_file())?;
        file.as_file().set_modified(SystemTime::UNIX_EPOCH + Duration::from_hours(24)).ok()?;
        let set_back = look(file.as_file())?;
        let honest = set_back.modified < fresh.modified && set_back.changed >= fresh.changed;
        let step = i128::try_from(step.as_nanos()).ok()?;
        honest.then_some(Self { device: fresh.device, now: fresh.changed, step })
    }

    /// The mark of a file of this disk that was last changed long enough ago.
    pub(in crate::workspace) fn mark(&self, name: &str, about: &Metadata) -> Option<Mark> {
        let look = Look::of(about)?;
        (look.device == self.device && look.changed < self.now - self.step).then(|| look.mark(name))
    }

    /// Whether the two times of a file are two: this disk has been tried, and another one shows it where they differ.
    pub(super) const fn tells_changes_of(&self, look: &Look) -> bool {
        look.device == self.device || look.modified != look.changed
    }

    /// Whether so much time has passed since then that a change can be told from one of then.
    pub(super) fn has_moved_on(&self, since: i128) -> bool {
        since < self.now - self.step
    }
}

fn look(file: &File) -> Option<Look> {
    Look::of(&file.metadata().ok()?)
}

#[cfg(all(test, unix))]
mod tests {
    use super::*;
    use std::fs;

    fn clock(folder: &Path, step: Duration) -> Clock {
        Clock::of(folder, step).expect("this disk keeps the time of a change")
    }

    #[test]
    fn a_file_changed_within_a_step_of_the_clock_has_no_mark() {
        let folder = tempfile::tempdir().expect("a folder");
        let path = folder.path().join("a.toml");
        fs::write(&path, "a").expect("written");
        let about = || fs::symlink_metadata(&path).expect("there");
        assert_eq!(clock(folder.path(), CLOCK_STEP).mark("a.toml", &about()), None);
        let mut later = clock(folder.path(), CLOCK_STEP);
        later.now += later.step;
        let mark = later.mark("a.toml", &about());
        assert!(mark.is_some(), "two seconds later");
        assert_ne!(later.mark("b.toml", &about()), mark, "another name");
        let elsewhere = Clock { device: later.device + 1, ..later };
        assert_eq!(elsewhere.mark("a.toml", &about()), None, "another disk has another clock");
        assert_eq!(fs::read_dir(folder.path().join("private")).expect("there").count(), 0, "nothing stays behind");
    }

    #[test]
    fn the_same_size_and_a_time_set_back_make_another_mark_and_so_does_a_copy_put_in_place() {
        let folder = tempfile::tempdir().expect("a folder");
        let path = folder.path().join("a.toml");
        fs::write(&path, "one").expect("written");
        let mark = || Look::of(&fs::symlink_metadata(&path).expect("there")).expect("a look").mark("a.toml");
        let time = fs::metadata(&path).expect("there").modified().expect("a time");
        let first = mark();
        assert_eq!(mark(), first);
        // The clock of a file moves in steps of some milliseconds.
        std::thread::sleep(Duration::from_millis(20));
        fs::write(&path, "two").expect("written");
        File::options().write(true).open(&path).expect("there").set_modified(time).expect("set back");
        let second = mark();
        assert_ne!(second, first);
        let copy = folder.path().join("copy");
        fs::write(&copy, "six").expect("written");
        File::options().write(true).open(&copy).expect("there").set_modified(time).expect("set back");
        fs::rename(&copy, &path).expect("put in place");
        assert_ne!(mark(), second);
    }
}
