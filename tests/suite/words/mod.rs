//! The words a client reads: how hard they are, what they never and always say, and who gets which.

mod choice;
mod claims;
mod keys;
mod reading;
mod rendered;
mod steps;

use afterhue::care::{Library, Measure, Passage, Text};
use afterhue::page::catalogue::Catalogue;

fn library() -> Library {
    Library::shipped("en").expect("English is shipped")
}

fn catalogue() -> &'static Catalogue {
    Catalogue::shipped("en").expect("English is shipped")
}

/// A text with every place filled as it would be on a page, in the longest usual form.
fn filled(text: &Text) -> String {
    let place = |place: afterhue::care::Placeholder| {
        use afterhue::care::Placeholder as P;
        match place {
            P::Salon => "Rook and Reed",
            P::EveryDays => "4 days",
            P::HeatDays => "2 days",
            P::TrimWeeks => "8 to 12 weeks",
            P::RelightenWeeks => "4 weeks",
            P::AlertTestHours => "48 hours",
            P::WaterMax => "38C",
            P::IronMax => "150C",
            P::EmergencyNumber => "999",
            P::AdviceLine => "Call 111, or ask a pharmacist or a doctor",
            _ => "Tuesday 12 January 2027",
        }
        .to_owned()
    };
    text.fill(&place, &|measure| match measure {
        Measure::Temperature(celsius) => format!("{}C", celsius.to_celsius()),
        Measure::Length(length) => format!("{} cm", length.to_mm() / 10.0),
    })
}

/// Heading, text and reason of a passage, filled.
fn texts(passage: &Passage) -> Vec<String> {
    passage.texts().map(filled).collect()
}

/// Everything a page can say in prose, each with the name of where it stands.
fn everything() -> Vec<(String, String)> {
    let library = library();
    let passages = library.passages().flat_map(|passage| {
        texts(passage).into_iter().chain([passage.source.clone()]).map(|text| (passage.id.clone(), text))
    });
    let words = catalogue().texts().map(|(key, text)| (key.to_owned(), text.to_owned()));
    passages.chain(words).collect()
}
