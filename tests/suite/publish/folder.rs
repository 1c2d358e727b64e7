//! The demo salon published to a folder; and what may not leave.

use std::collections::BTreeMap;
use std::fs;
use std::path::Path;

use crate::salon_copy::{SalonCopy, TODAY};

struct Published {
    salon: SalonCopy,
    to: tempfile::TempDir,
}

impl Published {
    fn new() -> Self {
        let published = Self { salon: SalonCopy::new(), to: tempfile::tempdir().expect("a folder") };
        published.salon.build();
        published
    }

    fn run(&self, more: &[&str]) -> (Option<i32>, String) {
        let to = format!("file://{}", self.to.path().display());
        let words: Vec<&str> = ["publish", "--to", &to].into_iter().chain(more.iter().copied()).collect();
        let output = self.salon.afterhue(&words).output().expect("it runs");
        (output.status.code(), String::from_utf8_lossy(&output.stderr).into_owned())
    }

    fn there(&self) -> BTreeMap<String, Vec<u8>> {
        let mut found = BTreeMap::new();
        walk(self.to.path(), self.to.path(), &mut found);
        found
    }

    /// What should be there: all of `public/` but the settings.
    fn wanted(&self) -> BTreeMap<String, Vec<u8>> {
        let files = self.salon.files("public").into_iter();
        files.filter(|(name, _)| name != "public/_headers").map(|(name, bytes)| (name[7..].to_owned(), bytes)).collect()
    }
}

fn walk(root: &Path, folder: &Path, found: &mut BTreeMap<String, Vec<u8>>) {
    for entry in fs::read_dir(folder).expect("there") {
        let path = entry.expect("an entry").path();
        if path.is_dir() {
            walk(root, &path, found);
        } else {
            let name = path.strip_prefix(root).expect("below").to_string_lossy().into_owned();
            found.insert(name, fs::read(&path).expect("read"));
        }
    }
}

#[test]
fn what_is_there_is_public_byte_for_byte_and_follows_forget_and_relink() {
    let published = Published::new();
    let (code, said) = published.run(&[]);
    assert_eq!(code, Some(0), "{said}");
    assert_eq!(published.there(), published.wanted());
    assert!(said.contains("does not read _headers"), "{said}");
    let (_, said) = published.run(&[]);
    assert!(said.contains(" 0 files went up") && said.contains(" 0 removed"), "{said}");
    published.salon.afterhue(&["forget", "plum-03", "--yes", "--today", TODAY]).assert().success();
    published.salon.afterhue(&["relink", "wren-04", "--today", TODAY]).assert().success();
    let before = published.there();
    let (code, said) = published.run(&["--dry-run"]);
    assert_eq!((code, published.there()), (Some(0), before), "{said}");
    assert!(said.contains("3 files would go up") && said.contains("6 be removed"), "{said}");
    let (code, said) = published.run(&[]);
    assert_eq!(code, Some(0), "{said}");
    assert_eq!(published.there(), published.wanted());
    #[cfg(unix)]
    {
        use std::os::unix::fs::PermissionsExt;
        let kept = published.salon.files("private/published");
        assert_eq!(kept.len(), 3, "a list, its lock, and what they are: {:?}", kept.keys());
        for name in kept.keys() {
            let about = fs::metadata(published.salon.path(name)).expect("there");
            assert_eq!(about.permissions().mode() & 0o777, 0o600, "{name}");
        }
    }
}

#[test]
fn each_kind_of_private_text_in_a_file_of_ones_own_stops_everything_and_is_not_repeated() {
    let published = Published::new();
    let pearl = page_of(&published.salon, "pearl-01");
    for (file, text, what) in [
        ("public/own.html", "ask WREN-04 about it", "the code of wren-04"),
        ("public/own.html", "call <a href=\"tel:+447700900122\">", "the phone number of thistle-22"),
        ("public/own.txt", "walnut09@example.org", "the e-mail address of walnut-09"),
        (
            "public/own.html",
            "swollen eyelids two&nbsp;days after a dark tint elsewhere; saw a doctor",
            "a private remark",
        ),
        (
            "public/own.html",
            "Sixteen weeks is the longest that keeps\n the join soft",
            "a private remark about hazel-10",
        ),
        ("public/own.html", crate::salon_copy::SECRET, "the link secret"),
        (&pearl, "Dear Nesta", "the first name of pearl-01, who does not want it shown"),
    ] {
        let before = fs::read(published.salon.path(file)).ok();
        published.salon.write(file, text);
        let (code, said) = published.run(&[]);
        assert_eq!(code, Some(1), "{text}: {said}");
        assert!(said.contains(file) && said.contains(what), "{text}: {said}");
        assert!(!said.contains(text.trim()), "{said}");
        assert!(published.there().is_empty(), "nothing went up");
        match before {
            Some(bytes) => fs::write(published.salon.path(file), bytes).expect("put back"),
            None => fs::remove_file(published.salon.path(file)).expect("removed"),
        }
    }
    published.salon.write("public/own.html", "Nesta and Rose in September-05");
    assert_eq!(published.run(&[]).0, Some(0), "a name elsewhere may be anybody's");
}

fn page_of(salon: &SalonCopy, client: &str) -> String {
    let output = salon.afterhue(&["send", client, "--today", TODAY]).output().expect("it runs");
    let said = String::from_utf8_lossy(&output.stdout).into_owned();
    let link = said.lines().find_map(|line| line.trim().strip_prefix("https://care.example.org/")).expect("a link");
    format!("public/{link}")
}

#[test]
fn what_cannot_mean_anything_is_wrong_use_and_a_missing_folder_is_told() {
    let published = Published::new();
    let run = |to: &str| {
        let output = published.salon.afterhue(&["publish", "--to", to]).output().expect("it runs");
        (output.status.code(), String::from_utf8_lossy(&output.stderr).into_owned())
    };
    let (code, said) = run("https://care.example.org");
    assert!(code == Some(2) && said.contains("s3://BUCKET/FOLDER"), "{said}");
    let (code, said) = run("file:///no/such/folder");
    assert!(code == Some(3) && said.contains("there is no folder /no/such/folder"), "{said}");
    let (code, said) = run(&format!("file://{}/public", published.salon.path("").display()));
    assert!(code == Some(1) && said.contains("lies in the salon folder itself"), "{said}");
}

#[test]
fn a_record_newer_than_the_pages_is_told_before_old_pages_go_up() {
    let published = Published::new();
    assert!(!published.run(&["--dry-run"]).1.contains("run afterhue pages first"));
    let later = std::time::SystemTime::now() + std::time::Duration::from_secs(60);
    let record = fs::File::options().append(true).open(published.salon.path("clients/wren-04.toml")).expect("there");
    record.set_modified(later).expect("a later time");
    let (code, said) = published.run(&[]);
    assert!(code == Some(0) && said.contains("run afterhue pages first"), "{said}");
}
