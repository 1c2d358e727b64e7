//! From texts to histories: every file checked, clients and visits brought together.

use std::collections::{BTreeMap, BTreeSet};

use chrono::NaiveDate;
use rayon::prelude::*;

use super::key::Inputs;
use crate::care::Library;
use crate::diagnostic::{Checked, Diagnostic, Report, SourceText, did_you_mean};
use crate::page::cards::module_too_small;
use crate::page::catalogue::Catalogue;
use crate::page::finished::Finished;
use crate::page::markdown::{self, Origin};
use crate::record::{self, ClientCode, ClientFile, History, Known, ServiceRecord, Shareable};
use crate::salon::{self, Salon, SalonEstimate};
use crate::schedule::diary::{Diary, read_bookings};
use crate::site::logo::{Logo, logo};
use crate::site::theme::{self, Theme};
use crate::site::trial;
use crate::units::PeroxidePercent;
use crate::workspace::{BOOKINGS_FILE, ESTIMATE_FILE, Texts};

/// What the texts of a salon folder say.
#[derive(Debug)]
pub struct Read {
    /// The salon with its theme; nothing when its own file, its theme or its stored estimate is at fault.
    pub house: Option<(Salon, Theme)>,
    /// The care passages: shipped ones and the salon's own.
    pub library: Library,
    /// What the passages say to those who get them.
    pub finished: Finished,
    /// Every client with visits, by code; those with a file at fault are left out.
    pub histories: Vec<History>,
    /// Codes of clients with a file at fault: their last good page stays.
    pub at_fault: BTreeSet<String>,
    /// What is proposed and booked; nothing when the bookings file is at fault.
    pub diary: Option<Diary>,
    /// Each client's places in the diary.
    pub(super) rows: BTreeMap<ClientCode, Vec<usize>>,
    /// Whether a visit record is at fault of which nobody can tell whose it is: then no page may be removed.
    pub owner_unknown: bool,
    /// What each page is made from, as keys.
    pub(super) inputs: Inputs,
    /// Everything there is to say.
    pub report: Report,
}

/// Reads every text and brings clients and visits together.
#[must_use]
pub fn read(texts: &Texts) -> Read {
    let mut report = texts.report.clone();
    let salon = texts.salon.as_ref().and_then(|source| kept(salon::read_salon(source), &mut report));
    // A file that is there and could not be read is not a file that is not there.
    let absent = |name: &str| texts.report.items.iter().all(|item| item.file != name);
    let estimate = match &texts.estimate {
        Some(source) => kept(salon::read_estimate(source), &mut report),
        None => absent(ESTIMATE_FILE).then(SalonEstimate::default),
    };
    let diary = match &texts.bookings {
        Some(source) => kept(read_bookings(source), &mut report),
        None => absent(BOOKINGS_FILE).then(Diary::default),
    };
    let People { histories, at_fault, owner_unknown } = people(texts, salon.as_ref(), &mut report);
    let (library, own) = Library::shipped("en").expect("English is shipped").with_own(&texts.content);
    report.extend(own);
    let house = salon.and_then(|mut salon| {
        // Without readable bookings a page would forget one.
        diary.as_ref()?;
        // Without a readable estimate no page may be written: it would silently say something else.
        salon.estimate = estimate?;
        report.extend(small_code(&salon, &histories, texts.salon.as_ref()));
        let logo = logo_of(&salon, texts).map_err(|fault| report.push(*fault)).ok();
        let theme = theme_of(&salon, &texts.themes, &mut report)?.with_logo(logo?);
        Some((salon, theme))
    });
    let rows = diary.as_ref().map(Diary::by_client).unwrap_or_default();
    let inputs = Inputs::of(texts, &histories, diary.as_ref().map(|diary| (diary, &rows)));
    Read {
        house,
        library,
        finished: Finished::default(),
        histories,
        at_fault,
        rows,
        owner_unknown,
        diary,
        inputs,
        report,
    }
}

/// Who is on record.
pub(super) struct People {
    /// Every client with visits, by code; those with a file at fault are left out.
    pub(super) histories: Vec<History>,
    /// Codes of clients with a file at fault.
    pub(super) at_fault: BTreeSet<String>,
    /// Whether a visit record is at fault of which nobody can tell whose it is.
    pub(super) owner_unknown: bool,
}

/// Brings clients and visits together; the report gets everything there is to say about them.
pub(super) fn people(texts: &Texts, salon: Option<&Salon>, report: &mut Report) -> People {
    let clients: Vec<ClientFile> = each(&texts.clients, record::read_client, report);
    let visits: Vec<ServiceRecord> = each(&texts.records, record::read_visit, report);
    let stylists: Vec<String> = salon.iter().flat_map(|salon| &salon.stylists).map(|one| one.code.clone()).collect();
    let scalp_peroxide_max = salon.map_or(6.0, |salon| salon.practice.scalp_peroxide_max);
    let (mut at_fault, _) = clients_at_fault(texts, report);
    let codes: Vec<String> = at_fault.iter().cloned().collect();
    let known = Known {
        stylists: &stylists,
        scalp_peroxide_max: PeroxidePercent::try_new(scalp_peroxide_max).unwrap_or(PeroxidePercent::from_percent(6.0)),
        clients_at_fault: &codes,
    };
    let (mut histories, together) = record::histories(clients, visits, &known);
    report.extend(together);
    let (also, owner_unknown) = clients_at_fault(texts, report);
    at_fault.extend(also);
    histories.retain(|history| !at_fault.contains(history.client.code.as_str()));
    for history in &histories {
        report.extend(bombs(history));
    }
    People { histories, at_fault, owner_unknown }
}

/// A caution when the base address makes the code of a card too fine to read well.
fn small_code(salon: &Salon, histories: &[History], source: Option<&SourceText>) -> Report {
    let sealed = salon.sealed || histories.iter().any(|history| history.client.sealed == Some(true));
    let Some((module, least)) = module_too_small(&salon.base_address, sealed) else { return Report::default() };
    let message = if module > 0.0 {
        format!("the code on the cards has squares of {module:.2} mm; under {least:.1} mm phones read it badly")
    } else {
        "no code holds an address this long, so no card is written".to_owned()
    };
    let mut caution = Diagnostic::caution("salon.toml", message).hint("A shorter base address makes larger squares.");
    if let Some(at) = source.and_then(|source| source.text.find(&salon.base_address)) {
        caution = caution.at(at..at + salon.base_address.len(), "this address is long");
    }
    Report { items: vec![caution] }
}

/// The salon's theme: a shipped one, or the files of its own folder over "paper".
fn theme_of(salon: &Salon, texts: &[SourceText], report: &mut Report) -> Option<Theme> {
    let folder = format!("themes/{}/", salon.theme);
    let own: Vec<SourceText> = texts.iter().filter(|text| text.name.starts_with(&folder)).cloned().collect();
    let Some(shipped) = theme::shipped(&salon.theme).or((!own.is_empty()).then(Vec::new)) else {
        let fault = Diagnostic::fault("salon.toml", format!("there is no theme \"{}\"", salon.theme));
        let names = theme::SHIPPED.join(", ");
        report.push(fault.hint(format!("The themes are: {names}; one of your own stands in {folder}")));
        return None;
    };
    let theme = kept(theme::read(&[shipped, own].concat()), report)?;
    let tried = trial::faults(&theme);
    let sound = !tried.has_fault();
    report.extend(tried);
    sound.then_some(theme)
}

/// The salon's sign; a fault when it is not there or is none.
fn logo_of(salon: &Salon, texts: &Texts) -> Result<Option<Logo>, Box<Diagnostic>> {
    let Some(name) = &salon.logo else { return Ok(None) };
    let Some(bytes) = texts.pictures.get(name) else {
        let message = format!("there is no picture \"{name}\", or it is larger than 1 MB");
        let mut fault =
            Diagnostic::fault("salon.toml", message).hint("Put an SVG or PNG of that name beside salon.toml.");
        let written = format!("\"{name}\"");
        if let Some(at) = texts.salon.as_ref().and_then(|source| source.text.find(&written)) {
            fault = fault.at(at..at + written.len(), "this file");
        }
        return Err(Box::new(fault));
    };
    logo(name, bytes).map(Some)
}

/// Reads every text of a list on all cores; what there is to say comes in the order of the list.
fn each<T: Send>(texts: &[SourceText], read: fn(&SourceText) -> Checked<T>, report: &mut Report) -> Vec<T> {
    let checked: Vec<Checked<T>> = texts.par_iter().map(read).collect();
    checked.into_iter().filter_map(|checked| kept(checked, report)).collect()
}

fn kept<T>(checked: Checked<T>, report: &mut Report) -> Option<T> {
    report.extend(checked.report);
    checked.value
}

/// A caution for each visit of a day that has not come yet: most often last year's habit, or a month and a day changed round.
#[must_use]
pub fn still_to_come(read: &Read, today: NaiveDate) -> Report {
    let caution = |visit: &ServiceRecord| {
        let message = format!("this visit is of {}, and today is {today}", visit.date);
        Diagnostic::caution(&visit.file, message)
            .at(visit.date_span.clone(), "still to come")
            .hint("Correct the day: every date on the client's page is counted from it.")
    };
    let visits = read.histories.iter().flat_map(|history| &history.visits);
    Report { items: visits.filter(|visit| visit.date > today).map(caution).collect() }
}

/// What to say about a client's code that no history has.
#[must_use]
pub fn no_such_client(read: &Read, code: &str) -> String {
    let codes: Vec<&str> = read.histories.iter().map(|history| history.client.code.as_str()).collect();
    match did_you_mean(code, &codes) {
        Some(near) => format!("no client \"{code}\" has a visit on record; did you mean \"{near}\"?"),
        None => format!("no client \"{code}\" has a visit on record; the codes are the names of the files in clients/"),
    }
}

/// The words of a client's language, else of the salon's, else English.
#[must_use]
pub fn words(history: &Shareable, salon: &Salon) -> &'static Catalogue {
    let own = history.client().language.as_deref().unwrap_or(&salon.language);
    words_of(&[own, &salon.language])
}

/// The words of the first language that is shipped, else English.
pub(super) fn words_of(languages: &[&str]) -> &'static Catalogue {
    let wanted = languages.iter().copied().chain(["en"]);
    wanted.into_iter().find_map(Catalogue::shipped).expect("English is shipped")
}

/// A caution for each note that is shown as it was written, because as Markdown it would be too deep or too large.
fn bombs(history: &History) -> Report {
    let caution = |visit: &ServiceRecord| {
        let why = markdown::refusal(visit.note.as_deref()?, Origin::Note)?;
        let message = format!("the note to the client {why}, so the page shows it as it was written");
        Some(Diagnostic::caution(&visit.file, message).hint("Write it in a few plain sentences."))
    };
    Report { items: history.visits.iter().filter_map(caution).collect() }
}

/// Codes of clients of whom a file is at fault, and whether there is a record at fault of which nobody can tell whose it is.
///
/// A record tells its client by what it names; one in which that cannot be read, by a client's code in its file's name.
fn clients_at_fault(texts: &Texts, report: &Report) -> (BTreeSet<String>, bool) {
    let names = report.files_at_fault();
    let named = |source: &&SourceText| record::client_named_in(source).map(|code| code.to_string());
    let all = || texts.clients.iter().chain(&texts.records).chain(&texts.unread);
    let codes: Vec<String> =
        all().filter(|source| source.name.starts_with("clients/")).filter_map(|source| named(&source)).collect();
    let (mut at_fault, mut unknown) = (BTreeSet::new(), false);
    for source in all().filter(|source| names.contains(source.name.as_str())) {
        let owners: Vec<String> = match named(&source) {
            Some(code) => vec![code],
            None if source.name.starts_with("clients/") => Vec::new(),
            None => {
                // The longest code in the name: "wren" is also in "wren-04".
                let named = codes.iter().filter(|code| source.name.contains(*code));
                let owners: Vec<String> = named.max_by_key(|code| code.len()).cloned().into_iter().collect();
                unknown |= owners.is_empty();
                owners
            }
        };
        at_fault.extend(owners);
    }
    (at_fault, unknown)
}
