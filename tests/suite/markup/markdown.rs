//! Whatever a note or a passage is, it becomes a few plain elements, all of them closed.

use std::collections::BTreeSet;

use afterhue::page::markdown::{Origin, escape, to_html};
use proptest::prelude::*;

use super::tree::{Tree, tree};

/// What Markdown makes: headings lower than the page's own, and links of the listed schemes.
const PLAIN: [&str; 16] = [
    "p",
    "em",
    "strong",
    "ul",
    "ol",
    "ol start",
    "li",
    "blockquote",
    "h4",
    "h5",
    "h6",
    "pre",
    "code",
    "br",
    "hr",
    "a href=https: rel=noreferrer",
];
/// What a passage may hold beside.
const OF_A_PASSAGE: [&str; 2] = ["a href=mailto: rel=noreferrer", "a href=tel: rel=noreferrer"];

const PIECES: [&str; 52] = [
    "# ",
    "## ",
    "- ",
    "1. ",
    "7) ",
    "> ",
    "    ",
    "```",
    "~~~",
    "`",
    "*",
    "**",
    "_",
    "***",
    "---",
    "===",
    "[",
    "](",
    ")",
    "![",
    "\\",
    "\n",
    "\n\n",
    "<",
    ">",
    "\"",
    "'",
    "&",
    "&lt;",
    "&#106;",
    "<b>",
    "</p>",
    "</div>",
    "</section>",
    "<script>x</script>",
    "<!-- ",
    " -->",
    "<?",
    "?>",
    "<![CDATA[",
    "javascript:x",
    "https://x.example/a",
    "<https://x.example>",
    "<a@x.example>",
    "mailto:a@x.example",
    "tel:+441",
    "[a]: ",
    "[a]",
    " \"t\"",
    "|a|b|\n|-|-|\n",
    "w ",
    "é",
];

/// A text inside an element of class k, with one paragraph behind it.
fn placed(html: &str) -> Tree {
    tree(&format!(
        "<!DOCTYPE html><html><head><title>x</title></head><body><div class=\"k\">{html}</div><p id=\"after\">z</p></body></html>"
    ))
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::with_cases(3_000) })]

    #[test]
    fn any_markdown_becomes_plain_closed_elements(picked in prop::collection::vec(0..PIECES.len(), 0..24)) {
        let text: String = picked.iter().map(|index| PIECES[*index]).collect();
        for (origin, more) in [(Origin::Note, &[][..]), (Origin::Passage, &OF_A_PASSAGE[..])] {
            let html = to_html(&text, origin);
            let tree = placed(&html);
            let allowed: BTreeSet<&str> = PLAIN.iter().chain(more).copied().collect();
            for element in tree.below("k") {
                prop_assert!(allowed.contains(&*element), "{text:?} made {element}: {html}");
            }
            prop_assert_eq!(tree.outline("k"), placed("").outline("k"), "{:?}: {}", text, html);
            prop_assert_eq!(&tree.forgiven, &Vec::<String>::new(), "{:?}: {}", text, html);
        }
    }

    #[test]
    fn a_value_set_into_a_passage_is_words(picked in prop::collection::vec(0..PIECES.len(), 0..24)) {
        let value: String = picked.iter().map(|index| PIECES[*index]).collect::<String>().replace('\n', " ");
        let tree = placed(&to_html(&format!("At {}.", escape(&value)), Origin::Passage));
        prop_assert_eq!(tree.below("k"), ["p"]);
    }
}
