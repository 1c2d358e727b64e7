//! A visit being written: shown, changed, its rows pressed into shape.

use chrono::NaiveDate;
use serde_json::json;

use crate::form::{Typed, typed_of};
use crate::record::VISIT;

use super::draft::{self, Draft};
use super::house::{House, Opened};
use super::reply::{Asked, Reply, words_of};
use super::sheet::Open;
use super::{begin, fields, left, page, questions, rows, sheet};

/// The longest text taken into a field, in bytes: over what any field reads, so that `check` says so.
const LONGEST: usize = 50_000;

/// The longest name of whoever corrects, in letters.
const LONGEST_NAME: usize = 60;

/// Begins a visit of a client and goes to it. A draft of today that is there is gone on with.
pub(super) fn start(house: &House, code: &str) -> Reply {
    let opened = match house.opened() {
        Ok(opened) => opened,
        Err(failure) => return page::plain(500, "The salon cannot be read", &words_of(&failure)),
    };
    let Some(known) = opened.clients.get(code) else {
        return page::plain(404, "There is no such client", "Go back and choose one from the list.");
    };
    let today = house.today(&opened);
    let file = file_of(code, today);
    let source = |file: &str| opened.texts.records.iter().find(|source| source.name == file);
    let before = source(&file).map(|source| source.text.clone());
    let same_day = source(&file).and_then(|source| typed_of(source, &VISIT));
    let latest = known.visits.iter().rev().find(|visit| !visit.placements.is_empty()).or(known.visits.last());
    let last = latest.and_then(|visit| typed_of(source(&visit.file)?, &VISIT));
    let (typed, unsaid) = match (same_day, last) {
        (Some(typed), _) => (typed, Typed::new()),
        (None, Some(last)) => begin::again(&last, today),
        (None, None) => (begin::first(code, today), Typed::new()),
    };
    draft::begin(house, code, (file, before), today, (typed, unsaid))
}

/// A draft with the salon, or the page that says why not.
pub(super) fn opened(house: &House, id: &str) -> Result<(Draft, std::sync::Arc<Opened>), Reply> {
    let failed = |failure: &crate::workspace::Failure| page::plain(500, "That cannot be read", &words_of(failure));
    let draft = draft::load(house, id).map_err(|failure| failed(&failure))?;
    let gone = || page::plain(404, "There is no such draft", "It was finished, perhaps on another tablet.");
    Ok((draft.ok_or_else(gone)?, house.opened().map_err(|failure| failed(&failure))?))
}

/// The form.
pub(super) fn show(house: &House, asked: &Asked, id: &str) -> Reply {
    match opened(house, id) {
        Ok((draft, opened)) => {
            let asked_for = |name: &str| asked.query.get(name).map_or("", String::as_str);
            let tried = asked.query.contains_key("tried");
            let open = Open { part: asked_for("at"), zone: asked_for("zone").parse().ok(), tried };
            let mut data = sheet::sheet(&draft, &opened, &asked.session.csrf, open);
            data["apart"] = json!(asked.query.contains_key("apart"));
            data["left"] = json!(left::zones(&draft, &opened));
            page::page(200, "visit.html", &data)
        }
        Err(reply) => reply,
    }
}

/// Takes what was posted into the typed fields. Several of one name, as ticked boxes are, become a list.
pub(super) fn take(typed: &mut Typed, posted: &[(String, String)]) {
    let mut new = Typed::new();
    for (place, text) in posted {
        if fields::field_at(&VISIT, place).is_none() || ["format", "client"].contains(&place.as_str()) {
            continue;
        }
        let mut end = text.len().min(LONGEST);
        while !text.is_char_boundary(end) {
            end -= 1;
        }
        let text = text[..end].replace("\r\n", "\n");
        let together = new.entry(place.clone()).or_default();
        *together = if together.is_empty() {
            text
        } else if text.is_empty() {
            together.clone()
        } else {
            format!("{together}, {text}")
        };
    }
    // A row that another tablet took away comes not back by a single field of it.
    typed.extend(new);
    left::take(typed, posted);
    for (name, shade) in posted.iter().filter(|(_, shade)| !shade.is_empty()) {
        let Some(colour) = name.strip_prefix("pick.").map(|zone| format!("{zone}.colour")) else { continue };
        if fields::field_at(&VISIT, &format!("{colour}.name")).is_some() {
            typed.insert(format!("{colour}.name"), shade.clone());
            for other in ["lab", "hex", "found"] {
                typed.remove(&format!("{colour}.{other}"));
            }
        }
    }
    let stages: Vec<String> = typed
        .iter()
        .filter(|(place, text)| place.ends_with(".stage") && !text.is_empty())
        .map(|(place, _)| place.replace(".stage", ".underlying_pigment"))
        .collect();
    for pigment in stages {
        typed.remove(&pigment);
    }
}

/// Keeps what was posted. On a draft that another tablet changed since, a new draft is made of it, so that both stay.
pub(super) fn keep(house: &House, mut draft: Draft, asked: &Asked) -> Result<(Draft, bool), Reply> {
    let posted = asked.posted.as_deref().unwrap_or_default();
    let seen: u64 = asked.field("seen").parse().unwrap_or(draft.change);
    let failed = |failure: crate::workspace::Failure| {
        page::plain(
            500,
            "That cannot be kept",
            &format!("{} What you typed is still in the page before.", words_of(&failure)),
        )
    };
    let apart = seen != draft.change;
    if apart {
        draft.id = draft::new_mark().map_err(failed)?;
    }
    let before = draft.clone();
    take(&mut draft.typed, posted);
    if posted.iter().any(|(name, _)| name == "by") {
        draft.by = asked.field("by").chars().take(LONGEST_NAME).collect();
    }
    settle(&mut draft);
    if apart || draft != before {
        draft.change += 1;
        draft::keep(house, &draft).map_err(failed)?;
    }
    Ok((draft, apart))
}

/// What a draft is about stays what it was begun for; a record that is not there yet is named after its day.
fn settle(draft: &mut Draft) {
    draft.typed.insert("format".to_owned(), "1".to_owned());
    draft.typed.insert("client".to_owned(), draft.client.clone());
    let day = draft.typed.get("date").and_then(|date| date.parse::<NaiveDate>().ok());
    if let (None, Some(day)) = (&draft.before, day) {
        draft.file = file_of(&draft.client, day);
    }
}

/// Where the record of a client's visit lies.
fn file_of(client: &str, day: NaiveDate) -> String {
    format!("records/{}/{day}-{client}.toml", day.format("%Y"))
}

/// A change sent by the script: keeps it and answers with what stands beside the fields now.
pub(super) fn change(house: &House, asked: &Asked, id: &str) -> Reply {
    let draft = match draft::load(house, id) {
        Ok(Some(draft)) => draft,
        Ok(None) => return page::plain(404, "There is no such draft", "It was finished, perhaps on another tablet."),
        Err(failure) => return page::plain(500, "That cannot be read", &words_of(&failure)),
    };
    let opened = house.believed();
    match keep(house, draft, asked) {
        Ok((draft, apart)) => {
            let mut data = sheet::sheet(&draft, &opened, &asked.session.csrf, Open::default());
            data["apart"] = json!(apart);
            page::page(200, "changed.html", &data)
        }
        Err(reply) => reply,
    }
}

/// A button without script: keeps what was typed, does what the button says, and shows the form again there.
pub(super) fn press(house: &House, asked: &Asked, id: &str) -> Reply {
    let (draft, opened) = match opened(house, id) {
        Ok(found) => found,
        Err(reply) => return reply,
    };
    let (mut draft, apart) = match keep(house, draft, asked) {
        Ok(kept) => kept,
        Err(reply) => return reply,
    };
    let word = asked.field("do");
    if word == "away" {
        return match draft::drop(house, &draft.id) {
            Ok(()) => Reply::go("/"),
            Err(failure) => page::plain(500, "That cannot be taken away", &words_of(&failure)),
        };
    }
    let known = questions::on_record(&draft, &opened);
    if questions::press(&mut draft, word, &known) | rows::press(&mut draft.typed, word) {
        draft.typed.retain(|place, _| fields::field_at(&VISIT, place).is_some());
        settle(&mut draft);
        draft.change += 1;
        if let Err(failure) = draft::keep(house, &draft) {
            return page::plain(500, "That cannot be kept", &words_of(&failure));
        }
    }
    let at = sheet::part_of(word);
    let apart = if apart { "&apart=1" } else { "" };
    let zone = match word.split(".zone.").nth(1).and_then(|rest| rest.split('.').next()?.parse::<usize>().ok()) {
        Some(zone) => format!("&zone={}", if word.starts_with("split:") { zone + 1 } else { zone }),
        None => String::new(),
    };
    Reply::go(format!("/visit/{}?at={at}{zone}{apart}#{at}", draft.id))
}
