//! The tablet's pages of a salon whose every text is hostile, beside the same salon of harmless words.

use super::filled::{Words, filled};
use super::tree::tree;
use crate::chairside::tablet::{Tablet, desk};
use crate::privacy::in_memory::{demo, only};
use crate::salon_copy::SalonCopy;

/// One with many visits, one whose alert test is due.
const TWO: [&str; 2] = ["wren-04", "walnut-09"];

/// Address → outline of each page, and all the text that stands on them.
fn pages(words: &mut Words) -> (Vec<(String, String)>, String) {
    let salon = SalonCopy::new();
    let texts = filled(&only(demo(), &TWO), words);
    for part in ["clients", "records"] {
        salon.files(part).keys().for_each(|name| std::fs::remove_file(salon.path(name)).expect("removed"));
    }
    for source in texts.all() {
        salon.write(&source.name, &source.text);
    }
    let mut tablet = Tablet::new(&desk(&salon.path(""), false).0);
    let mut asked: Vec<String> = ["/", "/?find=w", "/client", "/book", "/book?date=2026-12-01&time=10:00&minutes=120"]
        .map(str::to_owned)
        .to_vec();
    for client in TWO {
        asked.extend([format!("/story/{client}"), format!("/done/{client}"), format!("/card/{client}")]);
        asked.push(tablet.start(client));
    }
    let mut all = String::new();
    let outlines = asked.into_iter().map(|path| {
        let page = tablet.get(&path);
        assert_eq!(page.status, 200, "{path}: {}", page.body);
        let tree = tree(&page.body);
        all += &tree.whole_text();
        assert_eq!(tree.forgiven, Vec::<String>::new(), "{path}");
        // The number of a draft is drawn anew.
        let name = if path.starts_with("/visit/") { "/visit".to_owned() } else { path };
        (name, tree.outline(""))
    });
    (outlines.collect(), all)
}

#[test]
fn every_page_of_the_tablet_keeps_its_tree_whatever_the_texts_are() {
    let mut words = Words::new(3, false);
    let (hostile, said) = pages(&mut words);
    let (harmless, _) = pages(&mut Words::new(3, true));
    for ((name, one), (_, other)) in hostile.iter().zip(&harmless) {
        let differs = one.lines().zip(other.lines()).find(|(one, other)| one != other);
        assert!(one == other, "{name}: {differs:?}");
    }
    let shown = words.written.iter().filter(|text| text.contains('<') && said.contains(*text)).count();
    assert!(shown > 5, "the texts stand on the pages as they were written: {shown}");
}
