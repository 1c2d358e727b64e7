//! How hard the words are to read.
//!
//! The measure is the Flesch–Kincaid grade: 0.39 · words/sentences + 11.8 · syllables/words − 15.59
//! (Kincaid, Fishburne, Rogers and Chissom 1975, Research Branch Report 8-75, Naval Technical Training Command).
//! Limits: grade at most 8 with 6 as the aim, sentences of at most 20 words, "do not" in place of "don't", numerals,
//! at most 5 points in an emergency box: the content pages of the UK health service's design manual, and the
//! US Agency for Healthcare Research and Quality's toolkit (3rd edition, tool 11) on the grade of the average reader.

use super::{catalogue, everything, filled, library};
use afterhue::care::Section;

pub(super) const HARDEST: f64 = 8.0;
pub(super) const AIM: f64 = 6.0;
pub(super) const LONGEST_SENTENCE: usize = 20;

/// The sentences of a text as words. A point of a list is a sentence of its own, and so is what stands before a colon:
/// the health service's advice on scoring asks for a full stop after each heading and point.
pub(super) fn sentences(text: &str) -> Vec<Vec<&str>> {
    let text = text.replace("\n- ", ". ").replace("\n\n", ". ");
    let mut found = Vec::new();
    let mut words = Vec::new();
    // The words live as long as the text they were cut from.
    for word in Box::leak(text.into_boxed_str()).split_whitespace() {
        if word.chars().any(char::is_alphanumeric) {
            words.push(word);
        }
        if word.ends_with(['.', '?', '!', ':']) && !words.is_empty() {
            found.push(std::mem::take(&mut words));
        }
    }
    found.push(words);
    found.retain(|words| !words.is_empty());
    found
}

/// Syllables of a word: groups of vowels, less a silent "e" or "ed" at the end; a number counts one.
pub(super) fn syllables(word: &str) -> usize {
    let word: String = word.to_lowercase().chars().filter(char::is_ascii_alphabetic).collect();
    let vowel = |c: char| "aeiouy".contains(c);
    let groups =
        word.chars().zip(std::iter::once(' ').chain(word.chars())).filter(|(c, before)| vowel(*c) && !vowel(*before));
    let groups = groups.count();
    let silent_e = word.ends_with('e') && !word.ends_with("le") && !word.ends_with("ee") && !word.ends_with("ye");
    let silent_ed = word.ends_with("ed") && !word.ends_with("ted") && !word.ends_with("ded") && !word.ends_with("eed");
    groups.saturating_sub(usize::from(groups > 1 && (silent_e || silent_ed))).max(1)
}

/// Words, sentences and syllables.
pub(super) fn counts(texts: &[String]) -> (f64, f64, f64) {
    let sentences: Vec<Vec<&str>> = texts.iter().flat_map(|text| sentences(text)).collect();
    let words = || sentences.iter().flatten();
    let syllables: usize = words().map(|word| word.split('-').map(syllables).sum::<usize>()).sum();
    (words().count() as f64, sentences.len() as f64, syllables as f64)
}

pub(super) fn grade(texts: &[String]) -> f64 {
    let (words, sentences, syllables) = counts(texts);
    0.39 * words / sentences + 11.8 * syllables / words - 15.59
}

#[test]
fn the_measure_counts_as_its_source_defines() {
    // Counted by hand: 6 words, 1 sentence, 6 syllables, so 2.34 + 11.8 − 15.59 = −1.45.
    assert!((grade(&["The cat sat on the mat.".to_owned()]) + 1.45).abs() < 1e-9);
    for (word, count) in
        [("hair", 1), ("colour", 2), ("lightener", 3), ("rinse", 1), ("washed", 1), ("faded", 2), ("emergency", 4)]
    {
        assert_eq!(syllables(word), count, "{word}");
    }
    assert_eq!(sentences("If:\n\n- one point\n- another\n\nThen 1.5 cm more.").len(), 4);
}

#[test]
fn every_passage_reads_at_grade_8_or_lower_and_all_of_them_at_6_or_lower() {
    let library = library();
    let mut all = Vec::new();
    for passage in library.passages() {
        for text in std::iter::once(&passage.body).chain(&passage.why).map(filled) {
            let grade = grade(std::slice::from_ref(&text));
            assert!(grade <= HARDEST, "{}: grade {grade:.1}: {text}", passage.id);
            all.push(text);
        }
    }
    assert!(grade(&all) <= AIM, "all passages: grade {:.1}", grade(&all));
}

#[test]
fn the_sentences_of_the_catalogue_read_at_grade_6_together() {
    let whole = |text: &&(&str, &str)| text.1.ends_with(['.', '?']) && text.1.contains(' ');
    let texts: Vec<(&str, &str)> = catalogue().texts().collect();
    let sentences: Vec<String> = texts.iter().filter(whole).map(|(_, text)| (*text).to_owned()).collect();
    assert!(sentences.len() > 20, "{}", sentences.len());
    assert!(grade(&sentences) <= AIM, "grade {:.1}", grade(&sentences));
}

#[test]
fn no_sentence_is_longer_than_20_words() {
    for (place, text) in everything() {
        for sentence in sentences(&text) {
            assert!(sentence.len() <= LONGEST_SENTENCE, "{place}: {} words: {}", sentence.len(), sentence.join(" "));
        }
    }
}

#[test]
fn words_are_written_in_full_and_nothing_is_shouted() {
    for (place, text) in everything() {
        let lower = text.to_lowercase().replace('’', "'");
        for short in ["n't", "'ll", "'re", "'ve", "it's", "that's", "you'd"] {
            assert!(!lower.contains(short), "{place}: {short}: {text}");
        }
        assert!(!text.contains('!'), "{place}: {text}");
        assert!(!text.contains("  "), "{place}: {text}");
    }
}

#[test]
fn numbers_are_written_as_numerals() {
    let spelled = ["two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "twice"];
    for passage in library().passages() {
        for text in [filled(&passage.heading), filled(&passage.body)] {
            let words = text.split(|c: char| !c.is_alphabetic());
            let found = words.map(str::to_lowercase).find(|word| spelled.contains(&word.as_str()));
            assert!(found.is_none(), "{}: {found:?}: {text}", passage.id);
        }
    }
}

#[test]
fn a_passage_is_at_most_three_sentences_and_a_care_box_at_most_five_points() {
    for passage in library().passages() {
        let body = filled(&passage.body);
        let points = body.lines().filter(|line| line.starts_with("- ")).count();
        if passage.section == Section::CareBoxes {
            assert!((1..=5).contains(&points), "{}: {points} points", passage.id);
        } else {
            // A first word such as "Yes" or a sentence of a few words is no burden; four is the most ever needed.
            assert!(points == 0 && sentences(&body).len() <= 4, "{}: {body}", passage.id);
        }
    }
}
