//! What a rendered page is held against.
//!
//! In: the text of a page. Out: what is wrong with it, with a hint. Knows nothing of: themes, files.

use crate::site::assets;

/// What is wrong, and what to do.
pub(super) type Said = (String, &'static str);

/// What the head must say so that a page stays with whoever has its address.
pub(super) fn private(html: &str) -> Vec<Said> {
    let head = html.split("</head>").next().unwrap_or_default();
    let wanted = [
        (
            "noindex",
            "search engines are not told to leave the page alone",
            "Include head.html, or keep its robots line.",
        ),
        ("no-referrer", "the page's address would be told to others", "Include head.html, or keep its referrer line."),
        ("name=\"viewport\"", "a phone would show the page shrunk", "Include head.html, or keep its viewport line."),
        ("<title>", "the page has no title", "Include head.html, or keep its title line."),
    ];
    let missing =
        wanted.into_iter().filter(|(found, ..)| !head.contains(found)).map(|(_, why, hint)| (why.to_owned(), hint));
    let mut said: Vec<Said> = missing.collect();
    if !(html.contains("<html lang=\"en\"") && html.contains("dir=\"ltr\"")) {
        said.push((
            "the page does not say its language and direction".to_owned(),
            "Begin with <html lang=\"{{ lang }}\" dir=\"{{ dir }}\">.",
        ));
    }
    if ["maximum-scale", "user-scalable"].iter().any(|found| head.contains(found)) {
        said.push(("the viewport keeps people from zooming".to_owned(), "Take maximum-scale and user-scalable out."));
    }
    said
}

/// What a page brings beside its one style sheet and its one script.
///
/// A sealed page brings the hashes of a second style and a second script, which are inside it.
pub(super) fn bare(html: &str, script: &str, inside: Option<(&str, &str)>) -> Vec<Said> {
    let between = |open: &str, close: &str| html.split(open).nth(1).and_then(|rest| rest.split(close).next());
    let mut said: Vec<Said> = Vec::new();
    let style = between("<style>", "</style>").unwrap_or_default();
    let styles: Vec<&str> = std::iter::once(style).chain(inside.map(|(style, _)| style)).collect();
    let outer_script = html.contains("<script").then_some(script);
    let scripts: Vec<&str> = outer_script.into_iter().chain(inside.map(|(_, script)| script)).collect();
    let policy = crate::page::escape(&assets::policy(&styles, &scripts));
    let at = html.find(&policy);
    if html.matches("<style").count() != 1 || at.is_none() || at > html.find("<style>") {
        said.push((
            "the page's policy does not fit its one style sheet, so a browser would show the page bare".to_owned(),
            "Include head.html, or keep its first lines and `<style>{{ style | safe }}</style>` as they are.",
        ));
    }
    let scripts = html.matches("<script").count();
    if scripts > 0 && html.matches(&format!("<script>{script}</script>")).count() != scripts {
        said.push((
            "the page holds a script that its policy forbids".to_owned(),
            "The only script of a page is `<script>{{ script | safe }}</script>`; everything must work without it.",
        ));
    }
    // The style text is looked at by itself, and may hold words that look like attributes.
    let html = html.replace(style, "").replace(script, "");
    if html.contains(" style=") {
        said.push((
            "a style attribute is forbidden by the page's policy".to_owned(),
            "Put the rule into the style sheet.",
        ));
    }
    let handler = |rest: &str| {
        let name = rest.split(|c: char| !c.is_ascii_alphabetic()).next().unwrap_or_default();
        name.len() > 2 && rest[name.len()..].starts_with('=')
    };
    if html.split(" on").skip(1).any(handler) {
        said.push(("an inline handler is forbidden by the page's policy".to_owned(), "Take the on… attribute out."));
    }
    let outward = ["=\"http", "=\"//", "='http", "='//", "=http", "<iframe", "<object", "<embed", "<form", "<base"];
    let own = html.replace("http://www.w3.org/2000/svg", "");
    for found in outward.into_iter().filter(|found| own.contains(found)) {
        said.push((
            format!("the page asks for something outside itself: {found}"),
            "A page makes one request: for itself.",
        ));
    }
    said
}

/// What a theme may move but never leave out.
pub(super) fn left_out(html: &str, wanted: &[&str]) -> Vec<Said> {
    let missing = wanted.iter().filter(|mark| !html.contains(**mark));
    missing
        .map(|mark| {
            let hint = "A client may need it; move it, set it smaller, but show it. themes/paper/client.html has it.";
            (format!("the theme leaves out {}", mark.replace('-', " ")), hint)
        })
        .collect()
}
