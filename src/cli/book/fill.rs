//! Who could take a time that came free, as text.

use std::fmt::Write as _;

use afterhue::pipeline::Read;
use afterhue::plan::span_in_words;
use afterhue::schedule::diary::Candidate;

/// Those to ask first, the best of them first; then the others with the reasons against.
pub(crate) fn text(found: &[Candidate], read: &Read) -> String {
    let (ask, not): (Vec<&Candidate>, Vec<&Candidate>) = found.iter().partition(|one| one.not_offered.is_empty());
    let mut out = String::new();
    out.push_str(if ask.is_empty() { "Nobody to ask.\n" } else { "To ask, the best first:\n" });
    for one in ask {
        let with = one.stylist.as_deref().unwrap_or_default();
        let _ = writeln!(
            out,
            "  {}  {} minutes with {with}, in the window {}{}",
            one.client,
            one.spans.occupied(),
            span_in_words(one.window.earliest, one.window.latest),
            phone(read, one)
        );
    }
    if !not.is_empty() {
        out.push_str("Not to ask:\n");
    }
    for one in not {
        let _ = writeln!(out, "  {}  {}", one.client, one.against());
    }
    out
}

fn phone(read: &Read, one: &Candidate) -> String {
    let history = read.histories.iter().find(|history| history.client.code == one.client);
    let phone = history.and_then(|history| history.client.contact.phone.as_deref());
    phone.map(|phone| format!(", {phone}")).unwrap_or_default()
}
