//! The running program, known again without reading it.
//!
//! In: the look of its file, and what an earlier run knew. Out: [`Program`]. Knows nothing of: where it is kept.

use super::look::{Clock, Look, MARK, Mark};
use crate::workspace::program;
use crate::workspace::program::about;

/// The running program, and by what it is known again.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Program {
    pub(super) digest: [u8; 32],
    mark: Mark,
    /// By the clock of the salon folder, when a run first saw it, nanoseconds since 1970.
    since: i128,
    /// Whether it was read when that was long enough ago.
    sure: bool,
}

/// How long a program is where it is stored, bytes.
pub(super) const PROGRAM: usize = 32 + MARK + 16 + 1;

impl Program {
    /// The running program. Its digest is believed without reading it when two runs saw the same file, a step of the clock
    /// apart, and the second read it: whoever changes it later changes its mark. Its own disk may be another one, which cannot be
    /// asked for its clock: there only the difference of the file's two times shows that they are two.
    pub(super) fn running(before: Option<Self>, clock: Option<Clock>) -> Option<Self> {
        let (clock, look) = (clock?, Look::of(&about()?)?);
        let mark = look.mark("");
        let before = before.filter(|before| before.mark == mark);
        if let Some(before) = before.filter(|before| before.sure) {
            return Some(before);
        }
        let since = before.map_or(clock.now, |before| before.since);
        let sure = before.is_some() && clock.has_moved_on(since) && clock.tells_changes_of(&look);
        Some(Self { digest: program()?, mark, since, sure })
    }

    pub(super) fn to_bytes(self) -> Vec<u8> {
        [&self.digest[..], self.mark.bytes(), &self.since.to_le_bytes(), &[u8::from(self.sure)]].concat()
    }

    pub(super) fn from_bytes(mut bytes: &[u8]) -> Option<Self> {
        let digest = *bytes.split_off(..32)?.first_chunk()?;
        let mark = Mark::from_bytes(*bytes.split_off(..MARK)?.first_chunk()?);
        let since = i128::from_le_bytes(*bytes.split_off(..16)?.first_chunk()?);
        Some(Self { digest, mark, since, sure: *bytes.split_off_first()? == 1 })
    }
}

#[cfg(all(test, unix))]
mod tests {
    use super::*;
    use crate::workspace::known::CLOCK_STEP;

    #[test]
    fn a_program_is_believed_unread_only_when_two_runs_a_step_apart_saw_the_same_file() {
        let folder = tempfile::tempdir().expect("a folder");
        let clock = Clock::of(folder.path(), CLOCK_STEP).expect("a clock");
        let first = Program::running(None, Some(clock)).expect("it runs");
        assert_eq!((Some(first.digest), first.sure), (program(), false));
        assert_eq!(Program::from_bytes(&first.to_bytes()), Some(first));
        let at_once = Program::running(Some(first), Some(clock)).expect("it runs");
        assert!(!at_once.sure && at_once.since == first.since);
        let mut later = clock;
        later.now += 3_000_000_000;
        // Cargo links what it has built to a second name, which changes it after it was written.
        let second = Program::running(Some(at_once), Some(later)).expect("it runs");
        let look = Look::of(&about().expect("there")).expect("a look");
        assert_eq!(second.sure, clock.tells_changes_of(&look));
        let said = Program { digest: [7; 32], sure: true, ..second };
        assert_eq!(Program::running(Some(said), Some(later)), Some(said), "it is not read again");
        let other = Program { mark: Mark::from_bytes([0; MARK]), ..said };
        assert_eq!(Program::running(Some(other), Some(later)).map(|program| program.digest), Some(first.digest));
    }
}
