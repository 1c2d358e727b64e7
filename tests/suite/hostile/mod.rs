//! Whatever lies in a salon folder or comes from another calendar: it is answered, in bounded steps and memory, and in words one can act on.
//!
//! What a single record, client or salon file may hold is in `records/hostile.rs` and `records_bad/`.

mod messages;
mod mutations;
mod readers;
mod size;

use afterhue::diagnostic::{Report, SourceText, render, summary};
use afterhue::pipeline;
use afterhue::workspace::Texts;

/// What `check` says about a salon.
fn told(texts: &Texts) -> String {
    told_about(&pipeline::read(texts).report, &texts.all())
}

fn told_about(report: &Report, sources: &[SourceText]) -> String {
    format!("{}{}\n", render(report, sources), summary(report))
}
