//! A text with places that the plan or the salon fills: `Wash about every {every_days}.`
//!
//! The list of placeholders is closed and typed, so that a passage cannot ask for what nobody can give.
//! A quantity is written with its unit, `{15 cm}` or `{180 C}`, and shown in the salon's units.

use super::Fact;
use crate::diagnostic::Span;
use crate::units::Celsius;
use crate::units::Millimetres;
use crate::units::Worded;
use crate::units::worded;

worded! {
    /// A place in a text that is filled for one client.
    Placeholder, "placeholder" {
        /// The salon's name.
        Salon = "salon",
        /// The day of the service.
        ServiceDate = "service_date",
        /// The day on which the passages were last held against their sources.
        Reviewed = "reviewed",
        /// The day on which the page ends.
        PageExpires = "page_expires",
        /// The day of the first wash.
        FirstWash = "first_wash",
        /// Days from one wash to the next: "4 days".
        EveryDays = "every_days",
        /// The warmest wash water the salon advises.
        WaterMax = "water_max",
        /// The hottest tool the salon advises on lightened hair.
        IronMax = "iron_max",
        /// Hot-tool days a week the salon advises: "2 days".
        HeatDays = "heat_days",
        /// How often the salon advises a trim: "8 to 12 weeks".
        TrimWeeks = "trim_weeks",
        /// Least time between lightening the same hair: "4 weeks".
        RelightenWeeks = "relighten_weeks",
        /// How long before colour an alert test is made: "48 hours".
        AlertTestHours = "alert_test_hours",
        /// The best day of the refresh window.
        RefreshBest = "refresh_best",
        /// The best day of the roots window.
        RootsBest = "roots_best",
        /// The client's day.
        EventDate = "event_date",
        /// The number to call in an emergency.
        EmergencyNumber = "emergency_number",
        /// Whom to ask the same day, with the advice line when the country has one.
        AdviceLine = "advice_line",
    }
}

impl Placeholder {
    /// The fact without which there is nothing to fill in.
    #[must_use]
    pub const fn needs(self) -> Option<Fact> {
        match self {
            Self::RefreshBest => Some(Fact::HasRefresh),
            Self::RootsBest => Some(Fact::HasRoots),
            Self::EventDate => Some(Fact::HasEvent),
            Self::FirstWash | Self::EveryDays => Some(Fact::Coloured),
            Self::Salon
            | Self::ServiceDate
            | Self::Reviewed
            | Self::PageExpires
            | Self::WaterMax
            | Self::IronMax
            | Self::HeatDays
            | Self::TrimWeeks
            | Self::RelightenWeeks
            | Self::AlertTestHours
            | Self::EmergencyNumber
            | Self::AdviceLine => None,
        }
    }
}

/// A quantity in a text, shown in the salon's units.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Measure {
    /// A temperature.
    Temperature(Celsius),
    /// A length.
    Length(Millimetres),
}

/// A part of a text.
#[derive(Debug, Clone, PartialEq)]
enum Piece {
    Words(String),
    Placeholder(Placeholder),
    Measure(Measure),
}

/// A text with typed places to fill.
#[derive(Debug, Clone, PartialEq)]
pub struct Text {
    pieces: Vec<Piece>,
    /// Words in it, counted once: every selection of passages asks.
    words: usize,
}

impl Text {
    /// Reads a text.
    ///
    /// # Errors
    /// The place of every brace that holds no placeholder and no quantity, and of every brace left open.
    pub fn parse(text: &str) -> Result<Self, Vec<(Span, String)>> {
        let (mut pieces, mut faults, mut at) = (Vec::new(), Vec::new(), 0);
        while let Some(open) = text[at..].find(['{', '}']).map(|found| at + found) {
            pieces.push(Piece::Words(text[at..open].to_owned()));
            let end = text[open..].find('}').map(|close| open + close + 1);
            let (Some(end), true) = (end, text[open..].starts_with('{')) else {
                faults.push((open..open + 1, "a brace without its pair".to_owned()));
                return Err(faults);
            };
            match inside(&text[open + 1..end - 1]) {
                Some(piece) => pieces.push(piece),
                None => faults.push((open..end, format!("{} is not a placeholder", &text[open..end]))),
            }
            at = end;
        }
        pieces.push(Piece::Words(text[at..].to_owned()));
        if faults.is_empty() { Ok(Self { words: count(&pieces), pieces }) } else { Err(faults) }
    }

    /// Every placeholder of the text.
    pub fn placeholders(&self) -> impl Iterator<Item = Placeholder> + '_ {
        self.pieces.iter().filter_map(|piece| match piece {
            Piece::Placeholder(placeholder) => Some(*placeholder),
            Piece::Words(_) | Piece::Measure(_) => None,
        })
    }

    /// The text with every place filled.
    #[must_use]
    pub fn fill(&self, place: &dyn Fn(Placeholder) -> String, measure: &dyn Fn(Measure) -> String) -> String {
        filled(&self.pieces, place, measure)
    }

    /// Words in the text; a place to fill counts as two.
    #[must_use]
    pub const fn word_count(&self) -> usize {
        self.words
    }
}

fn filled(pieces: &[Piece], place: &dyn Fn(Placeholder) -> String, measure: &dyn Fn(Measure) -> String) -> String {
    let mut text = String::new();
    for piece in pieces {
        match piece {
            Piece::Words(words) => text.push_str(words),
            Piece::Placeholder(placeholder) => text.push_str(&place(*placeholder)),
            Piece::Measure(quantity) => text.push_str(&measure(*quantity)),
        }
    }
    text
}

/// Words in these pieces; a place to fill counts as two.
fn count(pieces: &[Piece]) -> usize {
    filled(pieces, &|_| "two words".to_owned(), &|_| "15 cm".to_owned())
        .split_whitespace()
        .filter(|word| word.chars().any(char::is_alphanumeric))
        .count()
}

fn inside(text: &str) -> Option<Piece> {
    if let Some(placeholder) = Placeholder::WORDS.iter().find(|(_, word, _)| *word == text) {
        return Some(Piece::Placeholder(placeholder.0));
    }
    let (number, unit) = text.split_once(' ')?;
    let number: f64 = number.parse().ok()?;
    let measure = match unit {
        "C" => Measure::Temperature(Celsius::try_new(number)?),
        "cm" => Measure::Length(Millimetres::try_new(number * 10.0)?),
        "mm" => Measure::Length(Millimetres::try_new(number)?),
        _ => return None,
    };
    Some(Piece::Measure(measure))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_text_is_filled_place_by_place() {
        let text = Text::parse("Wash every {every_days}, {15 cm} away, under {180 C}.").expect("a good text");
        let filled = text.fill(&|p| format!("<{}>", p.word()), &|m| match m {
            Measure::Temperature(t) => format!("{}C", t.to_celsius()),
            Measure::Length(l) => format!("{} mm", l.to_mm()),
        });
        assert_eq!(filled, "Wash every <every_days>, 150 mm away, under 180C.");
        assert_eq!(text.placeholders().collect::<Vec<_>>(), [Placeholder::EveryDays]);
    }

    #[test]
    fn unknown_and_broken_braces_are_faults_with_their_place() {
        let faults = |text| Text::parse(text).expect_err(text).into_iter().map(|(span, _)| span).collect::<Vec<_>>();
        assert_eq!(faults("on {wash_day} or {12 feet}"), [3..13, 17..26]);
        assert_eq!(faults("open {salon"), vec![Span { start: 5, end: 6 }]);
        assert_eq!(faults("shut} here"), vec![Span { start: 4, end: 5 }]);
        assert_eq!(faults("{}"), vec![Span { start: 0, end: 2 }]);
        assert_eq!(faults("é {é}"), vec![Span { start: 3, end: 7 }]);
        assert_eq!(faults("{NaN C}"), vec![Span { start: 0, end: 7 }]);
    }
}
