//! The printed aftercare cards, each with the code of one client's page: 85 × 55 mm, eight to an A4 sheet, or one on A6.
//!
//! In: the sources and the link of each client. Out: [`CardSheets`], [`CardPage`]. Knows nothing of: printers.

use serde::Serialize;

use super::client::{CardBands, Sources, page_mood, shade, strand};
use super::link::{Link, specimen};
use super::mood::{Mood, mood};
use super::qr::{LEAST_MODULE_MM, Qr};
use super::words::Words;
use crate::plan::Standing;
use crate::salon::Salon;
use crate::science::colour::srgb::Srgb;

/// Cards on a sheet: two columns of four.
pub const CARDS_A_SHEET: usize = 8;

/// All cards of a salon.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct CardSheets {
    /// Language, a BCP 47 tag.
    pub lang: String,
    /// Direction, "ltr" or "rtl".
    pub dir: String,
    /// Title of the document; names nobody.
    pub title: String,
    /// Colours of the paper around the cards.
    pub mood: Mood,
    /// Sheets of up to eight cards.
    pub sheets: Vec<Vec<Card>>,
}

/// One client's card on a sheet of its own, A6.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct CardPage {
    /// Language, a BCP 47 tag.
    pub lang: String,
    /// Direction, "ltr" or "rtl".
    pub dir: String,
    /// Title of the document; names nobody.
    pub title: String,
    /// Colours of the card: the client's own.
    pub mood: Mood,
    /// The card.
    pub card: Card,
}

/// One card.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Card {
    /// The salon's name.
    pub salon: String,
    /// The first name, only when the client wants it shown; else the client's code.
    pub client: String,
    /// The shade in words; nothing on a card that leads to a page of help only.
    pub shade: Option<String>,
    /// "Come back", when there is a window.
    pub label: Option<String>,
    /// The window in words.
    pub window: Option<String>,
    /// What there is room for on A6 only: how to wash until then.
    pub washing: Option<CardWashing>,
    /// The address as text, in pieces that may break between lines.
    pub address: Vec<String>,
    /// The code.
    pub code_svg: String,
    /// The hair from today to its base.
    pub strand_svg: Option<String>,
    /// How to wash in one paragraph, on a card of any size: only where the page is sealed and may not open.
    pub short_plan: Option<String>,
}

/// How to wash, for a card with room for it.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct CardWashing {
    /// "First wash".
    pub label: String,
    /// The day.
    pub day: String,
    /// "Then about every 4 days."
    pub after: String,
    /// What to do when the scalp burns: it stands beside the first wash wherever that stands.
    pub rinse: String,
}

/// The cards of some clients, in the order given. A client whose address fits no code gets none.
#[must_use]
pub fn card_sheets(clients: &[(Sources<'_>, Link)], salon: &Salon, words: &dyn Words) -> CardSheets {
    let mut bands = CardBands::default();
    let cards: Vec<Card> = clients.iter().filter_map(|(sources, link)| card(sources, link, &mut bands)).collect();
    CardSheets {
        lang: words.language().to_owned(),
        dir: words.direction().to_owned(),
        title: words.pattern("card.title"),
        mood: mood(None, salon.accent.as_deref().and_then(Srgb::from_hex)),
        sheets: cards.chunks(CARDS_A_SHEET).map(<[Card]>::to_vec).collect(),
    }
}

/// One client's card on A6; nothing when the address fits no code.
#[must_use]
pub fn card_page(sources: &Sources<'_>, link: &Link) -> Option<CardPage> {
    Some(CardPage {
        lang: sources.words.language().to_owned(),
        dir: sources.words.direction().to_owned(),
        title: sources.words.pattern("card.one"),
        mood: page_mood(sources),
        card: card(sources, link, &mut CardBands::default())?,
    })
}

/// The width of a code's module in mm when it is under the least that reads well, with that least.
///
/// Every address of a salon is equally long, but that of a sealed page has its key behind it, so one answer holds for all its cards of a kind. A code that no version holds has width 0.
#[must_use]
pub fn module_too_small(base_address: &str, sealed: bool) -> Option<(f64, f64)> {
    let module = Qr::of(&specimen(base_address, sealed).address).map_or(0.0, |code| code.module_mm());
    (module < LEAST_MODULE_MM).then_some((module, LEAST_MODULE_MM))
}

fn card(sources: &Sources<'_>, link: &Link, bands: &mut CardBands) -> Option<Card> {
    let words = sources.words;
    let code = Qr::of(&link.address)?;
    let planned = sources.plan.standing == Standing::Planned;
    let client = sources.shareable.client();
    let shown = client.first_name.as_deref().filter(|_| client.show_first_name);
    let window = sources.plan.next_visit().filter(|_| planned).map(|visit| visit.window);
    let shade = planned.then(|| shade(sources));
    let strand_name = words.say("card.strand", &[("shade", shade.as_deref().unwrap_or_default())]);
    Some(Card {
        salon: sources.salon.name.clone(),
        client: shown.map_or_else(|| client.code.to_string(), str::to_owned),
        label: window.map(|_| words.pattern("card.come-back")),
        window: window.map(|window| sources.dates().span(window.earliest, window.latest)),
        short_plan: (planned && link.is_sealed()).then(|| {
            let CardWashing { label, day, after, rinse } = washing(sources);
            format!("{label}: {day}. {after} {rinse}")
        }),
        washing: planned.then(|| washing(sources)),
        address: pieces(&link.address),
        code_svg: code.svg(&words.pattern("card.code")),
        strand_svg: if planned { strand(sources, &strand_name, bands) } else { None },
        shade,
    })
}

fn washing(sources: &Sources<'_>) -> CardWashing {
    CardWashing {
        label: sources.words.pattern("first.wash"),
        day: sources.dates().weekday(sources.plan.first_wash),
        after: sources.every_days("first.then-every"),
        rinse: sources.words.pattern("washing.rinse-now"),
    }
}

/// The address cut after each slash and every eight characters, so that it can break without a hyphen.
fn pieces(address: &str) -> Vec<String> {
    let shown = address.strip_prefix("https://").unwrap_or(address);
    let mut pieces = vec![String::new()];
    for c in shown.chars() {
        let last = pieces.last_mut().expect("never empty");
        last.push(c);
        if c == '/' || last.chars().count() == 8 {
            pieces.push(String::new());
        }
    }
    pieces.retain(|piece| !piece.is_empty());
    pieces
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::page::link::link;
    use crate::page::sample::Sample;

    fn sheets(sample: &Sample, count: usize) -> CardSheets {
        let link = link(b"secret", &sample.history.client.code, 1, &sample.salon.base_address);
        let clients: Vec<_> = (0..count).map(|_| (sample.sources(), link.clone())).collect();
        card_sheets(&clients, &sample.salon, sample.words)
    }

    #[test]
    fn eight_cards_make_a_sheet_and_the_ninth_begins_another() {
        let sheets = sheets(&Sample::rose(), 9);
        assert_eq!(sheets.sheets.iter().map(Vec::len).collect::<Vec<_>>(), [8, 1]);
    }

    #[test]
    fn a_card_shows_the_code_of_the_client_unless_the_name_is_wanted() {
        let mut sample = Sample::rose();
        let card = sheets(&sample, 1).sheets[0][0].clone();
        assert_eq!((card.client.as_str(), card.shade.as_deref()), ("wren", Some("Rose pastel")));
        assert_eq!(card.window.as_deref(), Some("15 to 29 December"));
        assert!(card.address.concat().starts_with("care.saltmarsh.example/c/"));
        sample.show_first_name("Wren");
        assert_eq!(sheets(&sample, 1).sheets[0][0].client, "Wren");
    }

    #[test]
    fn a_card_of_its_own_tells_the_washing_and_one_to_a_page_of_help_tells_nothing_of_hair() {
        let mut sample = Sample::rose();
        let link = link(b"secret", &sample.history.client.code, 1, &sample.salon.base_address);
        let washing = card_page(&sample.sources(), &link).and_then(|page| page.card.washing).expect("a plan");
        assert_eq!((washing.day.as_str(), washing.after.as_str()), ("Tuesday 1 December", "Then about every 4 days."));
        sample.plan.standing = Standing::AgeNotConfirmed;
        let help = card_page(&sample.sources(), &link).expect("a card").card;
        assert_eq!((help.washing, help.shade, help.window, help.strand_svg), (None, None, None, None));
    }

    #[test]
    fn a_long_base_address_is_told_as_too_small_to_print() {
        assert_eq!(module_too_small("https://care.saltmarsh.example", false), None);
        assert_eq!(module_too_small("https://care.saltmarsh.example", true), None);
        let long = format!("https://{}.example", "a".repeat(120));
        assert!(
            module_too_small(&long, false).is_some_and(|(module, least)| module < least && least <= LEAST_MODULE_MM)
        );
        assert_eq!(module_too_small(&"a".repeat(4000), true).map(|(module, _)| module), Some(0.0));
    }
}
