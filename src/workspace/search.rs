//! Which files of a salon folder still hold a word.

use std::fs;
use std::path::Path;

use walkdir::WalkDir;

/// The files in which one of these words stands by itself, letters of either case, sorted; a file's name counts as its text.
///
/// Pages are not looked at: they are written anew from the other files. Words under two letters are passed over.
#[must_use]
pub fn files_holding(folder: &Path, words: &[String]) -> Vec<String> {
    let words: Vec<String> =
        words.iter().map(|word| word.trim().to_lowercase()).filter(|word| word.chars().count() > 1).collect();
    if words.is_empty() {
        return Vec::new();
    }
    let public = folder.join("public");
    let entries = WalkDir::new(folder).sort_by_file_name().into_iter().filter_entry(|entry| entry.path() != public);
    let files = entries.filter_map(Result::ok).filter(|entry| entry.file_type().is_file());
    let holding = files.filter_map(|entry| {
        let below = entry.path().strip_prefix(folder).unwrap_or(entry.path());
        let name = below.components().map(|part| part.as_os_str().to_string_lossy()).collect::<Vec<_>>().join("/");
        let text = fs::read(entry.path()).map(|bytes| String::from_utf8_lossy(&bytes).to_lowercase());
        let text = format!("{}\n{}", name.to_lowercase(), text.unwrap_or_default());
        words.iter().any(|word| stands_in(&text, word)).then_some(name)
    });
    holding.collect()
}

/// Whether a word stands in a text with no letter or digit beside it.
fn stands_in(text: &str, word: &str) -> bool {
    text.match_indices(word).any(|(at, _)| {
        let before = text[..at].chars().next_back();
        let after = text[at + word.len()..].chars().next();
        ![before, after].into_iter().flatten().any(char::is_alphanumeric)
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_word_is_found_whole_in_texts_and_names_and_not_inside_another() {
        let folder = tempfile::tempdir().expect("a folder");
        let path = |name: &str| folder.path().join(name);
        for part in ["records/2026", "public/c", "private"] {
            fs::create_dir_all(path(part)).expect("a folder");
        }
        for (name, text) in [
            ("records/2026/2026-11-20-plum-03.toml", ""),
            ("records/2026/other.toml", "note = \"came with bryony.\"\n"),
            ("records/2026/third.toml", "note = \"plum-031, Bryonyx\"\n"),
            ("private/scan.png", "\u{0}Bryony"),
            ("public/c/page.html", "Bryony"),
        ] {
            fs::write(path(name), text).expect("written");
        }
        let found = files_holding(folder.path(), &["plum-03".to_owned(), "Bryony".to_owned(), " ".to_owned()]);
        assert_eq!(found, ["private/scan.png", "records/2026/2026-11-20-plum-03.toml", "records/2026/other.toml"]);
    }
}
