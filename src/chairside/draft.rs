//! Drafts of visits, kept on the server at every change: a tablet may lose its battery, the server its power.
//!
//! In: what was typed. Out: one file a draft in `private/drafts/`. Knows nothing of: what the fields mean.

use std::path::Path;

use serde::{Deserialize, Serialize};

use crate::diagnostic::SourceText;
use crate::form::Typed;
use crate::record::{ClientCode, client_named_in};
use crate::workspace::{self, Failure};

use super::house::House;

/// A visit being written down.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub(super) struct Draft {
    /// Its mark, 16 hexadecimal digits.
    pub(super) id: String,
    /// The client's code.
    pub(super) client: String,
    /// The record it becomes, relative to the salon folder.
    pub(super) file: String,
    /// That record as it was when the draft was begun; nothing when there was none.
    pub(super) before: Option<String>,
    /// Counts the changes, so that two tablets on one draft notice each other.
    pub(super) change: u64,
    /// The day it was begun.
    pub(super) begun: String,
    /// What was typed.
    pub(super) typed: Typed,
}

/// Whether a text is spelled like the mark of a draft: never a path.
fn is_mark(id: &str) -> bool {
    id.len() == 16 && id.bytes().all(|byte| byte.is_ascii_digit() || (b'a'..=b'f').contains(&byte))
}

fn name(id: &str) -> String {
    format!("drafts/{id}.json")
}

/// A mark for a new draft.
pub(super) fn new_mark() -> Result<String, Failure> {
    workspace::random_mark(8)
}

/// A draft by its mark.
pub(super) fn load(house: &House, id: &str) -> Result<Option<Draft>, Failure> {
    if !is_mark(id) {
        return Ok(None);
    }
    let text = workspace::kept_private(&house.folder, &name(id))?;
    Ok(text.and_then(|text| serde_json::from_str(&text).ok()))
}

/// Keeps a draft: flushed to the disk before this returns.
pub(super) fn keep(house: &House, draft: &Draft) -> Result<(), Failure> {
    let text = serde_json::to_string_pretty(draft).expect("a draft is plain data");
    workspace::keep_private(&house.folder, &name(&draft.id), &text)
}

/// Takes a draft away, after it became a record.
pub(super) fn drop(house: &House, id: &str) -> Result<(), Failure> {
    if is_mark(id) { workspace::drop_private(&house.folder, &name(id)) } else { Ok(()) }
}

/// Every draft that is there.
pub(super) fn all(house: &House) -> Vec<Draft> {
    let names = workspace::private_names(&house.folder, "drafts");
    let ids = names.iter().filter_map(|name| name.strip_suffix(".json"));
    ids.filter_map(|id| load(house, id).ok().flatten()).collect()
}

/// What the chairside keeps about a client beside the records, relative to the salon folder: drafts, and versions that were put aside.
#[must_use]
pub fn kept_about(folder: &Path, client: &ClientCode) -> Vec<String> {
    let text = |name: &str| workspace::kept_private(folder, name).ok().flatten();
    let drafts = workspace::private_names(folder, "drafts").into_iter().map(|file| format!("drafts/{file}"));
    let drafts = drafts.filter(|name| {
        let draft = text(name).and_then(|text| serde_json::from_str::<Draft>(&text).ok());
        draft.is_some_and(|draft| draft.client == client.as_str())
    });
    let aside = workspace::private_names(folder, "set-aside").into_iter().map(|file| format!("set-aside/{file}"));
    let aside = aside.filter(|name| {
        let named = text(name).and_then(|text| client_named_in(&SourceText::new(name.as_str(), text)));
        named.as_ref() == Some(client)
    });
    drafts.chain(aside).map(|name| format!("private/{name}")).collect()
}

#[cfg(test)]
mod tests {
    #[test]
    fn a_mark_is_never_a_path() {
        for bad in ["", "..", "../../salon.toml", "0123456789abcde/", "0123456789ABCDEF", "0123456789abcdef0"] {
            assert!(!super::is_mark(bad), "{bad}");
        }
        assert!(super::is_mark("0123456789abcdef"));
    }
}
