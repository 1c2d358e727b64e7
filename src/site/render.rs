//! Pages as text: page data and a theme become one self-contained HTML file.
//!
//! In: [`Theme`] and page data. Out: HTML, or a fault of the theme. Knows nothing of: where the file goes.

use std::fmt::Write;

use serde::Serialize;
use tera::Context;
use tera::ErrorKind;

use super::assets;
use super::theme::Theme;
use super::told;
use crate::diagnostic::Diagnostic;
use crate::page::advice::Entry;
use crate::page::board::Board;
use crate::page::cards::CardPage;
use crate::page::cards::CardSheets;
use crate::page::client::ClientPage;
use crate::page::missing::MissingPage;
use crate::page::mood::Mood;
use crate::page::seal::Closed;
use crate::page::seal::Seal;
use crate::page::sealed::SealedPage;
use crate::page::sheet::Sheets;

/// A client's page.
///
/// # Errors
/// A fault of the theme's templates: a name that the page does not have.
pub fn client(theme: &Theme, page: &ClientPage) -> Result<String, Box<Diagnostic>> {
    let script = page.today.is_some().then_some(assets::SCRIPT.as_str());
    with_style(theme, "client.html", &theme.client_css, theme.shared.context(page), &page.mood, script)
}

/// A client's page, sealed: everybody gets the closed page, and the key opens what [`client`] would have been.
///
/// Outside stands what everybody sees without a key: a few sentences, a few rules, the script that opens. Style and script
/// of the page itself are closed in with it, where they are packed together with its text.
///
/// # Errors
/// As [`client`].
pub fn sealed(
    theme: &Theme,
    page: &ClientPage,
    seal: &Seal,
    outside: impl FnOnce(Closed) -> SealedPage,
) -> Result<String, Box<Diagnostic>> {
    // A browser holds style and script inside against the policy outside, whose hashes everyone may read.
    let inner_style = inner_style(theme, &page.mood, seal);
    let inner_script = assets::SEALED_SCRIPT.as_str();
    let inner_head = Head { style: &inner_style, policy: "", script: inner_script, icon: assets::NO_ICON };
    let open = rendered(theme, "client.html", theme.shared.context(page), inner_head)?;
    // What stands before the style is the same outside.
    let mut inside = open[open.find("<style>").unwrap_or(0)..].to_owned();
    // A theme may leave the script of a page out; without it, a jump inside this one would lose the key.
    if !inside.contains("<script>") {
        write!(inside, "<script>{inner_script}</script>").expect("a text takes what is written");
    }
    let page = outside(seal.close(&inside));
    let style = assets::outer_style(&page.mood, &theme.sealed_css);
    let script = assets::OPENING_SCRIPT.as_str();
    let policy = assets::policy(&[&style, &inner_style], &[script, inner_script]);
    let head = Head { style: &style, policy: &policy, script, icon: assets::NO_ICON };
    rendered(theme, "sealed.html", context(theme, "sealed.html", &page)?, head)
}

/// The style inside a client's sealed page.
pub(super) fn inner_style(theme: &Theme, mood: &Mood, seal: &Seal) -> String {
    seal.salt() + &assets::style(mood, &theme.client_css)
}

/// The printable cards.
///
/// # Errors
/// As [`client`].
pub fn cards(theme: &Theme, cards: &CardSheets) -> Result<String, Box<Diagnostic>> {
    render(theme, "cards.html", &theme.cards_css, cards, &cards.mood, None)
}

/// One client's card on A6.
///
/// # Errors
/// As [`client`].
pub fn card(theme: &Theme, page: &CardPage) -> Result<String, Box<Diagnostic>> {
    render(theme, "card.html", &theme.card_css, page, &page.mood, None)
}

/// The board of the coming weeks.
///
/// # Errors
/// As [`client`].
pub fn board(theme: &Theme, board: &Board) -> Result<String, Box<Diagnostic>> {
    render(theme, "board.html", &theme.board_css, board, &board.mood, None)
}

/// The stylist sheets, one printed page a client.
///
/// # Errors
/// As [`client`].
pub fn sheets(theme: &Theme, sheets: &Sheets) -> Result<String, Box<Diagnostic>> {
    render(theme, "sheets.html", &theme.sheets_css, sheets, &sheets.mood, None)
}

/// The page of a missing address, `404.html`.
///
/// # Errors
/// As [`client`].
pub fn missing(theme: &Theme, page: &MissingPage) -> Result<String, Box<Diagnostic>> {
    render(theme, "missing.html", &theme.client_css, page, &page.mood, None)
}

/// A piece of advice by itself, as every page that shows it holds it.
///
/// # Errors
/// As [`client`].
pub(super) fn entry(theme: &Theme, entry: &Entry) -> Result<String, Box<Diagnostic>> {
    let mut context = Context::new();
    context.insert("entry", entry);
    theme.tera.render(told::TEMPLATE, &context).map_err(|error| Box::new(fault(theme, told::TEMPLATE, &error)))
}

/// A page of any kind, from its data.
///
/// # Errors
/// As [`client`].
pub(super) fn render(
    theme: &Theme,
    template: &str,
    css: &str,
    page: &impl Serialize,
    mood: &Mood,
    script: Option<&str>,
) -> Result<String, Box<Diagnostic>> {
    with_style(theme, template, css, context(theme, template, page)?, mood, script)
}

fn with_style(
    theme: &Theme,
    template: &str,
    css: &str,
    context: Context,
    mood: &Mood,
    script: Option<&str>,
) -> Result<String, Box<Diagnostic>> {
    let style = assets::style(mood, css);
    let policy = assets::policy(&[&style], script.as_slice());
    let (script, icon) = (script.unwrap_or_default(), assets::icon(mood));
    rendered(theme, template, context, Head { style: &style, policy: &policy, script, icon: &icon })
}

fn context(theme: &Theme, template: &str, page: &impl Serialize) -> Result<Context, Box<Diagnostic>> {
    Context::from_serialize(page).map_err(|error| Box::new(fault(theme, template, &error)))
}

/// What stands in a page's head beside what the page says.
struct Head<'a> {
    style: &'a str,
    policy: &'a str,
    script: &'a str,
    icon: &'a str,
}

fn rendered(theme: &Theme, template: &str, context: Context, head: Head<'_>) -> Result<String, Box<Diagnostic>> {
    let mut context = context;
    context.insert("policy", head.policy);
    context.insert("script", head.script);
    context.insert("icon", head.icon);
    context.insert("style", head.style);
    theme.tera.render(template, &context).map_err(|error| Box::new(fault(theme, template, &error)))
}

fn fault(theme: &Theme, template: &str, error: &tera::Error) -> Diagnostic {
    match error.kind() {
        ErrorKind::RenderingError(report) => {
            Diagnostic::fault(&theme.place(report.filename()), report.message().trim_end_matches('.'))
                .at(report.span().range.clone(), "here")
        }
        _ => Diagnostic::fault(&theme.place(template), error.to_string()),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::page::cards::{card_page, card_sheets};
    use crate::page::catalogue::Catalogue;
    use crate::page::client::{Sources, client_page};
    use crate::page::link::link;
    use crate::page::missing::missing_page;
    use crate::page::sample::Sample;
    use crate::page::sealed::sealed_page;
    use crate::page::words::Words;
    use crate::site::theme;

    fn paper() -> Theme {
        theme::read(&[]).value.expect("paper has no fault")
    }

    fn rose(sample: &Sample) -> String {
        client(&paper(), &client_page(&sample.sources())).expect("a page")
    }

    fn sheets(sample: &Sample) -> String {
        let link = link(b"secret", &sample.history.client.code, 1, &sample.salon.base_address);
        let sheets = card_sheets(&[(sample.sources(), link)], &sample.salon, sample.words);
        cards(&paper(), &sheets).expect("cards")
    }

    /// Words of a catalogue that somebody filled with mark-up.
    struct Hostile(&'static Catalogue, &'static str);

    impl Words for Hostile {
        fn language(&self) -> &str {
            self.1
        }

        fn direction(&self) -> &str {
            self.1
        }

        fn pattern(&self, key: &str) -> String {
            self.0.pattern(key) + self.1
        }
    }

    /// Every Latin letter of a text as a Hebrew one, but for places and mark-up: a language nobody speaks, read from the right.
    fn mirrored(text: &str) -> String {
        let mut inside = 0;
        let turn = |c: char| {
            inside += i32::from(matches!(c, '{' | '<' | '&')) - i32::from(matches!(c, '}' | '>' | ';'));
            let at = u32::from(c.to_ascii_lowercase()).wrapping_sub(u32::from('a'));
            if c.is_ascii_alphabetic() && inside <= 0 { char::from_u32(0x5d0 + at).expect("Hebrew") } else { c }
        };
        text.chars().map(turn).collect()
    }

    /// English words, mirrored.
    struct Mirrored(&'static Catalogue);

    impl Words for Mirrored {
        fn language(&self) -> &str {
            "he"
        }

        fn direction(&self) -> &str {
            "rtl"
        }

        fn pattern(&self, key: &str) -> String {
            mirrored(&self.0.pattern(key))
        }
    }

    /// What a person reads of a page: its texts, the names of its drawings, what its script may say.
    fn read_aloud(html: &str) -> String {
        let html = html.replace(&format!("<script>{}</script>", *assets::SCRIPT), "");
        let html = html.replace(&format!("<script>{}</script>", *assets::OPENING_SCRIPT), "");
        let (_, body) = html.split_once("<body>").expect("a body");
        let attributes = [
            "aria-label=\"",
            "alt=\"",
            "title=\"",
            "data-here=\"",
            "data-now=\"",
            "data-by=\"",
            "data-next=\"",
            "data-until=\"",
            "data-wash=\"",
            "data-again=\"",
            "data-past=\"",
        ];
        let named =
            attributes.iter().flat_map(|name| body.split(name).skip(1).filter_map(|rest| rest.split('"').next()));
        let texts = body.split('<').filter_map(|part| part.split_once('>').map(|(_, text)| text));
        named
            .chain(texts)
            .collect::<Vec<_>>()
            .join("\n")
            .replace("&nbsp;", " ")
            .replace("&quot;", "\"")
            .replace("&#39;", "'")
    }

    #[test]
    fn no_word_of_a_page_stands_in_a_template_and_another_direction_reaches_it() {
        let mut sample = Sample::rose();
        sample.write_everywhere("0");
        sample.retell(|told| {
            told.heading = mirrored(&told.heading);
            told.body_html = mirrored(&told.body_html);
            if let Some(why) = &mut told.why {
                why.label = mirrored(&why.label);
                why.body_html = mirrored(&why.body_html);
            }
        });
        sample.note_html = Some(mirrored("<p>A note.</p>"));
        let words = Mirrored(sample.words);
        let sources = Sources { words: &words, ..sample.sources() };
        let link = link(b"secret", &sample.history.client.code, 1, "https://1.2");
        let one = card_page(&Sources { link: Some(&link), ..sources }, &link).expect("a card");
        let sheets = card_sheets(&[(sources, link.clone())], &sample.salon, &words);
        for name in theme::SHIPPED {
            let theme = theme::read(&theme::shipped(name).expect("shipped")).value.expect("no fault");
            let page = client(&theme, &client_page(&Sources { link: Some(&link), ..sources })).expect("a page");
            let seal = Seal::of(b"secret", &sample.history.client.code, 1);
            let inside = client_page(&Sources { link: Some(&link), ..sources });
            let closed = sealed(&theme, &inside, &seal, |closed| sealed_page(closed, "0", &words));
            let others = [card(&theme, &one), cards(&theme, &sheets), missing(&theme, &missing_page(&words)), closed];
            for html in others.into_iter().map(|html| html.expect("a page")).chain([page]) {
                assert!(html.contains("<html lang=\"he\" dir=\"rtl\">"), "{name}");
                let told = read_aloud(&html).replace(&link.path, "").replace("{words}", "").replace("{date}", "");
                // An address is broken into pieces, which stand in an element that says so.
                let told = link.address.split('/').fold(told, |told, part| told.replace(part, ""));
                let left: Vec<&str> =
                    told.lines().filter(|line| line.chars().any(|c| c.is_ascii_alphabetic())).collect();
                let pieces = html
                    .split("class=\"address\"")
                    .skip(1)
                    .filter_map(|rest| rest.split("</p>").next())
                    .collect::<String>();
                let left: Vec<&&str> = left.iter().filter(|line| !pieces.contains(line.trim())).collect();
                assert!(left.is_empty(), "{name}: words that no catalogue holds: {left:?}");
                assert!(read_aloud(&html).chars().any(|c| ('\u{5d0}'..='\u{5ea}').contains(&c)), "{name}");
            }
        }
    }

    /// A sheet that names a side would not turn with the language. What is mirrored by name says so with `[dir=rtl]`.
    #[test]
    fn style_sheets_name_no_side() {
        for text in theme::SHIPPED.iter().flat_map(|name| theme::shipped(name).expect("shipped")) {
            if !text.name.ends_with(".css") {
                continue;
            }
            let physical = [
                "margin-left",
                "margin-right",
                "padding-left",
                "padding-right",
                "border-left",
                "border-right",
                "text-align:left",
                "text-align:right",
                "float:left",
                "float:right",
                "{left:",
                ";left:",
                "{right:",
                ";right:",
            ];
            let found: Vec<&str> = physical.into_iter().filter(|word| text.text.contains(word)).collect();
            assert!(found.is_empty(), "{}: {found:?}", text.name);
        }
    }

    /// The text between the only pair of style tags.
    fn style_of(html: &str) -> &str {
        html.split("<style>").nth(1).and_then(|rest| rest.split("</style>").next()).expect("a style element")
    }

    #[test]
    fn the_policy_is_over_the_exact_style_text_and_stands_before_anything_it_governs() {
        let html = rose(&Sample::rose());
        let policy = crate::page::escape(&assets::policy(&[style_of(&html)], &[assets::SCRIPT.as_str()]));
        let at = html.find(&policy).expect("the policy in the page");
        assert!(at < html.find("<style>").expect("a style") && at < html.find("<link").expect("an icon"));
        assert_eq!(html.matches("<style").count(), 1);
        assert!(!html.contains(" style="), "nothing the policy forbids");
        assert_eq!(html.matches("<script").count(), 1, "one script");
        assert!(html.contains(&format!("<script>{}</script>", *assets::SCRIPT)), "the one whose hash the policy holds");
        let handler =
            html.split(" on").skip(1).any(|rest| rest.trim_start_matches(char::is_alphabetic).starts_with('='));
        assert!(!handler, "no inline handler");
    }

    #[test]
    fn hostile_words_in_every_field_never_come_out_raw() {
        let hostile = "<script>'\"&";
        let mut sample = Sample::rose();
        sample.write_everywhere(hostile);
        let words = Hostile(sample.words, hostile);
        let told = Sources { words: &words, ..sample.sources() };
        let page = client(&paper(), &client_page(&told)).expect("a page");
        let missing = missing(&paper(), &missing_page(&words)).expect("a page");
        for html in [page, rose(&sample), sheets(&sample), missing] {
            let html = html.replace(&format!("<script>{}</script>", *assets::SCRIPT), "");
            assert!(html.contains("&lt;script&gt;"), "the words are there");
            assert!(!html.contains("<script"), "raw mark-up");
            assert!(!html.contains("'\"&") && !html.contains("\"&amp;"), "raw quotation marks");
        }
    }

    #[test]
    fn a_page_asks_for_nothing_and_is_small() {
        let html = rose(&Sample::rose());
        let addresses = html.replace("http://www.w3.org/2000/svg", "");
        assert!(!addresses.contains("http:") && !addresses.contains("https:") && !addresses.contains("src="));
        // Raw bytes: the packed size is measured in the browser suite. The sample's page packs about five to one.
        assert!(html.len() < 62_000, "{}", html.len());
        assert!(html.matches('<').count() < 3_000, "start and end tags of at most 1,500 nodes");
    }

    #[test]
    fn every_mark_in_a_page_is_used_once_and_every_link_inside_it_arrives() {
        let html = rose(&Sample::rose());
        let ids: Vec<&str> = html.split(" id=\"").skip(1).filter_map(|rest| rest.split('"').next()).collect();
        let unique: std::collections::BTreeSet<&str> = ids.iter().copied().collect();
        assert_eq!(ids.len(), unique.len());
        for target in html.split("href=\"#").skip(1).filter_map(|rest| rest.split('"').next()) {
            assert!(unique.contains(target), "{target}");
        }
    }

    #[test]
    fn the_missing_page_names_no_salon() {
        let html = missing(&paper(), &missing_page(Sample::rose().words)).expect("a page");
        assert!(!html.contains("Saltmarsh") && html.contains("noindex,nofollow,noarchive"));
    }

    #[test]
    fn a_name_the_page_does_not_have_is_a_fault_of_the_theme() {
        let own = crate::diagnostic::SourceText { name: "themes/mine/block.html".into(), text: "{{ nothing }}".into() };
        let theme = theme::read(&[own]).value.expect("it parses");
        let fault = client(&theme, &client_page(&Sample::rose().sources())).expect_err("an unknown name");
        assert!(fault.file.contains("block.html") && fault.span.is_some(), "{fault:?}");
    }
}
