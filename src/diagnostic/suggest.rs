//! The nearest known word to a misspelt one.

use strsim::damerau_levenshtein;

/// The candidate nearest to what was written, when one is near enough to be meant.
///
/// Capitals, hyphens, underscores and the order of words do not count. A tie goes to the candidate listed first.
#[must_use]
pub fn did_you_mean<'a>(written: &str, candidates: &[&'a str]) -> Option<&'a str> {
    nearest(written, candidates, 1).first().copied()
}

/// Up to `most` candidates near enough to be meant, the nearest first.
#[must_use]
pub fn nearest<'a>(written: &str, candidates: &[&'a str], most: usize) -> Vec<&'a str> {
    let wanted = plain(written);
    let mut near: Vec<(usize, &str)> = candidates
        .iter()
        .filter_map(|candidate| near_enough(&wanted, &plain(candidate)).map(|far| (far, *candidate)))
        .collect();
    near.sort_by_key(|(far, _)| *far);
    near.into_iter().map(|(_, candidate)| candidate).take(most).collect()
}

/// How far apart two plain spellings are, when they are near enough: one slip in three letters, or one inside the other.
fn near_enough(wanted: &str, candidate: &str) -> Option<usize> {
    let length = wanted.chars().count().max(candidate.chars().count());
    let far = damerau_levenshtein(wanted, candidate);
    if far <= (length / 3).max(1) && far < length {
        return Some(far);
    }
    let short = wanted.chars().count().min(candidate.chars().count());
    (short >= 4 && (candidate.contains(wanted) || wanted.contains(candidate))).then_some(far)
}

/// Small letters, and the words in alphabetical order.
fn plain(text: &str) -> String {
    // A very long text is never a slip of the pen, and comparing it would take long.
    let lower: String = text.chars().take(64).collect::<String>().to_lowercase();
    let mut words: Vec<&str> = lower.split([' ', '-', '_']).filter(|word| !word.is_empty()).collect();
    words.sort_unstable();
    words.join(" ")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_slip_finds_the_word_meant() {
        let words = ["washes_per_week", "water", "shampoo", "rinse_days_per_week"];
        assert_eq!(did_you_mean("wash_per_week", &words), Some("washes_per_week"));
        assert_eq!(did_you_mean("shampo", &words), Some("shampoo"));
        assert_eq!(did_you_mean("Shampoo", &words), Some("shampoo"));
    }

    #[test]
    fn the_order_of_words_does_not_count() {
        assert_eq!(did_you_mean("pastel rose", &["peach pastel", "rose pastel"]), Some("rose pastel"));
    }

    #[test]
    fn a_word_far_from_all_finds_none() {
        assert_eq!(did_you_mean("horse", &["roots", "ends", "band"]), None);
        assert_eq!(did_you_mean("", &["a"]), None);
    }

    #[test]
    fn the_nearest_come_first_and_a_tie_keeps_the_given_order() {
        assert_eq!(nearest("cat", &["cut", "cats", "cap"], 2), ["cut", "cats"]);
    }
}
