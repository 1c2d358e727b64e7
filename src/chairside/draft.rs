//! Drafts of visits, kept on the server at every change: a tablet may lose its battery, the server its power.
//!
//! In: what was typed. Out: one file a draft in `private/drafts/`. Knows nothing of: what the fields mean.

use chrono::NaiveDate;
use serde::{Deserialize, Serialize};

use crate::form::Typed;
use crate::workspace::{self, Failure};

use super::house::House;
use super::page;
use super::reply::{Reply, words_of};

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
    /// Who corrects a record that is there, by the stylist's code; empty when nobody said.
    #[serde(default)]
    pub(super) by: String,
    /// The lightening of the last visit, while nobody has said whether there was one today.
    #[serde(default)]
    pub(super) unsaid: Typed,
    /// What was typed.
    pub(super) typed: Typed,
}

impl Draft {
    /// Whether a record that is there is corrected, and not a new one written.
    pub(super) const fn corrects(&self) -> bool {
        self.before.is_some()
    }
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

/// Keeps a new draft and goes to it: of the record `file` as it was `before`, with what is typed and what nobody has said yet.
pub(super) fn begin(
    house: &House,
    client: &str,
    (file, before): (String, Option<String>),
    today: NaiveDate,
    (typed, unsaid): (Typed, Typed),
) -> Reply {
    let made = new_mark().and_then(|id| {
        let (client, begun) = (client.to_owned(), today.to_string());
        let draft = Draft { id, client, file, before, change: 0, begun, by: String::new(), unsaid, typed };
        keep(house, &draft).map(|()| draft)
    });
    match made {
        Ok(draft) => Reply::go(format!("/visit/{}", draft.id)),
        Err(failure) => page::plain(500, "The draft cannot be kept", &words_of(&failure)),
    }
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
