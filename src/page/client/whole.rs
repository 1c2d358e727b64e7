//! The shape of a whole page.

use std::fmt::Write as _;

use serde::Serialize;

use super::{Block, CareBoxes, Contact, FirstScreen, Ribbon, Today, WhatIfBlock};
use crate::page::mood::Mood;

/// The client's page.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct ClientPage {
    /// Language, a BCP 47 tag.
    pub lang: String,
    /// Direction, "ltr" or "rtl".
    pub dir: String,
    /// Neutral title: it is seen in messengers, and names nobody.
    pub title: String,
    /// Its colours.
    pub mood: Mood,
    /// The first screen of a plan; nothing on a page of help only.
    pub first: Option<FirstScreen>,
    /// The first screen of a page of help only.
    pub help: Option<Help>,
    /// What the page's script fills; hidden without it.
    pub today: Option<Today>,
    /// The stylist's note.
    pub note: Option<Note>,
    /// Tonight.
    pub tonight: Option<Block>,
    /// The fade ribbon.
    pub ribbon: Option<Ribbon>,
    /// What if I wash more or less.
    pub what_if: Option<WhatIfBlock>,
    /// Washing to the next visit.
    pub blocks: Vec<Block>,
    /// The care boxes: on every page, the same, in the same place.
    pub care: CareBoxes,
    /// Other questions and about these dates.
    pub after: Vec<Block>,
    /// How to reach the salon.
    pub contact: Contact,
    /// Who can see it.
    pub foot: Vec<String>,
}

impl ClientPage {
    /// Puts a calendar file into the page, where it was a file beside it: beside a sealed page it would be open to everybody.
    ///
    /// # Source
    /// `data:` addresses: RFC 2397. The name it is saved under is nobody's.
    pub fn hold_calendar(&mut self, name: &str, text: &str) {
        let first = self.first.iter_mut().flat_map(|first| {
            let booked = first.booked.iter_mut().map(|booked| &mut booked.calendar);
            booked.chain(first.steps.iter_mut().map(|step| &mut step.calendar))
        });
        let blocks = self.tonight.iter_mut().chain(&mut self.blocks).chain(&mut self.after);
        for link in first.chain(blocks.map(|block| &mut block.calendar)).flatten() {
            if link.href == name {
                link.href = format!("data:text/calendar;charset=utf-8,{}", inline(text));
                link.save_as = Some("dates.ics".to_owned());
            }
        }
    }
}

/// A text in a `data:` address: only what an address cannot hold or ends at is written as `%XX` (WHATWG URL, fragment and C0 control sets).
fn inline(text: &str) -> String {
    let plain = |octet: u8| octet.is_ascii_graphic() && !b"%#\"<>`".contains(&octet);
    let mut out = String::with_capacity(text.len() * 2);
    for octet in text.bytes() {
        if plain(octet) {
            out.push(char::from(octet));
        } else {
            write!(out, "%{octet:02X}").expect("a string takes any text");
        }
    }
    out
}

/// The first screen of a page without a plan: it says nothing about hair, colour or dates.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Help {
    /// The salon's name.
    pub salon: String,
    /// Heading.
    pub heading: String,
    /// Text.
    pub lead: String,
    /// The quiet line to the care boxes.
    pub sore: String,
}

/// The stylist's note.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Note {
    /// Heading.
    pub heading: String,
    /// The note, finished mark-up.
    pub body_html: String,
}
