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
pub mod finished;
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
mod pattern;
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
    escaped(text).for_each(|piece| out.push_str(piece));
    out
}

/// The pieces of a text made safe: runs of it as they are, and what stands for each sign between them.
pub(crate) fn escaped(text: &str) -> impl Iterator<Item = &str> {
    let mut rest = text;
    std::iter::from_fn(move || {
        let first = rest.bytes().next()?;
        let (piece, taken) = match instead(first) {
            Some(instead) => (instead, 1),
            None => {
                let run = rest.bytes().position(|byte| instead(byte).is_some()).unwrap_or(rest.len());
                (&rest[..run], run)
            }
        };
        rest = &rest[taken..];
        Some(piece)
    })
}

/// What is written in place of a sign that would be mark-up.
const fn instead(sign: u8) -> Option<&'static str> {
    match sign {
        b'&' => Some("&amp;"),
        b'<' => Some("&lt;"),
        b'>' => Some("&gt;"),
        b'"' => Some("&quot;"),
        b'\'' => Some("&#39;"),
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use super::escape;

    #[test]
    fn every_sign_that_would_be_mark_up_is_written_out_and_nothing_else() {
        for (text, safe) in [
            ("", ""),
            ("grün, 色", "grün, 色"),
            ("<b title=\"x\">'é' & 色</b>", "&lt;b title=&quot;x&quot;&gt;&#39;é&#39; &amp; 色&lt;/b&gt;"),
            ("&&", "&amp;&amp;"),
            ("&amp;", "&amp;amp;"),
        ] {
            assert_eq!(escape(text), safe);
        }
    }
}
