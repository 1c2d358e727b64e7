//! The texts of a salon that must not stand in anything public, for whoever looks over the pages before they leave.
//!
//! That no page holds them is made sure of elsewhere, by what a page can see; this is the second look, at the bytes.
//! Every text of a client's file and of a visit is private from the day its field is in the tables, but for those in
//! `LET_PASS`; files at fault and clients without a visit are no exception, because their last pages may still lie there.
//! Numbers, days and words from a list are not looked for: pages are full of such.
//! It leaves out what ordinary words of the pages say as well, so that it never cries wolf: a client called Rose, a
//! remark "dry ends". What is left out is not looked for.

use std::collections::{BTreeSet, HashSet};

use rayon::prelude::*;

use crate::diagnostic::SourceText;
use crate::form::{self, Field, Filled, Shape, Wants};
use crate::page::catalogue::Catalogue;
use crate::page::link::link;
use crate::record::{self, CLIENT, ClientCode};
use crate::salon::Salon;
use crate::workspace::{Secret, Texts};

use super::{LINK_NUMBERS_KEPT, Read};

/// The fewest letters of a remark that is looked for, and the fewest words; less may be said by chance.
const SHORTEST_REMARK: (usize, usize) = (12, 2);

/// The fewest letters of a code or a name that is looked for.
const SHORTEST_NAME: usize = 3;

/// Texts of a client's file or a visit that are not private, or not a client's.
const LET_PASS: [&str; 8] = [
    // A page is written in it.
    "language",
    // Said to the client, on the page.
    "note",
    // Who works in the salon: its own page may name them.
    "stylist",
    "health.alert_test.read_by",
    // Names of shades: a page says them, and so may a list of prices.
    "placement.zone.colour.name",
    "placement.zone.colour.hex",
    "placement.toning.target",
    "habits.colour_conditioner.shade",
];

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
pub fn private_texts(texts: &Texts, read: &Read, salon: &Salon, secret: &Secret) -> Vec<PrivateText> {
    let files: Vec<&SourceText> = texts.clients.iter().chain(&texts.records).chain(&texts.unread).collect();
    let of_files: Vec<OfFile> = files.into_par_iter().filter_map(|source| of_file(source, salon, secret)).collect();
    let secret_text = data_encoding::HEXLOWER.encode(secret.bytes());
    let mut private = vec![anywhere(&secret_text, "the link secret".to_owned())];
    let mut said = vec![said_in_public(read, salon)];
    for one in of_files {
        private.extend(one.private);
        said.extend(one.said);
    }
    let said = folded(&said.join("\n"));
    // Looked up by its words first: a text of a hundred thousand clients is not searched for each of theirs.
    let known: HashSet<&str> = words(&said).collect();
    private.retain(|private| {
        let text = folded(&private.text);
        !(words(&text).all(|word| known.contains(word)) && said.contains(&text))
    });
    private.sort_by(|one, other| (&one.text, &one.only_in).cmp(&(&other.text, &other.only_in)));
    private.dedup_by(|one, other| one.text == other.text && one.only_in == other.only_in);
    private
}

fn anywhere(text: &str, what: String) -> PrivateText {
    PrivateText { text: text.to_owned(), what, only_in: None }
}

/// What a file about one client says.
#[derive(Debug, Default)]
struct OfFile {
    private: Vec<PrivateText>,
    /// Texts that pages may say.
    said: Vec<String>,
}

/// The texts of one file; nothing when not even whose it is can be made out, or nothing in it could be read.
fn of_file(source: &SourceText, salon: &Salon, secret: &Secret) -> Option<OfFile> {
    let of_client = source.name.starts_with("clients/");
    let filled = form::read(source, if of_client { &CLIENT } else { &record::VISIT }).0?;
    let client = record::client_named_in(source);
    let mut found = OfFile::default();
    let whose = client.as_ref().map_or(source.name.as_str(), ClientCode::as_str);
    found.private.extend(client.iter().filter_map(|client| code_of(client.as_str())));
    if let Some(client) = client.as_ref().filter(|_| of_client) {
        found.private.extend(hidden_name(&filled, client, salon, secret));
    }
    filled.each_text(&mut |path, field, text| found.take(path, field, text, whose));
    Some(found)
}

impl OfFile {
    fn take(&mut self, path: &[&str], field: &Field, text: &str, whose: &str) {
        let place = path.iter().copied().chain([field.name]).collect::<Vec<_>>().join(".");
        let shape = match field.wants {
            Wants::Text(shape) | Wants::Texts(shape, _) => shape,
            _ => return,
        };
        if LET_PASS.contains(&place.as_str()) {
            self.said.push(text.to_owned());
            return;
        }
        match (place.as_str(), shape) {
            // Taken with the file's name; see `hidden_name`.
            ("first_name", _) => {}
            (_, Shape::Code) => self.private.extend(code_of(text)),
            (_, Shape::Phone) => {
                let what = format!("the phone number of {whose}");
                self.private.extend(phone_spellings(text).iter().map(|text| anywhere(text, what.clone())));
            }
            (_, Shape::Email) => self.private.push(anywhere(text, format!("the e-mail address of {whose}"))),
            _ => {
                let what = format!("a private remark about {whose}");
                self.private.extend(paragraphs(text).into_iter().map(|text| anywhere(text, what.clone())));
            }
        }
    }
}

/// A client's code, when no ordinary word looks like it.
fn code_of(code: &str) -> Option<PrivateText> {
    let mixed = code.chars().any(|c| c.is_ascii_digit()) && code.chars().any(|c| c.is_ascii_alphabetic());
    (mixed && code.len() >= SHORTEST_NAME).then(|| anywhere(code, format!("the code of {code}")))
}

/// A first name that the client does not want shown, on the client's own page; elsewhere it may be anybody's.
fn hidden_name(filled: &Filled, client: &ClientCode, salon: &Salon, secret: &Secret) -> Vec<PrivateText> {
    let hidden = filled.text("first_name").filter(|_| filled.yes("show_first_name") != Some(true));
    let Some(name) = hidden.filter(|name| name.chars().count() >= SHORTEST_NAME) else { return Vec::new() };
    let written: Option<u32> = filled.whole("link_number");
    // Where the number is what is at fault, the last good page lies under one of these.
    let unreadable = written.is_none() && filled.is_written("link_number");
    let numbers = if unreadable { 1..=LINK_NUMBERS_KEPT } else { written.unwrap_or(1)..=written.unwrap_or(1) };
    let stem = |number| link(secret.bytes(), client, number, &salon.base_address).path.replace(".html", "");
    let what = format!("the first name of {client}, who does not want it shown");
    numbers
        .map(|number| PrivateText { text: name.to_owned(), what: what.clone(), only_in: Some(stem(number)) })
        .collect()
}

/// The fewest digits of a phone number without its country that is looked for.
const SHORTEST_AT_HOME: usize = 7;

/// A phone number as people write it: its groups apart, joined or with other signs between them, and as it is dialled at
/// home, which in some countries is with a nought in front.
fn phone_spellings(phone: &str) -> BTreeSet<String> {
    let only = |group: &str| group.chars().filter(char::is_ascii_digit).collect::<String>();
    let abroad: Vec<String> = phone.split_whitespace().map(only).filter(|group| !group.is_empty()).collect();
    let mut ways = vec![abroad.clone()];
    // Without blanks nobody can tell where the country ends.
    if let [_country, at_home @ ..] = abroad.as_slice()
        && at_home.concat().len() >= SHORTEST_AT_HOME
    {
        let mut with_nought = at_home.to_vec();
        with_nought[0].insert(0, '0');
        ways.extend([at_home.to_vec(), with_nought]);
    }
    ways.iter().flat_map(|groups| [" ", "", "-", "."].map(|sign| groups.join(sign))).collect()
}

/// The parts of a remark that are looked for: its paragraphs, which mark-up would put apart, else the whole of it.
fn paragraphs(text: &str) -> Vec<&str> {
    let long =
        |text: &&str| text.chars().count() >= SHORTEST_REMARK.0 && text.split_whitespace().count() >= SHORTEST_REMARK.1;
    let parts: Vec<&str> = text.split("\n\n").map(str::trim).filter(long).collect();
    if parts.is_empty() { Some(text).filter(long).into_iter().collect() } else { parts }
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
    let numbers = [&contact.phone, &contact.text].into_iter().flatten().flat_map(|phone| phone_spellings(phone));
    let all = passages.chain(words).chain(places).chain(numbers).chain([salon.name.clone()]);
    all.collect::<Vec<_>>().join("\n")
}

/// The words of a text, as the look over the pages takes them.
fn words(text: &str) -> impl Iterator<Item = &str> {
    text.split(|c: char| c.is_ascii() && !c.is_ascii_alphanumeric()).filter(|word| !word.is_empty())
}

/// Small letters, and one blank for any white space.
fn folded(text: &str) -> String {
    text.to_lowercase().split_whitespace().collect::<Vec<_>>().join(" ")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_phone_number_is_looked_for_as_people_write_it() {
        let spellings = phone_spellings("+44 7700 900122");
        for wanted in ["44 7700 900122", "447700900122", "07700 900122", "07700900122", "07700-900122", "7700.900122"] {
            assert!(spellings.contains(wanted), "{wanted}: {spellings:?}");
        }
        assert!(phone_spellings("+1 212 555 0100").contains("212-555-0100"));
        assert_eq!(phone_spellings("+447700900122").into_iter().collect::<Vec<_>>(), ["447700900122"]);
        assert!(!phone_spellings("+44 99 111").contains("99111"), "too short to be looked for alone");
    }

    #[test]
    fn each_paragraph_of_a_remark_is_looked_for_that_is_long_enough_to_say_something() {
        assert_eq!(paragraphs("fainted in the chair\n\nonce"), ["fainted in the chair"]);
        assert_eq!(paragraphs("hot\n\nthen cold\n\nand hot"), ["hot\n\nthen cold\n\nand hot"]);
        assert_eq!(paragraphs("unforeseeable"), Vec::<&str>::new());
    }
}
