//! A record that is there put right: the old one is kept, and the new one says when it was corrected and by whom.
//!
//! In: a record of a client. Out: a draft of it; the remark at its foot; the versions before. Knows nothing of: mark-up.

use chrono::NaiveDate;
use serde_json::{Value, json};

use crate::form::{Typed, typed_of};
use crate::record::{ServiceRecord, VISIT};
use crate::workspace;

use super::draft::{self, Draft};
use super::house::{House, Opened};
use super::page;
use super::reply::{Asked, Reply, words_of};

/// How the remark at the foot of a corrected record begins.
const REMARK: &str = "# Corrected ";

/// Begins to correct a visit: a draft with everything the record says. A draft of it that waits is gone on with.
pub(super) fn begin(house: &House, asked: &Asked, code: &str) -> Reply {
    let opened = match house.again() {
        Ok(opened) => opened,
        Err(failure) => return page::plain(500, "The salon cannot be read", &words_of(&failure)),
    };
    let visit = opened.clients.get(code).into_iter().flat_map(|known| &known.visits);
    let file = visit.map(|visit| visit.file.as_str()).find(|file| *file == asked.field("file"));
    let source = file.and_then(|file| opened.texts.records.iter().find(|source| source.name == file));
    let Some((source, typed)) = source.and_then(|source| Some((source, typed_of(source, &VISIT)?))) else {
        return page::plain(404, "There is no such visit", "Go back to the story and choose one.");
    };
    let waits = draft::all(house).into_iter().find(|draft| {
        draft.client == code && draft.file == source.name && draft.before.as_deref() == Some(&*source.text)
    });
    if let Some(draft) = waits {
        return Reply::go(format!("/visit/{}", draft.id));
    }
    let (file, before) = (source.name.clone(), Some(source.text.to_string()));
    draft::begin(house, code, (file, before), house.today(&opened), (typed, Typed::new()))
}

/// The record as it will stand: one that takes the place of another says so at its foot.
pub(super) fn signed(draft: &Draft, opened: &Opened, text: &str, today: NaiveDate) -> String {
    if draft.before.as_deref().is_none_or(|before| before == text) {
        return text.to_owned();
    }
    let stylists = opened.house().map(|(salon, _)| salon.stylists.iter()).into_iter().flatten();
    let by = stylists.into_iter().find(|one| one.code == draft.by).map(|one| format!(" by {}", one.name));
    let by = by.unwrap_or_default();
    let gap = if text.trim_end().lines().last().is_some_and(|line| line.starts_with('#')) { "" } else { "\n" };
    format!("{text}{gap}{REMARK}{today}{by}; the record before: private/{}\n", kept_as(draft))
}

/// Where the record before is kept, below `private/`: named by the draft, so that a second press keeps it once.
pub(super) fn kept_as(draft: &Draft) -> String {
    format!("set-aside/{}-{}.toml", stem(&draft.file), &draft.id[..6.min(draft.id.len())])
}

fn stem(file: &str) -> &str {
    file.rsplit('/').next().unwrap_or_default().trim_end_matches(".toml")
}

/// What a record says of its corrections: "Corrected 2026-11-25 by Ines; …".
pub(super) fn told(visit: &ServiceRecord, opened: &Opened) -> Vec<String> {
    let source = opened.texts.records.iter().find(|source| source.name == visit.file);
    let lines = source.map(|source| source.text.lines()).into_iter().flatten();
    lines.filter(|line| line.starts_with(REMARK)).map(|line| line.trim_start_matches("# ").to_owned()).collect()
}

/// The versions of a record that another took the place of.
pub(super) fn earlier(visit: &ServiceRecord, house: &House) -> Vec<Value> {
    let begins = format!("{}-", stem(&visit.file));
    let names = workspace::private_names(&house.folder, "set-aside");
    let own = |name: &String| name.strip_prefix(&begins).is_some_and(|mark| mark.len() == 6 + ".toml".len());
    names
        .into_iter()
        .filter(own)
        .filter_map(|name| {
            let text = workspace::kept_private(&house.folder, &format!("set-aside/{name}")).ok()??;
            Some(json!({ "name": format!("private/set-aside/{name}"), "text": text }))
        })
        .collect()
}
