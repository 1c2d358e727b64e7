//! Which passages a client gets, and why.

use std::collections::BTreeSet;
use std::fmt;

use super::Because;
use super::Facts;
use super::Library;
use super::Passage;
use super::Priority;
use crate::units::Worded;

/// The most words of passages on one page.
pub const WORD_LIMIT: usize = 900;

/// A passage that applies, with the reason.
#[derive(Debug, Clone, PartialEq)]
pub struct Selected<'a> {
    /// The passage.
    pub passage: &'a Passage,
    /// Why it applies.
    pub reason: Reason,
}

/// Why a passage applies. Its text is for the stylist, in the words that passages use for facts.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Reason {
    /// It is for everybody.
    Everybody,
    /// These facts made it apply.
    Facts(BTreeSet<Because>),
}

impl fmt::Display for Reason {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let Self::Facts(facts) = self else { return f.write_str("for everybody") };
        let words = |holds: bool, before: &'static str| {
            facts
                .iter()
                .filter(move |b| b.holds == holds)
                .map(move |b| format!("{before}{}", b.fact.word().replace('-', " ")))
        };
        f.write_str(&words(true, "").chain(words(false, "not ")).collect::<Vec<_>>().join(", "))
    }
}

/// The passages for a client, in the order of the page, at most [`WORD_LIMIT`] words of them.
///
/// Passages for everybody always stay. When there is too much, `may` goes before `should` and `should` before `must`;
/// of the same mark the longest goes first, so that as few as possible go.
#[must_use]
pub fn select<'a>(library: &'a Library, facts: &Facts) -> Vec<Selected<'a>> {
    sift(library, facts).0
}

/// The passages that apply but had no room, in the order of the page, for the stylist's sheet.
#[must_use]
pub fn left_out<'a>(library: &'a Library, facts: &Facts) -> Vec<Selected<'a>> {
    sift(library, facts).1
}

/// Those kept and those left out.
fn sift<'a>(library: &'a Library, facts: &Facts) -> (Vec<Selected<'a>>, Vec<Selected<'a>>) {
    let mut kept: Vec<Selected> = library.passages().filter_map(|passage| apply(passage, facts)).collect();
    let mut left_out = Vec::new();
    while kept.iter().map(|selected| selected.passage.word_count()).sum::<usize>() > WORD_LIMIT {
        let order = [Priority::May, Priority::Should, Priority::Must];
        let Some(at) = order.into_iter().find_map(|priority| longest(&kept, priority)) else { break };
        left_out.insert(0, kept.remove(at));
    }
    left_out.sort_by_key(|selected| (selected.passage.section, selected.passage.order));
    (kept, left_out)
}

/// The longest of a mark that is not for everybody; of equally long ones the last.
fn longest(kept: &[Selected<'_>], priority: Priority) -> Option<usize> {
    let marked = kept
        .iter()
        .enumerate()
        .filter(|(_, selected)| selected.passage.priority == priority && selected.reason != Reason::Everybody);
    marked.max_by_key(|(at, selected)| (selected.passage.word_count(), *at)).map(|(at, _)| at)
}

fn apply<'a>(passage: &'a Passage, facts: &Facts) -> Option<Selected<'a>> {
    // Most passages are for somebody else, so whom one is for is asked first; why it is, only of the others.
    if !passage.when.as_ref().is_none_or(|condition| condition.holds(facts)) || !facts.open(passage.section) {
        return None;
    }
    if !passage.texts().flat_map(|text| text.placeholders()).all(|place| facts.can_fill(place)) {
        return None;
    }
    let reason = match &passage.when {
        None => Reason::Everybody,
        Some(condition) => Reason::Facts(condition.explain(facts, true)?),
    };
    Some(Selected { passage, reason })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::care::Fact;

    #[test]
    fn a_reason_reads_as_words() {
        let because = |fact, holds| Because { fact, holds };
        let reason = Reason::Facts([because(Fact::OilyScalp, true), because(Fact::Coily, false)].into());
        assert_eq!(reason.to_string(), "oily scalp, not coily");
        assert_eq!(Reason::Everybody.to_string(), "for everybody");
    }
}
