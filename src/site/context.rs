//! A client's page as the template language holds it.
//!
//! In: page data. Out: [`Context`]. Knows nothing of: templates.
//!
//! What many clients get alike, advice above all, is turned over once and shared: each piece under its own place in memory, the rest as
//! long as it is equal to the last one. Everything else is turned over for each client and kept nowhere.

use std::collections::HashMap;
use std::sync::PoisonError;
use std::sync::RwLock;

use serde::Serialize;
use tera::Context;
use tera::Value;

use crate::page::advice::Entry;
use crate::page::client::Block;
use crate::page::client::CalendarLink;
use crate::page::client::CareBoxes;
use crate::page::client::ClientPage;
use crate::page::client::Contact;

/// So many pieces of advice are kept: as many as `page::finished` keeps.
const MOST: usize = 4096;

/// What was turned over and is shared.
#[derive(Debug, Default)]
pub(super) struct Shared {
    /// By its place in memory, each with its entry, so that the place stays its own.
    entries: RwLock<HashMap<usize, (Entry, Value)>>,
    care: Last<CareBoxes>,
    contact: Last<Contact>,
}

/// A copy of a theme begins with nothing kept.
impl Clone for Shared {
    fn clone(&self) -> Self {
        Self::default()
    }
}

impl Shared {
    /// The context of a client's page: what [`Context::from_serialize`] gives.
    pub(super) fn context(&self, page: &ClientPage) -> Context {
        // Every field is named, so that a new one cannot be left out unseen.
        let ClientPage {
            lang,
            dir,
            title,
            mood,
            first,
            help,
            today,
            note,
            tonight,
            ribbon,
            what_if,
            blocks,
            care,
            after,
            contact,
            foot,
        } = page;
        let mut context = Context::new();
        context.insert("lang", lang);
        context.insert("dir", dir);
        context.insert("title", title);
        context.insert("mood", mood);
        context.insert("first", first);
        context.insert("help", help);
        context.insert("today", today);
        context.insert("note", note);
        context.insert("tonight", &tonight.as_ref().map(|block| self.section(block)));
        context.insert("ribbon", ribbon);
        context.insert("what_if", what_if);
        context.insert("blocks", &self.sections(blocks));
        context.insert_value("care", self.care.value(care));
        context.insert("after", &self.sections(after));
        context.insert_value("contact", self.contact.value(contact));
        context.insert("foot", foot);
        context
    }

    fn sections<'a>(&self, blocks: &'a [Block]) -> Vec<Section<'a>> {
        blocks.iter().map(|block| self.section(block)).collect()
    }

    fn section<'a>(&self, block: &'a Block) -> Section<'a> {
        let Block { id, heading, lead, dates_html, calendar, lines, entries } = block;
        Section { id, heading, lead, dates_html, calendar, lines, entries: self.entries(entries) }
    }

    fn entries(&self, entries: &[Entry]) -> Vec<Value> {
        let kept = self.entries.read().unwrap_or_else(PoisonError::into_inner);
        let found: Vec<Option<Value>> =
            entries.iter().map(|entry| kept.get(&place(entry)).map(|(_, value)| value.clone())).collect();
        drop(kept);
        found.into_iter().zip(entries).map(|(found, entry)| found.unwrap_or_else(|| self.entry(entry))).collect()
    }

    fn entry(&self, entry: &Entry) -> Value {
        let value = Value::from_serializable(entry);
        let mut kept = self.entries.write().unwrap_or_else(PoisonError::into_inner);
        // A full memory is emptied: simpler than counting uses.
        if kept.len() >= MOST {
            kept.clear();
        }
        kept.insert(place(entry), (entry.clone(), value.clone()));
        value
    }
}

fn place(entry: &Entry) -> usize {
    entry.place().addr()
}

/// A [`Block`] whose advice is turned over.
#[derive(Serialize)]
struct Section<'a> {
    id: &'a str,
    heading: &'a str,
    lead: &'a Option<String>,
    dates_html: &'a [String],
    calendar: &'a Option<CalendarLink>,
    lines: &'a [String],
    entries: Vec<Value>,
}

/// The last thing that was turned over: most often the next one is equal.
#[derive(Debug)]
struct Last<T>(RwLock<Option<(T, Value)>>);

impl<T> Default for Last<T> {
    fn default() -> Self {
        Self(RwLock::new(None))
    }
}

impl<T: Clone + PartialEq + Serialize> Last<T> {
    fn value(&self, of: &T) -> Value {
        if let Some((last, value)) = self.0.read().unwrap_or_else(PoisonError::into_inner).as_ref()
            && last == of
        {
            return value.clone();
        }
        let value = Value::from_serializable(of);
        *self.0.write().unwrap_or_else(PoisonError::into_inner) = Some((of.clone(), value.clone()));
        value
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::page::client::client_page;
    use crate::page::sample::Sample;

    #[test]
    fn a_context_is_what_the_page_alone_would_give_whoever_came_before() {
        let shared = Shared::default();
        let first = Sample::rose();
        let mut other = Sample::rose();
        other.write_everywhere("another salon's and another client's");
        other.salon.emergency.number = "112".to_owned();
        for sample in [&first, &other, &first, &other] {
            let page = client_page(&sample.sources());
            assert_eq!(shared.context(&page), Context::from_serialize(&page).expect("a page"));
        }
    }

    #[test]
    fn an_entry_in_the_place_of_one_that_went_is_not_taken_for_it() {
        let shared = Shared::default();
        for round in 0..MOST + 100 {
            let mut told = crate::page::advice::Told::clone(&Sample::rose().advice[0].entry);
            told.heading = round.to_string();
            // It goes at once, so that the next one may come to lie in its place.
            let entry = Entry::new(told);
            let value = shared.entries(&[entry]).remove(0);
            let heading = value.as_map().and_then(|map| map.get(&"heading".into())).and_then(Value::as_str);
            assert_eq!(heading, Some(round.to_string().as_str()));
        }
        assert!(shared.entries.read().expect("sound").len() <= MOST);
    }
}
