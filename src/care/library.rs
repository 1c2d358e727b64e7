//! All passages of one language: those shipped with the program, and a salon's own, which add to them or replace one of the same id.

use std::collections::BTreeMap;

use chrono::NaiveDate;

use super::Passage;
use super::shipped::shipped;
use crate::diagnostic::Diagnostic;
use crate::diagnostic::Report;
use crate::diagnostic::SourceText;

/// The day on which the shipped passages were last held against their sources. Changed by hand with the passages.
pub const REVIEWED: NaiveDate = NaiveDate::from_ymd_opt(2026, 11, 25).expect("a day of the calendar");

/// Passages in the order of the page.
#[derive(Debug, Clone, PartialEq)]
pub struct Library {
    /// In the order of the page, each id once.
    passages: Vec<Passage>,
}

impl Library {
    /// The shipped passages of a language, or nothing when there are none in it.
    ///
    /// # Panics
    /// When a shipped passage has a fault: a fault in the program, which the tests exclude.
    #[must_use]
    pub fn shipped(language: &str) -> Option<Self> {
        let (library, report) = Self { passages: Vec::new() }.with(shipped(language)?);
        assert!(report.items.is_empty(), "the shipped passages must be without fault: {:?}", report.items);
        Some(library)
    }

    /// The same, with a salon's own passages. One at fault is told and left out; the shipped one of its id stays.
    #[must_use]
    pub fn with_own(self, own: &[SourceText]) -> (Self, Report) {
        self.with(own.iter().cloned())
    }

    /// Every passage, in the order of the page.
    pub fn passages(&self) -> impl Iterator<Item = &Passage> {
        self.passages.iter()
    }

    fn with(mut self, texts: impl IntoIterator<Item = SourceText>) -> (Self, Report) {
        let mut report = Report::default();
        let mut new: BTreeMap<String, Passage> = BTreeMap::new();
        for text in texts {
            let checked = Passage::read(&text);
            report.extend(checked.report);
            let Some(passage) = checked.value else { continue };
            if let Some(first) = new.get(&passage.id) {
                let message = format!("a passage with this id is already in {}", first.file);
                report.push(Diagnostic::fault(&passage.file, message).hint("Give one of them another name."));
            } else {
                new.insert(passage.id.clone(), passage);
            }
        }
        self.passages.retain(|passage| !new.contains_key(&passage.id));
        self.passages.extend(new.into_values());
        self.passages
            .sort_by(|one, other| (one.section, one.order, &one.id).cmp(&(other.section, other.order, &other.id)));
        (self, report)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn own(name: &str, body: &str) -> SourceText {
        let id = name.rsplit('/').next().unwrap_or(name);
        let text = format!(
            "+++\nid = \"{id}\"\nsection = \"heat\"\norder = 1\nheading = \"Ours\"\nuniversal = true\nevidence = \"common practice\"\nsource = \"Ours\"\n+++\n{body}\n"
        );
        SourceText { name: format!("content/{name}.md"), text }
    }

    fn shipped_library() -> Library {
        Library::shipped("en").expect("English is shipped")
    }

    #[test]
    fn a_salon_adds_and_replaces_by_id() {
        let shipped = shipped_library();
        let before = shipped.passages().count();
        let (library, report) = shipped.with_own(&[own("our-steam", "No steam."), own("heat-dryer", "Cool only.")]);
        assert!(report.items.is_empty(), "{report:?}");
        assert_eq!(library.passages().count(), before + 1);
        let replaced = library.passages().find(|passage| passage.id == "heat-dryer").expect("still there");
        assert_eq!(replaced.file, "content/heat-dryer.md");
    }

    #[test]
    fn a_passage_at_fault_leaves_the_shipped_one() {
        let (library, report) = shipped_library().with_own(&[own("heat-dryer", "")]);
        assert!(report.has_fault());
        assert!(
            library
                .passages()
                .any(|passage| passage.id == "heat-dryer" && passage.file.starts_with("content-templates/"))
        );
    }

    #[test]
    fn two_own_passages_of_one_id_are_a_fault() {
        let (_, report) = shipped_library().with_own(&[own("a/our-steam", "One."), own("b/our-steam", "Two.")]);
        assert_eq!(report.items.len(), 1);
        assert!(report.items[0].message.contains("content/a/our-steam.md"));
    }

    #[test]
    fn there_is_no_library_of_an_unknown_language() {
        assert!(Library::shipped("tlh").is_none());
    }
}
