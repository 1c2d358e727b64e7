//! An invented site of any size, and the program run on it.

use std::fs;
use std::io::Write;
use std::os::unix::fs::OpenOptionsExt;
use std::process::{Command, Output, Stdio};

/// A salon folder without clients, in whose `public/` pages were laid by the test.
pub(crate) struct Site {
    folder: tempfile::TempDir,
    /// What the program finds in its environment, beside what it needs to run.
    pub(crate) environment: Vec<(&'static str, String)>,
}

/// How one run of the program ended, and what it said.
#[derive(Debug)]
pub(crate) struct Ran {
    pub(crate) code: Option<i32>,
    pub(crate) said: String,
    pub(crate) printed: String,
}

/// Which keys stand in the environment of whoever runs the tests must not matter.
const KEYS: [&str; 4] = ["AWS_", "AZURE_", "GOOGLE_", "SERVICE_ACCOUNT"];

impl Site {
    /// A finished site with so many pages.
    pub(crate) fn of(pages: usize) -> Self {
        let site = Self { folder: tempfile::tempdir().expect("a folder"), environment: Vec::new() };
        let salon = "format = 1\nname = \"Sample Rooms\"\nbase_address = \"https://care.example.org\"\n\
            time_zone = \"Europe/London\"\ncontact = { phone = \"+44 20 7946 0000\" }\n\
            emergency = { country = \"GB\", number = \"999\", advice_line = \"111\" }\n";
        fs::write(site.folder.path().join("salon.toml"), salon).expect("written");
        site.write_secret();
        site.write("404.html", "<!doctype html><title>Nothing here</title>");
        site.write("_headers", "/*\n  Cache-Control: private, max-age=0, must-revalidate\n");
        (0..pages).for_each(|number| site.write(&page(number), &text(number, 1)));
        site
    }

    /// A salon that has pages has a secret too: without one every command that needs it refuses.
    fn write_secret(&self) {
        let private = self.folder.path().join("private");
        fs::create_dir(&private).expect("made");
        let mut file =
            fs::OpenOptions::new().write(true).create_new(true).mode(0o600).open(private.join("link-secret"));
        file.as_mut().expect("made").write_all("5a".repeat(32).as_bytes()).expect("written");
    }

    /// Writes a file below `public/`.
    pub(crate) fn write(&self, name: &str, text: &str) {
        let path = self.folder.path().join("public").join(name);
        fs::create_dir_all(path.parent().expect("a folder")).expect("made");
        fs::write(path, text).expect("written");
    }

    pub(crate) fn remove(&self, name: &str) {
        fs::remove_file(self.folder.path().join("public").join(name)).expect("it was there");
    }

    /// How many uploads the salon folder remembers as ended: the marks in its one list.
    pub(crate) fn remembered(&self) -> usize {
        let lists = fs::read_dir(self.folder.path().join("private/published")).into_iter().flatten().flatten();
        let list = lists.map(|entry| entry.path()).find(|path| path.extension().is_some_and(|kind| kind == "json"));
        list.and_then(|path| fs::read_to_string(path).ok()).map_or(0, |text| text.matches("\"e_tag\":\"").count())
    }

    /// The program, ready to publish.
    pub(crate) fn command(&self, to: &str, more: &[&str]) -> Command {
        let mut command = Command::new(env!("CARGO_BIN_EXE_afterhue"));
        for (key, _) in std::env::vars_os() {
            if key.to_str().is_some_and(|key| KEYS.iter().any(|begins| key.starts_with(begins))) {
                command.env_remove(key);
            }
        }
        command.envs(self.environment.iter().map(|(key, value)| (*key, value.as_str())));
        command.arg("publish").arg(self.folder.path()).args(["--to", to]).args(more);
        command.stdout(Stdio::piped()).stderr(Stdio::piped()).stdin(Stdio::null());
        command
    }

    /// Publishes to the end.
    pub(crate) fn publish(&self, to: &str, more: &[&str]) -> Ran {
        Ran::of(&self.command(to, more).output().expect("it runs"))
    }

    /// Publishes and expects no fault.
    pub(crate) fn published(&self, to: &str, more: &[&str]) -> Ran {
        let ran = self.publish(to, more);
        assert_eq!(ran.code, Some(0), "{}", ran.said);
        ran
    }
}

impl Ran {
    pub(crate) fn of(output: &Output) -> Self {
        Self {
            code: output.status.code(),
            said: String::from_utf8_lossy(&output.stderr).into_owned(),
            printed: String::from_utf8_lossy(&output.stdout).into_owned(),
        }
    }

    /// What the last line of numbers says: files that went up, files already right, files removed.
    pub(crate) fn counts(&self) -> (usize, usize, usize) {
        let line = self.said.lines().find(|line| line.contains(" already right")).unwrap_or_else(|| panic!("{self:?}"));
        let behind = line.rsplit_once(": ").expect("numbers").1;
        let numbers: Vec<usize> = behind.split(' ').filter_map(|word| word.parse().ok()).collect();
        assert_eq!(numbers.len(), 3, "{line}");
        (numbers[0], numbers[1], numbers[2])
    }
}

/// The name of a page, of the shape a client's has.
pub(crate) fn page(number: usize) -> String {
    let letters = |mut rest: usize, length: usize| -> String {
        let digit = |rest: &mut usize| {
            let letter = b"abcdefghijklmnopqrstuvwxyz234567"[*rest % 32];
            *rest /= 32;
            char::from(letter)
        };
        (0..length).map(|_| digit(&mut rest)).collect()
    };
    format!("c/{}/{}.html", letters(number * 7919 % 1024, 2), letters(number, 24))
}

/// The text of a page, which says which one it is and how often it was changed.
pub(crate) fn text(number: usize, version: usize) -> String {
    format!("<!doctype html><title>Care</title><p>Page {number}, version {version}.{}", " Soft water.".repeat(80))
}
