//! A theme: the templates and style sheets of every kind of page.
//!
//! In: a theme's name and a salon's own theme texts. Out: [`Theme`], each file from the salon where it has one, else as shipped.
//! Knows nothing of: what a page says.

use std::collections::BTreeMap;

use crate::diagnostic::{Diagnostic, SourceText, did_you_mean};

/// The files every theme has.
pub(super) const FILES: [&str; 8] =
    ["block.html", "cards.css", "cards.html", "client.html", "head.html", "missing.html", "page.css", "palette.css"];

macro_rules! shipped {
    ($($theme:literal),*) => {
        &[$(($theme, [
            include_str!(concat!("../../themes/", $theme, "/block.html")),
            include_str!(concat!("../../themes/", $theme, "/cards.css")),
            include_str!(concat!("../../themes/", $theme, "/cards.html")),
            include_str!(concat!("../../themes/", $theme, "/client.html")),
            include_str!(concat!("../../themes/", $theme, "/head.html")),
            include_str!(concat!("../../themes/", $theme, "/missing.html")),
            include_str!(concat!("../../themes/", $theme, "/page.css")),
            include_str!(concat!("../../themes/", $theme, "/palette.css")),
        ])),*]
    };
}

/// The shipped themes.
const SHIPPED: &[(&str, [&str; FILES.len()])] = shipped!("paper");

/// The files of a theme, by name.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Theme {
    files: BTreeMap<&'static str, SourceText>,
}

impl Theme {
    /// A theme by name: a shipped one, or a salon's own, which may leave out files and then takes those of the first shipped theme.
    ///
    /// # Errors
    /// A fault when there is no theme of that name.
    pub(super) fn new(name: &str, own: &[SourceText]) -> Result<Self, Box<Diagnostic>> {
        let folder = format!("themes/{name}/");
        let own: BTreeMap<&str, &SourceText> =
            own.iter().filter_map(|text| Some((text.name.strip_prefix(&folder)?, text))).collect();
        let shipped = SHIPPED.iter().find(|(theme, _)| *theme == name);
        if shipped.is_none() && own.is_empty() {
            return Err(Box::new(unknown(name)));
        }
        let (base, texts) = shipped.unwrap_or(&SHIPPED[0]);
        let file = |(file, text): (&'static str, &&str)| {
            let source = own.get(file).map(|text| (*text).clone());
            (file, source.unwrap_or_else(|| SourceText::new(format!("themes/{base}/{file}"), *text)))
        };
        Ok(Self { files: FILES.into_iter().zip(texts).map(file).collect() })
    }

    /// A file's text with its name.
    pub(super) fn file(&self, name: &str) -> &SourceText {
        &self.files[name]
    }

    /// The templates and their texts.
    pub(super) fn files(&self) -> impl Iterator<Item = (&'static str, &SourceText)> {
        self.files.iter().map(|(name, text)| (*name, text))
    }
}

fn unknown(name: &str) -> Diagnostic {
    let names: Vec<&str> = SHIPPED.iter().map(|(theme, _)| *theme).collect();
    let fault = Diagnostic::fault("salon.toml", format!("there is no theme \"{name}\""));
    match did_you_mean(name, &names) {
        Some(near) => fault.hint(format!("Did you mean \"{near}\"?")),
        None => fault.hint(format!("The themes are {}; your own stands in themes/{name}/", names.join(", "))),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_salon_replaces_single_files_and_keeps_the_others() {
        let own = [SourceText::new("themes/paper/page.css", "body{}")];
        let theme = Theme::new("paper", &own).expect("a theme");
        assert_eq!(theme.file("page.css").text, "body{}");
        assert!(theme.file("client.html").text.starts_with("<!doctype html>"));
        let named = Theme::new("ours", &[SourceText::new("themes/ours/page.css", "p{}")]).expect("a theme of ours");
        assert_eq!(named.file("page.css").name, "themes/ours/page.css");
    }

    #[test]
    fn a_theme_nobody_has_is_told_with_the_nearest() {
        let fault = Theme::new("papr", &[]).expect_err("no such theme");
        assert_eq!(fault.hints, ["Did you mean \"paper\"?"]);
    }
}
