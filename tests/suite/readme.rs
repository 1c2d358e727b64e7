//! The README's own samples, run as a newcomer would run them.

use std::fs;
use std::path::Path;

use assert_cmd::Command;

/// The fenced blocks of one language in the README, in order.
fn blocks(language: &str) -> Vec<String> {
    let readme = fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join("README.md")).expect("a README");
    let fence = format!("```{language}\n");
    readme.split(&fence).skip(1).map(|rest| rest.split("```").next().unwrap_or_default().to_owned()).collect()
}

#[test]
fn the_first_record_of_the_readme_becomes_a_page_without_a_fault() {
    let blocks = blocks("toml");
    let files = ["salon.toml", "clients/wren-04.toml", "records/2026-11-20-wren-04.toml"];
    assert_eq!(blocks.len(), files.len(), "one block a file");
    assert!(blocks[2].lines().count() <= 10, "a first record in ten lines: {}", blocks[2]);
    let salon = tempfile::tempdir().expect("a folder");
    for (name, text) in files.iter().zip(&blocks) {
        let path = salon.path().join(name);
        fs::create_dir_all(path.parent().expect("a file lies in a folder")).expect("a folder");
        fs::write(path, text).expect("written");
    }
    let run = |arguments: &[&str]| {
        let mut command = Command::cargo_bin("afterhue").expect("the program is built");
        let output = command.current_dir(salon.path()).args(arguments).output().expect("it runs");
        let said = String::from_utf8_lossy(&output.stderr).into_owned();
        assert_eq!(output.status.code(), Some(0), "{said}");
        said
    };
    let checked = run(&["check"]);
    assert!(checked.contains("no faults"), "{checked}");
    let built = run(&["pages", "--today", "2026-11-25"]);
    assert!(built.contains("1 page in"), "{built}");
    let address = built.lines().find_map(|line| line.split("file://").nth(1)).expect("an address to open");
    let page = fs::read_to_string(address).expect("the address opens");
    assert!(page.contains("Rose pastel") && page.contains("Come back"), "the page is the client's own");
}
