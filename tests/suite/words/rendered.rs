//! What every page of the demo says, read from the finished pages: the questions clients ask in the order they ask them,
//! nothing that is never said, everything that is always said, and how hard it all is to read.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::LazyLock;

use afterhue::care::never_said;

use super::claims::ALWAYS;
use super::reading::{HARDEST, LONGEST_SENTENCE, counts, grade, sentences, syllables};
use crate::pages::words;
use crate::salon_copy::SalonCopy;

/// Every public page of the demo in both themes, by theme and name.
static PAGES: LazyLock<BTreeMap<String, String>> = LazyLock::new(|| {
    let mut pages = BTreeMap::new();
    for theme in ["paper", "daylight"] {
        let salon = SalonCopy::new();
        let settings = salon.read("salon.toml");
        let theme_line = settings.lines().find(|line| line.starts_with("theme = ")).expect("the demo names its theme");
        salon.write("salon.toml", &settings.replace(theme_line, &format!("theme = \"{theme}\"")));
        salon.build();
        let html = salon
            .files("public")
            .into_iter()
            .filter(|(name, _)| name.starts_with("public/c/") && name.ends_with(".html"));
        pages.extend(html.map(|(name, bytes)| (format!("{theme}: {name}"), String::from_utf8(bytes).expect("UTF-8"))));
    }
    pages
});

/// Pages of a plan: all but those of help only.
fn planned() -> impl Iterator<Item = (&'static String, &'static String)> {
    PAGES.iter().filter(|(_, html)| html.contains("id=\"washing\""))
}

/// The common questions of clients, most asked first (common practice, no source), each with the headings that answer it.
///
/// How long the colour lasts is asked sixth and shown first: the fade is the heart of the page. What is normal on the way
/// stands in the question's own place.
const ASKED: [(&str, &[&str]); 22] = [
    ("first wash", &["When can I first wash it?"]),
    ("how often", &["How often can I wash it?"]),
    ("hot or cold water", &["Hot or cold water?", "Do you like it hot?"]),
    ("which shampoo", &["Which shampoo?", "Can I use a medicated or dandruff shampoo?"]),
    ("stains", &["Will it stain my towels and pillow?"]),
    ("how long, and what it turns to", &["What is normal as it fades?"]),
    ("yellow", &["How do I stop yellow?"]),
    ("coloured conditioner", &["Coloured conditioner: how often?", "Can I use a coloured conditioner?"]),
    ("gym", &["Can I go to the gym?"]),
    (
        "swimming and sun",
        &["Can I sunbathe?", "Does sun matter?", "Can I swim in a pool?", "Can I swim in the sea or a lake?"],
    ),
    ("straightening", &["Can I use heat?", "Can I straighten it? How hot?"]),
    (
        "tangles, stretches when wet",
        &[
            "Why does it tangle when wet?",
            "When should I comb it?",
            "Why does it stretch when wet?",
            "Does it stretch a little when wet?",
        ],
    ),
    ("mask, protein, bond care", &["Do I need a mask?", "Do I need protein?", "Do I need bond care?"]),
    (
        "refresh and roots",
        &["When do I refresh? Can it wait?", "Can the roots wait?", "Why do my roots need more time?"],
    ),
    ("box dye", &["Can I box-dye over it?"]),
    ("itchy or sore", &["Sore, itching or swollen?"]),
    ("pregnant or breastfeeding", &["I am pregnant or breastfeeding. Can I colour it?"]),
    ("henna tattoo", &["Can I get a henna tattoo?"]),
    ("uneven", &["What if the colour is uneven?"]),
    ("back to natural", &["Can I go back to natural?"]),
    ("breaking or shedding", &["What if my hair breaks or falls out?"]),
    ("hard water", &["Hard water at home?"]),
];

/// Those that every page of a plan answers.
const ON_EVERY_PAGE: [&str; 8] = [
    "which shampoo",
    "straightening",
    "box dye",
    "itchy or sore",
    "pregnant or breastfeeding",
    "henna tattoo",
    "back to natural",
    "breaking or shedding",
];

/// The headings of a page in its order.
fn headings(html: &str) -> Vec<String> {
    let mut found = Vec::new();
    for part in html.split("<h").skip(1).filter(|part| part.starts_with("2>") || part.starts_with("3>")) {
        let end = part.find("</h").expect("a heading ends");
        found.push(part[2..end].replace("&#39;", "'"));
    }
    found
}

#[test]
fn every_page_answers_what_clients_ask_most_asked_first() {
    let mut answered = BTreeSet::new();
    let mut pages = 0;
    for (name, html) in planned() {
        pages += 1;
        let headings = headings(html);
        let mut before = (0, "nothing");
        for (question, answers) in ASKED {
            let places: Vec<usize> =
                (0..headings.len()).filter(|at| answers.contains(&headings[*at].as_str())).collect();
            let (Some(first), Some(last)) = (places.first(), places.last()) else {
                assert!(!ON_EVERY_PAGE.contains(&question), "{name}: {question} is not answered");
                continue;
            };
            answered.insert(question);
            assert!(*first >= before.0, "{name}: {question} stands before {}: {headings:?}", before.1);
            before = (*last, question);
        }
        assert!(
            headings.iter().any(|heading| heading == "How long will my colour last?") || !html.contains("id=\"fade\"")
        );
    }
    let left: Vec<&str> = ASKED.iter().map(|(question, _)| *question).filter(|one| !answered.contains(one)).collect();
    assert!(pages >= 40 && left.is_empty(), "{pages} pages; on none of them: {left:?}");
}

#[test]
fn no_page_says_what_is_never_said() {
    assert!(PAGES.len() >= 50, "{}", PAGES.len());
    for (name, html) in PAGES.iter() {
        let said = words(html);
        let found = never_said(&said);
        assert!(found.is_empty(), "{name}: {:?}", found[0].1.words);
        assert!(!said.contains('!') && !said.contains("n't") && !said.contains("n’t"), "{name}");
    }
}

#[test]
fn every_page_says_what_is_always_said() {
    for (name, html) in planned() {
        let said = words(html).to_lowercase();
        for (what, wanted) in ALWAYS {
            let missing =
                wanted.iter().find(|word| !said.contains(&word.replace("rook and reed", "tollemarsh hair rooms")));
            assert!(missing.is_none(), "{name}: {what}: {missing:?}");
        }
    }
}

/// Sentences of 15 words on average and SMOG 12 at most: the health service's page on readability and ours on what we ask.
const MEAN_SENTENCE: f64 = 15.0;
const HARDEST_SMOG: f64 = 12.0;

/// 1.0430 · √(30 · words of three syllables or more / sentences) + 3.1291 (McLaughlin 1969, Journal of Reading 12:639, from memory).
fn smog(texts: &[String]) -> f64 {
    let (_, sentences_in_all, _) = counts(texts);
    let long = |word: &&str| word.split('-').map(syllables).sum::<usize>() >= 3;
    let hard = texts.iter().flat_map(|text| sentences(text)).flatten().filter(long).count();
    1.0430 * (30.0 * hard as f64 / sentences_in_all).sqrt() + 3.1291
}

/// The reading grade of what a page says in sentences; dates, names of colours and headings of one word are no prose.
#[test]
fn every_page_reads_at_grade_8_or_lower_in_sentences_of_at_most_20_words() {
    let mut grades = Vec::new();
    for (name, html) in PAGES.iter() {
        let said = words(html);
        for line in said.lines() {
            for sentence in sentences(line) {
                let long = sentence.len() > LONGEST_SENTENCE;
                assert!(!long, "{name}: {} words: {}", sentence.len(), sentence.join(" "));
            }
        }
        let prose: Vec<String> = said.lines().filter(|line| line.ends_with(['.', '?'])).map(str::to_owned).collect();
        assert!(prose.len() >= 10, "{name}: {} lines", prose.len());
        let grade = grade(&prose);
        assert!(grade <= HARDEST, "{name}: grade {grade:.1}");
        assert!(smog(&prose) <= HARDEST_SMOG, "{name}: SMOG {:.1}", smog(&prose));
        let (words, sentences, _) = counts(&prose);
        assert!(words / sentences <= MEAN_SENTENCE, "{name}: {:.1} words a sentence", words / sentences);
        grades.push(grade);
    }
    let mean = grades.iter().sum::<f64>() / grades.len() as f64;
    assert!(mean <= super::reading::AIM, "on average grade {mean:.1}");
}

/// "Tonight" is one night: without a script the words themselves say which, and no other word counts from the reader's day.
#[test]
fn tonight_carries_its_date_and_nothing_else_is_told_by_the_readers_day() {
    let mut nights = 0;
    for (name, html) in planned() {
        let said = words(html);
        // What the script shows is hidden until the script, which knows the day, shows it.
        let shown = said.replacen("\nThis week\n", "\n", 1);
        for line in shown.lines() {
            let lower = line.to_lowercase();
            let dated = line.starts_with("Tonight, ") || line.starts_with("[drawing: Your hair from here: Tonight, ");
            assert!(!lower.contains("tonight") || dated, "{name}: {line}");
            nights += usize::from(dated);
            let counted = ["this week", "tomorrow", "yesterday"].into_iter().find(|word| lower.contains(word));
            assert!(counted.is_none(), "{name}: {line}");
        }
    }
    assert!(nights >= 80, "{nights}");
}

/// A booking is what its reader looks for: nothing but the salon's name stands before it.
#[test]
fn a_booking_is_said_before_anything_else() {
    let mut booked = 0;
    for (name, html) in planned() {
        let said = words(html);
        let Some(at) = said.lines().position(|line| line.starts_with("Booked: ")) else { continue };
        if !html.contains("class=\"day booked\"") {
            continue;
        }
        booked += 1;
        let before: Vec<&str> = said.lines().take(at).filter(|line| !line.starts_with("[drawing")).collect();
        assert_eq!(before, ["Tollemarsh Hair Rooms"], "{name}");
        assert!(!said.lines().any(|line| line == "Come back"), "{name} says it twice");
    }
    assert!(booked >= 4, "{booked}");
}
