//! What the template language does our way: text is escaped run by run, and ready-made HTML is let through without a copy.
//!
//! In: [`Tera`]. Out: the same, rendering the same bytes. Knows nothing of: themes, pages.
//!
//! As it comes, tera writes an escaped text byte by byte, and copies every text that stands before `| safe`: together more work than
//! all the rest of a page.

use std::io;
use std::io::Write;

use tera::Kwargs;
use tera::State;
use tera::Tera;
use tera::Value;

use super::told;
use crate::page;

/// A template language that speaks this dialect.
pub(super) fn tera() -> Tera {
    let mut tera = Tera::new();
    tera.set_escape_fn(escape);
    tera.register_filter("safe", safe);
    told::announce(&mut tera);
    tera
}

fn escape(text: &str, out: &mut dyn Write) -> io::Result<()> {
    page::escaped(text).try_for_each(|piece| out.write_all(piece.as_bytes()))
}

#[expect(clippy::needless_pass_by_value, reason = "a filter takes what tera hands it")]
fn safe(value: Value, _: Kwargs, _: &State<'_>) -> Value {
    if value.as_str().is_some() { value.mark_safe() } else { Value::safe_string(&value.to_string()) }
}

#[cfg(test)]
mod tests {
    use tera::Context;

    use super::*;

    #[test]
    fn it_renders_what_tera_renders() {
        let text = "{{ a }}|{{ a | safe }}|{{ b | safe }}|{{ c | safe }}|{{ c }}|{{ a | safe | upper }}";
        let mut context = Context::new();
        context.insert("a", "<p title=\"x\">'é' & 色</p>, long enough for the heap");
        context.insert("b", &1.5);
        context.insert("c", &["<", "'"]);
        let rendered = |mut tera: Tera| {
            tera.add_raw_template("page.html", text).expect("a good template");
            tera.render("page.html", &context).expect("a page")
        };
        assert_eq!(rendered(tera()), rendered(Tera::new()));
    }
}
