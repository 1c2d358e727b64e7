//! A copy of the demo salon in a folder of its own, so that a test may change and build it.

use std::fs;
use std::path::{Path, PathBuf};

use assert_cmd::Command;
use tempfile::TempDir;

/// The day every test takes as today.
pub(crate) const TODAY: &str = "2026-11-25";

/// A secret of known bytes, in the form of the file that keeps it.
pub(crate) const SECRET: &str = "00112233445566778899aabbccddeeff00112233445566778899aabbccddeeff\n";

/// The name of the salon's folder, as the examples of `--help` have it.
const NAME: &str = "my-salon";

/// A copy of the demo salon.
pub(crate) struct SalonCopy {
    folder: TempDir,
}

impl SalonCopy {
    /// The demo salon with the known secret.
    pub(crate) fn new() -> Self {
        let folder = tempfile::tempdir().expect("a folder");
        let demo = Path::new(env!("CARGO_MANIFEST_DIR")).join("site-demo");
        copy(&demo, &folder.path().join(NAME));
        let salon = Self { folder };
        // Of what the demo keeps private, only its bookings are shipped.
        let bookings = fs::read_to_string(demo.join("private/bookings.toml")).expect("the demo's bookings");
        salon.write("private/bookings.toml", &bookings);
        salon.write("private/link-secret", SECRET);
        #[cfg(unix)]
        {
            use std::os::unix::fs::PermissionsExt;
            let secret = salon.path("private/link-secret");
            fs::set_permissions(secret, fs::Permissions::from_mode(0o600)).expect("the secret is ours");
        }
        salon
    }

    /// The demo salon with these clients only, and an empty book.
    pub(crate) fn of(codes: &[&str]) -> Self {
        let salon = Self::new();
        for name in salon.files("clients").into_keys().chain(salon.files("records").into_keys()) {
            if codes.iter().all(|code| !name.contains(code)) {
                fs::remove_file(salon.path(&name)).expect("removed");
            }
        }
        fs::remove_file(salon.path("private/bookings.toml")).expect("removed");
        salon
    }

    /// The same folder once more, somewhere else.
    pub(crate) fn again(&self) -> Self {
        let folder = tempfile::tempdir().expect("a folder");
        copy_whole(&self.path(""), &folder.path().join(NAME));
        Self { folder }
    }

    /// A path in it.
    pub(crate) fn path(&self, name: &str) -> PathBuf {
        self.folder.path().join(NAME).join(name)
    }

    /// The text of a file in it.
    pub(crate) fn read(&self, name: &str) -> String {
        fs::read_to_string(self.path(name)).unwrap_or_else(|error| panic!("{name}: {error}"))
    }

    /// Writes a file in it.
    pub(crate) fn write(&self, name: &str, text: &str) {
        let path = self.path(name);
        fs::create_dir_all(path.parent().expect("a file lies in a folder")).expect("a folder");
        fs::write(path, text).expect("written");
    }

    /// The program, in this folder.
    pub(crate) fn afterhue(&self, arguments: &[&str]) -> Command {
        let mut command = Command::cargo_bin("afterhue").expect("the program is built");
        command.current_dir(self.path("")).args(arguments);
        command
    }

    /// The program, in the folder around this one, as `--help` shows it: the salon is "my-salon" there.
    pub(crate) fn afterhue_beside(&self, arguments: &[&str]) -> Command {
        let mut command = self.afterhue(arguments);
        command.current_dir(self.folder.path());
        command
    }

    /// Builds the pages and expects no fault.
    pub(crate) fn build(&self) {
        self.afterhue(&["pages", "--today", TODAY]).assert().success();
    }

    /// Every file below a part of it, relative name → bytes, sorted.
    pub(crate) fn files(&self, part: &str) -> std::collections::BTreeMap<String, Vec<u8>> {
        let mut found = std::collections::BTreeMap::new();
        let mut open = vec![self.path(part)];
        while let Some(folder) = open.pop() {
            for entry in fs::read_dir(&folder).unwrap_or_else(|error| panic!("{}: {error}", folder.display())) {
                let path = entry.expect("an entry").path();
                if path.is_dir() {
                    open.push(path);
                } else {
                    let name = path.strip_prefix(self.path("")).expect("it lies inside").to_string_lossy().into_owned();
                    found.insert(name, fs::read(&path).expect("a file"));
                }
            }
        }
        found
    }
}

fn copy(from: &Path, to: &Path) {
    fs::create_dir_all(to).expect("a folder");
    for entry in fs::read_dir(from).expect("the demo salon is there") {
        let entry = entry.expect("an entry");
        let name = entry.file_name();
        if name == "public" || name == "private" {
            continue;
        }
        if entry.path().is_dir() {
            copy(&entry.path(), &to.join(name));
        } else {
            fs::copy(entry.path(), to.join(name)).expect("copied");
        }
    }
}

fn copy_whole(from: &Path, to: &Path) {
    fs::create_dir_all(to).expect("a folder");
    for entry in fs::read_dir(from).expect("a folder") {
        let path = entry.expect("an entry").path();
        let there = to.join(path.file_name().expect("a name"));
        if path.is_dir() {
            copy_whole(&path, &there);
        } else {
            // The mode goes with it: the secret stays its owner's.
            fs::copy(&path, &there).expect("copied");
        }
    }
}
