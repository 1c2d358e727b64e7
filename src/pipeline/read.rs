//! From texts to histories: every file checked, clients and visits brought together.

use std::collections::BTreeSet;

use rayon::prelude::*;

use crate::care::Library;
use crate::diagnostic::{Checked, Diagnostic, Report, SourceText, did_you_mean};
use crate::page::cards::module_too_small;
use crate::page::catalogue::Catalogue;
use crate::record::{self, ClientFile, History, Known, ServiceRecord, Shareable};
use crate::salon::{self, Salon, SalonEstimate};
use crate::site::logo::{Logo, logo};
use crate::site::theme::{self, Theme};
use crate::site::trial;
use crate::units::PeroxidePercent;
use crate::workspace::Texts;

/// What the texts of a salon folder say.
#[derive(Debug)]
pub struct Read {
    /// The salon with its theme; nothing when its own file, its theme or its stored estimate is at fault.
    pub house: Option<(Salon, Theme)>,
    /// The care passages: shipped ones and the salon's own.
    pub library: Library,
    /// Every client with visits, by code; those with a file at fault are left out.
    pub histories: Vec<History>,
    /// Codes of clients with a file at fault: their last good page stays.
    pub at_fault: BTreeSet<String>,
    /// Everything there is to say.
    pub report: Report,
}

/// Reads every text and brings clients and visits together.
#[must_use]
pub fn read(texts: &Texts) -> Read {
    let mut report = texts.report.clone();
    let salon = texts.salon.as_ref().and_then(|source| kept(salon::read_salon(source), &mut report));
    let estimate = texts.estimate.as_ref().map(|source| kept(salon::read_estimate(source), &mut report));
    let clients: Vec<ClientFile> = each(&texts.clients, record::read_client, &mut report);
    let visits: Vec<ServiceRecord> = each(&texts.records, record::read_visit, &mut report);
    let stylists: Vec<String> = salon.iter().flat_map(|salon| &salon.stylists).map(|one| one.code.clone()).collect();
    let scalp_peroxide_max = salon.as_ref().map_or(6.0, |salon| salon.practice.scalp_peroxide_max);
    let mut at_fault = clients_at_fault(texts, &report);
    let codes: Vec<String> = at_fault.iter().cloned().collect();
    let known = Known {
        stylists: &stylists,
        scalp_peroxide_max: PeroxidePercent::try_new(scalp_peroxide_max).unwrap_or(PeroxidePercent::from_percent(6.0)),
        clients_at_fault: &codes,
    };
    let (mut histories, together) = record::histories(clients, visits, &known);
    report.extend(together);
    at_fault.extend(clients_at_fault(texts, &report));
    histories.retain(|history| !at_fault.contains(history.client.code.as_str()));
    let (library, own) = Library::shipped("en").expect("English is shipped").with_own(&texts.content);
    report.extend(own);
    let house = salon.and_then(|mut salon| {
        // Without a readable estimate no page may be written: it would silently say something else.
        salon.estimate = estimate.unwrap_or(Some(SalonEstimate::default()))?;
        report.extend(small_code(&salon, texts.salon.as_ref()));
        let logo = logo_of(&salon, texts).map_err(|fault| report.push(*fault)).ok();
        let theme = theme_of(&salon, &texts.themes, &mut report)?.with_logo(logo?);
        Some((salon, theme))
    });
    Read { house, library, histories, at_fault, report }
}

/// A caution when the base address makes the code of a card too fine to read well.
fn small_code(salon: &Salon, source: Option<&SourceText>) -> Report {
    let Some((module, least)) = module_too_small(&salon.base_address) else { return Report::default() };
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

/// Codes of clients of whom a file is at fault.
fn clients_at_fault(texts: &Texts, report: &Report) -> BTreeSet<String> {
    let at_fault = report.files_at_fault();
    let named = |source: &SourceText| record::client_named_in(source);
    texts
        .clients
        .iter()
        .chain(&texts.records)
        .filter(|source| at_fault.contains(source.name.as_str()))
        .filter_map(named)
        .map(|code| code.to_string())
        .collect()
}
