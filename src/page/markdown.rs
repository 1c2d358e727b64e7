//! Markdown to HTML that is safe on a client's page. The only user of the Markdown parser.
//!
//! In: a passage of the care library, or a stylist's note. Out: HTML made of a few plain elements.
//! Knows nothing of: who wrote the text; nothing in it is trusted.
//!
//! | in the text | in the HTML |
//! |---|---|
//! | raw HTML, an image | the characters as they were written |
//! | a link outside the list | its words, with the address behind them in brackets |
//! | a heading | a lower one, so that the page's own order stays whole |
//! | control and direction-changing characters | nothing |

use std::ops::Range;

use pulldown_cmark::{CodeBlockKind, CowStr, Event, HeadingLevel, LinkType, Options, Parser, Tag, TagEnd, html};

/// Where a text comes from, which settles what links it may hold.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Origin {
    /// The care library: https, mailto and tel.
    Passage,
    /// A stylist's note: https only.
    Note,
}

/// The deepest nesting of quotations, lists and emphasis that a page shows; a person who writes for a client needs three or four.
const DEEPEST: usize = 12;

/// The longest HTML of one text, bytes; the longest passage shipped is a twentieth of it.
const LONGEST: usize = 48 * 1024;

/// The HTML of a text. One that [`refusal`] refuses is one paragraph of the characters as they were written.
#[must_use]
pub fn to_html(text: &str, origin: Origin) -> String {
    let text = without_controls(text);
    parsed(&text, origin).unwrap_or_else(|_| format!("<p>{}</p>", super::escape(text.trim())))
}

/// Why a text is shown as it was written and not as Markdown, in words that fit behind "the note".
#[must_use]
pub fn refusal(text: &str, origin: Origin) -> Option<&'static str> {
    parsed(&without_controls(text), origin).err()
}

fn parsed(text: &str, origin: Origin) -> Result<String, &'static str> {
    let mut depth = 0_usize;
    let mut events = Vec::new();
    for (event, place) in Parser::new_ext(text, Options::empty()).into_offset_iter() {
        match event {
            Event::Start(_) => depth += 1,
            Event::End(_) => depth = depth.saturating_sub(1),
            _ => {}
        }
        if depth > DEEPEST {
            return Err("puts quotations or lists inside each other more than a page can show");
        }
        events.push((event, place));
    }
    let mut out = String::with_capacity(text.len() * 2);
    html::push_html(&mut out, safe(text, events.into_iter(), origin).into_iter());
    if out.len() > LONGEST {
        return Err("grows far larger as Markdown than it was written");
    }
    Ok(out.trim_end().to_owned())
}

/// The text so that Markdown reads every character as itself: for a name or a date set into a passage.
#[must_use]
pub fn escape(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for c in text.chars().filter(|c| !is_control(*c)) {
        // A backslash before any ASCII punctuation makes it plain (CommonMark 0.31.2, section 2.4).
        if c.is_ascii_punctuation() {
            out.push('\\');
        }
        out.push(c);
    }
    out
}

fn without_controls(text: &str) -> String {
    text.chars().filter(|c| *c == '\n' || !is_control(*c)).map(|c| if c == '\t' { ' ' } else { c }).collect()
}

/// Control characters but for the tab, and the marks that turn the reading direction or cannot be seen.
fn is_control(c: char) -> bool {
    (c.is_control() && c != '\t')
        || matches!(c, '\u{200b}' | '\u{200e}' | '\u{200f}' | '\u{202a}'..='\u{202e}' | '\u{2060}'..='\u{206f}' | '\u{feff}')
}

/// The events of the text with everything unsafe turned into words.
fn safe<'a>(text: &'a str, events: impl Iterator<Item = (Event<'a>, Range<usize>)>, origin: Origin) -> Vec<Event<'a>> {
    let mut out = Vec::new();
    // Links that are open: the address to print behind the words, when it is no link here.
    let mut links: Vec<Option<String>> = Vec::new();
    let mut images = 0_usize;
    for (event, place) in events {
        match event {
            Event::Start(Tag::Image { .. }) => {
                if images == 0 {
                    out.push(Event::Text(text[place].into()));
                }
                images += 1;
            }
            Event::End(TagEnd::Image) => images -= 1,
            // The words of an image are part of what was written out above.
            _ if images > 0 => {}
            // A link inside a link is its words only: a browser would end the outer one there.
            Event::Start(Tag::Link { .. }) if links.contains(&None) => links.push(Some(String::new())),
            Event::Start(Tag::Link { link_type, dest_url, .. }) => {
                links.push(open_link(&mut out, link_type, &dest_url, origin));
            }
            Event::End(TagEnd::Link) => out.push(close_link(links.pop().flatten())),
            other => out.push(plain(other)),
        }
    }
    out
}

fn open_link(out: &mut Vec<Event>, link_type: LinkType, address: &str, origin: Origin) -> Option<String> {
    let address = if link_type == LinkType::Email { format!("mailto:{address}") } else { address.to_owned() };
    if is_allowed(&address, origin) {
        out.push(Event::InlineHtml(format!("<a href=\"{}\" rel=\"noreferrer\">", attribute(&address)).into()));
        return None;
    }
    Some(address)
}

fn close_link<'a>(refused: Option<String>) -> Event<'a> {
    match refused {
        Some(address) if address.is_empty() => Event::Text(CowStr::Borrowed("")),
        Some(address) => Event::Text(format!(" ({address})").into()),
        None => Event::InlineHtml(CowStr::Borrowed("</a>")),
    }
}

/// Whether a link may stay one.
fn is_allowed(address: &str, origin: Origin) -> bool {
    let schemes: &[&str] = match origin {
        Origin::Passage => &["https://", "mailto:", "tel:"],
        Origin::Note => &["https://"],
    };
    let plain = |c: char| c.is_ascii_graphic() && !matches!(c, '"' | '\'' | '<' | '>' | '\\' | '`' | '{' | '}');
    let rest = schemes.iter().find_map(|scheme| {
        let begin = address.get(..scheme.len())?;
        begin.eq_ignore_ascii_case(scheme).then(|| &address[scheme.len()..])
    });
    rest.is_some_and(|rest| !rest.is_empty() && !rest.starts_with('/') && rest.chars().all(plain))
}

fn attribute(address: &str) -> String {
    address.replace('&', "&amp;").replace('"', "&quot;").replace('<', "&lt;").replace('>', "&gt;")
}

/// Everything but links and images: raw HTML becomes words, headings go down, code loses its language.
fn plain(event: Event<'_>) -> Event<'_> {
    match event {
        Event::Html(words) | Event::InlineHtml(words) => Event::Text(words),
        Event::Start(Tag::HtmlBlock) => Event::Start(Tag::Paragraph),
        Event::End(TagEnd::HtmlBlock) => Event::End(TagEnd::Paragraph),
        Event::Start(Tag::Heading { level, .. }) => {
            Event::Start(Tag::Heading { level: lower(level), id: None, classes: Vec::new(), attrs: Vec::new() })
        }
        Event::End(TagEnd::Heading(level)) => Event::End(TagEnd::Heading(lower(level))),
        Event::Start(Tag::CodeBlock(_)) => Event::Start(Tag::CodeBlock(CodeBlockKind::Indented)),
        other => other,
    }
}

/// The page uses levels 1 to 3 itself.
const fn lower(level: HeadingLevel) -> HeadingLevel {
    match level {
        HeadingLevel::H1 => HeadingLevel::H4,
        HeadingLevel::H2 => HeadingLevel::H5,
        _ => HeadingLevel::H6,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn check(text: &str, expected: &str) {
        assert_eq!(to_html(text, Origin::Note), expected, "{text:?}");
    }

    #[test]
    fn plain_writing_comes_out_as_plain_elements() {
        check(
            "Wash *gently*.\n\n- one\n- two",
            "<p>Wash <em>gently</em>.</p>\n<ul>\n<li>one</li>\n<li>two</li>\n</ul>",
        );
        check("# Big\n\n### Small", "<h4>Big</h4>\n<h6>Small</h6>");
        check("5 < 6 & \"so\"", "<p>5 &lt; 6 &amp; \"so\"</p>");
    }

    #[test]
    fn raw_html_is_shown_as_written() {
        check("<script>alert(1)</script>", "<p>&lt;script&gt;alert(1)&lt;/script&gt;</p>");
        check("a <b onclick=x>b</b>", "<p>a &lt;b onclick=x&gt;b&lt;/b&gt;</p>");
        check("<!-- x -->", "<p>&lt;!-- x --&gt;</p>");
        check("&lt;script&gt;", "<p>&lt;script&gt;</p>");
        check("```\"><script>\nx\n```", "<pre><code>x\n</code></pre>");
    }

    #[test]
    fn images_are_shown_as_written() {
        check("![me](https://x.example/a.png)", "<p>![me](https://x.example/a.png)</p>");
        check("![a ![b](c)](d \"t\")", "<p>![a ![b](c)](d \"t\")</p>");
    }

    #[test]
    fn only_listed_links_stay_links() {
        check(
            "[us](https://x.example/a?b=1&c=2)",
            "<p><a href=\"https://x.example/a?b=1&amp;c=2\" rel=\"noreferrer\">us</a></p>",
        );
        for address in [
            "javascript:alert(1)",
            "JaVaScRiPt:alert(1)",
            "//x.example",
            "/local",
            "http://x.example",
            "data:text/html,x",
            "https:///x",
            "https://",
            "tel:123",
            "mailto:a@x.example",
            "java&#10;script:alert(1)",
            "java&Tab;script:alert(1)",
            "&#106;avascript:alert(1)",
            "vbscript:x",
            "file:///etc/passwd",
            "https://x.example/&quot;onmouseover=alert(1)",
        ] {
            let html = to_html(&format!("[us]({address})"), Origin::Note);
            assert!(!html.contains("<a") && html.starts_with("<p>us ("), "{address}: {html}");
        }
        check("<javascript:alert(1)>", "<p>javascript:alert(1) (javascript:alert(1))</p>");
        check("[us][1]\n\n[1]: javascript:alert(1)", "<p>us (javascript:alert(1))</p>");
    }

    #[test]
    fn a_link_inside_a_link_is_its_words() {
        check(
            "[see <https://x.example>](https://y.example)",
            "<p><a href=\"https://y.example\" rel=\"noreferrer\">see https://x.example</a></p>",
        );
        check(
            "[see <https://x.example>](http://y.example)",
            "<p>see <a href=\"https://x.example\" rel=\"noreferrer\">https://x.example</a> (http://y.example)</p>",
        );
        check(
            "[see <http://x.example>](https://y.example) b",
            "<p><a href=\"https://y.example\" rel=\"noreferrer\">see http://x.example</a> b</p>",
        );
    }

    #[test]
    fn a_passage_may_also_link_to_mail_and_phone() {
        let link = |text| to_html(text, Origin::Passage);
        assert_eq!(link("[call](tel:+441234)"), "<p><a href=\"tel:+441234\" rel=\"noreferrer\">call</a></p>");
        assert_eq!(link("<a@x.example>"), "<p><a href=\"mailto:a@x.example\" rel=\"noreferrer\">a@x.example</a></p>");
        assert!(!link("[x](ftp://x.example)").contains("<a"));
    }

    #[test]
    fn control_and_direction_marks_vanish() {
        check("a\u{202e}b\u{0}c\u{200b}d\u{1b}[31m", "<p>abcd[31m</p>");
        check("[us](https://x.example/\u{202e}a)", "<p><a href=\"https://x.example/a\" rel=\"noreferrer\">us</a></p>");
    }

    #[test]
    fn an_escaped_value_is_never_markup() {
        for value in [
            "*Salon* _x_",
            "<b>",
            "[x](https://x.example)",
            "1. One",
            "# Hair & Co",
            "![x](y)",
            "\\*",
            "`x`",
            "- x",
            "&lt;",
        ] {
            let html = to_html(&format!("At {}.", escape(value)), Origin::Passage);
            let text = html.replace("&lt;", "<").replace("&gt;", ">").replace("&quot;", "\"").replace("&amp;", "&");
            assert_eq!(text, format!("<p>At {value}.</p>"), "{value}");
        }
        assert_eq!(to_html(&escape("# Hair"), Origin::Passage), "<p># Hair</p>");
    }

    #[test]
    fn endless_nesting_is_no_danger() {
        for piece in [">", "[", "- ", "*", "![", "<", "`", "(", "[a]("] {
            let html = to_html(&piece.repeat(5_000), Origin::Note);
            assert!(!html.contains("<script"), "{piece}");
            let deepest = html.matches("<blockquote").count().max(html.matches("<ul").count());
            assert!(deepest <= DEEPEST, "{piece}: {deepest}");
        }
        assert!(refusal(&">".repeat(5_000), Origin::Note).is_some());
        check(&">".repeat(20), &format!("<p>{}</p>", "&gt;".repeat(20)));
        assert_eq!(refusal("> a\n>\n> - b\n>   - **c**", Origin::Note), None);
    }

    #[test]
    fn a_text_that_grows_without_end_is_shown_as_written() {
        // Every use of a reference repeats its address: 1 600 uses of 4 000 characters would be six megabytes.
        let bomb = format!("{}\n\n[a]: https://x.example/{}", "[a]".repeat(1_600), "b".repeat(4_000));
        let html = to_html(&bomb, Origin::Note);
        assert!(
            html.len() < 2 * LONGEST && refusal(&bomb, Origin::Note).is_some() && !html.contains("<a "),
            "{}",
            html.len()
        );
    }
}
