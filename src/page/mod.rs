//! Stage 4: plain data that a template may show; every string is ready.
//!
//! In: what one client may see of records, forecast, plan and care texts, and a [`Words`] source. Out: [`ClientPage`] and [`CardSheet`].
//! Knows nothing of: files, templates, the clock, health facts.
//!
//! A field that ends in `_html` or `_svg` is finished mark-up, escaped here; every other string is bare text.

pub mod link;
pub mod qr;

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
