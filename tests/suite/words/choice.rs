//! Who gets which passage.

use std::collections::{BTreeMap, BTreeSet};
use std::path::Path;
use std::sync::LazyLock;

use afterhue::care::{
    Condition, Fact, Facts, Library, Passage, Priority, Reason, Section, WORD_LIMIT, left_out, select,
};
use afterhue::forecast::forecast;
use afterhue::pipeline;
use afterhue::plan::{Standing, plan};
use afterhue::record::History;
use afterhue::workspace::read_folder;

use super::{catalogue, library};

/// The facts of every visit of the demo salon, as they were on the day, by client and day.
static DEMO: LazyLock<BTreeMap<String, Facts>> = LazyLock::new(|| {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("site-demo");
    let texts = read_folder(&folder).unwrap_or_else(|failure| panic!("{failure:?}"));
    let read = pipeline::read(&texts);
    let (salon, _) = read.house.expect("the demo salon has no fault");
    let days = |history: History| {
        (1..=history.visits.len())
            .map(move |count| History { client: history.client.clone(), visits: history.visits[..count].to_vec() })
    };
    let facts = |history: History| {
        let name = format!("{} on {}", history.client.code, history.latest().date);
        let shareable = history.shareable();
        let plan = plan(&shareable, &salon, &forecast(&shareable, &salon));
        (name, Facts::of(&shareable, &plan))
    };
    read.histories.into_iter().flat_map(days).map(facts).collect()
});

fn demo() -> BTreeMap<String, Facts> {
    DEMO.clone()
}

fn chosen<'a>(library: &'a Library, facts: &Facts) -> Vec<&'a str> {
    select(library, facts).into_iter().map(|selected| selected.passage.id.as_str()).collect()
}

#[test]
fn there_are_at_least_45_passages_in_every_section() {
    let library = library();
    assert!(library.passages().count() >= 45);
    let sections: BTreeSet<Section> = library.passages().map(|passage| passage.section).collect();
    assert_eq!(sections.len(), 12);
}

/// A set of facts one client could have: what excludes each other is not together, what needs another is not alone.
fn possible(facts: &BTreeSet<Fact>) -> bool {
    let alone = |group: &&[Fact]| group.iter().filter(|fact| facts.contains(fact)).count() <= 1;
    Fact::exclusive_groups().iter().all(alone)
        && Fact::implications().iter().all(|(fact, needed)| !facts.contains(fact) || facts.contains(needed))
}

/// Every possible choice of the facts a condition asks for, with what they need.
fn choices(condition: &Condition, passage: &Passage) -> Vec<Facts> {
    let places = passage.texts().flat_map(|text| text.placeholders()).filter_map(|place| place.needs());
    let needed: BTreeSet<Fact> = places.collect();
    let asked: Vec<Fact> = condition.facts().into_iter().collect();
    let mut found = Vec::new();
    for choice in 0..2_u32 << asked.len() {
        let picked = asked.iter().enumerate().filter(|(at, _)| choice & (1 << at) != 0).map(|(_, fact)| *fact);
        // The last bit adds what the places of the passage need.
        let filled = needed.iter().copied().filter(|_| choice >> asked.len() == 1);
        let mut facts: BTreeSet<Fact> = picked.chain(filled).collect();
        for _ in 0..3 {
            let more: Vec<Fact> =
                Fact::implications().iter().filter(|(fact, _)| facts.contains(fact)).map(|(_, need)| *need).collect();
            facts.extend(more);
        }
        if possible(&facts) {
            found.push(facts.into_iter().collect());
        }
    }
    found
}

#[test]
fn every_condition_is_met_by_some_client_and_missed_by_another() {
    let library = library();
    for passage in library.passages() {
        let Some(condition) = &passage.when else { continue };
        let got: BTreeSet<bool> = choices(condition, passage)
            .iter()
            .map(|facts| chosen(&library, facts).contains(&passage.id.as_str()))
            .collect();
        assert_eq!(got.len(), 2, "{}", passage.id);
    }
}

#[test]
fn every_passage_is_chosen_on_some_demo_page_and_only_those_for_everybody_on_all() {
    let library = library();
    let pages: Vec<BTreeSet<&str>> = demo()
        .values()
        .filter(|facts| facts.open(Section::Washing))
        .map(|facts| chosen(&library, facts).into_iter().collect())
        .collect();
    assert!(pages.len() >= 40, "{} demo pages", pages.len());
    let never: Vec<&str> =
        library.passages().map(|p| p.id.as_str()).filter(|id| !pages.iter().any(|page| page.contains(id))).collect();
    assert!(never.is_empty(), "on no demo page: {never:?}");
    for passage in library.passages() {
        let everywhere = pages.iter().all(|page| page.contains(passage.id.as_str()));
        assert_eq!(everywhere, passage.when.is_none(), "{}", passage.id);
    }
}

#[test]
fn no_two_unlike_demo_clients_get_the_same_list() {
    let library = library();
    // The last visit of each client; the days of one client follow each other in the map.
    let latest: BTreeMap<String, Facts> = demo()
        .into_iter()
        .map(|(name, facts)| (name.split(' ').next().unwrap_or_default().to_owned(), facts))
        .collect();
    let mut lists: BTreeMap<Vec<&str>, (String, Facts)> = BTreeMap::new();
    for (client, facts) in latest {
        if let Some((other, same)) = lists.get(&chosen(&library, &facts)) {
            assert_eq!(same, &facts, "{client} and {other} get the same list");
        } else {
            lists.insert(chosen(&library, &facts), (client, facts));
        }
    }
    assert!(lists.len() >= 24, "{} different lists", lists.len());
}

#[test]
fn no_demo_page_holds_more_than_900_words_of_passages_and_what_is_left_out_matters_least() {
    let library = library();
    for (name, facts) in demo() {
        let words: usize = select(&library, &facts).iter().map(|selected| selected.passage.word_count()).sum();
        assert!(words <= WORD_LIMIT, "{name}: {words} words");
        let out = left_out(&library, &facts);
        let of = |priority| out.iter().filter(|selected| selected.passage.priority == priority).count();
        let ids: Vec<&str> = out.iter().map(|selected| selected.passage.id.as_str()).collect();
        assert!(of(Priority::Must) == 0 && of(Priority::Should) <= 4, "{name}: {ids:?}");
    }
}

#[test]
fn one_who_has_every_fact_still_gets_a_page_of_900_words_with_all_that_must_stay() {
    let library = library();
    let all: Facts = Fact::all().collect();
    let selected = select(&library, &all);
    assert!(selected.iter().map(|selected| selected.passage.word_count()).sum::<usize>() <= WORD_LIMIT);
    assert!(!left_out(&library, &all).is_empty());
    for passage in library.passages().filter(|passage| passage.when.is_none()) {
        assert!(selected.iter().any(|selected| selected.passage.id == passage.id), "{}", passage.id);
    }
}

#[test]
fn a_page_reads_in_the_order_of_its_sections_and_every_choice_has_a_reason() {
    let library = library();
    for facts in demo().values() {
        let selected = select(&library, facts);
        let order: Vec<(Section, u16)> = selected.iter().map(|s| (s.passage.section, s.passage.order)).collect();
        assert!(order.is_sorted());
        for one in selected {
            assert_eq!(one.reason == Reason::Everybody, one.passage.when.is_none(), "{}", one.passage.id);
            assert!(one.reason.to_string().len() >= 3, "{}: {}", one.passage.id, one.reason);
        }
    }
}

#[test]
fn no_page_asks_the_same_question_twice() {
    let library = library();
    for (name, facts) in demo() {
        let headings =
            catalogue().texts().filter(|(key, _)| key.starts_with("section.") && *key != "section.care-boxes");
        let mut asked: BTreeSet<String> = headings.map(|(_, text)| text.to_owned()).collect();
        for one in select(&library, &facts) {
            let question = super::filled(&one.passage.heading);
            assert!(asked.insert(question.clone()), "{name}: {question}");
        }
    }
}

#[test]
fn without_a_plan_only_help_and_the_words_about_the_page_are_shown() {
    let library = library();
    let ids = chosen(&library, &Facts::help_only());
    assert!(ids.contains(&"care-emergency") && ids.contains(&"about-medical"));
    assert!(ids.iter().all(|id| id.starts_with("care-") || id.starts_with("about-")), "{ids:?}");
    let demo = demo();
    assert!(demo.values().any(|facts| *facts == Facts::help_only()), "the demo has {:?}", Standing::AgeNotConfirmed);
}
