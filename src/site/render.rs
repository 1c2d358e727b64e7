//! Page data into a theme's templates.
//!
//! In: [`ClientPage`], [`CardSheets`], [`MissingPage`]. Out: HTML, each page one self-contained file.
//! Knows nothing of: files, what the words mean.

use data_encoding::BASE64;
use serde::Serialize;
use sha2::{Digest, Sha256};
use tera::{Context, Tera};

use super::theme::Theme;
use crate::diagnostic::{Checked, Diagnostic, Report, SourceText};
use crate::page::cards::CardSheets;
use crate::page::client::ClientPage;
use crate::page::missing::MissingPage;
use crate::page::mood::Mood;

/// A theme ready to render; one for all pages and threads.
pub struct Renderer {
    tera: Tera,
}

impl std::fmt::Debug for Renderer {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str("Renderer")
    }
}

impl Renderer {
    /// Reads a theme. Every fault of its templates is told.
    #[must_use]
    pub fn new(theme: &str, own: &[SourceText]) -> Checked<Self> {
        let mut report = Report::default();
        let theme = match Theme::new(theme, own) {
            Ok(theme) => theme,
            Err(fault) => {
                report.push(*fault);
                return Checked { value: None, report };
            }
        };
        let mut tera = Tera::new();
        tera.autoescape_on(vec![".html"]);
        let texts = theme.files().map(|(name, source)| (name, source.text.as_str()));
        if let Err(error) = tera.add_raw_templates(texts) {
            let named = theme.files().find(|(name, _)| error.to_string().contains(*name));
            let place = named.map_or(theme.file("client.html"), |(_, source)| source);
            report.push(
                Diagnostic::fault(&place.name, format!("the template cannot be read: {}", first_line(&error)))
                    .hint("Put back the shipped file of the same name and change it step by step"),
            );
            return Checked { value: None, report };
        }
        let renderer = Self { tera };
        Checked { value: Some(renderer), report }
    }

    /// A client's page.
    #[must_use]
    pub fn render_client(&self, page: &ClientPage) -> String {
        self.page("client.html", "page.css", page, &page.mood)
    }

    /// The sheets of aftercare cards.
    #[must_use]
    pub fn render_cards(&self, sheets: &CardSheets) -> String {
        self.page("cards.html", "cards.css", sheets, &sheets.mood)
    }

    /// The page of an address without a page.
    #[must_use]
    pub fn render_missing(&self, page: &MissingPage) -> String {
        self.page("missing.html", "page.css", page, &page.mood)
    }

    /// One page: palette and style sheet first, because the page's policy names the hash of their exact bytes.
    fn page(&self, template: &str, sheet: &str, page: &impl Serialize, mood: &Mood) -> String {
        let mut context = Context::new();
        context.insert("mood", mood);
        let style = self.render("palette.css", &context) + &self.render(sheet, &context);
        let style = style.trim().to_owned();
        context.insert("style_hash", &format!("sha256-{}", BASE64.encode(&Sha256::digest(style.as_bytes()))));
        context.insert("style", &style);
        context.insert("page", page);
        self.render(template, &context)
    }

    fn render(&self, template: &str, context: &Context) -> String {
        // A shipped theme renders every page of the tests; a salon's own is tried on samples when it is read.
        self.tera.render(template, context).unwrap_or_else(|error| panic!("theme file {template}: {error}"))
    }
}

fn first_line(error: &tera::Error) -> String {
    error.to_string().lines().next().unwrap_or_default().to_owned()
}
