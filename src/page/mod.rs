//! Stage 4: plain data that a template may show; every string is ready.
//!
//! In: what one client may see of records, forecast, plan and care texts, and a [`words::Words`] source. Out: [`client::ClientPage`] and [`cards::CardSheets`].
//! Knows nothing of: files, templates, the clock, health facts.
//!
//! A field that ends in `_html` or `_svg` is finished mark-up, escaped here; every other string is bare text.

pub mod advice;
pub mod board;
pub mod cards;
pub mod catalogue;
pub mod client;
pub mod due_table;
pub mod explain;
pub mod filling;
pub mod forecast_table;
pub mod gates;
pub mod gsm;
pub mod last_time;
pub mod link;
pub mod markdown;
pub mod message;
pub mod messages;
pub mod missing;
mod mix;
pub mod mood;
pub mod next_visit;
pub mod qr;
pub mod review;
pub mod seal;
pub mod sealed;
pub mod sheet;
pub mod words;

#[cfg(test)]
pub(crate) mod sample;

/// Text made safe inside mark-up and quoted attributes.
pub(crate) fn escape(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for c in text.chars() {
        match c {
            '&' => out.push_str("&amp;"),
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '"' => out.push_str("&quot;"),
            '\'' => out.push_str("&#39;"),
            c => out.push(c),
        }
    }
    out
}
