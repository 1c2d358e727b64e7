//! Whether a template takes the escaping off a text.
//!
//! In: a template. Out: a fault for each place. Knows nothing of: what a template is rendered with.
//!
//! Every text of a page is escaped unless a template writes `| safe` behind it. That belongs behind ready-made HTML only: a name that ends in
//! `_html` or `_svg`, `style`, `script`, or one that runs through a list of such. No name of that kind may be given to anything else.

use crate::diagnostic::{Diagnostic, SourceText, Span};

/// How the names of ready-made HTML end.
const READY: [&str; 2] = ["_html", "_svg"];

/// Ready-made texts that are whole names.
const WHOLE: [&str; 2] = ["style", "script"];

/// Every place at which escaping is taken off something that is no ready-made HTML.
pub(super) fn faults(template: &SourceText) -> Vec<Diagnostic> {
    let mut found = Vec::new();
    let mut bound: Vec<&str> = Vec::new();
    for tag in tags(&template.text) {
        let mut tell = |at: Span, message: String, hint: &str| {
            found.push(Diagnostic::fault(&template.name, message).at(at, "here").hint(hint));
        };
        for at in names_in_quotes(&template.text, &tag) {
            let hint = "Write the name with dots, such as `block.body_html`";
            tell(at, "a name of ready-made HTML stands in quotation marks".to_owned(), hint);
        }
        let words = Words::of(&template.text, &tag);
        for at in words.safe() {
            let before = words.text_before(at);
            if !is_ready(before, &bound) {
                let what = if before.is_empty() { "something put together" } else { before };
                let message = format!("`{what}` would stand on the page without escaping, as mark-up");
                let hint = "Take `| safe` away; it belongs only directly behind a name that ends in _html or _svg";
                tell(words.place(at), message, hint);
            }
        }
        if let Some(name) = words.gives_a_name(&mut bound) {
            let message = "this name says ready-made HTML and is given to something else".to_owned();
            tell(name, message, "Give it a name that does not end in _html or _svg");
        }
    }
    found
}

fn is_ready(path: &str, bound: &[&str]) -> bool {
    let plain = path.chars().all(|c| c.is_alphanumeric() || matches!(c, '_' | '.' | '[' | ']'));
    let last = path.rsplit('.').next().unwrap_or(path);
    let last = last.split('[').next().unwrap_or(last);
    plain && (looks_ready(last) || (!path.contains('.') && bound.contains(&last)))
}

fn looks_ready(name: &str) -> bool {
    READY.iter().any(|end| name.ends_with(end)) || WHOLE.contains(&name)
}

/// The inside of every `{{ … }}` and `{% … %}`, quotation marks respected, remarks left out.
fn tags(text: &str) -> Vec<Span> {
    let (mut found, mut at) = (Vec::new(), 0);
    while let Some(open) = text[at..].find('{').map(|found| at + found) {
        let close = match text.as_bytes().get(open + 1) {
            Some(b'{') => "}}",
            Some(b'%') => "%}",
            Some(b'#') => {
                at = text[open..].find("#}").map_or(text.len(), |end| open + end + 2);
                continue;
            }
            _ => {
                at = open + 1;
                continue;
            }
        };
        let (mut end, mut quote) = (open + 2, None);
        while end < text.len() && (quote.is_some() || !text[end..].starts_with(close)) {
            let sign = text[end..].chars().next().unwrap_or(' ');
            quote = match quote {
                None => matches!(sign, '"' | '\'' | '`').then_some(sign),
                Some(open) => (sign != open).then_some(open),
            };
            end += sign.len_utf8();
        }
        found.push(open + 2..end);
        at = end;
    }
    found
}

/// Texts in quotation marks that end as a name of ready-made HTML does.
fn names_in_quotes(text: &str, tag: &Span) -> Vec<Span> {
    let (mut found, mut open): (Vec<Span>, Option<(usize, char)>) = (Vec::new(), None);
    for (at, sign) in text[tag.clone()].char_indices().map(|(at, sign)| (tag.start + at, sign)) {
        match open {
            None if matches!(sign, '"' | '\'' | '`') => open = Some((at, sign)),
            Some((start, quote)) if quote == sign => {
                if looks_ready(&text[start + 1..at]) {
                    found.push(start..at + 1);
                }
                open = None;
            }
            _ => {}
        }
    }
    found
}

/// A tag taken apart: names with their dots and brackets, and single signs between them.
struct Words<'a>(Vec<(&'a str, usize)>);

impl<'a> Words<'a> {
    fn of(text: &'a str, tag: &Span) -> Self {
        let (mut words, mut at) = (Vec::new(), tag.start);
        let in_name = |c: char| c.is_alphanumeric() || matches!(c, '_' | '.' | '[' | ']');
        while at < tag.end {
            let rest = &text[at..tag.end];
            let first = rest.chars().next().unwrap_or(' ');
            let length = if in_name(first) {
                rest.find(|c: char| !in_name(c)).unwrap_or(rest.len())
            } else if matches!(first, '"' | '\'' | '`') {
                rest[1..].find(first).map_or(rest.len(), |end| end + 2)
            } else {
                first.len_utf8()
            };
            if !first.is_whitespace() {
                words.push((&rest[..length], at));
            }
            at += length;
        }
        // A tag may begin and end with a hyphen, which takes the space beside it.
        words.retain(|(word, at)| !(*word == "-" && (*at == tag.start || at + 1 == tag.end)));
        Self(words)
    }

    fn word(&self, at: usize) -> &'a str {
        self.0.get(at).map_or("", |(word, _)| word)
    }

    fn place(&self, at: usize) -> Span {
        let (word, start) = self.0[at];
        start..start + word.len()
    }

    /// Where the filter `safe` stands.
    fn safe(&self) -> Vec<usize> {
        let is = |at: &usize| self.word(*at) == "safe" && *at > 0 && ["|", "filter"].contains(&self.word(at - 1));
        (0..self.0.len()).filter(is).collect()
    }

    /// What a filter stands directly behind; nothing when that is no single name.
    fn text_before(&self, at: usize) -> &'a str {
        let name = if at >= 2 && self.word(at - 1) == "|" { self.word(at - 2) } else { "" };
        let is_name = name.starts_with(|c: char| c.is_alphabetic() || c == '_');
        if is_name { name } else { "" }
    }

    /// Follows a `for` or `set`; the place of a name of ready-made HTML that is given to anything else.
    fn gives_a_name(&self, bound: &mut Vec<&'a str>) -> Option<Span> {
        let (names, behind) = match self.word(0) {
            "for" => {
                let split = (0..self.0.len()).find(|at| self.word(*at) == "in")?;
                (1..split, split + 1)
            }
            "set" | "set_global" => {
                // Without an equals sign it holds what follows, which is escaped by then.
                let split = (0..self.0.len()).find(|at| self.word(*at) == "=")?;
                (1..split, split + 1)
            }
            // What is handed to a component has its own names.
            "component" | "macro" => (1..self.0.len(), self.0.len()),
            _ => return None,
        };
        let ready = behind + 1 == self.0.len() && is_ready(self.word(behind), bound);
        for at in names {
            let name = self.word(at);
            bound.retain(|other| *other != name);
            if ready {
                bound.push(name);
            } else if looks_ready(name) {
                return Some(self.place(at));
            }
        }
        None
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn told(text: &str) -> Vec<String> {
        let source = SourceText::new("themes/mine/client.html", text);
        faults(&source).iter().map(|fault| text[fault.span.clone().expect("a place")].to_owned()).collect()
    }

    #[test]
    fn ready_made_html_may_stand_as_it_is() {
        for text in [
            "{{ note.body_html | safe }}",
            "{{- note.body_html|safe -}}",
            "<style>{{ style | safe }}</style>",
            "{% for date in block.dates_html %}<li>{{ date | safe }}</li>{% endfor %}",
            "{% set strip = slot.strip_svg %}{{ strip | safe }}",
            "{{ rows[0].band_svg | safe }}",
            "{# {{ salon | safe }} #}{{ salon }} | safe",
            "{{ \"| safe\" }}{{ safe }}",
        ] {
            assert_eq!(told(text), Vec::<String>::new(), "{text}");
        }
    }

    #[test]
    fn escaping_taken_off_a_text_is_told_at_its_place() {
        for (text, place) in [
            ("{{ salon | safe }}", "safe"),
            ("{% if never %}{{ first.salon|safe }}{% endif %}", "safe"),
            ("{{ (salon ~ note.body_html) | safe }}", "safe"),
            ("{{ note.body_html | default(value=salon) | safe }}", "safe"),
            ("{% filter safe %}{{ salon }}{% endfilter %}", "safe"),
            ("{% set name = salon | safe %}{{ name }}", "safe"),
            ("{% set name_html = salon %}{{ name_html | safe }}", "name_html"),
            ("{% for line_svg in lines %}{{ line_svg | safe }}{% endfor %}", "line_svg"),
            ("{% set style = salon %}{{ style | safe }}", "style"),
            ("{% for d in x_html %}{% endfor %}{% for d in names %}{{ d | safe }}{% endfor %}", "safe"),
            ("{% set m = {\"a_html\": salon} %}{{ m.a_html | safe }}", "\"a_html\""),
            ("{{ \"<b>\" | safe }}", "safe"),
            ("{{ salon.style | upper | safe }}", "safe"),
        ] {
            assert!(told(text).contains(&place.to_owned()), "{text}: {:?}", told(text));
        }
    }

    #[test]
    fn any_text_at_all_is_answered() {
        for text in [
            "{{",
            "{%",
            "{#",
            "{{ \"",
            "{{ é | safe",
            "{% for %}",
            "{% set %}",
            "{% set = | safe %}",
            "{{ | safe }}",
            "{",
        ] {
            told(text);
        }
    }
}
