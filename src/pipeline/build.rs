//! From histories to files: the main job, stage by stage.

use std::collections::BTreeSet;

use chrono::NaiveDate;
use rayon::prelude::*;

use super::read::{Read, words};
use crate::care::{Facts, Library, REVIEWED, select};
use crate::diagnostic::Diagnostic;
use crate::forecast::forecast;
use crate::page::advice::Advice;
use crate::page::cards::card_sheets;
use crate::page::client::{Sources, client_page};
use crate::page::filling::{Filling, advice};
use crate::page::link::{Link, link};
use crate::page::markdown::{Origin, to_html};
use crate::page::missing::missing_page;
use crate::plan::{Plan, plan};
use crate::record::{ClientCode, ClientFile, History, Shareable};
use crate::salon::Salon;
use crate::schedule::calendar::whole_day_event;
use crate::site::theme::Theme;
use crate::site::{Files, assets, render};
use crate::workspace::Secret;

/// Aftercare cards are printed for this many clients, those seen last.
const CARDS: usize = 40;

/// Everything a run produced.
#[derive(Debug)]
pub struct Built {
    /// The files, path relative to the salon folder → bytes.
    pub files: Files,
    /// Files of clients at fault, which stay as they are.
    pub kept: BTreeSet<String>,
    /// How many client pages there are.
    pub pages: usize,
    /// How many clients have none because their plan has expired.
    pub expired: usize,
    /// The page of the client seen last, relative to `public/`.
    pub first_page: Option<String>,
}

/// One client after every stage but the last.
struct Prepared {
    shareable: Shareable,
    plan: Plan,
    advice: Vec<Advice>,
    note: Option<String>,
    link: Link,
    last_seen: NaiveDate,
}

/// Builds every file. Today only decides which pages have expired.
///
/// # Errors
/// A fault of the salon's own theme: a template that asks for what a page does not have.
pub fn build(
    read: &Read,
    salon: &Salon,
    theme: &Theme,
    secret: &Secret,
    today: NaiveDate,
) -> Result<Built, Box<Diagnostic>> {
    let prepared: Vec<Prepared> =
        read.histories.par_iter().map(|history| prepare(history, salon, &read.library, secret)).collect();
    let (current, expired): (Vec<Prepared>, Vec<Prepared>) =
        prepared.into_iter().partition(|client| today <= client.plan.expires);
    let pages: Vec<Vec<(String, Vec<u8>)>> =
        current.par_iter().map(|client| pages(client, salon, theme)).collect::<Result<_, _>>()?;
    let mut files: Files = pages.into_iter().flatten().collect();
    let mut last_seen: Vec<&Prepared> = current.iter().collect();
    last_seen
        .sort_by(|one, other| other.last_seen.cmp(&one.last_seen).then_with(|| one.link.token.cmp(&other.link.token)));
    let first_page = last_seen.first().map(|client| client.link.path.clone());
    last_seen.truncate(CARDS);
    files.insert("private/cards.html".to_owned(), cards(&last_seen, salon, theme)?.into_bytes());
    let missing = render::missing(theme, &missing_page(words_of_house(salon)))?;
    files.insert("public/404.html".to_owned(), missing.into_bytes());
    files.insert("public/_headers".to_owned(), assets::HEADERS.as_bytes().to_vec());
    Ok(Built { files, kept: kept(read, salon, secret), pages: current.len(), expired: expired.len(), first_page })
}

fn prepare(history: &History, salon: &Salon, library: &Library, secret: &Secret) -> Prepared {
    let last_seen = history.last_seen();
    let link = link_of(&history.client, salon, secret);
    // From here on nothing can see a health fact.
    let shareable = history.shareable();
    let plan = plan(&shareable, salon, &forecast(&shareable, salon));
    let selected = select(library, &Facts::of(&shareable, &plan));
    let advice = advice(&selected, Filling { words: words(&shareable, salon), salon, plan: &plan });
    let note = shareable.latest().note.as_deref().map(|note| to_html(note, Origin::Note));
    Prepared { shareable, plan, advice, note, link, last_seen }
}

impl Prepared {
    fn sources<'a>(&'a self, salon: &'a Salon) -> Sources<'a> {
        Sources {
            shareable: &self.shareable,
            salon,
            forecast: &self.plan.forecast,
            plan: &self.plan,
            advice: &self.advice,
            words: words(&self.shareable, salon),
            link: Some(&self.link),
            note_html: self.note.as_deref(),
            reviewed: REVIEWED,
        }
    }
}

/// A client's page and the calendar file beside it.
fn pages(client: &Prepared, salon: &Salon, theme: &Theme) -> Result<Vec<(String, Vec<u8>)>, Box<Diagnostic>> {
    let page = render::client(theme, &client_page(&client.sources(salon)))?;
    let mut files = vec![(format!("public/{}", client.link.path), page.into_bytes())];
    if let Some(next) = client.plan.next_visit() {
        let summary = crate::page::words::Words::pattern(words(&client.shareable, salon), "calendar.refresh");
        let event = whole_day_event(next.window.best, client.plan.service, &client.link.token, &summary);
        files.push((format!("public/{}", client.link.calendar_path), event.into_bytes()));
    }
    Ok(files)
}

fn cards(clients: &[&Prepared], salon: &Salon, theme: &Theme) -> Result<String, Box<Diagnostic>> {
    let sources: Vec<(Sources<'_>, Link)> =
        clients.iter().map(|client| (client.sources(salon), client.link.clone())).collect();
    render::cards(theme, &card_sheets(&sources, salon, words_of_house(salon)))
}

fn words_of_house(salon: &Salon) -> &'static crate::page::catalogue::Catalogue {
    super::read::words_of(&[&salon.language])
}

fn link_of(client: &ClientFile, salon: &Salon, secret: &Secret) -> Link {
    link(secret.bytes(), &client.code, client.link_number, &salon.base_address)
}

/// The files of clients at fault. Their link number may be what is at fault, so every number up to a few is kept.
fn kept(read: &Read, salon: &Salon, secret: &Secret) -> BTreeSet<String> {
    let codes = read.at_fault.iter().filter_map(|code| ClientCode::try_new(code));
    codes
        .flat_map(|code| {
            (1..=LINK_NUMBERS_KEPT).map(move |number| link(secret.bytes(), &code, number, &salon.base_address))
        })
        .flat_map(|link| [format!("public/{}", link.path), format!("public/{}", link.calendar_path)])
        .collect()
}

/// A client's link is rarely moved; pages of a file at fault are looked for under this many numbers.
const LINK_NUMBERS_KEPT: u32 = 16;
