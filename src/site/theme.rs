//! A theme: templates and style sheets, shipped with the program or from a salon's own folder.
//!
//! In: texts. Out: [`Theme`], or every fault with its place. Knows nothing of: folders, what a page says.
//!
//! A salon's own theme needs only the files it changes; the rest comes from "paper".

use tera::ErrorKind;
use tera::Tera;

use super::assets;
use super::context::Shared;
use super::dialect;
use super::escaping;
use super::logo::Logo;
use super::told;
use crate::diagnostic::Checked;
use crate::diagnostic::Diagnostic;
use crate::diagnostic::Report;
use crate::diagnostic::SourceText;

/// Templates of a theme.
pub(super) const TEMPLATES: [&str; 11] = [
    "head.html",
    "block.html",
    told::TEMPLATE,
    "calendar.html",
    "client.html",
    "sealed.html",
    "cards.html",
    "card.html",
    "missing.html",
    "board.html",
    "sheets.html",
];

/// Style sheets of a theme.
pub(super) const SHEETS: [&str; 6] = ["client.css", "sealed.css", "cards.css", "card.css", "board.css", "sheets.css"];

/// Names of the themes shipped with the program.
pub const SHIPPED: [&str; 2] = ["paper", "daylight"];

/// The files of "paper": all there are.
const PAPER: [(&str, &str); 17] = [
    ("head.html", include_str!("../../themes/paper/head.html")),
    ("block.html", include_str!("../../themes/paper/block.html")),
    ("entry.html", include_str!("../../themes/paper/entry.html")),
    ("calendar.html", include_str!("../../themes/paper/calendar.html")),
    ("client.html", include_str!("../../themes/paper/client.html")),
    ("sealed.html", include_str!("../../themes/paper/sealed.html")),
    ("cards.html", include_str!("../../themes/paper/cards.html")),
    ("card.html", include_str!("../../themes/paper/card.html")),
    ("missing.html", include_str!("../../themes/paper/missing.html")),
    ("client.css", include_str!("../../themes/paper/client.css")),
    ("sealed.css", include_str!("../../themes/paper/sealed.css")),
    ("cards.css", include_str!("../../themes/paper/cards.css")),
    ("card.css", include_str!("../../themes/paper/card.css")),
    ("board.html", include_str!("../../themes/paper/board.html")),
    ("board.css", include_str!("../../themes/paper/board.css")),
    ("sheets.html", include_str!("../../themes/paper/sheets.html")),
    ("sheets.css", include_str!("../../themes/paper/sheets.css")),
];

/// The files of "daylight"; its templates are those of "paper".
const DAYLIGHT: [(&str, &str); 4] = [
    ("client.css", include_str!("../../themes/daylight/client.css")),
    ("sealed.css", include_str!("../../themes/daylight/sealed.css")),
    ("cards.css", include_str!("../../themes/daylight/cards.css")),
    ("card.css", include_str!("../../themes/daylight/card.css")),
];

/// A theme ready to render.
#[derive(Debug, Clone)]
pub struct Theme {
    pub(super) tera: Tera,
    pub(super) shared: Shared,
    pub(super) client_css: String,
    pub(super) sealed_css: String,
    pub(super) cards_css: String,
    pub(super) card_css: String,
    pub(super) board_css: String,
    pub(super) sheets_css: String,
    /// Where each file comes from, for messages.
    places: Vec<String>,
}

impl Theme {
    /// The theme with the salon's sign.
    #[must_use]
    pub fn with_logo(mut self, logo: Option<Logo>) -> Self {
        self.tera.global_context().insert("logo", &logo);
        self
    }

    /// Where a file of the theme comes from: `themes/mine/client.html`.
    pub(super) fn place(&self, file: &str) -> String {
        let ending = format!("/{file}");
        self.places.iter().find(|place| place.ends_with(&ending)).cloned().unwrap_or_else(|| format!("themes/{file}"))
    }
}

/// The files in which a shipped theme differs from "paper"; nothing when the program ships none of that name.
#[must_use]
pub fn shipped(name: &str) -> Option<Vec<SourceText>> {
    match name {
        "paper" => Some(texts(name, &PAPER)),
        "daylight" => Some(texts(name, &DAYLIGHT)),
        _ => None,
    }
}

fn texts(theme: &str, files: &[(&str, &str)]) -> Vec<SourceText> {
    let text =
        |(file, text): &(&str, &str)| SourceText { name: format!("themes/{theme}/{file}"), text: (*text).to_owned() };
    files.iter().map(text).collect()
}

/// Reads a theme: a salon's own files over the shipped ones.
#[must_use]
pub fn read(own: &[SourceText]) -> Checked<Theme> {
    let mut files = texts("paper", &PAPER);
    let mut report = Report::default();
    for text in own {
        let file = file_name(text);
        match files.iter_mut().find(|shipped| file_name(shipped) == file) {
            Some(place) => *place = text.clone(),
            None => report.push(
                Diagnostic::caution(&text.name, "a theme has no file of this name, so it is not used").hint(format!(
                    "Known files: {}.",
                    TEMPLATES.iter().chain(&SHEETS).copied().collect::<Vec<_>>().join(", ")
                )),
            ),
        }
    }
    for sheet in files.iter().filter(|text| is_sheet(text)) {
        check_sheet(sheet, &mut report);
    }
    let tera = templates(&files, &mut report).map(with_constants);
    // Once for all pages.
    let sheet = |name: &str| {
        files.iter().find(|text| file_name(text) == name).map_or_else(String::new, |text| assets::squeeze(&text.text))
    };
    let value = tera.filter(|_| !report.has_fault()).map(|tera| Theme {
        tera,
        shared: Shared::default(),
        client_css: sheet("client.css"),
        sealed_css: sheet("sealed.css"),
        cards_css: sheet("cards.css"),
        card_css: sheet("card.css"),
        board_css: sheet("board.css"),
        sheets_css: sheet("sheets.css"),
        places: files.iter().map(|text| text.name.clone()).collect(),
    });
    Checked { value, report }
}

/// What every page may show and no page changes.
fn with_constants(mut tera: Tera) -> Tera {
    tera.global_context().insert("logo", &None::<Logo>);
    tera.global_context().insert("cut_marks_svg", &*assets::CUT_MARKS);
    told::register(&mut tera);
    tera
}

fn file_name(text: &SourceText) -> &str {
    text.name.rsplit('/').next().unwrap_or_default()
}

fn is_sheet(text: &SourceText) -> bool {
    SHEETS.contains(&file_name(text))
}

/// Parses every template; those that read well alone are then read together.
fn templates(files: &[SourceText], report: &mut Report) -> Option<Tera> {
    let (mut tera, before) = (dialect::tera(), report.items.len());
    let all: Vec<&SourceText> = files.iter().filter(|text| !is_sheet(text)).collect();
    if let Err(error) = tera.add_raw_templates(all.iter().map(|text| (file_name(text), text.text.as_str()))) {
        // One template at a time, so that the faults of all are told; an include cannot be found that way and is none.
        for text in &all {
            if let Err(error) = dialect::tera().add_raw_template(file_name(text), &text.text)
                && matches!(error.kind(), ErrorKind::SyntaxError(_))
            {
                report.push(syntax(text, &error));
            }
        }
        if report.items.len() == before {
            report.push(unfit(&all, &error));
        }
        return None;
    }
    all.iter().flat_map(|text| escaping::faults(text)).for_each(|fault| report.push(fault));
    Some(tera)
}

/// Templates that read well alone and not together; most often one includes what is not there.
fn unfit(templates: &[&SourceText], error: &tera::Error) -> Diagnostic {
    let told = error.to_string();
    if let Some(name) = told.split("Unknown template `").nth(1).and_then(|rest| rest.split('`').next()) {
        let quoted = |text: &str| ['"', '\''].iter().find_map(|quote| text.find(&format!("{quote}{name}{quote}")));
        if let Some((text, at)) = templates.iter().find_map(|text| Some((text, quoted(&text.text)?))) {
            return Diagnostic::fault(&text.name, "there is no template of this name")
                .at(at..at + name.len() + 2, "here")
                .hint(format!("A theme includes templates of its own only: {}", TEMPLATES.join(", ")));
        }
    }
    let named = |text: &&&SourceText| told.contains(&format!("--> {}:", file_name(text)));
    let place = templates.iter().find(named).unwrap_or(&templates[0]);
    let first = told.lines().next().unwrap_or_default().trim_start_matches("error: ");
    Diagnostic::fault(&place.name, format!("the templates do not fit together: {first}"))
        .hint("Compare this file with the one of the same name that `paper` has")
}

/// A template's fault at its place.
fn syntax(text: &SourceText, error: &tera::Error) -> Diagnostic {
    match error.kind() {
        ErrorKind::SyntaxError(report) => {
            let range = report.span().range.clone();
            let end = range.end.min(text.text.len());
            Diagnostic::fault(&text.name, report.message().trim_end_matches('.')).at(range.start.min(end)..end, "here")
        }
        _ => Diagnostic::fault(&text.name, error.to_string()),
    }
}

/// A style sheet must not leave the page: no end tag, no import, no address.
fn check_sheet(sheet: &SourceText, report: &mut Report) {
    let lower = sheet.text.to_ascii_lowercase();
    for (found, why) in [
        ("</", "a style sheet that holds \"</\" could end its own element"),
        ("@import", "a page makes no request, so a style sheet imports nothing"),
        ("url(", "a page makes no request, so a style sheet names no address"),
    ] {
        if let Some(at) = lower.find(found) {
            report.push(Diagnostic::fault(&sheet.name, why).at(at..at + found.len(), "take this out"));
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn own(file: &str, text: &str) -> Vec<SourceText> {
        vec![SourceText { name: format!("themes/mine/{file}"), text: text.to_owned() }]
    }

    #[test]
    fn the_shipped_theme_has_every_file_and_no_fault() {
        let checked = read(&[]);
        assert!(checked.report.items.is_empty(), "{:?}", checked.report);
        assert!(checked.value.is_some());
        assert_eq!(shipped("paper").map(|files| files.len()), Some(TEMPLATES.len() + SHEETS.len()));
        for name in SHIPPED {
            let checked = read(&shipped(name).expect("it is shipped"));
            assert!(checked.report.items.is_empty() && checked.value.is_some(), "{name}: {:?}", checked.report);
        }
        assert_eq!(shipped("velvet"), None);
    }

    #[test]
    fn a_fault_in_a_template_is_told_with_its_place() {
        let text = "<p>{{ title </p>";
        let checked = read(&own("client.html", text));
        assert!(checked.value.is_none());
        let fault = &checked.report.items[0];
        assert_eq!(fault.file, "themes/mine/client.html");
        let span = fault.span.clone().expect("a place");
        assert!(span.start >= 3 && span.end <= text.len(), "{span:?}");
    }

    #[test]
    fn faults_of_all_templates_are_told_at_once() {
        let mut both = own("client.html", "{% if %}");
        both.extend(own("cards.html", "{{ x | }}"));
        assert_eq!(read(&both).report.items.len(), 2);
    }

    #[test]
    fn an_include_of_what_is_not_there_is_told_in_the_file_that_asks() {
        for path in ["../../../etc/passwd", "/etc/passwd", "C:\\\\secret", "nothing.html"] {
            let fault = &read(&own("missing.html", &format!("<p>{{% include '{path}' %}}"))).report.items[0];
            assert!(fault.file == "themes/mine/missing.html" && !fault.hints.is_empty(), "{fault:?}");
        }
        let circle = &read(&own("block.html", "{% include \"block.html\" %}")).report.items[0];
        assert!(!circle.message.contains('\n') && !circle.hints.is_empty(), "{circle:?}");
    }

    #[test]
    fn a_style_sheet_that_leaves_the_page_is_a_fault_and_a_stray_file_a_caution() {
        for css in ["p{background:URL(x.png)}", "@import 'x';", "p{}</style><script>"] {
            assert!(read(&own("client.css", css)).report.has_fault(), "{css}");
        }
        let stray = read(&own("clients.html", "x"));
        assert!(stray.value.is_some() && stray.report.items.len() == 1);
    }
}
