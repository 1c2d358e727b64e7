//! The client's page as data, put together.
//!
//! In: [`Sources`]. Out: [`ClientPage`]. Knows nothing of: templates.

use serde::Serialize;

use super::band::Bands;
use super::blocks::{self, Block, CareBoxes};
use super::contact::{self, Contact};
use super::first_screen::{self, FirstScreen};
use super::ribbon::{self, Ribbon};
use super::sources::Sources;
use crate::page::mood::{Mood, mood};
use crate::plan::Standing;
use crate::science::colour::srgb::Srgb;

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
    /// The stylist's note.
    pub note: Option<Note>,
    /// Tonight.
    pub tonight: Option<Block>,
    /// The fade ribbon.
    pub ribbon: Option<Ribbon>,
    /// Washing to what is normal.
    pub blocks: Vec<Block>,
    /// The care boxes: on every page, the same, in the same place.
    pub care: CareBoxes,
    /// Before the next visit to about these dates.
    pub after: Vec<Block>,
    /// How to reach the salon.
    pub contact: Contact,
    /// Who can see it, when it was reviewed, when it expires.
    pub foot: Vec<String>,
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
        note: note.map(|html| Note { heading: words.pattern("note.heading"), body_html: html.to_owned() }),
        tonight: if planned { blocks::tonight(sources) } else { None },
        ribbon: if planned { ribbon::ribbon(sources, &mut bands) } else { None },
        blocks: if planned { blocks::before_care(sources) } else { Vec::new() },
        care: blocks::care_boxes(sources),
        after: blocks::after_care(sources, planned),
        contact: contact::contact(sources.salon, words),
        foot: foot(sources),
    }
}

/// The page's colours; a page of help only shows no trace of the hair's colour.
fn page_mood(sources: &Sources<'_>) -> Mood {
    let planned = sources.plan.standing == Standing::Planned;
    // The colour the hair has, which on a base too warm for the shade is not the one that was named.
    let finished = sources.leading_steps().filter(|_| planned).and_then(<[_]>::first).map(|step| step.colour);
    mood(finished, sources.salon.accent.as_deref().and_then(Srgb::from_hex))
}

fn foot(sources: &Sources<'_>) -> Vec<String> {
    let (words, dates) = (sources.words, sources.dates());
    vec![
        words.pattern("foot.anyone"),
        words.say("foot.reviewed", &[("date", &dates.day_year(sources.reviewed))]),
        words.say("foot.expires", &[("date", &dates.day_year(sources.plan.expires))]),
    ]
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
        assert_eq!(steps, [("Tonight", "say"), ("First wash", "day"), ("Come back", "day")]);
        assert_eq!(first.steps[1].value_html, "<time datetime=\"2026-12-01\">Tuesday 1 December</time>");
        assert_eq!(first.steps[1].after.as_deref(), Some("Then about every 4 days."));
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
