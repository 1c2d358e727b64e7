//! The main job over a folder of any size: client by client, so that only a few texts are in memory at a time, and without
//! parsing what says the same as before.
//!
//! In: what is about no client, the names of the other files, a way to read one. Out: what [`build_each`](super::build_each())
//! gives, byte for byte. Knows nothing of: disks.
//!
//! Every file that has changed since an earlier run is read once for its digest and for whose it is. A client whose digests are
//! those of an earlier run and whose part still stands is done by that, with what there was to say; the texts of any other are read
//! again, checked and taken through the stages. What this way cannot tell, such as a record of nobody, it leaves to
//! the long way: it answers nothing.

use std::borrow::Cow;
use std::cell::Cell;
use std::collections::{BTreeMap, BTreeSet, HashMap};

use chrono::NaiveDate;
use rayon::prelude::*;

use super::build::{Current, Run, Seen, Stopped, Told, kept_of, link_of};
use super::key::{client_key, text_key};
use super::read::{People, Read, people, read};
use crate::diagnostic::{Diagnostic, Report, SourceText};
use crate::page::cards::module_too_small;
use crate::page::link::forgotten_mark;
use crate::record::{ClientCode, History, client_named_in};
use crate::salon::Salon;
use crate::site::theme::Theme;
use crate::site::{About, Key, Outlet, Still, Stood};
use crate::workspace::{Entry, Found, Known, Listed, Secret, Texts};

/// A way to read a file of the folder by its name; nothing when there is something to say about it.
pub type TextOf<'a> = dyn Fn(&str) -> Option<SourceText> + Sync + 'a;

/// A salon folder looked over: what is about no client, and for each client which files there are, by digest.
#[derive(Debug)]
pub struct Survey<'a> {
    house: Read,
    clients: Vec<Files<'a>>,
}

/// The files about one client.
#[derive(Debug)]
struct Files<'a> {
    code: ClientCode,
    /// The client's own file, then the visits by name.
    names: Vec<&'a str>,
    /// Of names, texts and rows of the diary.
    own: Key,
}

/// What a sweep has to tell.
#[derive(Debug)]
pub struct Swept {
    /// As of any run.
    pub told: Told,
    /// Everything there is to say.
    pub report: Report,
    /// The texts of clients and records it is said of, as far as they were read.
    pub sources: Vec<SourceText>,
    /// The names of the others it is said of.
    pub not_read: BTreeSet<String>,
    /// Codes of clients with a file at fault.
    pub at_fault: BTreeSet<String>,
}

impl<'a> Survey<'a> {
    /// Looks a folder over, reads what is not known, and tells what is to be known next time; nothing when the long way has to be
    /// taken.
    #[must_use]
    pub fn of(listed: &'a Listed, known: &Known, text_of: &TextOf<'_>) -> Option<(Self, Found)> {
        let house = read(&listed.texts);
        let (salon, _) = house.house.as_ref()?;
        // Whether a code is too fine may depend on a single client whose page is sealed.
        if house.report.has_fault() || module_too_small(&salon.base_address, true).is_some() {
            return None;
        }
        let digested = |entry: &Entry| {
            if let Some((owner, digest)) = entry.mark.and_then(|mark| known.of(mark)) {
                return Some((Cow::Borrowed(owner), digest));
            }
            let text = text_of(&entry.name)?;
            Some((Cow::Owned(owner(&text)?.to_string()), text_key(&text)))
        };
        let digests = |entries: &[Entry]| entries.par_iter().map(digested).collect::<Option<Vec<_>>>();
        let (clients, records) = (digests(&listed.clients)?, digests(&listed.records)?);
        let all = listed.clients.iter().zip(&clients).chain(listed.records.iter().zip(&records));
        let mut found = Found::default();
        for (mark, (owner, digest)) in all.filter_map(|(entry, read)| Some((entry.mark?, read))) {
            found.add(mark, owner, digest);
        }
        let clients = by_client(listed, &clients, &records)?;
        let diary = house.diary.as_ref().map(|diary| (diary, &house.rows));
        let client = |(code, mut files): (ClientCode, Vec<(&'a str, Key)>)| {
            files[1..].sort_unstable();
            let own = client_key(files.iter().map(|(_, digest)| *digest), diary, &code);
            Files { code, names: files.into_iter().map(|(name, _)| name).collect(), own }
        };
        let clients = clients.into_par_iter().map(client).collect();
        Some((Self { house, clients }, found))
    }

    /// The salon and its theme.
    #[must_use]
    pub fn house(&self) -> Option<(&Salon, &Theme)> {
        self.house.house.as_ref().map(|(salon, theme)| (salon, theme))
    }

    /// How many clients have a file.
    #[must_use]
    pub fn clients(&self) -> usize {
        self.clients.len()
    }

    /// Whether there is anything about a client with one of these marks: somebody who was forgotten came back.
    #[must_use]
    pub fn has_any(&self, forgotten: &BTreeSet<String>, secret: &Secret) -> bool {
        let known = |code: &ClientCode| forgotten.contains(&forgotten_mark(secret.bytes(), code));
        !forgotten.is_empty() && self.clients.iter().map(|one| &one.code).chain(self.house.rows.keys()).any(known)
    }
}

/// A client's files with their digests, their own first.
type Digested<'a> = (ClientCode, Vec<(&'a str, Key)>);

/// Whose a file is, and a digest of it.
type Owned<'a> = (Cow<'a, str>, Key);

/// The files of each client, in the order of their codes; nothing when two files are about one client, or a visit is nobody's.
fn by_client<'a>(listed: &'a Listed, clients: &[Owned<'_>], records: &[Owned<'_>]) -> Option<Vec<Digested<'a>>> {
    let mut own: Vec<(&str, &str, Key)> =
        listed.clients.iter().zip(clients).map(|(entry, (owner, digest))| (&**owner, &*entry.name, *digest)).collect();
    own.par_sort_unstable();
    let places: HashMap<&str, usize> = own.iter().enumerate().map(|(place, (owner, ..))| (*owner, place)).collect();
    if places.len() < own.len() {
        return None;
    }
    let mut files: Vec<_> = own.iter().map(|(_, name, digest)| vec![(*name, *digest)]).collect();
    for (entry, (owner, digest)) in listed.records.iter().zip(records) {
        files[*places.get(&**owner)?].push((entry.name.as_str(), *digest));
    }
    own.iter().zip(files).map(|((owner, ..), files)| Some((ClientCode::try_new(owner)?, files))).collect()
}

/// Makes every part that does not stand and hands it out as soon as it is whole; nothing when the long way has to be taken after all.
///
/// # Errors
/// As [`build_each`](super::build_each()).
pub fn sweep<O: Outlet>(
    survey: &Survey<'_>,
    secret: &Secret,
    today: NaiveDate,
    out: &O,
    text_of: &TextOf<'_>,
) -> Result<Option<Swept>, Stopped<O::Failure>> {
    let Some((salon, theme)) = survey.house() else { return Ok(None) };
    let run = Run { read: &survey.house, salon, theme, secret, today, out, said_of: BTreeMap::new() };
    let sweep = Sweep { survey, salon, run, text_of };
    let all = (0..survey.clients.len()).into_par_iter();
    let found: Vec<Option<Became>> = all.map(|at| sweep.client(at)).collect::<Result<_, _>>()?;
    let Some(found) = found.into_iter().collect::<Option<Vec<Became>>>() else { return Ok(None) };
    let (mut current, mut with_visits) = (Vec::new(), 0);
    let (mut report, mut sources, mut at_fault) = (survey.house.report.clone(), Vec::new(), BTreeSet::new());
    let mut not_read = BTreeSet::new();
    for (one, files) in found.into_iter().zip(&survey.clients) {
        match one {
            Became::Stands(standing, told) => {
                with_visits += 1;
                current.extend(standing);
                not_read.extend(told.iter().map(|item| item.file.clone()));
                report.items.extend(told);
            }
            Became::Read(read) => {
                with_visits += usize::from(read.with_visits);
                current.extend(read.current);
                report.extend(read.told);
                sources.extend(read.texts);
                at_fault.extend(read.at_fault.then(|| files.code.to_string()));
            }
        }
    }
    let moved = Cell::new(false);
    let history = |at| {
        let opened = sweep.open(at);
        moved.set(moved.get() || opened.is_none());
        opened?.history
    };
    let Seen { pages, first_page } = sweep.run.last_seen(current, history)?;
    if moved.get() {
        return Ok(None);
    }
    let told = Told { kept: kept_of(&at_fault, salon, secret), pages, expired: with_visits - pages, first_page };
    Ok(Some(Swept { told, report, sources, not_read, at_fault }))
}

/// What became of a client.
enum Became {
    /// The part still stands, and there is the same to say; without a page when the plan has expired.
    Stands(Option<Current>, Vec<Diagnostic>),
    /// The texts were read.
    Read(Box<ReadClient>),
}

/// A client whose texts were read.
struct ReadClient {
    current: Option<Current>,
    /// Whether there is a history.
    with_visits: bool,
    at_fault: bool,
    told: Report,
    /// The texts something is said of.
    texts: Vec<SourceText>,
}

/// A client's texts, read.
struct Opened {
    history: Option<History>,
    at_fault: bool,
    told: Report,
    texts: Vec<SourceText>,
}

/// One sweep over a folder.
struct Sweep<'a, O> {
    survey: &'a Survey<'a>,
    salon: &'a Salon,
    run: Run<'a, O>,
    text_of: &'a TextOf<'a>,
}

impl<O: Outlet> Sweep<'_, O> {
    /// One client; nothing when the long way has to be taken.
    fn client(&self, at: usize) -> Result<Option<Became>, Stopped<O::Failure>> {
        let (own, run) = (self.survey.clients[at].own, &self.run);
        let key = self.survey.house.inputs.joined(run.secret, [own]);
        let standing = |part: &str, last_seen: NaiveDate, still: Still| {
            let path = part.strip_prefix("public/").unwrap_or(part).to_owned();
            (still == Still::Shown).then_some(Current { at, own, path, last_seen })
        };
        if let Some(Stood { part, about, still }) = run.out.stood(&key, run.today) {
            return Ok(Some(Became::Stands(standing(&part, about.last_seen, still), about.told)));
        }
        let Some(Opened { history, at_fault, told, texts }) = self.open(at) else { return Ok(None) };
        let mut current = None;
        if let Some(history) = &history {
            let last_seen = history.last_seen();
            let about = About { last_seen, told: told.items.clone() };
            let part = format!("public/{}", link_of(&history.client, self.salon, run.secret).path);
            let still = match run.out.stands(&part, &key, run.today) {
                Some(still) => still,
                None if run.put(history, key, about)? => Still::Shown,
                None => Still::Expired,
            };
            current = standing(&part, last_seen, still);
        }
        let with_visits = history.is_some();
        Ok(Some(Became::Read(Box::new(ReadClient { current, with_visits, at_fault, told, texts }))))
    }

    /// Reads and checks a client's texts; nothing when what they say is more than about this client.
    fn open(&self, at: usize) -> Option<Opened> {
        let Files { code, names, own } = &self.survey.clients[at];
        let mut clients: Vec<SourceText> = names.iter().map(|name| (self.text_of)(name)).collect::<Option<_>>()?;
        let diary = self.survey.house.diary.as_ref().map(|diary| (diary, &self.survey.house.rows));
        // Whoever writes in a file meanwhile gets a page of what it says now, and not under the key of what it said.
        (client_key(clients.iter().map(text_key), diary, code) == *own).then_some(())?;
        let records = clients.split_off(1);
        let texts = Texts { clients, records, ..Texts::default() };
        let mut told = Report::default();
        let People { mut histories, at_fault, owner_unknown } = people(&texts, Some(self.salon), &mut told);
        let said_of: BTreeSet<&str> = told.items.iter().map(|item| item.file.as_str()).collect();
        let texts = texts.clients.into_iter().chain(texts.records);
        let texts: Vec<SourceText> = texts.filter(|text| said_of.contains(text.name.as_str())).collect();
        let faulty = told.files_at_fault();
        let of_another = |text: &SourceText| client_named_in(text).as_ref() != Some(code);
        if owner_unknown || texts.iter().any(|text| faulty.contains(text.name.as_str()) && of_another(text)) {
            return None;
        }
        Some(Opened { history: histories.pop(), at_fault: !at_fault.is_empty(), told, texts })
    }
}

/// Whose a file is.
fn owner(text: &SourceText) -> Option<ClientCode> {
    named_at_the_top(&text.text).filter(|_| text.name.starts_with("records/")).or_else(|| client_named_in(text))
}

/// The client a record names in one of its first plain lines, `client = "…"`, as people and the chairside write it.
///
/// Only simple lines may stand before it; of any other text the parser says whose it is. What is said here is compared with
/// what the parser says when the record is read.
fn named_at_the_top(text: &str) -> Option<ClientCode> {
    for line in text.lines().map(str::trim).filter(|line| !line.is_empty() && !line.starts_with('#')) {
        let (name, value) = line.split_once('=')?;
        let value = value.trim();
        if name.trim() == "client" {
            let (code, rest) = value.strip_prefix('"')?.split_once('"')?;
            let plain = !code.contains('\\') && (rest.trim().is_empty() || rest.trim().starts_with('#'));
            return ClientCode::try_new(code).filter(|_| plain);
        }
        if !value.starts_with(|first: char| first.is_ascii_alphanumeric()) {
            return None;
        }
    }
    None
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn whose_a_record_is_stands_in_its_first_plain_lines_or_the_parser_says_it() {
        let named = |text: &str| named_at_the_top(text).map(|code| code.to_string());
        let plain = "# a card\n\n  client=\"wren-04\" # hers\n[x]\nclient = \"b\"";
        for text in ["format = 1\nclient = \"wren-04\"\n", plain] {
            assert_eq!(named(text).as_deref(), Some("wren-04"), "{text}");
        }
        for text in [
            "",
            "format = 1\n[hair]\nclient = \"wren-04\"",
            "note = \"\"\"\nclient = \"wren-04\"\n\"\"\"\nclient = \"ash-14\"",
            "note = '''\nclient = \"wren-04\"\n'''",
            "list = [\n\"a\", \n]\nclient = \"wren-04\"",
            "client = \"wren-04\" more",
            "client = 'wren-04'",
            "client = \"\\u0077ren-04\"",
            "\"client\" = \"wren-04\"",
        ] {
            assert_eq!(named(text), None, "{text}");
        }
    }
}
