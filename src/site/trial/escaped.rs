//! Every kind of page once more, with a mark in each text: whether a theme lets one out as mark-up.
//!
//! In: [`Theme`]. Out: a fault for each text. Knows nothing of: how a mark is told from what was escaped.

use serde::Serialize;

use super::marked::marked;
use super::{desk, sample};
use crate::diagnostic::Diagnostic;
use crate::diagnostic::Report;
use crate::page::mood::Mood;
use crate::page::seal::Closed;
use crate::site::render;
use crate::site::theme::Theme;

/// Every text that a theme lets out as mark-up.
pub(super) fn unescaped(theme: &Theme) -> Report {
    let (planned, help, cards, card) = (sample::planned(), sample::help_only(), sample::sheets(), sample::card_page());
    let (missing, board, sheets) = (sample::missing(), desk::board(), desk::sheets());
    let sealed = sample::outside(Closed { nonce: "nonce".to_owned(), text: "closed".to_owned() });
    [
        marks(theme, "sealed.html", &sealed, &sealed.mood),
        marks(theme, "client.html", &planned, &planned.mood),
        marks(theme, "client.html", &help, &help.mood),
        marks(theme, "cards.html", &cards, &cards.mood),
        marks(theme, "card.html", &card, &card.mood),
        marks(theme, "missing.html", &missing, &missing.mood),
        marks(theme, "board.html", &board, &board.mood),
        marks(theme, "sheets.html", &sheets, &sheets.mood),
    ]
    .into_iter()
    .fold(Report::default(), |mut all, report| {
        all.extend(report);
        all
    })
}

/// What a theme lets out of one kind of page as mark-up.
fn marks(theme: &Theme, template: &str, page: &impl Serialize, mood: &Mood) -> Report {
    let marked = marked(page);
    let html = match render::render(theme, template, "", &marked.page, mood, None) {
        Ok(html) => html,
        Err(fault) => return Report { items: vec![*fault] },
    };
    let told = marked.shown_raw(&html).into_iter();
    Report {
        items: told.map(|(message, hint)| Diagnostic::fault(&theme.place(template), message).hint(hint)).collect(),
    }
}
