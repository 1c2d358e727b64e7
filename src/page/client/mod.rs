//! The client's page as data.
//!
//! In: [`Sources`], all of one client. Out: [`ClientPage`]. Knows nothing of: templates, files, today.

mod band;
mod blocks;
mod bracket;
mod contact;
mod first_screen;
mod ribbon;
mod sources;
mod today;
mod what_if;
mod whole;

pub use blocks::{Block, Call, CareBox, CareBoxes, wash_days};
pub use contact::{Contact, Way};
pub use first_screen::{Booking, CalendarLink, FirstScreen, Step};
pub use ribbon::{Ribbon, Row, Saying, ZoneKey};
pub use sources::Sources;
pub use today::Today;
pub use what_if::{Choice, Conditioner, Outcome, WhatIfBlock};
pub use whole::{ClientPage, Help, Note};

pub(super) use first_screen::shade;

use self::band::{Bands, Course};
use super::mood::{Mood, mood};
use crate::plan::Standing;
use crate::science::colour::srgb::Srgb;

/// The page of a client.
#[must_use]
pub fn client_page(sources: &Sources<'_>) -> ClientPage {
    let planned = sources.plan.standing == Standing::Planned;
    let words = sources.words;
    let mut bands = Bands::default();
    let first = planned.then(|| first_screen::first_screen(sources, &mut bands));
    let help = (!planned).then(|| Help {
        salon: sources.salon.name.clone(),
        heading: words.pattern("help.heading"),
        lead: words.pattern("help.lead"),
        sore: words.pattern("care.first-line"),
    });
    let note = sources.note_html.filter(|_| planned);
    ClientPage {
        lang: words.language().to_owned(),
        dir: words.direction().to_owned(),
        title: words.pattern(if planned { "page.title" } else { "help.title" }),
        mood: page_mood(sources),
        first,
        help,
        today: planned.then(|| today::today(sources)),
        note: note.map(|html| Note { heading: words.pattern("note.heading"), body_html: html.to_owned() }),
        tonight: if planned { blocks::tonight(sources) } else { None },
        ribbon: if planned { ribbon::ribbon(sources, &bands) } else { None },
        what_if: if planned { what_if::what_if(sources, &mut bands) } else { None },
        blocks: if planned { blocks::before_care(sources) } else { Vec::new() },
        care: blocks::care_boxes(sources),
        after: blocks::after_care(sources, planned),
        contact: contact::contact(sources.salon, words),
        foot: foot(sources),
    }
}

/// The page's colours; a page of help only shows no trace of the hair's colour.
pub(super) fn page_mood(sources: &Sources<'_>) -> Mood {
    let planned = sources.plan.standing == Standing::Planned;
    // The colour the hair has, which on a base too warm for the shade is not the one that was named.
    let finished = sources.leading_steps().filter(|_| planned).and_then(<[_]>::first).map(|step| step.colour);
    mood(finished, sources.salon.accent.as_deref().and_then(Srgb::from_hex))
}

/// The hair of the leading zone from today to its base, for a card.
pub(super) fn strand(sources: &Sources<'_>, name: &str, bands: &mut CardBands) -> Option<String> {
    let steps = sources.leading_steps().filter(|steps| !steps.is_empty())?;
    let last = steps.last().map_or(0.0, |step| f64::from(step.day));
    Some(bands.0.strand(Course { steps }, last, name))
}

/// Draws the strands of one sheet of cards, so that no two share a mark.
#[derive(Default)]
pub(super) struct CardBands(Bands);

fn foot(sources: &Sources<'_>) -> Vec<String> {
    // When it was reviewed and when it ends stands under "about", which is on every page.
    vec![sources.words.pattern("foot.anyone")]
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::page::sample::Sample;

    #[test]
    fn the_first_screen_answers_what_what_next_and_when() {
        let sample = Sample::rose();
        let first = client_page(&sample.sources()).first.expect("a first screen");
        assert_eq!(first.shade, "Rose pastel");
        let steps: Vec<(&str, &str)> = first.steps.iter().map(|step| (step.label.as_str(), step.kind)).collect();
        assert_eq!(steps, [("Tonight, Saturday 28 November", "say"), ("First wash", "day"), ("Come back", "day")]);
        assert_eq!(first.steps[1].value_html, "<time datetime=\"2026-12-01\">Tuesday 1 December</time>");
        assert_eq!(first.steps[1].after_html.as_deref(), Some("Then about every 4 days."));
        assert!(first.client.is_none(), "no name unless the client wants it");
    }

    #[test]
    fn a_page_of_help_only_says_nothing_of_the_colour() {
        let mut sample = Sample::rose();
        let planned = client_page(&sample.sources());
        sample.plan.standing = Standing::AgeNotConfirmed;
        let help = client_page(&sample.sources());
        assert!(help.first.is_none() && help.ribbon.is_none() && help.tonight.is_none() && help.blocks.is_empty());
        assert_eq!(help.care, planned.care, "the same boxes on every page");
        let told = serde_json::to_string(&help).expect("plain data");
        for word in ["Rose", "rose", "December", "blonde", "gradient"] {
            assert!(!told.contains(word), "{word}");
        }
        assert_ne!(help.mood, planned.mood);
    }

    #[test]
    fn the_title_names_nobody_even_when_the_first_name_is_shown() {
        let mut sample = Sample::rose();
        sample.show_first_name("Wren");
        let page = client_page(&sample.sources());
        assert!(!page.title.contains("Wren"));
        assert_eq!(page.first.and_then(|first| first.client).as_deref(), Some("For Wren"));
    }
}
