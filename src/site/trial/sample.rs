//! One page of every kind with every part filled, its texts naming themselves.
//!
//! A text stands for itself, so that what a theme leaves out is seen by its name missing.

use crate::diagnostic::Diagnostic;
use crate::page::advice::{Entry, Told, Why};
use crate::page::cards::{Card, CardPage, CardSheets, CardWashing};
use crate::page::client::{
    Block, Booking, CalendarLink, Call, CareBox, CareBoxes, Choice, ClientPage, Conditioner, Contact, FirstScreen,
    Help, Note, Outcome, Ribbon, Row, Saying, Step, Today, Way, WhatIfBlock, ZoneKey,
};
use crate::page::missing::MissingPage;
use crate::page::mood::mood;
use crate::page::seal::Closed;
use crate::page::seal::Seal;
use crate::page::sealed::SealedPage;
use crate::site::render;
use crate::site::theme::Theme;

/// What every page of a plan shows.
pub(super) const NEVER_LEFT_OUT: [&str; 11] = [
    "first-sore",
    "booked-day",
    "first-step-value",
    "washing-line",
    "care-heading",
    "care-lead",
    "care-box-heading",
    "care-box-text",
    "care-box-call",
    "reach-value",
    "foot-line",
];

/// What every page of help only shows.
pub(super) const NEVER_LEFT_OUT_OF_HELP: [&str; 8] = [
    "help-sore",
    "help-heading",
    "care-heading",
    "care-lead",
    "care-box-heading",
    "care-box-text",
    "reach-value",
    "foot-line",
];

/// What every sealed page shows from outside.
pub(super) const ON_EVERY_SEALED_PAGE: [&str; 6] = [
    "sealed-lead",
    "sealed-sore",
    "id=\"no-key\" hidden>sealed-no-key",
    "id=\"not-opened\" hidden>sealed-not-opened",
    "<noscript",
    "sealed-no-script",
];

/// What every card shows.
pub(super) const ON_EVERY_CARD: [&str; 2] = ["card-code", "card-address"];

const BAND: &str = "<svg class=\"hair\" role=\"img\" aria-label=\"band\" viewBox=\"0 0 1 1\"><path fill=\"#c9a\" d=\"M0 0h1v1H0z\"/></svg>";

/// The style inside the sealed page of the sample.
pub(super) fn inner_style(theme: &Theme) -> String {
    render::inner_style(theme, &planned().mood, &Seal::of_sample())
}

/// A sealed page.
pub(super) fn sealed(theme: &Theme) -> Result<String, Box<Diagnostic>> {
    render::sealed(theme, &planned(), &Seal::of_sample(), outside)
}

/// A sealed page from outside.
pub(super) fn outside(closed: Closed) -> SealedPage {
    SealedPage {
        lang: text("en"),
        dir: text("ltr"),
        title: text("sealed-title"),
        heading: text("sealed-heading"),
        lead: text("sealed-lead"),
        no_key: text("sealed-no-key"),
        not_opened: text("sealed-not-opened"),
        no_script: text("sealed-no-script"),
        sore: text("sealed-sore"),
        mood: mood(None, None),
        nonce: closed.nonce,
        closed: closed.text,
    }
}

fn text(name: &str) -> String {
    name.to_owned()
}

fn some(name: &str) -> Option<String> {
    Some(text(name))
}

fn paragraph(name: &str) -> String {
    format!("<p>{name}</p>")
}

/// A page of a plan with everything on it.
pub(super) fn planned() -> ClientPage {
    ClientPage {
        first: Some(first()),
        help: None,
        today: Some(today()),
        note: Some(Note { heading: text("note-heading"), body_html: paragraph("note-text") }),
        tonight: Some(block("tonight", "tonight-line")),
        ribbon: Some(ribbon()),
        what_if: Some(what_if()),
        blocks: vec![block("washing", "washing-line")],
        after: vec![block("about", "about-line")],
        ..help_only()
    }
}

/// A page of help only.
pub(super) fn help_only() -> ClientPage {
    ClientPage {
        lang: text("en"),
        dir: text("ltr"),
        title: text("page-title"),
        mood: mood(None, None),
        first: None,
        help: Some(Help {
            salon: text("salon-name"),
            heading: text("help-heading"),
            lead: text("help-lead"),
            sore: text("help-sore"),
        }),
        today: None,
        note: None,
        tonight: None,
        ribbon: None,
        what_if: None,
        blocks: Vec::new(),
        care: care(),
        after: Vec::new(),
        contact: Contact {
            heading: text("reach-heading"),
            ways: vec![
                Way { href: some("tel:+10000000000"), label: text("reach-label"), value: text("reach-value") },
                Way { href: None, label: text("reach-label"), value: text("reach-value") },
            ],
            address: some("reach-address"),
        },
        foot: vec![text("foot-line")],
    }
}

fn first() -> FirstScreen {
    let calendar = CalendarLink { href: text("page.ics"), save_as: None, label: text("calendar-label") };
    FirstScreen {
        salon: text("salon-name"),
        client: some("client-name"),
        shade: text("shade-name"),
        done_html: text("done-day"),
        booked: Some(Booking {
            said_html: text("booked-day"),
            after: text("booked-after"),
            calendar: Some(CalendarLink { href: text("page.ics"), save_as: None, label: text("calendar-label") }),
        }),
        band_svg: some(BAND),
        steps: vec![Step {
            mark: "night",
            label: text("first-step-label"),
            kind: "day",
            value_html: text("first-step-value"),
            after_html: some("first-step-after"),
            band_svg: some(BAND),
            calendar: Some(calendar),
        }],
        sore: text("first-sore"),
    }
}

fn today() -> Today {
    Today {
        heading: text("today-heading"),
        here: text("today-here"),
        now: text("today-now"),
        by: text("today-by"),
        ask: text("today-ask"),
        next: text("today-next"),
        every: 4,
        until: text("today-until"),
        wash: text("today-wash"),
        last: text("today-last"),
        again: text("today-again"),
        past: text("today-past"),
        done: text("2026-11-28"),
        first: text("2026-12-01"),
        date: text("today-date"),
    }
}

fn block(id: &'static str, line: &str) -> Block {
    Block {
        id,
        heading: text("block-heading"),
        lead: some("block-lead"),
        dates_html: vec![text("block-day")],
        calendar: Some(CalendarLink { href: text("page.ics"), save_as: None, label: text("calendar-label") }),
        lines: vec![text(line)],
        entries: vec![entry()],
    }
}

/// A piece of advice.
pub(super) fn entry() -> Entry {
    Entry::new(Told {
        heading: text("entry-heading"),
        body_html: paragraph("entry-text"),
        why: Some(Why { label: text("why-label"), body_html: paragraph("why-text") }),
    })
}

fn ribbon() -> Ribbon {
    Ribbon {
        heading: text("ribbon-heading"),
        story: vec![Saying { text: text("story-text"), on: some("2026-12-01"), range: some("story-range") }],
        zones: vec![ZoneKey { name: text("zone-name"), glyph_svg: text("") }],
        bands: 1,
        rows: vec![Row {
            iso: text("2026-12-01"),
            date: text("row-date"),
            band_svg: text(BAND),
            mark_svg: text(""),
            lines: vec![text("row-line")],
            due: some("row-due"),
        }],
        note: text("ribbon-note"),
    }
}

fn what_if() -> WhatIfBlock {
    WhatIfBlock {
        heading: text("what-if-heading"),
        lead: text("what-if-lead"),
        legend: text("what-if-legend"),
        choices: vec![Choice { washes: 2, chosen: true }],
        conditioner: Some(Conditioner {
            legend: text("conditioner-legend"),
            without: text("conditioner-without"),
            with: text("conditioner-with"),
            used: false,
        }),
        outcomes: vec![Outcome { mark: text("o2"), band_svg: some(BAND), lines: vec![text("outcome-line")] }],
        ends: [text("first-day"), text("last-day")],
    }
}

fn care() -> CareBoxes {
    CareBoxes {
        heading: text("care-heading"),
        lead: text("care-lead"),
        boxes: vec![CareBox {
            level: "emergency",
            heading: text("care-box-heading"),
            body_html: paragraph("care-box-text"),
            calls: vec![Call { href: text("tel:999"), label: text("care-box-call") }],
        }],
    }
}

fn card() -> Card {
    Card {
        salon: text("salon-name"),
        client: text("client-name"),
        shade: some("shade-name"),
        label: some("window-label"),
        window: some("window-days"),
        washing: Some(CardWashing {
            label: text("wash-label"),
            day: text("wash-day"),
            after: text("wash-after"),
            rinse: text("wash-rinse"),
        }),
        address: vec![text("card-address")],
        code_svg: text("<svg role=\"img\" aria-label=\"card-code\" viewBox=\"0 0 1 1\"></svg>"),
        strand_svg: some(BAND),
        short_plan: some("short-plan"),
    }
}

/// A card of its own.
pub(super) fn card_page() -> CardPage {
    CardPage { lang: text("en"), dir: text("ltr"), title: text("card-title"), mood: mood(None, None), card: card() }
}

/// A sheet with one card.
pub(super) fn sheets() -> CardSheets {
    CardSheets {
        lang: text("en"),
        dir: text("ltr"),
        title: text("card-title"),
        mood: mood(None, None),
        sheets: vec![vec![card()]],
    }
}

/// The page of a missing address.
pub(super) fn missing() -> MissingPage {
    MissingPage {
        lang: text("en"),
        dir: text("ltr"),
        title: text("missing-title"),
        text: text("missing-text"),
        mood: mood(None, None),
    }
}
