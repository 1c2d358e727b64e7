//! The texts of a salon that must not stand in anything public, for whoever looks over the pages before they leave.
//!
//! That no page holds them is made sure of elsewhere, by what a page can see; this is the second look, at the bytes.
//! It leaves out what ordinary words of the pages say as well, so that it never cries wolf: a client called Rose, a
//! remark "dry ends". What is left out is not looked for.

use crate::page::catalogue::Catalogue;
use crate::page::link::Link;
use crate::record::{Health, History};
use crate::salon::Salon;
use crate::workspace::Secret;

use super::{Read, link_of};

/// The fewest letters of a remark that is looked for, and the fewest words; less may be said by chance.
const SHORTEST_REMARK: (usize, usize) = (12, 2);

/// The fewest letters of a code or a name that is looked for.
const SHORTEST_NAME: usize = 3;

/// A text that must not be public.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PrivateText {
    /// The text.
    pub text: String,
    /// What it is, without saying it.
    pub what: String,
    /// The beginning of the path, below `public/`, of the files in which it must not stand; nothing means in none.
    pub only_in: Option<String>,
}

/// Every text of a salon that must not stand in anything public: the secret, codes of clients, ways to reach them,
/// remarks about health and history, advice for the sheet, and a first name where the client does not want it shown.
#[must_use]
pub fn private_texts(read: &Read, salon: &Salon, secret: &Secret) -> Vec<PrivateText> {
    let secret_text = data_encoding::HEXLOWER.encode(secret.bytes());
    let mut texts = vec![anywhere(&secret_text, "the link secret".to_owned())];
    for history in &read.histories {
        texts.extend(of_client(history, &link_of(&history.client, salon, secret)));
    }
    let said = said_in_public(read, salon);
    texts.retain(|private| !said.contains(&folded(&private.text)));
    texts.sort_by(|one, other| (&one.text, &one.only_in).cmp(&(&other.text, &other.only_in)));
    texts.dedup_by(|one, other| one.text == other.text && one.only_in == other.only_in);
    texts
}

fn anywhere(text: &str, what: String) -> PrivateText {
    PrivateText { text: text.to_owned(), what, only_in: None }
}

fn of_client(history: &History, link: &Link) -> Vec<PrivateText> {
    let (client, code) = (&history.client, history.client.code.as_str());
    let mut texts = Vec::new();
    let mixed = code.chars().any(|c| c.is_ascii_digit()) && code.chars().any(|c| c.is_ascii_alphabetic());
    if mixed && code.len() >= SHORTEST_NAME {
        texts.push(anywhere(code, format!("the code of {code}")));
    }
    if let Some(phone) = &client.contact.phone {
        let digits: String = phone.chars().filter(char::is_ascii_digit).collect();
        texts.extend([phone.as_str(), &digits].map(|text| anywhere(text, format!("the phone number of {code}"))));
    }
    if let Some(email) = &client.contact.email {
        texts.push(anywhere(email, format!("the e-mail address of {code}")));
    }
    let hidden =
        client.first_name.as_ref().filter(|name| !client.show_first_name && name.chars().count() >= SHORTEST_NAME);
    if let Some(name) = hidden {
        let what = format!("the first name of {code}, who does not want it shown");
        let stem = link.path.trim_end_matches(".html").to_owned();
        texts.push(PrivateText { text: name.clone(), what, only_in: Some(stem) });
    }
    let of_visits = history.visits.iter().flat_map(|visit| remarks(&visit.health).chain(visit.advice.iter()));
    let of_history = client.history.iter().filter_map(|entry| entry.note.as_ref());
    let remarks = remarks(&client.health).chain(of_history).chain(of_visits);
    let long = |text: &&String| {
        text.chars().count() >= SHORTEST_REMARK.0 && text.split_whitespace().count() >= SHORTEST_REMARK.1
    };
    texts.extend(remarks.filter(long).map(|text| anywhere(text, format!("a private remark about {code}"))));
    texts
}

/// What a person wrote about health, in words.
fn remarks(health: &Health) -> impl Iterator<Item = &String> {
    let tests = health.alert_tests.iter().filter_map(|test| test.product.as_ref());
    let reactions = health.reactions.iter().flat_map(|reaction| std::iter::once(&reaction.to).chain(&reaction.note));
    tests.chain(reactions).chain(health.incidents.iter().map(|incident| &incident.note))
}

/// All that pages may say anyway, as one text: passages, words of every language, the salon's own name and places.
fn said_in_public(read: &Read, salon: &Salon) -> String {
    let bare = |text: &crate::care::Text| text.fill(&|_| String::new(), &|_| String::new());
    let passages = read.library.passages().flat_map(|passage| passage.texts().map(bare).collect::<Vec<_>>());
    let words = Catalogue::languages()
        .filter_map(Catalogue::shipped)
        .flat_map(|catalogue| catalogue.texts().map(|(_, text)| text.to_owned()).collect::<Vec<_>>());
    let contact = &salon.contact;
    let places = [&contact.phone, &contact.text, &contact.email, &contact.address].into_iter().flatten().cloned();
    // A salon's number is written with and without blanks.
    let digits: Vec<String> = places.clone().map(|text| text.chars().filter(char::is_ascii_digit).collect()).collect();
    let notes = read.histories.iter().flat_map(|history| history.visits.iter().filter_map(|visit| visit.note.clone()));
    let all = passages.chain(words).chain(places).chain(digits).chain(notes).chain([salon.name.clone()]);
    folded(&all.collect::<Vec<_>>().join("\n"))
}

/// Small letters, and one blank for any white space.
fn folded(text: &str) -> String {
    text.to_lowercase().split_whitespace().collect::<Vec<_>>().join(" ")
}
