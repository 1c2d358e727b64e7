//! The program that is running, as a digest of its bytes: another version of it makes other pages.

use std::fs::{File, Metadata};
use std::io;
use std::path::PathBuf;
use std::sync::OnceLock;

use sha2::{Digest, Sha256};

/// A digest of the running program; nothing when its bytes cannot be read. Read once.
#[must_use]
pub fn program() -> Option<[u8; 32]> {
    static PROGRAM: OnceLock<Option<[u8; 32]>> = OnceLock::new();
    *PROGRAM.get_or_init(|| digest().ok())
}

/// What the system shows of the running program's file.
pub(super) fn about() -> Option<Metadata> {
    path().and_then(std::fs::metadata).ok()
}

fn path() -> io::Result<PathBuf> {
    // On Linux this name leads to the bytes that run, even when the file of that name has been replaced since.
    if cfg!(target_os = "linux") { Ok("/proc/self/exe".into()) } else { std::env::current_exe() }
}

fn digest() -> io::Result<[u8; 32]> {
    let mut file = File::open(path()?)?;
    let mut all = Sha256::new();
    let mut part = vec![0; 1 << 20];
    loop {
        match io::Read::read(&mut file, &mut part)? {
            0 => return Ok(all.finalize().into()),
            read => all.update(&part[..read]),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_running_program_is_the_same_as_a_moment_ago() {
        assert!(program().is_some());
        assert_eq!(program(), digest().ok());
    }
}
