//! A theme tried on a sample of every kind of page, before any client's page is written with it.
//!
//! In: [`Theme`]. Out: every fault of what it renders. Knows nothing of: salons, clients.
//!
//! A theme may look as it likes. What it may not: leave out what keeps a client safe or a page private, ask for
//! something from outside, or bring a style or a script of its own past the page's policy.

mod desk;
mod escaped;
mod guard;
mod marked;
mod sample;

use std::collections::BTreeSet;

use self::escaped::unescaped;
use self::guard::{bare, left_out, private};
use super::theme::Theme;
use super::{assets, render};
use crate::diagnostic::{Diagnostic, Report};

/// Tries a theme on every kind of page.
#[must_use]
pub fn faults(theme: &Theme) -> Report {
    let mut report = Report::default();
    // Told from inside a page, its fault would have the page's place.
    if let Err(fault) = render::entry(theme, &sample::entry()) {
        report.push(*fault);
        return report;
    }
    let (open, inner_style) = (assets::SCRIPT.as_str(), sample::inner_style(theme));
    let mut look = |template: &str, page: Result<String, Box<Diagnostic>>, (script, inner), wanted: &[&str]| match page
    {
        Err(fault) => report.push(*fault),
        Ok(html) => {
            let said = private(&html).into_iter().chain(bare(&html, script, inner)).chain(left_out(&html, wanted));
            said.for_each(|(message, hint)| report.push(Diagnostic::fault(&theme.place(template), message).hint(hint)));
        }
    };
    let open = (open, None);
    look("client.html", render::client(theme, &sample::planned()), open, &sample::NEVER_LEFT_OUT);
    look("client.html", render::client(theme, &sample::help_only()), open, &sample::NEVER_LEFT_OUT_OF_HELP);
    let inside = (inner_style.as_str(), assets::SEALED_SCRIPT.as_str());
    let sealed = (assets::OPENING_SCRIPT.as_str(), Some(inside));
    look("sealed.html", sample::sealed(theme), sealed, &sample::ON_EVERY_SEALED_PAGE);
    look("cards.html", render::cards(theme, &sample::sheets()), open, &sample::ON_EVERY_CARD);
    look("card.html", render::card(theme, &sample::card_page()), open, &sample::ON_EVERY_CARD);
    look("missing.html", render::missing(theme, &sample::missing()), open, &[]);
    look("board.html", render::board(theme, &desk::board()), open, &[]);
    look("sheets.html", render::sheets(theme, &desk::sheets()), open, &[]);
    // Nobody's page is written with a theme that a look found wanting, so one fault of a kind is enough.
    if !report.has_fault() {
        report.extend(unescaped(theme));
    }
    // One slip in head.html shows on every page; it is told once.
    let mut told = BTreeSet::new();
    report.items.retain(|item| told.insert(item.message.clone()));
    report
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::diagnostic::SourceText;
    use crate::site::theme::{SHIPPED, read, shipped};

    fn tried(file: &str, change: impl Fn(&str) -> String) -> Report {
        let paper = shipped("paper").expect("paper is shipped");
        let ours = paper.iter().find(|text| text.name.ends_with(&format!("/{file}"))).expect("a file of paper");
        let own = SourceText::new(format!("themes/mine/{file}"), change(&ours.text));
        assert_ne!(own.text, ours.text, "nothing was changed in {file}");
        faults(&read(&[own]).value.expect("it parses"))
    }

    #[test]
    fn the_shipped_themes_pass() {
        for name in SHIPPED {
            let report = faults(&read(&shipped(name).expect("shipped")).value.expect("it parses"));
            assert!(report.items.is_empty(), "{name}: {:?}", report.items);
        }
    }

    #[test]
    fn a_theme_that_asks_for_what_no_page_has_is_told_with_its_own_file_and_place() {
        let report = tried("block.html", |text| text.replace("{{ block.heading }}", "{{ block.headline }}"));
        let fault = &report.items[0];
        assert!(fault.file == "themes/mine/block.html" && fault.span.is_some(), "{fault:?}");
    }

    #[test]
    fn a_theme_that_drops_what_keeps_people_safe_or_private_is_at_fault() {
        for (file, out, why) in [
            ("client.html", "{{ care.lead }}", "care lead"),
            ("client.html", "{{ box.body_html | safe }}", "care box"),
            ("client.html", "{{ first.sore }}", "first sore"),
            ("client.html", "{{ way.value }}", "reach value"),
            ("head.html", "noindex,", "search engines"),
            ("head.html", "no-referrer", "told to others"),
            ("head.html", "{{ policy }}", "policy"),
            ("card.html", "{{ card.code_svg | safe }}", "card code"),
        ] {
            let report = tried(file, |text| text.replace(out, ""));
            assert!(report.items.iter().any(|fault| fault.message.contains(why)), "{out}: {:?}", report.items);
        }
    }

    #[test]
    fn a_theme_that_lets_a_text_out_as_mark_up_is_at_fault_wherever_it_does() {
        for (file, from, into, why) in [
            (
                "client.html",
                "<p class=\"salon\">",
                "<p title={{ title }} class=\"salon\">",
                "`title` stands inside a tag",
            ),
            ("client.html", "<p class=\"salon\">", "<p {{ title }} class=\"salon\">", "`title` stands inside a tag"),
            ("client.html", "<p dir=\"auto\">", "<p title='x' {{ contact.address }}>", "`contact.address` stands"),
            ("client.html", "<p dir=\"auto\">", "<p><a href=\"{{ contact.address }}\">x</a>", "asked for"),
            (
                "client.html",
                "<section class=\"note\">",
                "<section title=\"{{ note.body_html | safe }}\">",
                "ready-made HTML",
            ),
            ("missing.html", "<main>", "<main data-x={{ text }}>", "`text` stands inside a tag"),
            ("board.html", "<p class=\"what\">", "<p class={{ slot.what }}>", "weeks.rows.cells.slots.what"),
            ("sheets.html", "<p class=\"visit\">", "<p class={{ line }}>", "sheets.visit"),
            ("card.html", "<p class=\"client\">", "<p class={{ card.client }}>", "card.client"),
        ] {
            let report = tried(file, |text| text.replacen(from, into, 1));
            let told = report.items.iter().any(|fault| fault.message.contains(why) && fault.file.ends_with(file));
            assert!(told, "{into}: {:?}", report.items);
        }
    }

    #[test]
    fn a_theme_that_brings_something_of_its_own_past_the_policy_is_at_fault() {
        for own in [
            "<p style=\"color:red\">x</p>",
            "<script>alert(1)</script>",
            "<style>p{}</style>",
            "<p onclick=\"x()\">x</p>",
            "<img alt=\"\" src=\"https://elsewhere.example/x.png\">",
            "<iframe></iframe>",
        ] {
            let report = tried("missing.html", |text| text.replace("</main>", &format!("{own}</main>")));
            assert!(report.has_fault(), "{own}");
        }
    }
}
