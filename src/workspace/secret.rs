//! The salon's secret, from which every link is made.

use std::fs;
use std::io::{ErrorKind, Write};
use std::path::Path;

use data_encoding::HEXLOWER;

use super::Failure;
use super::forgotten::FORGOTTEN_FILE;
use super::kept_card::KEPT_FOLDER;
use super::store::{DRAFT, private_folder, sync_folder};

/// 256 random bits. Whoever has them can compute every client's link.
#[derive(Clone, PartialEq, Eq)]
pub struct Secret([u8; 32]);

impl Secret {
    /// A secret of known bytes, for tests.
    #[must_use]
    pub const fn from_bytes(bytes: [u8; 32]) -> Self {
        Self(bytes)
    }

    /// The bytes.
    #[must_use]
    pub const fn bytes(&self) -> &[u8; 32] {
        &self.0
    }
}

/// Never shows the bytes, so that no message can leak them.
impl std::fmt::Debug for Secret {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str("Secret(…)")
    }
}

/// What is only there after a secret was made: links follow from it, and what is sealed opens by it.
const TRACES: [&str; 7] = [
    "private/written-files",
    "private/written-files.json",
    "private/cards.html",
    "private/cards",
    KEPT_FOLDER,
    FORGOTTEN_FILE,
    "public/c",
];

/// The secret in `private/link-secret`, created once, readable by its owner only.
///
/// Where links were made and the secret is gone, no other takes its place: every printed code would lead nowhere.
///
/// # Errors
/// When it cannot be read or created, is damaged, has gone, or others may read it.
pub fn secret(folder: &Path) -> Result<Secret, Failure> {
    let private = private_folder(folder)?;
    let path = private.join("link-secret");
    if let Some(secret) = kept(&path)? {
        return Ok(secret);
    }
    match TRACES.iter().find(|trace| folder.join(trace).exists()) {
        None => create(&private, &path),
        Some(trace) => Err(Failure {
            doing: "find",
            path,
            why: format!("it has gone, and {trace} shows that links were made from it"),
            hint: "Put back your backup of private/link-secret: every printed card and every link sent needs it. Only without any backup: `afterhue relink --all` makes a new one, and every client needs a new card.".to_owned(),
        }),
    }
}

/// The secret, and whether it was made anew in place of one that has gone: for a run that moves every link.
///
/// # Errors
/// When it cannot be read or created, is damaged, or others may read it.
pub fn secret_or_anew(folder: &Path) -> Result<(Secret, bool), Failure> {
    let private = private_folder(folder)?;
    let path = private.join("link-secret");
    match kept(&path)? {
        Some(secret) => Ok((secret, false)),
        None => Ok((create(&private, &path)?, true)),
    }
}

/// The secret that is there, whoever made it; one that others may read is refused.
fn kept(path: &Path) -> Result<Option<Secret>, Failure> {
    match fs::read_to_string(path) {
        Ok(text) => {
            refuse_if_shared(path)?;
            parse(path, &text).map(Some)
        }
        Err(error) if error.kind() == ErrorKind::NotFound => Ok(None),
        Err(error) => Err(Failure::io("read", path, &error)),
    }
}

fn parse(path: &Path, text: &str) -> Result<Secret, Failure> {
    let bytes = HEXLOWER.decode(text.trim().as_bytes()).ok().and_then(|bytes| <[u8; 32]>::try_from(bytes).ok());
    bytes.map(Secret).ok_or_else(|| Failure {
        doing: "use",
        path: path.to_owned(),
        why: "it does not hold 64 hexadecimal digits".to_owned(),
        hint: "Put back your backup of private/link-secret. Only without any backup, move it away and run `afterhue relink --all`: it makes a new one, and every client needs a new card.".to_owned(),
    })
}

/// Writes a new secret whole under a name nobody has yet, then links it into place, so that two runs at once end with one secret.
fn create(private: &Path, path: &Path) -> Result<Secret, Failure> {
    let mut bytes = [0_u8; 32];
    getrandom::fill(&mut bytes).map_err(|error| Failure {
        doing: "make",
        path: path.to_owned(),
        why: format!("the system gave no randomness: {error}"),
        hint: "Run the command again.".to_owned(),
    })?;
    let mut draft = tempfile::Builder::new()
        .prefix(DRAFT)
        .tempfile_in(private)
        .map_err(|error| Failure::io("write", path, &error))?;
    let written = writeln!(draft, "{}", HEXLOWER.encode(&bytes)).and_then(|()| draft.as_file().sync_all());
    written.map_err(|error| Failure::io("write", path, &error))?;
    match draft.persist_noclobber(path) {
        Ok(_) => {
            sync_folder(private)?;
            Ok(Secret(bytes))
        }
        Err(lost) if lost.error.kind() == ErrorKind::AlreadyExists => {
            kept(path)?.ok_or_else(|| Failure::io("read", path, &lost.error))
        }
        Err(lost) => Err(Failure::io("write", path, &lost.error)),
    }
}

#[cfg(unix)]
fn refuse_if_shared(path: &Path) -> Result<(), Failure> {
    use std::os::unix::fs::PermissionsExt;
    let mode = fs::metadata(path).map_err(|error| Failure::io("read", path, &error))?.permissions().mode();
    if mode & 0o077 == 0 {
        return Ok(());
    }
    Err(Failure {
        doing: "use",
        path: path.to_owned(),
        why: "other people on this machine may read it".to_owned(),
        hint: format!("Run: chmod 600 {}", path.display()),
    })
}

#[cfg(not(unix))]
fn refuse_if_shared(_path: &Path) -> Result<(), Failure> {
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_secret_is_made_once_and_only_its_owner_may_read_it() {
        let folder = tempfile::tempdir().expect("a folder");
        let first = secret(folder.path()).expect("a new secret");
        assert_eq!(secret(folder.path()).expect("the same secret"), first);
        assert_ne!(first.bytes(), &[0; 32]);
        #[cfg(unix)]
        {
            use std::os::unix::fs::PermissionsExt;
            let path = folder.path().join("private/link-secret");
            let mode = |path: &Path| fs::metadata(path).expect("it exists").permissions().mode() & 0o777;
            assert_eq!(mode(&path), 0o600);
            fs::set_permissions(&path, fs::Permissions::from_mode(0o644)).expect("chmod");
            let refused = secret(folder.path()).expect_err("others may read it");
            assert!(refused.to_string().contains("chmod 600"), "{refused}");
        }
    }

    #[cfg(unix)]
    #[test]
    fn a_secret_that_another_run_made_meanwhile_is_taken_and_never_one_that_others_may_read() {
        use std::os::unix::fs::PermissionsExt;
        let folder = tempfile::tempdir().expect("a folder");
        let private = private_folder(folder.path()).expect("made");
        let path = private.join("link-secret");
        let theirs = secret(folder.path()).expect("the other run's");
        assert_eq!(create(&private, &path).expect("it lost the race"), theirs);
        fs::set_permissions(&path, fs::Permissions::from_mode(0o640)).expect("chmod");
        let refused = create(&private, &path).expect_err("others may read it").to_string();
        assert!(refused.contains("chmod 600"), "{refused}");
    }

    #[test]
    fn a_damaged_secret_is_refused_and_kept() {
        let folder = tempfile::tempdir().expect("a folder");
        secret(folder.path()).expect("a new secret");
        let path = folder.path().join("private/link-secret");
        fs::OpenOptions::new().append(true).open(&path).and_then(|mut file| file.write_all(b"zz")).expect("damage");
        assert!(secret(folder.path()).is_err());
        assert!(fs::read_to_string(&path).expect("still there").ends_with("zz"));
    }
}
