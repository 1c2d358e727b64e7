//! The list of what was read: the running program, and for each file its mark, a digest and whose it is.
//!
//! In: a salon folder. Out: [`Known`]; and [`Found`], to be kept for the next run. Knows nothing of: what makes a mark.

use std::collections::HashMap;
use std::fs;
use std::io::Write;
use std::path::Path;
use std::sync::OnceLock;
use std::time::Duration;

use sha2::{Digest, Sha256};

use super::look::{CLOCK_STEP, Clock, MARK, Mark};
use super::program::{PROGRAM, Program};
use crate::workspace::store::DRAFT;
use crate::workspace::{Failure, drop_private, program};

/// Where the list is kept, relative to the salon folder.
pub const READ_BEFORE: &str = "private/read-before";

/// How the list begins; a digest of all that follows comes next.
const BEGINNING: &[u8] = b"afterhue read-before 1\n";

/// A SHA-256 digest.
type Sha = [u8; 32];

/// What is known before a run reads anything.
#[derive(Debug, Default)]
pub struct Known {
    clock: Option<Clock>,
    program: Option<Program>,
    /// The list as it was stored; nothing when it says nothing.
    stored: Vec<u8>,
    /// Whether this program wrote it: another one may read another owner out of the same text.
    believed: bool,
    /// Where in it each mark stands.
    places: OnceLock<HashMap<Mark, usize>>,
}

/// What a run read or knew, to be kept for the next one.
#[derive(Debug, Default)]
pub struct Found(Vec<u8>);

impl Found {
    /// Adds a file: its mark, whose it is, and a digest of it.
    pub fn add(&mut self, mark: Mark, owner: &str, digest: &Sha) {
        if let Ok(length) = u8::try_from(owner.len()) {
            self.0.extend(mark.bytes());
            self.0.extend(digest);
            self.0.push(length);
            self.0.extend(owner.as_bytes());
        }
    }
}

impl Known {
    /// What is known of the files of a salon folder. `step` is that of its disk's clock: [`CLOCK_STEP`], or less where it is known.
    #[must_use]
    pub fn open(folder: &Path, step: Duration) -> Self {
        let clock = Clock::of(folder, step);
        let stored = clock.and_then(|_| fs::read(folder.join(READ_BEFORE)).ok()).filter(|stored| sound(stored));
        let stored = stored.unwrap_or_default();
        let before = stored.get(HEAD - PROGRAM..HEAD).and_then(Program::from_bytes);
        let program = Program::running(before, clock);
        let believed = before.is_some_and(|before| program.is_some_and(|program| program.digest == before.digest));
        Self { clock, program, stored, believed, places: OnceLock::new() }
    }

    /// Looks through the list, which whoever asks first would otherwise wait for.
    pub fn look_through(&self) {
        self.places();
    }

    fn places(&self) -> &HashMap<Mark, usize> {
        let listed = || if self.believed { places(&self.stored).unwrap_or_default() } else { HashMap::new() };
        self.places.get_or_init(listed)
    }

    /// Nothing is known, and everything is to be read, but what is read is kept for the next run.
    #[must_use]
    pub fn nothing(folder: &Path) -> Self {
        let clock = Clock::of(folder, CLOCK_STEP);
        Self { clock, program: Program::running(None, clock), ..Self::default() }
    }

    /// The clock of the folder, when there is one that can be believed.
    #[must_use]
    pub const fn clock(&self) -> Option<&Clock> {
        self.clock.as_ref()
    }

    /// A digest of the running program; nothing when its bytes cannot be read.
    #[must_use]
    pub fn program(&self) -> Option<Sha> {
        self.program.map(|program| program.digest).or_else(program)
    }

    /// Whose the file of a mark is, and the digest of it.
    #[must_use]
    pub fn of(&self, mark: Mark) -> Option<(&str, Sha)> {
        let mut rest = &self.stored[*self.places().get(&mark)?..];
        entry(&mut rest).map(|(_, digest, owner)| (owner, *digest))
    }

    /// Keeps what was read for the next run. A list that cannot be kept costs the next run its reading and nothing else.
    pub fn keep(&self, folder: &Path, found: Found) {
        let Some(program) = self.program else { return };
        let mut body = program.to_bytes();
        body.extend(found.0);
        if self.stored.get(HEAD - PROGRAM..) == Some(&body) {
            return;
        }
        let write = || -> std::io::Result<()> {
            let mut draft = tempfile::Builder::new().prefix(DRAFT).tempfile_in(folder.join("private"))?;
            [BEGINNING, Sha256::digest(&body).as_slice(), &body].iter().try_for_each(|part| draft.write_all(part))?;
            draft.persist(folder.join(READ_BEFORE)).map_err(|lost| lost.error)?;
            Ok(())
        };
        let _ = write();
    }
}

/// Takes the list away: what it says of a client goes with the client.
///
/// # Errors
/// When the machine refuses; one that is not there is gone already.
pub fn drop_read_before(folder: &Path) -> Result<(), Failure> {
    drop_private(folder, READ_BEFORE.trim_start_matches("private/"))
}

/// Where the entries begin.
const HEAD: usize = BEGINNING.len() + 32 + PROGRAM;

/// Whether a list is whole.
fn sound(stored: &[u8]) -> bool {
    stored
        .strip_prefix(BEGINNING)
        .and_then(<[u8]>::split_first_chunk)
        .is_some_and(|(digest, body): (&Sha, _)| body.len() >= PROGRAM && Sha256::digest(body).as_slice() == digest)
}

/// Where each mark stands in a list.
fn places(stored: &[u8]) -> Option<HashMap<Mark, usize>> {
    // No owner is empty.
    let mut places = HashMap::with_capacity((stored.len() - HEAD) / (MARK + 32 + 2));
    let mut rest = &stored[HEAD..];
    while !rest.is_empty() {
        let place = stored.len() - rest.len();
        places.insert(entry(&mut rest)?.0, place);
    }
    Some(places)
}

/// Takes an entry off the front of a list.
fn entry<'a>(rest: &mut &'a [u8]) -> Option<(Mark, &'a Sha, &'a str)> {
    let mark = Mark::from_bytes(*rest.split_off(..MARK)?.first_chunk()?);
    let digest = rest.split_off(..32)?.first_chunk()?;
    let length = usize::from(*rest.split_off_first()?);
    Some((mark, digest, std::str::from_utf8(rest.split_off(..length)?).ok()?))
}

#[cfg(all(test, unix))]
mod tests {
    use super::*;

    /// A list of one file in a folder of its own.
    fn kept() -> (tempfile::TempDir, Mark) {
        let folder = tempfile::tempdir().expect("a folder");
        let (known, mark) = (Known::open(folder.path(), CLOCK_STEP), Mark::from_bytes([3; MARK]));
        assert_eq!(known.of(mark), None);
        let mut found = Found::default();
        found.add(Mark::from_bytes([4; MARK]), "ash-14", &[8; 32]);
        found.add(mark, "wren-04", &[9; 32]);
        known.keep(folder.path(), found);
        (folder, mark)
    }

    #[test]
    fn what_was_read_is_known_to_the_next_run_and_nothing_of_a_damaged_list() {
        let (folder, mark) = kept();
        let path = folder.path().join(READ_BEFORE);
        let open = || Known::open(folder.path(), CLOCK_STEP);
        assert_eq!(open().of(mark), Some(("wren-04", [9; 32])));
        assert_eq!(open().of(Mark::from_bytes([5; MARK])), None);
        assert_eq!(Known::nothing(folder.path()).of(mark), None);
        let whole = fs::read(&path).expect("there");
        for at in 0..whole.len() {
            let mut damaged = whole.clone();
            damaged[at] ^= 1;
            fs::write(&path, damaged).expect("written");
            assert_eq!(open().of(mark), None, "byte {at}");
        }
        for end in 0..whole.len() {
            fs::write(&path, &whole[..end]).expect("written");
            assert_eq!(open().of(mark), None, "cut at {end}");
        }
    }

    #[test]
    fn a_list_of_another_program_says_nothing() {
        let (folder, mark) = kept();
        let mut other = Known::open(folder.path(), CLOCK_STEP);
        other.program.as_mut().expect("running").digest = [1; 32];
        let mut found = Found::default();
        found.add(mark, "wren-04", &[9; 32]);
        other.keep(folder.path(), found);
        assert_eq!(Known::open(folder.path(), CLOCK_STEP).of(mark), None);
    }
}
