//! Whether what a salon writes comes out of a theme as text, wherever the theme puts it.
//!
//! In: page data. Out: the same with a mark in every text that is no ready-made HTML, and which marks a rendered page shows as anything but text.
//! Knows nothing of: themes, files.
//!
//! A mark holds every sign that would be mark-up: `<t7>"u7&'`. Escaped it reads `&lt;t7&gt;&quot;u7&amp;`.

use serde::Serialize;
use serde_json::Value;

use super::guard::Said;

/// Page data with its marks.
pub(super) struct Marked {
    /// The data.
    pub(super) page: Value,
    /// What each mark stands in: `first.salon`.
    names: Vec<String>,
}

/// Marks every text of a page that is not meant as ready-made HTML.
pub(super) fn marked(page: &impl Serialize) -> Marked {
    let mut marked = Marked { page: serde_json::to_value(page).unwrap_or_default(), names: Vec::new() };
    mark(&mut marked.page, "", &mut marked.names);
    marked
}

fn mark(value: &mut Value, path: &str, names: &mut Vec<String>) {
    let name = path.rsplit('.').next().unwrap_or(path);
    match value {
        // The colours are made by the program, and ready-made HTML was made safe before.
        _ if name == "mood" || name.ends_with("_html") || name.ends_with("_svg") => {}
        Value::String(text) => {
            let sign = format!("<t{0}>\"u{0}&'", names.len());
            // An address keeps its beginning, which tells what it is.
            *text = if is_address(name) { format!("{text}{sign}") } else { format!("{sign}{text}") };
            names.push(path.to_owned());
        }
        Value::Array(list) => list.iter_mut().for_each(|one| mark(one, path, names)),
        Value::Object(fields) => {
            for (name, one) in fields {
                let path = if path.is_empty() { name.clone() } else { format!("{path}.{name}") };
                mark(one, &path, names);
            }
        }
        Value::Null | Value::Bool(_) | Value::Number(_) => {}
    }
}

fn is_address(name: &str) -> bool {
    ["href", "sheet"].contains(&name)
}

impl Marked {
    /// What a rendered page shows as mark-up.
    pub(super) fn shown_raw(&self, html: &str) -> Vec<Said> {
        let html = html.to_ascii_lowercase();
        let raw = |at: usize| {
            let quoted = format!("u{at}&");
            let open = html.match_indices(&quoted).any(|(at, found)| !html[at + found.len()..].starts_with("amp;"));
            open || html.contains(&format!("<t{at}>")) || html.contains(&format!("\"u{at}&"))
        };
        let mut names: Vec<&str> = (0..self.names.len()).filter(|at| raw(*at)).map(|at| &*self.names[at]).collect();
        names.dedup();
        if !names.is_empty() {
            let hint =
                "Look for `| safe` behind it, and take it away: what a person writes there is text, not mark-up.";
            return names.into_iter().map(|name| (format!("`{name}` comes out as mark-up"), hint)).collect();
        }
        self.out_of_place(&html)
    }

    /// Texts inside a tag but outside quotation marks, texts as whole addresses, ready-made HTML inside a tag.
    fn out_of_place(&self, html: &str) -> Vec<Said> {
        let mut said: Vec<Said> = Vec::new();
        for (outside, inside) in tags(html).into_iter().flat_map(values) {
            if let Some(name) = self.name_in(outside) {
                let hint = "Put quotation marks round it: class=\"{{ … }}\".";
                said.push((format!("`{name}` stands inside a tag without quotation marks"), hint));
            }
            if inside.contains('<') {
                let hint = "Ready-made HTML belongs between tags; take the text itself for an attribute.";
                said.push(("ready-made HTML stands inside an attribute".to_owned(), hint));
            }
            let address = ["href=", "src=", "action="].iter().any(|name| outside.trim_end().ends_with(name));
            if let (true, Some(name)) = (address && inside.trim_start().starts_with("&lt;t"), self.name_in(inside)) {
                let hint = "An address is a value named href; a text may not become one.";
                said.push((format!("`{name}` is a text and stands where an address is asked for"), hint));
            }
        }
        said
    }

    /// The value whose mark is in a piece of a page.
    fn name_in(&self, piece: &str) -> Option<&str> {
        let digits = piece.split("&lt;t").nth(1)?;
        let end = digits.find(|c: char| !c.is_ascii_digit()).unwrap_or(digits.len());
        digits[..end].parse().ok().and_then(|at: usize| self.names.get(at)).map(String::as_str)
    }
}

/// The inside of every tag, quotation marks respected; what scripts and style sheets hold is left out.
fn tags(html: &str) -> Vec<&str> {
    let (mut found, mut at) = (Vec::new(), 0);
    while let Some(open) = html[at..].find('<').map(|found| at + found) {
        let mut quote = None;
        let end = html[open..].find(|c| {
            quote = match quote {
                None => matches!(c, '"' | '\'').then_some(c),
                Some(open) => (c != open).then_some(open),
            };
            c == '>' && quote.is_none()
        });
        let end = end.map_or(html.len(), |end| open + end);
        let tag = &html[open + 1..end];
        found.push(tag);
        at = ["script", "style"]
            .into_iter()
            .filter(|name| tag.strip_prefix(*name).is_some_and(|rest| !rest.starts_with(|c: char| c.is_alphanumeric())))
            .find_map(|name| html[end..].find(&format!("</{name}")).map(|close| end + close))
            .unwrap_or(end);
    }
    found
}

/// A tag as pairs: what stands outside quotation marks, and what stands in the pair of them behind it.
fn values(tag: &str) -> Vec<(&str, &str)> {
    let (mut found, mut rest) = (Vec::new(), tag);
    while let Some(open) = rest.find(['"', '\'']) {
        let (outside, quoted) = rest.split_at(open);
        let (sign, behind) = quoted.split_at(1);
        let (inside, after) = behind.split_once(sign).unwrap_or((behind, ""));
        found.push((outside, inside));
        rest = after;
    }
    found.push((rest, ""));
    found
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_marked_is_found_however_it_comes_out() {
        let page = marked(&serde_json::json!({ "a": "one", "b": { "c_html": "<p>two</p>", "href": "tel:1" } }));
        let sign = page.page["a"].as_str().expect("a text").to_owned();
        assert_eq!(page.page["b"]["c_html"], "<p>two</p>");
        let told = |html: &str| page.shown_raw(html).into_iter().map(|(message, _)| message).collect::<Vec<_>>();
        let escaped = crate::page::escape(&sign);
        assert_eq!(told(&format!("<p id='{escaped}' title=\"{escaped}\">{escaped}</p>")), Vec::<String>::new());
        for raw in [sign.clone(), sign.to_uppercase(), sign.replace("<t0>", ""), sign.replace(['<', '>', '"'], "")] {
            assert_eq!(told(&format!("<p>{raw}</p>")), ["`a` comes out as mark-up"], "{raw}");
        }
    }
}
