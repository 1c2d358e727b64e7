//! A diagnostic as text with an excerpt and a caret.

use std::collections::BTreeMap;

use annotate_snippets::{
    AnnotationKind, Element, Group, Level, Origin, Renderer, Snippet, normalize_untrusted_str as harmless,
};

use super::source::{BYTE_ORDER_MARK, floor};
use super::{Diagnostic, Report, Severity, SourceText};

/// Renders a report with excerpts of the texts it is about, by file and then by place, without colour.
///
/// A text that is not among the sources is named without an excerpt.
#[must_use]
pub fn render(report: &Report, sources: &[SourceText]) -> String {
    render_with(&Renderer::plain(), report, sources).lines().flat_map(|line| [line.trim_end(), "\n"]).collect()
}

/// The same as [`render`], coloured for a terminal.
#[must_use]
pub fn render_styled(report: &Report, sources: &[SourceText]) -> String {
    render_with(&Renderer::styled(), report, sources)
}

fn render_with(renderer: &Renderer, report: &Report, sources: &[SourceText]) -> String {
    let by_name: BTreeMap<&str, &SourceText> = sources.iter().map(|source| (source.name.as_str(), source)).collect();
    let mut text = String::new();
    for item in report.in_order() {
        let group = group(item, by_name.get(item.file.as_str()).copied());
        text.push_str(renderer.render(&[group]).trim_end());
        text.push_str("\n\n");
    }
    text
}

fn group<'a>(item: &'a Diagnostic, source: Option<&'a SourceText>) -> Group<'a> {
    let level = match item.severity {
        Severity::Fault => Level::ERROR.with_name("fault"),
        Severity::Caution => Level::WARNING.with_name("caution"),
        Severity::Note => Level::NOTE,
    };
    let place: Element<'a> = match (&item.span, source) {
        (Some(span), Some(source)) => excerpt(item, source, span.start, span.end).into(),
        _ => Origin::path(harmless(&item.file)).into(),
    };
    let hints = item.hints.iter().map(|hint| Level::HELP.message(harmless(hint)));
    Group::with_title(level.primary_title(harmless(&item.message))).element(place).elements(hints)
}

/// The one line that holds the place: a place over several lines is marked on its first.
fn excerpt<'a>(
    item: &'a Diagnostic,
    source: &'a SourceText,
    start: usize,
    end: usize,
) -> Snippet<'a, annotate_snippets::Annotation<'a>> {
    let mut line = source.line_around(start);
    if source.text[line.clone()].starts_with(BYTE_ORDER_MARK) {
        line.start += BYTE_ORDER_MARK.len_utf8();
    }
    let from = floor(&source.text, start).clamp(line.start, line.end) - line.start;
    let to = floor(&source.text, end).clamp(line.start, line.end) - line.start;
    let label = (!item.label.is_empty()).then(|| harmless(&item.label));
    Snippet::source(&source.text[line.clone()])
        .path(harmless(&item.file))
        .line_start(source.line_and_column(line.start).0)
        .annotation(AnnotationKind::Primary.span(from..to.max(from)).label(label))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn check(text: &str, marked: &str, expected: &str) {
        let source = SourceText::new("records/x.toml", text);
        let start = text.find(marked).expect("the text holds what is marked");
        let mut report = Report::default();
        let item = Diagnostic::fault("records/x.toml", "no such word");
        report.push(item.at(start..start + marked.len(), "here").hint("did you mean \"rose\"?"));
        assert_eq!(render(&report, &[source]), expected.trim_start_matches('\n'));
    }

    #[test]
    fn a_place_is_shown_with_its_line_a_caret_and_a_hint() {
        check(
            "a = 1\nb = rise\n",
            "rise",
            "
fault: no such word
 --> records/x.toml:2:5
  |
2 | b = rise
  |     ^^^^ here
  |
  = help: did you mean \"rose\"?

",
        );
    }

    #[test]
    fn letters_beyond_ascii_a_byte_order_mark_and_old_line_ends_do_not_shift_the_caret() {
        let expected = "
fault: no such word
 --> records/x.toml:1:11
  |
1 | n = \"é\" # rise
  |           ^^^^ here
  |
  = help: did you mean \"rose\"?

";
        check("n = \"é\" # rise\r\nb = 1\r\n", "rise", expected);
        check("\u{feff}n = \"é\" # rise\r\n", "rise", expected);
    }

    #[test]
    fn a_tab_moves_the_caret_as_far_as_it_moves_the_line() {
        let source = SourceText::new("x.toml", "\tb = rise");
        let mut report = Report::default();
        report.push(Diagnostic::fault("x.toml", "no").at(5..9, ""));
        let shown = render(&report, &[source]);
        let lines: Vec<&str> = shown.lines().collect();
        assert_eq!(lines[3].find("rise"), lines[4].find("^^^^"), "{shown}");
        assert!(lines[1].ends_with("x.toml:1:6"), "{shown}");
    }

    #[test]
    fn a_place_outside_the_text_or_over_several_lines_is_still_shown() {
        for (start, end) in [(0, 11), (6, 900), (900, 901), (12, 12)] {
            let source = SourceText::new("x.toml", "a = 1\nb = 2\n");
            let mut report = Report::default();
            report.push(Diagnostic::note("x.toml", "look").at(start..end, "here"));
            assert!(render(&report, &[source]).contains('^'), "{start}..{end}");
        }
    }

    #[test]
    fn a_file_without_its_text_is_named() {
        let mut report = Report::default();
        report.push(Diagnostic::caution("clients/x.toml", "age not confirmed"));
        assert_eq!(render(&report, &[]), "caution: age not confirmed\n--> clients/x.toml\n\n");
    }
}
