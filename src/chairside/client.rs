//! A client who is here for the first time: a code, how to reach them, age and consents.
//!
//! In: a few fields. Out: a client file, and the visit begun. Knows nothing of: visits.

use std::collections::BTreeMap;

use serde_json::json;

use crate::diagnostic::{Diagnostic, SourceText};
use crate::form::{Remarks, Typed, filled_in};
use crate::record::{self, CLIENT, ClientCode};
use crate::workspace;

use super::fields::{ToldView, told_view, view};
use super::house::House;
use super::reply::{Asked, Reply, words_of};
use super::{page, visit};

/// What is asked of a new client; everything else can be told in the file later.
const ASKED: [(&str, &str); 5] = [
    ("first_name", "First name"),
    ("show_first_name", "Show it on the page"),
    ("contact.phone", "Phone, with + and the country's number"),
    ("contact.email", "E-mail"),
    ("age.sixteen_or_over", "Sixteen or over"),
];

/// Consents that are given by a tick, dated today.
const CONSENTS: [(&str, &str); 4] = [
    ("consents.service", "To the service"),
    ("consents.health_data", "To keep what they tell of their health"),
    ("consents.photo", "To a photo"),
    ("consents.marketing", "To news"),
];

/// The empty form.
pub(super) fn empty(house: &House, asked: &Asked) -> Reply {
    form(house, asked, &Typed::new(), &propose(house), &BTreeMap::new(), 200)
}

/// A code nobody has: never a name.
fn propose(house: &House) -> String {
    let opened = house.opened().ok();
    let taken = |code: &str| {
        opened
            .as_ref()
            .is_some_and(|opened| opened.texts.clients.iter().any(|one| one.name == format!("clients/{code}.toml")))
    };
    (1..10_000).map(|number| format!("client-{number:02}")).find(|code| !taken(code)).unwrap_or_default()
}

fn form(
    house: &House,
    asked: &Asked,
    typed: &Typed,
    code: &str,
    told: &BTreeMap<String, Vec<Diagnostic>>,
    status: u16,
) -> Reply {
    let fields: Vec<_> = ASKED.iter().map(|(place, label)| view(&CLIENT, typed, told, place, label)).collect();
    let consents: Vec<_> = CONSENTS.iter()
        .map(|(place, label)| json!({ "place": place, "label": label, "ticked": typed.get(*place).is_some_and(|text| !text.is_empty()) })).collect();
    let rest: Vec<ToldView> = told
        .iter()
        .filter(|(place, _)| ASKED.iter().all(|(asked, _)| asked != place))
        .flat_map(|(_, told)| told)
        .map(told_view)
        .collect();
    let today = house.opened().map(|opened| house.today(&opened).to_string()).unwrap_or_default();
    page::page(
        status,
        "client.html",
        &json!({
            "title": "A new client", "csrf": asked.session.csrf, "code": code, "fields": fields, "consents": consents, "told": rest, "today": today,
        }),
    )
}

/// Writes the client file and begins the visit; with a fault, shows the form again with everything typed.
pub(super) fn new(house: &House, asked: &Asked) -> Reply {
    let opened = match house.opened() {
        Ok(opened) => opened,
        Err(failure) => return page::plain(500, "The salon cannot be read", &words_of(&failure)),
    };
    let today = house.today(&opened).to_string();
    let code = asked.field("code").trim().to_owned();
    let mut typed: Typed = [("format".to_owned(), "1".to_owned())].into();
    for (place, _) in ASKED {
        typed.insert(place.to_owned(), asked.field(place).trim().to_owned());
    }
    for (place, _) in CONSENTS {
        typed.insert(place.to_owned(), if asked.field(place).is_empty() { String::new() } else { today.clone() });
    }
    if !typed["age.sixteen_or_over"].is_empty() {
        typed.insert("age.confirmed".to_owned(), today);
    }
    let file = format!("clients/{code}.toml");
    let mut told: BTreeMap<String, Vec<Diagnostic>> = BTreeMap::new();
    let mut tell = |place: &str, one: Diagnostic| told.entry(place.to_owned()).or_default().push(one);
    if ClientCode::try_new(&code).is_none() {
        tell("code", Diagnostic::fault(&file, "a code is 2 to 32 small letters, digits or hyphens, and never a name"));
    } else if opened.texts.clients.iter().any(|one| one.name == file) || house.folder.join(&file).exists() {
        tell("code", Diagnostic::fault(&file, format!("the code \"{code}\" is another client's")));
    }
    let written = filled_in(&CLIENT, &typed, &Remarks::default());
    let source = SourceText::new(&*file, &*written.text);
    let report = record::read_client(&source).report;
    let faulty = report.has_fault();
    for one in report.items {
        let place = one.span.as_ref().and_then(|span| written.place_of(span)).unwrap_or_default().to_owned();
        tell(&place, one);
    }
    if faulty || told.contains_key("code") {
        return form(house, asked, &typed, &code, &told, 422);
    }
    let kept = workspace::lock(&house.folder, || {})
        .and_then(|_lock| workspace::store_unless_changed(&house.folder.join(&file), None, written.text.as_bytes()))
        .and_then(|()| house.again());
    match kept {
        Ok(_) => visit::start(house, &code),
        Err(failure) => page::plain(500, "That cannot be written", &words_of(&failure)),
    }
}
