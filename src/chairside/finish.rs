//! A draft becomes a record: whole, flushed, and never over somebody else's.
//!
//! In: a draft. Out: a record as a person would write it, pages written again; or both versions, side by side.
//! Knows nothing of: mark-up.

use std::fs;
use std::io::ErrorKind;

use serde_json::json;

use crate::workspace::{self, Failure};

use super::draft::{self, Draft};
use super::house::{House, Opened};
use super::look::look;
use super::reply::{Asked, Reply, words_of};
use super::{correct, page, questions, visit};

/// How an attempt ended.
enum Ended {
    Written,
    /// Somebody else's record stands there now.
    Other(Option<String>),
}

/// Finishes a draft, or settles a conflict: `mine` puts the other version aside, `theirs` this one.
pub(super) fn finish(house: &House, asked: &Asked, id: &str) -> Reply {
    let (draft, opened) = match visit::opened(house, id) {
        Ok(found) => found,
        Err(reply) => return reply,
    };
    let settled = asked.field("do") != "finish";
    let draft = if settled {
        draft
    } else {
        match visit::keep(house, draft, asked) {
            Ok((draft, false)) => draft,
            Ok((draft, true)) => return Reply::go(format!("/visit/{}?apart=1", draft.id)),
            Err(reply) => return reply,
        }
    };
    let failed = |failure: &Failure| {
        page::plain(500, "That cannot be written", &format!("{} The draft is kept.", words_of(failure)))
    };
    if asked.field("do") == "theirs" {
        let name = aside(&draft);
        let text = correct::signed(&draft, &opened, &look(&draft, &opened).written.text, house.today(&opened));
        let put = workspace::lock(&house.folder, || {})
            .and_then(|_lock| workspace::keep_private(&house.folder, &name?, &text));
        return match put.and_then(|()| draft::drop(house, id)) {
            Ok(()) => Reply::go(format!("/done/{}", draft.client)),
            Err(failure) => failed(&failure),
        };
    }
    let look = look(&draft, &opened);
    if look.has_fault() {
        return Reply::go(format!("/visit/{}?tried=1#faults", draft.id));
    }
    if let Some(first) = questions::still(&draft, &opened).first() {
        return Reply::go(format!("/visit/{}?tried=1&at={}#faults", draft.id, first.part));
    }
    let text = correct::signed(&draft, &opened, &look.written.text, house.today(&opened));
    match write(house, &draft, &text, asked.field("do") == "mine", asked.field("their")) {
        Ok(Ended::Written) => {}
        Ok(Ended::Other(theirs)) => return conflict(asked, &draft, &text, theirs.as_deref()),
        Err(failure) => return failed(&failure),
    }
    if let Err(failure) = draft::drop(house, &draft.id) {
        return failed(&failure);
    }
    match house.rebuild() {
        Ok(opened) => Reply::go(after(&draft, &opened, house)),
        Err(why) => page::plain(500, "The record is written, the page is not", &why),
    }
}

/// Where to go on: to the code, or, when an older visit was put right, to the story that tells of it.
fn after(draft: &Draft, opened: &Opened, house: &House) -> String {
    let today = house.today(opened).to_string();
    let older = draft.corrects() && draft.typed.get("date").is_some_and(|date| *date != today);
    format!("/{}/{}", if older { "story" } else { "done" }, draft.client)
}

/// Writes the record under the salon's lock, unless another one came there since the draft was begun.
fn write(house: &House, draft: &Draft, text: &str, over: bool, their: &str) -> Result<Ended, Failure> {
    let _lock = workspace::lock(&house.folder, || {})?;
    let path = house.folder.join(&draft.file);
    let now = match fs::read_to_string(&path) {
        Ok(text) => Some(text),
        Err(error) if error.kind() == ErrorKind::NotFound => None,
        Err(error) => return Err(Failure::io("read", &path, &error)),
    };
    // A second press of the button, or a draft that a crash left behind its record: the work is done.
    if now.as_deref() == Some(text) {
        return Ok(Ended::Written);
    }
    let expected = if over {
        Some(their.replace("\r\n", "\n"))
    } else {
        draft.before.as_ref().map(|text| text.replace("\r\n", "\n"))
    };
    if now.as_ref().map(|text| text.replace("\r\n", "\n")).map(|text| text.trim_end().to_owned())
        != expected.map(|text| text.trim_end().to_owned())
    {
        return Ok(Ended::Other(now));
    }
    // A record that another takes the place of is kept beside it, whichever way that came about.
    if let Some(old) = &now {
        let name = if over { aside(draft)? } else { correct::kept_as(draft) };
        workspace::keep_private(&house.folder, &name, old)?;
    }
    workspace::store(&path, text.as_bytes())?;
    Ok(Ended::Written)
}

/// Where a version is put that was not chosen: never read, never lost.
fn aside(draft: &Draft) -> Result<String, Failure> {
    let name = draft.file.rsplit('/').next().unwrap_or_default().trim_end_matches(".toml").to_owned();
    Ok(format!("set-aside/{name}-{}.toml", workspace::random_mark(3)?))
}

fn conflict(asked: &Asked, draft: &Draft, mine: &str, theirs: Option<&str>) -> Reply {
    let theirs = theirs.unwrap_or_default();
    let marked = |text: &str, other: &str| -> Vec<serde_json::Value> {
        text.lines()
            .map(|line| json!({ "text": line, "differs": !line.trim().is_empty() && !other.lines().any(|one| one == line) }))
            .collect()
    };
    let data = json!({
        "title": "Two versions of one visit", "csrf": asked.session.csrf, "id": draft.id, "file": draft.file,
        "mine": marked(mine, theirs), "theirs": marked(theirs, mine), "their": theirs,
    });
    page::page(409, "conflict.html", &data)
}
