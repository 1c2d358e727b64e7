//! What a client may ask for, at the chair: a new link, a copy of everything, to be forgotten. Each page says what happens, then asks.
//!
//! In: a client's code. Out: pages, and after a yes what [`rights`] does. Knows nothing of: what the files hold.

use std::sync::Arc;

use serde_json::{Value, json};

use crate::pipeline;
use crate::plan::day_in_words;
use crate::record::ClientCode;
use crate::rights;
use crate::workspace::{self, Failure};

use super::house::{House, Opened};
use super::page;
use super::reply::{Asked, Reply, words_of};

/// What is asked for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Wish {
    Relink,
    Export,
    Forget,
}

impl Wish {
    /// By the last part of its address.
    pub(super) fn named(word: &str) -> Option<Self> {
        match word {
            "relink" => Some(Self::Relink),
            "export" => Some(Self::Export),
            "forget" => Some(Self::Forget),
            _ => None,
        }
    }
}

impl Opened {
    fn rights<'a>(&'a self, house: &'a House) -> rights::House<'a> {
        rights::House { folder: &house.folder, texts: &self.texts, read: &self.read, secret: &self.secret }
    }
}

fn refused(failure: &Failure) -> Reply {
    page::plain(500, "That was not done", &words_of(failure))
}

/// Says what would happen, and asks.
pub(super) fn ask(house: &House, asked: &Asked, code: &str, wish: Wish) -> Reply {
    let opened = match house.again() {
        Ok(opened) => opened,
        Err(failure) => return refused(&failure),
    };
    let Some((code, name)) = known(&opened, code) else { return nobody() };
    let mut kept = Value::Null;
    let (title, button, words, list) = match wish {
        Wish::Relink => {
            let words = [
                "The page moves to a new address. The old address, its calendar files and every card and message with it lead nowhere from then on.",
                "Do this when a link came into the wrong hands. Then show or send the new code.",
            ];
            ("A new link", "Give a new link", words.map(str::to_owned).to_vec(), old_files(house, &opened, &code))
        }
        Wish::Export => {
            let names = rights::copy_of_texts(&opened.rights(house), &code)
                .unwrap_or_default()
                .into_iter()
                .map(|(name, _)| name);
            let words = [
                format!(
                    "A copy of everything about this client is put into {} on this machine.",
                    place(house, &opened, &code)
                ),
                "Health facts stand in it: hand it to the client only, then take it away.".to_owned(),
            ];
            (
                "A copy of everything",
                "Make the copy",
                words.to_vec(),
                names.chain(["the page, its calendar files and the forecast".to_owned()]).collect(),
            )
        }
        Wish::Forget => {
            let going = rights::going(&opened.rights(house), &code, Some(house.today(&opened)));
            let more = [format!("the card in {}", rights::ALL_CARDS), "the appointments in the book".to_owned()];
            let words = [
                "All of this is removed and cannot be brought back.",
                "Backups, printed cards and copies outside the salon folder stay where they are.",
            ]
            .map(str::to_owned)
            .to_vec();
            kept = going.card.as_ref().map_or(
                Value::Null,
                |card| json!({ "until": day_in_words(card.until), "lines": card.text.lines().collect::<Vec<_>>() }),
            );
            let list = going.written.into_iter().chain(going.made).chain(more).collect();
            ("Forget this client", "Remove all of it", words, list)
        }
    };
    let list: Vec<String> = list;
    let data = json!({ "title": format!("{title}: {name}"), "heading": title, "name": name, "code": code.as_str(), "csrf": asked.session.csrf,
                       "words": words, "list": list, "lead": lead(wish), "button": button, "grave": wish == Wish::Forget, "kept": kept });
    page::page(200, "ask.html", &data)
}

const fn lead(wish: Wish) -> &'static str {
    match wish {
        Wish::Relink => "This goes:",
        Wish::Export => "This is copied:",
        Wish::Forget => "This goes:",
    }
}

/// After a yes.
pub(super) fn act(house: &House, asked: &Asked, code: &str, wish: Wish) -> Reply {
    let done = workspace::lock(&house.folder, || {}).and_then(|_lock| {
        let opened = house.again()?;
        let Some((code, name)) = known(&opened, code) else { return Ok(Err(nobody())) };
        match wish {
            Wish::Relink => relink(house, &opened, &code),
            Wish::Export => export(house, &opened, &code),
            Wish::Forget => forget(house, &opened, &code),
        }
        .map(|said| said.map(|told| (told, name, code)))
    });
    let (Told { heading, mut lines, known_by }, name, code) = match done {
        Ok(Ok(said)) => said,
        Ok(Err(reply)) => return reply,
        Err(failure) => return refused(&failure),
    };
    // The lock is free again: the pages are written under it.
    if wish != Wish::Export
        && let Err(why) = house.rebuild()
    {
        return page::plain(500, "It is done, but the pages are not written again", &why);
    }
    if let Some((sentence, files)) = rights::still_standing(&house.folder, &code, &known_by) {
        lines.push(sentence);
        lines.extend(files);
    }
    let stays: Value = if wish == Wish::Forget { Value::Null } else { json!(code.as_str()) };
    let data = json!({ "title": heading, "heading": heading, "name": name, "lines": lines, "code": stays, "csrf": asked.session.csrf,
                       "scan": wish == Wish::Relink });
    page::page(200, "asked.html", &data)
}

/// What there is to say afterwards.
struct Told {
    heading: &'static str,
    lines: Vec<String>,
    /// The words by which somebody forgotten was known: whatever file still holds one is told.
    known_by: Vec<String>,
}

impl Told {
    const fn new(heading: &'static str, lines: Vec<String>) -> Self {
        Self { heading, lines, known_by: Vec::new() }
    }
}

/// What there is to say afterwards; or why it was not done.
type Said = Result<Result<Told, Reply>, Failure>;

fn relink(house: &House, opened: &Opened, code: &ClientCode) -> Said {
    let known = opened.clients.get(code.as_str()).zip(opened.house());
    let Some((known, (salon, _))) = known else { return Ok(Err(nobody())) };
    let old = pipeline::link_of(&known.client, salon, &opened.secret);
    let Some(moved) = rights::raise(&opened.rights(house), &known.client)? else {
        let why = format!("{} cannot be given a higher link number; change it by hand.", known.client.file);
        return Ok(Err(page::plain(409, "That was not done", &why)));
    };
    rights::take_away(&house.folder, [&old], [code.as_str()])?;
    let new = pipeline::link_of(&moved, salon, &opened.secret);
    let lines = vec![
        format!("New: {}", new.address),
        format!("Old, and gone here: {}", old.without_key()),
        "Publish public/ now, and purge the old address at a cache in front of it.".to_owned(),
    ];
    Ok(Ok(Told::new("The link is a new one", lines)))
}

fn export(house: &House, opened: &Opened, code: &ClientCode) -> Said {
    let mut files = rights::copy_of_texts(&opened.rights(house), code)?;
    let history = opened.read.histories.iter().find(|history| history.client.code == *code);
    let mut lines = Vec::new();
    match history.zip(opened.house()) {
        Some((history, (salon, theme))) => match rights::made_for(&opened.rights(house), history, salon, theme) {
            Ok(made) => files.extend(made),
            Err(fault) => lines.push(format!("Without the page: {}.", fault.message)),
        },
        None => {
            lines
                .push("Without page and forecast: there is no visit, or a file of this client is at fault.".to_owned());
        }
    }
    files.push(rights::read_me());
    let out = house.folder.join(place(house, opened, code));
    if out.exists() {
        std::fs::remove_dir_all(&out).map_err(|error| Failure::io("make anew", &out, &error))?;
    }
    for (name, bytes) in &files {
        workspace::store(&out.join(name), bytes)?;
    }
    lines.insert(0, format!("{} files in {}", files.len(), out.display()));
    Ok(Ok(Told::new("The copy is made", lines)))
}

fn forget(house: &House, opened: &Arc<Opened>, code: &ClientCode) -> Said {
    let going = rights::going(&opened.rights(house), code, Some(house.today(opened)));
    rights::forget(&opened.rights(house), std::slice::from_ref(&going))?;
    let mut lines = vec!["Publish public/ now, and purge these at a cache in front of it:".to_owned()];
    lines.extend(going.links.iter().map(|link| link.without_key().to_owned()));
    Ok(Ok(Told { known_by: going.known_by, ..Told::new("Forgotten", lines) }))
}

/// The folder of today's copy, relative to the salon folder.
fn place(house: &House, opened: &Opened, code: &ClientCode) -> String {
    format!("private/{}/{}", rights::exports_of(code), house.today(opened))
}

/// What is there under the present link.
fn old_files(house: &House, opened: &Opened, code: &ClientCode) -> Vec<String> {
    let known = opened.clients.get(code.as_str()).zip(opened.house());
    let link = known.map(|(known, (salon, _))| pipeline::link_of(&known.client, salon, &opened.secret));
    let names = link.iter().flat_map(rights::public_files).chain([rights::single_card(code.as_str())]);
    names.filter(|name| house.folder.join(name).exists()).collect()
}

/// A client who is in the salon's files, with what they are called.
fn known(opened: &Opened, code: &str) -> Option<(ClientCode, String)> {
    let known = opened.clients.get(code)?;
    let name = known.client.first_name.clone().unwrap_or_else(|| code.to_owned());
    Some((known.client.code.clone(), name))
}

fn nobody() -> Reply {
    page::plain(404, "There is no such client", "Nothing was changed.")
}
