//! Pages as text: the chairside's own templates, style and script, built into the program.
//!
//! In: plain data. Out: HTML. Knows nothing of: files, requests.

use std::sync::OnceLock;

use serde::Serialize;
use serde_json::Value;
use tera::{Context, Tera};

use super::reply::Reply;

/// Nothing from elsewhere, nothing inline.
pub(super) const POLICY: &str = "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self'; connect-src 'self'; form-action 'self'; base-uri 'none'; frame-ancestors 'none'";

/// The style sheet.
pub(super) const STYLE: &str = include_str!("templates/chair.css");
/// The script: every page works without it.
pub(super) const SCRIPT: &str = include_str!("templates/chair.js");

const TEMPLATES: [(&str, &str); 19] = [
    ("frame.html", include_str!("templates/frame.html")),
    ("foot.html", include_str!("templates/foot.html")),
    ("home.html", include_str!("templates/home.html")),
    ("door.html", include_str!("templates/door.html")),
    ("client.html", include_str!("templates/client.html")),
    ("visit.html", include_str!("templates/visit.html")),
    ("zone.html", include_str!("templates/zone.html")),
    ("shades.html", include_str!("templates/shades.html")),
    ("field.html", include_str!("templates/field.html")),
    ("told.html", include_str!("templates/told.html")),
    ("look.html", include_str!("templates/look.html")),
    ("changed.html", include_str!("templates/changed.html")),
    ("conflict.html", include_str!("templates/conflict.html")),
    ("book.html", include_str!("templates/book.html")),
    ("story.html", include_str!("templates/story.html")),
    ("nostory.html", include_str!("templates/nostory.html")),
    ("ask.html", include_str!("templates/ask.html")),
    ("asked.html", include_str!("templates/asked.html")),
    ("done.html", include_str!("templates/done.html")),
];

fn templates() -> &'static Tera {
    static TERA: OnceLock<Tera> = OnceLock::new();
    TERA.get_or_init(|| {
        let mut tera = Tera::new();
        tera.add_raw_templates(TEMPLATES).expect("the templates in the program are sound");
        tera
    })
}

/// A page made of a template.
///
/// # Panics
/// When a template asks for what its page does not have: a fault in the program, found by the tests that open every page.
pub(super) fn text(template: &str, page: &impl Serialize) -> String {
    let context = Context::from_serialize(page).expect("a page is plain data");
    templates().render(template, &context).unwrap_or_else(|error| panic!("{template}: {error:?}"))
}

/// A page as an answer.
pub(super) fn page(status: u16, template: &str, data: &Value) -> Reply {
    Reply::page(status, text(template, data))
}

/// A page of a few plain words and a way back.
pub(super) fn plain(status: u16, heading: &str, words: &str) -> Reply {
    page(
        status,
        "door.html",
        &serde_json::json!({ "title": heading, "heading": heading, "words": words, "passcode": false, "csrf": "", "wait": "" }),
    )
}

/// A page of the theme, with the policy its own head names; `frames` says who may show it in a frame.
pub(super) fn of_theme(html: String, frames: &str) -> Reply {
    let named = html.split("http-equiv=\"Content-Security-Policy\" content=\"").nth(1);
    let own = named.and_then(|rest| rest.split('"').next()).unwrap_or("default-src 'none'");
    let own = own.replace("&#x27;", "'").replace("&#39;", "'").replace("&amp;", "&");
    Reply {
        policy: Some(format!("{own}; frame-ancestors {frames}")),
        framed: frames != "'none'",
        ..Reply::page(200, html)
    }
}
