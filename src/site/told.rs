//! What a page says of one piece of advice, rendered once for all pages that say the very same.
//!
//! In: a theme's templates. Out: the filter `told`, ready-made HTML. Knows nothing of: pages.
//!
//! `entry.html` sees nothing but `entry`, so what it makes of one is the same on every page. Its texts are escaped as everywhere,
//! and a theme is tried through it as well.

use std::collections::HashMap;
use std::sync::PoisonError;
use std::sync::RwLock;

use tera::Context;
use tera::Error;
use tera::Filter;
use tera::Kwargs;
use tera::State;
use tera::Tera;
use tera::TeraResult;
use tera::Value;

/// The template of one piece of advice.
pub(super) const TEMPLATE: &str = "entry.html";

/// The filter's name in templates.
const NAME: &str = "told";

/// So many are kept.
const MOST: usize = 4096;

/// The filter before there are templates, so that they may name it; in `entry.html` itself it stays this one.
pub(super) fn announce(tera: &mut Tera) {
    tera.register_filter(NAME, |_: Value, _: Kwargs, _: &State<'_>| -> TeraResult<Value> {
        Err(Error::message("a piece of advice cannot be told inside one"))
    });
}

/// The filter over whole templates.
pub(super) fn register(tera: &mut Tera) {
    let told = Told { tera: tera.clone(), kept: RwLock::default() };
    tera.register_filter(NAME, told);
}

struct Told {
    tera: Tera,
    /// By the place of an entry's fields in memory: the entry, so that the place stays its own, and its HTML.
    kept: RwLock<HashMap<usize, (Value, Value)>>,
}

impl Filter<Value, TeraResult<Value>> for Told {
    fn call(&self, entry: Value, _: Kwargs, _: &State<'_>) -> TeraResult<Value> {
        let place = entry.as_map().map(|fields| std::ptr::from_ref(fields).addr());
        let Some(place) = place else { return self.render(entry) };
        if let Some((_, html)) = self.kept.read().unwrap_or_else(PoisonError::into_inner).get(&place) {
            return Ok(html.clone());
        }
        let html = self.render(entry.clone())?;
        let mut kept = self.kept.write().unwrap_or_else(PoisonError::into_inner);
        // A full memory is emptied: simpler than counting uses.
        if kept.len() >= MOST {
            kept.clear();
        }
        kept.insert(place, (entry, html.clone()));
        Ok(html)
    }

    fn is_safe(&self) -> bool {
        true
    }
}

impl Told {
    fn render(&self, entry: Value) -> TeraResult<Value> {
        let mut context = Context::new();
        context.insert_value("entry", entry);
        let html = self.tera.render(TEMPLATE, &context)?;
        Ok(Value::safe_string(html.strip_suffix('\n').unwrap_or(&html)))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::diagnostic::Report;
    use crate::diagnostic::SourceText;
    use crate::site::theme;
    use crate::site::trial;

    /// What is told of "paper" with another `entry.html`.
    fn tried(from: &str, into: &str) -> Report {
        let text = include_str!("../../themes/paper/entry.html").replace(from, into);
        let own = SourceText { name: "themes/mine/entry.html".to_owned(), text };
        trial::faults(&theme::read(&[own]).value.expect("it parses"))
    }

    #[test]
    fn a_fault_in_what_is_said_of_advice_is_told_once_and_in_its_own_file() {
        assert!(tried("", "").items.is_empty());
        let report = tried("entry.heading", "entry.headline");
        let [fault] = &report.items[..] else { panic!("{:?}", report.items) };
        assert!(fault.file == "themes/mine/entry.html" && fault.span.is_some(), "{fault:?}");
        for raw in ["{{ entry.heading }}", "{{ entry.why.label }}"] {
            assert!(tried(raw, &format!("<p class={raw}>x</p>")).has_fault(), "{raw}");
        }
    }

    fn page(template: &str) -> Tera {
        let mut tera = Tera::new();
        announce(&mut tera);
        let templates =
            [(TEMPLATE, template), ("page.html", "{% for entry in entries %}[{{ entry | told }}]{% endfor %}")];
        tera.add_raw_templates(templates).expect("good templates");
        register(&mut tera);
        tera
    }

    #[test]
    fn each_entry_is_told_as_itself_and_its_texts_are_escaped() {
        let tera = page("<b>{{ entry.text }}</b>{{ entry.text_html | safe }}\n");
        let told = |texts: &[String]| {
            let entry = |text: &String| HashMap::from([("text", text.clone()), ("text_html", text.clone())]);
            let mut context = Context::new();
            context.insert("entries", &texts.iter().map(entry).collect::<Vec<_>>());
            tera.render("page.html", &context).expect("a page")
        };
        // Each page goes at once, so that entries of the next may come to lie in the places of these.
        for round in 0..MOST {
            let texts = [format!("<i>{round}</i>"), "x".to_owned()];
            let wanted = format!("[<b>&lt;i&gt;{round}&lt;/i&gt;</b><i>{round}</i>][<b>x</b>x]");
            assert_eq!(told(&texts), wanted);
        }
    }

    #[test]
    fn an_entry_is_told_from_itself_alone_and_never_inside_another() {
        for template in ["{{ title }}", "{{ entry | told }}"] {
            let mut context = Context::new();
            context.insert("title", "of a client");
            context.insert("entries", &[HashMap::from([("text", "x")])]);
            assert!(page(template).render("page.html", &context).is_err(), "{template}");
        }
    }
}
