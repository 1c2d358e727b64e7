//! The style text of a page, its policy, its icon, and the files beside the pages.
//!
//! In: a mood and a theme's style sheet. Out: texts. Knows nothing of: templates, what a page says.

use std::sync::LazyLock;

use data_encoding::BASE64;
use sha2::Digest;
use sha2::Sha256;

use crate::page::mood::Mood;
use crate::page::mood::Scheme;
use crate::site::script::squeeze as squeeze_script;

/// The `_headers` file: what only a server can say. Hosts that do not read it ignore it.
///
/// Source: the WHATWG HTML standard leaves `frame-ancestors` out of a policy given in the page; the rest repeats
/// what every page says for itself, for files that cannot.
pub const HEADERS: &str = "\
/*
  X-Robots-Tag: noindex, nofollow, noarchive
  Referrer-Policy: no-referrer
  X-Content-Type-Options: nosniff
  Content-Security-Policy: frame-ancestors 'none'
  Cache-Control: private, max-age=0, must-revalidate

/*.ics
  Content-Type: text/calendar; charset=utf-8
";

/// The style text of a page: its colours, then the theme's rules, [squeezed](squeeze).
#[must_use]
pub fn style(mood: &Mood, rules: &str) -> String {
    [colours(mood).as_str(), rules].join("\n")
}

fn colours(mood: &Mood) -> String {
    let light = format!(":root{{{}--field:{};--edge:{}}}", of_scheme(&mood.light), mood.field, mood.edge);
    let dark = format!("@media screen and (prefers-color-scheme:dark){{:root{{{}}}}}", of_scheme(&mood.dark));
    [light, dark].join("\n")
}

/// The style text of a sealed page from outside: two of its colours, then the theme's rules, [squeezed](squeeze).
#[must_use]
pub fn outer_style(mood: &Mood, rules: &str) -> String {
    let of = |Scheme { paper, ink, .. }: &Scheme| format!(":root{{--paper:{paper};--ink:{ink}}}");
    let dark = format!("@media screen and (prefers-color-scheme:dark){{{}}}", of(&mood.dark));
    [of(&mood.light).as_str(), &dark, rules].join("\n")
}

fn of_scheme(scheme: &Scheme) -> String {
    let Scheme { paper, ink, soft, accent, rule, emergency, urgent } = scheme;
    format!(
        "--paper:{paper};--ink:{ink};--soft:{soft};--accent:{accent};--rule:{rule};--emergency:{emergency};--urgent:{urgent};"
    )
}

/// A style sheet without comments, indentation and lines that part nothing.
#[must_use]
pub fn squeeze(css: &str) -> String {
    let mut plain = String::with_capacity(css.len());
    let mut rest = css;
    while let Some(open) = rest.find("/*") {
        plain.push_str(&rest[..open]);
        rest = rest[open + 2..].find("*/").map_or("", |close| &rest[open + 2 + close + 2..]);
    }
    plain.push_str(rest);
    let mut squeezed = String::with_capacity(plain.len());
    for line in plain.lines().map(str::trim).filter(|line| !line.is_empty()) {
        // Between rules a new line says nothing; inside a value it may part two words.
        if !(squeezed.is_empty() || squeezed.ends_with(['{', '}', ';'])) {
            squeezed.push('\n');
        }
        squeezed.push_str(line);
    }
    squeezed
}

/// The one script of a page, as short as it can be written: it works on what the page says, and keeps nothing.
pub static SCRIPT: LazyLock<String> = LazyLock::new(|| squeeze_script(include_str!("today.js")));

/// The one script of a sealed page from outside: it opens the page and starts what is inside.
pub static OPENING_SCRIPT: LazyLock<String> = LazyLock::new(|| squeeze_script(include_str!("seal.js")));

/// The one script inside a sealed page: jumps that leave the key in the address, then what [`SCRIPT`] does.
///
/// The same in every page, as its hash stands outside: it must not tell which pages have dates.
pub static SEALED_SCRIPT: LazyLock<String> = LazyLock::new(|| {
    let jump = squeeze_script(include_str!("jump.js"));
    format!("{jump}if(document.querySelector(\"#today\")){}", *SCRIPT)
});

/// The content security policy of a page: these style texts, these scripts, pictures written into the page, nothing else.
///
/// The hash is over the exact text between the tags (CSP Level 3, "hash-source"), so the template must not add to it.
#[must_use]
pub fn policy(styles: &[&str], scripts: &[&str]) -> String {
    let hash = |text: &&str| format!("'sha256-{}'", BASE64.encode(&Sha256::digest(text.as_bytes())));
    let hashes = |texts: &[&str]| texts.iter().map(hash).collect::<Vec<_>>().join(" ");
    let style = hashes(styles);
    let script = if scripts.is_empty() { "'none'".to_owned() } else { hashes(scripts) };
    format!(
        "default-src 'none'; style-src {style}; script-src {script}; img-src data:; base-uri 'none'; \
         form-action 'none'"
    )
}

/// A strand in the page's accent, as an address that needs no request: without one, browsers ask for a file.
#[must_use]
pub fn icon(mood: &Mood) -> String {
    let colour = mood.light.accent.replace('#', "%23");
    format!(
        "data:image/svg+xml,%3Csvg xmlns='http://www.w3.org/2000/svg' viewBox='0 0 8 8'%3E%3Cpath fill='{colour}' \
         d='M2 0h4v8H2z'/%3E%3C/svg%3E"
    )
    .replace(' ', "%20")
}

/// The icon of a page that shows nobody's colours: none, and no request for one.
pub const NO_ICON: &str = "data:,";

/// Cut marks of a sheet of cards, in millimetres on A4: two columns of 85, four rows of 55.
///
/// They stop 2 mm short of the cards, so that no line is left on a card cut a little wide.
pub static CUT_MARKS: LazyLock<String> = LazyLock::new(|| {
    let columns = [20, 105, 190].map(|x| format!("M{x} 28.5v8M{x} 260.5v8")).concat();
    let rows = [0, 1, 2, 3, 4].map(|row| format!("M10 {y}h8M192 {y}h8", y = 38.5 + 55.0 * f64::from(row))).concat();
    format!("<svg class=\"cuts\" aria-hidden=\"true\" viewBox=\"0 0 210 297\"><path d=\"{columns}{rows}\"/></svg>")
});

#[cfg(test)]
mod tests {
    use super::*;
    use crate::page::mood::mood;

    /// SHA-256 of "abc" is FIPS 180-4's own example: ba7816bf … f20015ad.
    #[test]
    fn the_policy_holds_the_hash_of_the_style_in_base64() {
        assert!(policy(&["abc"], &[]).contains("style-src 'sha256-ungWv48Bz+pBQUDeXa4iI7ADYaOWF3qctBD/YfIAFa0='"));
    }

    #[test]
    fn a_squeezed_style_keeps_its_rules_and_nothing_else() {
        assert_eq!(squeeze("/* a\n b */\n  p{x:y}\n\n /*c*/h1{z:w}\n"), "p{x:y}h1{z:w}");
        assert_eq!(squeeze("p{\nx:y\n  z;\n}\na,\nb{}"), "p{x:y\nz;}a,\nb{}");
        assert_eq!(squeeze("p{}/* open"), "p{}");
        let style = style(&mood(None, None), "p{}");
        assert!(style.starts_with(":root{--paper:#") && style.ends_with("}\np{}"), "{style}");
    }

    #[test]
    fn cut_marks_stay_off_the_cards() {
        let marks = &*CUT_MARKS;
        assert_eq!(marks.matches('M').count(), 2 * 3 + 2 * 5);
        // Cards lie from 20 to 190 and from 38.5 to 258.5.
        assert!(marks.contains("M20 28.5v8") && marks.contains("M20 260.5v8") && marks.contains("M10 258.5h8"));
    }
}
