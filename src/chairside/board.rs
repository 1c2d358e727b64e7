//! The board beside the book, and the sheets it links: the same pages `afterhue book` writes, of the book as it stands now.
//!
//! In: the diary. Out: two pages with the policy their own head names. Knows nothing of: changes; nothing is proposed here.

use crate::pipeline;
use crate::schedule::diary::Busy;
use crate::schedule::fit::Effort;

use super::house::House;
use super::page;
use super::reply::{Reply, words_of};

/// Weeks on the board: as `afterhue book` shows them.
const WEEKS: u32 = 4;

/// The board, or the stylist sheets.
pub(super) fn shown(house: &House, file: &str) -> Reply {
    let opened = match house.opened() {
        Ok(opened) => opened,
        Err(failure) => return page::plain(500, "The salon cannot be read", &words_of(&failure)),
    };
    let (Some((salon, theme)), Some(kept)) = (opened.house(), &opened.read.diary) else {
        return page::plain(500, "The book cannot be read", "The salon's own files have to be put right first.");
    };
    let today = house.today(&opened);
    let none = Busy::default();
    let busy = opened.busy.as_ref().unwrap_or(&none);
    // Nobody is fitted in: the board shows what was said, and what `afterhue book` proposed.
    let effort = Effort { rounds: 0, packings: 0, attempts: 0, nodes: 0, stop: &|| true };
    let mut book = pipeline::fitted(salon, &[], kept, busy, (today, WEEKS), &effort);
    // A fit proposes anew what it fits and drops what was proposed; here it stands as in the book beside it.
    book.diary.appointments.clone_from(&kept.appointments);
    let due = pipeline::due_list(&opened.read, salon, kept, today);
    let files = pipeline::book_files(&opened.read, (salon, theme), &opened.secret, &due, (&book, busy), (today, WEEKS));
    match files {
        Ok(mut files) => {
            let html = files.remove(&format!("private/{file}")).unwrap_or_default();
            page::of_theme(String::from_utf8_lossy(&html).into_owned(), "'self'")
        }
        Err(fault) => page::plain(500, "The board cannot be made", &fault.message),
    }
}
