//! From histories to files: the main job, stage by stage.

use std::collections::{BTreeMap, BTreeSet};
use std::convert::Infallible;
use std::sync::{Mutex, PoisonError};

use chrono::NaiveDate;
use rayon::prelude::*;

use super::read::{Read, words};
use crate::care::{Facts, REVIEWED, select};
use crate::diagnostic::Diagnostic;
use crate::forecast::forecast;
use crate::page::advice::Advice;
use crate::page::cards::{card_page, card_sheets};
use crate::page::client::{Sources, client_page, wash_days};
use crate::page::filling::Filling;
use crate::page::link::{Link, link};
use crate::page::markdown::{Origin, to_html};
use crate::page::missing::missing_page;
use crate::page::seal::Seal;
use crate::page::sealed::sealed_page;
use crate::page::words::{Words, clock};
use crate::plan::{Plan, Standing, plan};
use crate::record::{ClientCode, ClientFile, History, Shareable};
use crate::salon::Salon;
use crate::schedule::calendar::{recurring_days, whole_day_event};
use crate::schedule::diary::Booked;
use crate::site::theme::Theme;
use crate::site::{About, Files, Kept, Key, Made, Outlet, Still, assets, render};
use crate::workspace::Secret;

/// Aftercare cards are printed for this many clients, those seen last.
const CARDS: usize = 40;

/// All cards, to be cut.
const CARD_SHEETS: &str = "private/cards.html";

/// The page of a missing address.
const MISSING: &str = "public/404.html";

/// Everything a run produced.
#[derive(Debug)]
pub struct Built {
    /// The files, path relative to the salon folder → bytes.
    pub files: Files,
    /// Files of clients at fault, which stay as they are.
    pub kept: Kept,
    /// How many client pages there are.
    pub pages: usize,
    /// How many clients have none because their plan has expired.
    pub expired: usize,
    /// The page of the client seen last, relative to `public/`, with its key when it is sealed.
    pub first_page: Option<String>,
}

/// One client after every stage but the last.
struct Prepared {
    shareable: Shareable,
    plan: Plan,
    advice: Vec<Advice>,
    booked: Option<Booked>,
    note: Option<String>,
    link: Link,
    /// What closes the page, when it is sealed.
    seal: Option<Seal>,
}

/// Builds every file, all of them in memory, whatever was built before. Today only decides which pages have expired.
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
    let memory = Memory::default();
    let told = build_each(read, salon, theme, secret, today, &memory).map_err(|stopped| match stopped {
        Stopped::Theme(fault) => fault,
        Stopped::Out(never) => match never {},
    })?;
    let files = memory.0.into_inner().unwrap_or_else(PoisonError::into_inner);
    let Told { kept, pages, expired, first_page } = told;
    Ok(Built { files, kept, pages, expired, first_page })
}

/// Everything made, kept in memory.
#[derive(Default)]
struct Memory(Mutex<Files>);

impl Outlet for Memory {
    type Failure = Infallible;

    fn stands(&self, _: &str, _: &Key, _: NaiveDate) -> Option<Still> {
        None
    }

    fn put(&self, _: &str, made: Made) -> Result<(), Infallible> {
        self.0.lock().unwrap_or_else(PoisonError::into_inner).extend(made.files);
        Ok(())
    }
}

/// What there is to say of a run whose files went out one by one.
#[derive(Debug)]
pub struct Told {
    /// Files of clients at fault, which stay as they are.
    pub kept: Kept,
    /// How many client pages there are.
    pub pages: usize,
    /// How many clients have none because their plan has expired.
    pub expired: usize,
    /// The page of the client seen last, relative to `public/`, with its key when it is sealed.
    pub first_page: Option<String>,
}

/// Why a run ended early.
#[derive(Debug)]
pub enum Stopped<E> {
    /// The salon's theme asks for what a page does not have.
    Theme(Box<Diagnostic>),
    /// A file did not go out.
    Out(E),
}

impl<E> From<Box<Diagnostic>> for Stopped<E> {
    fn from(fault: Box<Diagnostic>) -> Self {
        Self::Theme(fault)
    }
}

/// Builds every part and hands each out as soon as it is whole, so that only a few pages are in memory at a time.
/// What the outlet says still stands is not made again.
///
/// # Errors
/// A fault of the salon's own theme, or whatever the outlet fails with. What went out before is whole.
pub fn build_each<O: Outlet>(
    read: &Read,
    salon: &Salon,
    theme: &Theme,
    secret: &Secret,
    today: NaiveDate,
    out: &O,
) -> Result<Told, Stopped<O::Failure>> {
    let mut said_of = BTreeMap::<&str, Vec<&Diagnostic>>::new();
    read.report.items.iter().for_each(|item| said_of.entry(&item.file).or_default().push(item));
    let run = Run { read, salon, theme, secret, today, out, said_of };
    let all = (0..read.histories.len()).into_par_iter();
    let current: Vec<Current> = all.filter_map(|at| run.client(at).transpose()).collect::<Result<_, _>>()?;
    let Seen { pages, first_page } = run.last_seen(current, |at| Some(read.histories[at].clone()))?;
    Ok(Told { kept: kept(read, salon, secret), pages, expired: read.histories.len() - pages, first_page })
}

/// A client whose page stands: what the cards need to know.
pub(super) struct Current {
    /// The client's place among all.
    pub(super) at: usize,
    /// The client's own part of a key.
    pub(super) own: Key,
    /// The page, relative to `public/`.
    pub(super) path: String,
    /// The day the client was last in the salon.
    pub(super) last_seen: NaiveDate,
}

/// What there is to tell once every client's part stands.
pub(super) struct Seen {
    /// How many client pages there are.
    pub(super) pages: usize,
    /// The page of the client seen last, with its key when it is sealed.
    pub(super) first_page: Option<String>,
}

/// One run: what it is made from, and where it goes.
pub(super) struct Run<'a, O> {
    pub(super) read: &'a Read,
    pub(super) salon: &'a Salon,
    pub(super) theme: &'a Theme,
    pub(super) secret: &'a Secret,
    pub(super) today: NaiveDate,
    pub(super) out: &'a O,
    /// What there is to say, by file.
    pub(super) said_of: BTreeMap<&'a str, Vec<&'a Diagnostic>>,
}

impl<O: Outlet> Run<'_, O> {
    /// One client from history to files; nothing when the plan has expired.
    fn client(&self, at: usize) -> Result<Option<Current>, Stopped<O::Failure>> {
        let (history, own) = (&self.read.histories[at], self.read.inputs.own(at));
        let path = link_of(&history.client, self.salon, self.secret).path;
        let (part, key) = (format!("public/{path}"), self.read.inputs.joined(self.secret, [own]));
        let shown = match self.out.stands(&part, &key, self.today) {
            Some(standing) => standing == Still::Shown,
            None => self.put(history, key, self.about(history))?,
        };
        Ok(shown.then(|| Current { at, own, path, last_seen: history.last_seen() }))
    }

    /// What a later run has to know of a client.
    fn about(&self, history: &History) -> About {
        let files = history.visits.iter().map(|visit| &visit.file).chain([&history.client.file]);
        let told = files.filter_map(|file| self.said_of.get(file.as_str())).flatten().copied().cloned().collect();
        About { last_seen: history.last_seen(), told }
    }

    /// Makes a client's part and hands it out; whether it has a page.
    pub(super) fn put(&self, history: &History, key: Key, about: About) -> Result<bool, Stopped<O::Failure>> {
        let client = prepare(history, self.salon, self.read, self.secret);
        let until = client.plan.expires;
        let shown = self.today <= until;
        let files = if shown { pages(&client, self.salon, self.theme)? } else { Vec::new() };
        let part = format!("public/{}", client.link.path);
        self.out.put(&part, Made { key, until: Some(until), about: Some(about), files }).map_err(Stopped::Out)?;
        Ok(shown)
    }

    /// What is about no single client: the cards of those seen last, and the house. `of` tells a client's history by place.
    pub(super) fn last_seen(
        &self,
        mut current: Vec<Current>,
        of: impl Fn(usize) -> Option<History>,
    ) -> Result<Seen, Stopped<O::Failure>> {
        current.sort_by(|one, other| other.last_seen.cmp(&one.last_seen).then_with(|| one.path.cmp(&other.path)));
        let (pages, first) = (current.len(), current.first().and_then(|client| of(client.at)));
        let first_page = first.map(|first| link_of(&first.client, self.salon, self.secret).path_and_key());
        current.truncate(CARDS);
        self.cards(&current, of)?;
        self.house()?;
        Ok(Seen { pages, first_page })
    }

    /// The cards to print, all on sheets and each alone.
    fn cards(&self, last_seen: &[Current], of: impl Fn(usize) -> Option<History>) -> Result<(), Stopped<O::Failure>> {
        let key = self.read.inputs.joined(self.secret, last_seen.iter().map(|client| client.own));
        if self.out.stands(CARD_SHEETS, &key, self.today).is_some() {
            return Ok(());
        }
        let histories: Vec<History> = last_seen.iter().filter_map(|client| of(client.at)).collect();
        let prepare = |history: &History| prepare(history, self.salon, self.read, self.secret);
        let clients: Vec<Prepared> = histories.par_iter().map(prepare).collect();
        let sheets = cards(&clients.iter().collect::<Vec<_>>(), self.salon, self.theme)?;
        let mut files = vec![(CARD_SHEETS.to_owned(), sheets.into_bytes())];
        for client in &clients {
            if let Some(page) = card_page(&client.sources(self.salon), &client.link) {
                let name = card_file(&client.shareable.client().code);
                files.push((name, render::card(self.theme, &page)?.into_bytes()));
            }
        }
        self.out.put(CARD_SHEETS, Made { key, until: None, about: None, files }).map_err(Stopped::Out)
    }

    /// What is about no client.
    fn house(&self) -> Result<(), Stopped<O::Failure>> {
        let key = self.read.inputs.joined(self.secret, []);
        if self.out.stands(MISSING, &key, self.today).is_some() {
            return Ok(());
        }
        let missing = render::missing(self.theme, &missing_page(words_of_house(self.salon)))?.into_bytes();
        let headers = assets::HEADERS.as_bytes().to_vec();
        let files = vec![(MISSING.to_owned(), missing), ("public/_headers".to_owned(), headers)];
        self.out.put(MISSING, Made { key, until: None, about: None, files }).map_err(Stopped::Out)
    }
}

fn prepare(history: &History, salon: &Salon, read: &Read, secret: &Secret) -> Prepared {
    let link = link_of(&history.client, salon, secret);
    // From here on nothing can see a health fact.
    let shareable = history.shareable();
    let plan = plan(&shareable, salon, &forecast(&shareable, salon));
    let diary = read.diary.as_ref().filter(|_| plan.standing == Standing::Planned);
    let booked = diary.and_then(|diary| diary.booked_among(read.rows.get(&history.client.code)?, plan.service));
    let plan = match booked {
        Some(booked) => plan.booked_for(booked.date),
        None => plan,
    };
    let selected = select(&read.library, &Facts::of(&shareable, &plan));
    let filling = Filling { words: words(&shareable, salon), salon, plan: &plan };
    let advice = read.finished.advice(&selected, filling);
    let note = shareable.latest().note.as_deref().map(|note| to_html(note, Origin::Note));
    let seal = seal_of(&history.client, salon, secret);
    Prepared { shareable, plan, advice, booked, note, link, seal }
}

impl Prepared {
    fn sources<'a>(&'a self, salon: &'a Salon) -> Sources<'a> {
        Sources {
            shareable: &self.shareable,
            salon,
            forecast: &self.plan.forecast,
            plan: &self.plan,
            advice: &self.advice,
            booked: self.booked,
            words: words(&self.shareable, salon),
            link: Some(&self.link),
            note_html: self.note.as_deref(),
            reviewed: REVIEWED,
        }
    }
}

/// The last day on which a client has a page.
#[must_use]
pub fn last_day(history: &History, salon: &Salon) -> NaiveDate {
    let shareable = history.shareable();
    plan(&shareable, salon, &forecast(&shareable, salon)).expires
}

/// One client's page and calendar files, under the names they have in the salon folder; open, also where they are published sealed.
///
/// # Errors
/// As [`build`].
pub fn pages_of(
    history: &History,
    read: &Read,
    salon: &Salon,
    theme: &Theme,
    secret: &Secret,
) -> Result<Files, Box<Diagnostic>> {
    Ok(open_pages(&prepare(history, salon, read, secret), salon, theme)?.into_iter().collect())
}

/// One client's aftercare card, on A6.
///
/// # Errors
/// As [`build`].
pub fn card_of(
    history: &History,
    read: &Read,
    salon: &Salon,
    theme: &Theme,
    secret: &Secret,
) -> Result<String, Box<Diagnostic>> {
    let client = prepare(history, salon, read, secret);
    match card_page(&client.sources(salon), &client.link) {
        Some(page) => render::card(theme, &page),
        // No code holds an address this long: the sheet stays empty, as `check` has told.
        None => cards(&[&client], salon, theme),
    }
}

/// One client's aftercare card of 85 × 55 mm, by itself on a sheet with cut marks; the sheet is empty when no code holds the address.
///
/// # Errors
/// As [`build`].
pub fn small_card_of(
    history: &History,
    read: &Read,
    salon: &Salon,
    theme: &Theme,
    secret: &Secret,
) -> Result<String, Box<Diagnostic>> {
    cards(&[&prepare(history, salon, read, secret)], salon, theme)
}

/// A client's page and the calendar files beside it; a sealed page holds them.
fn pages(client: &Prepared, salon: &Salon, theme: &Theme) -> Result<Vec<(String, Vec<u8>)>, Box<Diagnostic>> {
    let Some(seal) = &client.seal else { return open_pages(client, salon, theme) };
    let mut page = client_page(&client.sources(salon));
    let calendars = calendars(client, salon);
    calendars.iter().for_each(|(path, text)| page.hold_calendar(path.rsplit('/').next().unwrap_or_default(), text));
    let words = words(&client.shareable, salon);
    let outside = |closed| sealed_page(closed, &salon.emergency.number, words);
    let html = render::sealed(theme, &page, seal, outside)?;
    Ok(vec![(format!("public/{}", client.link.path), html.into_bytes())])
}

fn open_pages(client: &Prepared, salon: &Salon, theme: &Theme) -> Result<Vec<(String, Vec<u8>)>, Box<Diagnostic>> {
    let page = render::client(theme, &client_page(&client.sources(salon)))?;
    let calendars = calendars(client, salon).into_iter();
    let files = std::iter::once((client.link.path.clone(), page)).chain(calendars);
    Ok(files.map(|(path, text)| (format!("public/{path}"), text.into_bytes())).collect())
}

/// A client's calendar files, path beside the page → text.
fn calendars(client: &Prepared, salon: &Salon) -> Vec<(String, String)> {
    let mut files = Vec::new();
    let words = words(&client.shareable, salon);
    let booked = client.booked.map(|booked| {
        let time = clock(words, booked.time);
        let shown = salon.book.show_time;
        let told =
            if shown { words.say("calendar.booked", &[("time", &time)]) } else { words.pattern("calendar.visit") };
        (booked.date, told)
    });
    let next = || Some((client.plan.next_visit()?.window.best, words.pattern("calendar.refresh")));
    if let Some((day, summary)) = booked.or_else(next) {
        let event = whole_day_event(day, client.plan.service, &client.link.token, &summary);
        files.push((client.link.calendar_path.clone(), event));
    }
    if let Some((first, every_days, until)) = wash_days(&client.plan) {
        let summary = words.pattern("calendar.wash");
        let (stamp, seed) = (client.plan.service, &client.link.token);
        let event = recurring_days(first, every_days, until, stamp, seed, &summary);
        files.push((client.link.washing_path.clone(), event));
    }
    files
}

fn cards(clients: &[&Prepared], salon: &Salon, theme: &Theme) -> Result<String, Box<Diagnostic>> {
    let sources: Vec<(Sources<'_>, Link)> =
        clients.iter().map(|client| (client.sources(salon), client.link.clone())).collect();
    render::cards(theme, &card_sheets(&sources, salon, words_of_house(salon)))
}

/// Where a client's own card lies.
fn card_file(client: &ClientCode) -> String {
    format!("private/cards/{client}.html")
}

/// The words of the salon's own language.
#[must_use]
pub fn words_of_house(salon: &Salon) -> &'static crate::page::catalogue::Catalogue {
    super::read::words_of(&[&salon.language])
}

/// A client's link; that of a sealed page holds its key.
#[must_use]
pub fn link_of(client: &ClientFile, salon: &Salon, secret: &Secret) -> Link {
    let link = link(secret.bytes(), &client.code, client.link_number, &salon.base_address);
    match seal_of(client, salon, secret) {
        Some(seal) => link.with_key(&seal),
        None => link,
    }
}

/// What closes a client's page; nothing when it is open to whoever has the link.
fn seal_of(client: &ClientFile, salon: &Salon, secret: &Secret) -> Option<Seal> {
    let sealed = client.sealed.unwrap_or(salon.sealed);
    sealed.then(|| Seal::of(secret.bytes(), &client.code, client.link_number))
}

/// The files of clients at fault. Their link number may be what is at fault, so every number up to a few is kept.
///
/// When nobody can tell whose a record at fault is, every file stays.
fn kept(read: &Read, salon: &Salon, secret: &Secret) -> Kept {
    if read.owner_unknown { Kept::All } else { kept_of(&read.at_fault, salon, secret) }
}

/// The files of these clients, who are at fault.
pub(super) fn kept_of(at_fault: &BTreeSet<String>, salon: &Salon, secret: &Secret) -> Kept {
    let codes: Vec<ClientCode> = at_fault.iter().filter_map(|code| ClientCode::try_new(code)).collect();
    let links = codes.iter().flat_map(|code| {
        (1..=LINK_NUMBERS_KEPT).map(move |number| link(secret.bytes(), code, number, &salon.base_address))
    });
    let published = links.flat_map(|link| [link.path, link.calendar_path, link.washing_path]);
    Kept::These(published.map(|path| format!("public/{path}")).chain(codes.iter().map(card_file)).collect())
}

/// A client's link is rarely moved; pages of a file at fault are looked for under this many numbers.
pub const LINK_NUMBERS_KEPT: u32 = 16;
