//! The small language in which a passage says whom it is for: `pastel and (porous or fine) and not coily`.
//!
//! ```text
//! any  := all ("or" all)*
//! all  := one ("and" one)*
//! one  := "not" one | "(" any ")" | fact
//! ```
//!
//! A fact is a word of [`Fact`]. Nesting and the number of different facts are limited, so that every condition can
//! be tried on all combinations of its facts: one that no client can meet, or that every client meets, is a fault.

use std::collections::BTreeSet;

use super::{Fact, Facts};
use crate::diagnostic::Span;
use crate::diagnostic::nearest;
use crate::units::Worded;

/// The deepest nesting of brackets and `not`.
const DEPTH_LIMIT: usize = 8;
/// The most different facts in one condition.
const FACT_LIMIT: usize = 10;

/// Whom a passage is for.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Condition {
    /// Those of whom this fact is true.
    Is(Fact),
    /// Those who do not meet the inner condition.
    Not(Box<Self>),
    /// Those who meet every one.
    All(Vec<Self>),
    /// Those who meet at least one.
    Any(Vec<Self>),
}

/// One fact with whether it was true, as a part of a reason.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Because {
    /// The fact.
    pub fact: Fact,
    /// Whether it is true of the client.
    pub holds: bool,
}

/// What is wrong with a condition.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ConditionFault {
    /// Where, in bytes of the condition.
    pub span: Span,
    /// What is wrong.
    pub message: String,
    /// What to write instead.
    pub hint: String,
}

impl Condition {
    /// Reads a condition.
    ///
    /// # Errors
    /// The first thing wrong, with its place.
    pub fn parse(text: &str) -> Result<Self, ConditionFault> {
        let mut parser = Parser { text, tokens: tokens(text)?, next: 0 };
        let condition = parser.any(0)?;
        if let Some(token) = parser.peek() {
            return Err(fault(token.span.clone(), "this comes after the end of the condition", JOIN_HINT));
        }
        condition.must_be_worth_asking(text)?;
        Ok(condition)
    }

    /// Whether a client meets it.
    #[must_use]
    pub fn holds(&self, facts: &Facts) -> bool {
        match self {
            Self::Is(fact) => facts.has(*fact),
            Self::Not(inner) => !inner.holds(facts),
            Self::All(parts) => parts.iter().all(|part| part.holds(facts)),
            Self::Any(parts) => parts.iter().any(|part| part.holds(facts)),
        }
    }

    /// The facts that make it come out as wanted, or nothing when it does not.
    #[must_use]
    pub fn explain(&self, facts: &Facts, wanted: bool) -> Option<BTreeSet<Because>> {
        match self {
            Self::Is(fact) => {
                let holds = facts.has(*fact);
                (holds == wanted).then(|| BTreeSet::from([Because { fact: *fact, holds }]))
            }
            Self::Not(inner) => inner.explain(facts, !wanted),
            // Every part must come out: true parts of "and", false parts of "or".
            Self::All(parts) if wanted => every(parts, facts, wanted),
            Self::Any(parts) if !wanted => every(parts, facts, wanted),
            Self::All(parts) | Self::Any(parts) => some(parts, facts, wanted),
        }
    }

    /// Every fact it asks for.
    #[must_use]
    pub fn facts(&self) -> BTreeSet<Fact> {
        match self {
            Self::Is(fact) => BTreeSet::from([*fact]),
            Self::Not(inner) => inner.facts(),
            Self::All(parts) | Self::Any(parts) => parts.iter().flat_map(Self::facts).collect(),
        }
    }

    /// Whether some client could meet it, and whether some client could not.
    fn outcomes(&self) -> (bool, bool) {
        let asked: Vec<Fact> = self.facts().into_iter().collect();
        let (mut met, mut missed) = (false, false);
        for choice in 0..1_u32 << asked.len() {
            let chosen = asked.iter().enumerate().filter(|(i, _)| choice & (1 << i) != 0).map(|(_, fact)| *fact);
            let facts: Facts = chosen.collect();
            if facts.are_possible_among(&asked) {
                if self.holds(&facts) { met = true } else { missed = true }
            }
        }
        (met, missed)
    }

    fn must_be_worth_asking(&self, text: &str) -> Result<(), ConditionFault> {
        let whole = 0..text.len();
        if self.facts().len() > FACT_LIMIT {
            let message = format!("the condition asks for more than {FACT_LIMIT} facts");
            return Err(fault(whole, &message, "Write two shorter passages"));
        }
        match self.outcomes() {
            (true, true) => Ok(()),
            (false, _) => Err(fault(
                whole,
                "no client can meet this condition",
                "Two of these facts exclude each other; join them with \"or\", or drop one",
            )),
            (true, false) => Err(fault(
                whole,
                "every client meets this condition",
                "Write universal = true in place of the condition",
            )),
        }
    }
}

fn every(parts: &[Condition], facts: &Facts, wanted: bool) -> Option<BTreeSet<Because>> {
    parts.iter().try_fold(BTreeSet::new(), |mut all, part| {
        all.extend(part.explain(facts, wanted)?);
        Some(all)
    })
}

fn some(parts: &[Condition], facts: &Facts, wanted: bool) -> Option<BTreeSet<Because>> {
    let reasons: Vec<_> = parts.iter().filter_map(|part| part.explain(facts, wanted)).collect();
    (!reasons.is_empty()).then(|| reasons.into_iter().flatten().collect())
}

const JOIN_HINT: &str = "Join two facts with \"and\" or \"or\"";

fn fault(span: Span, message: &str, hint: &str) -> ConditionFault {
    ConditionFault { span, message: message.to_owned(), hint: hint.to_owned() }
}

#[derive(Debug, Clone, PartialEq, Eq)]
struct Token<'a> {
    word: &'a str,
    span: Span,
}

/// Splits a condition into words and brackets.
fn tokens(text: &str) -> Result<Vec<Token<'_>>, ConditionFault> {
    let mut found = Vec::new();
    let mut rest = text.char_indices().peekable();
    while let Some((start, c)) = rest.next() {
        let end = match c {
            c if c.is_whitespace() => continue,
            '(' | ')' => start + 1,
            c if c.is_ascii_alphanumeric() => {
                let mut end = start + 1;
                while let Some((at, _)) = rest.next_if(|(_, c)| c.is_ascii_alphanumeric() || *c == '-') {
                    end = at + 1;
                }
                end
            }
            c => {
                let message = format!("{c:?} has no meaning in a condition");
                return Err(fault(start..start + c.len_utf8(), &message, "Use facts, and, or, not and brackets"));
            }
        };
        found.push(Token { word: &text[start..end], span: start..end });
    }
    Ok(found)
}

struct Parser<'a> {
    text: &'a str,
    tokens: Vec<Token<'a>>,
    next: usize,
}

impl<'a> Parser<'a> {
    fn peek(&self) -> Option<&Token<'a>> {
        self.tokens.get(self.next)
    }

    fn take(&mut self, word: &str) -> bool {
        let found = self.peek().is_some_and(|token| token.word == word);
        self.next += usize::from(found);
        found
    }

    fn any(&mut self, depth: usize) -> Result<Condition, ConditionFault> {
        let mut parts = vec![self.all(depth)?];
        while self.take("or") {
            parts.push(self.all(depth)?);
        }
        Ok(if parts.len() == 1 { parts.remove(0) } else { Condition::Any(parts) })
    }

    fn all(&mut self, depth: usize) -> Result<Condition, ConditionFault> {
        let mut parts = vec![self.one(depth)?];
        while self.take("and") {
            parts.push(self.one(depth)?);
        }
        Ok(if parts.len() == 1 { parts.remove(0) } else { Condition::All(parts) })
    }

    fn one(&mut self, depth: usize) -> Result<Condition, ConditionFault> {
        let Some(token) = self.peek().cloned() else {
            let end = self.text.len();
            return Err(fault(
                end..end,
                "the condition stops here, and a fact is missing",
                "Write a fact, or drop the last word",
            ));
        };
        if depth > DEPTH_LIMIT {
            return Err(fault(token.span, "the condition is nested too deeply", "Write two shorter passages"));
        }
        self.next += 1;
        match token.word {
            "not" => Ok(Condition::Not(Box::new(self.one(depth + 1)?))),
            "(" => {
                let inner = self.any(depth + 1)?;
                if self.take(")") {
                    Ok(inner)
                } else {
                    Err(fault(token.span, "this bracket is never closed", "Add a closing bracket"))
                }
            }
            ")" | "and" | "or" => {
                let message = format!("a fact is missing before {:?}", token.word);
                Err(fault(token.span, &message, "Write a fact here, or drop this word"))
            }
            word => Fact::from_word(word).map(Condition::Is).ok_or_else(|| unknown(word, token.span)),
        }
    }
}

/// An unknown fact, with the nearest known ones, or else all of them.
fn unknown(word: &str, span: Span) -> ConditionFault {
    let known: Vec<&str> = Fact::all().map(Worded::word).collect();
    let near = nearest(word, &known, 3);
    let hint = if near.is_empty() {
        format!("Known facts: {}", known.join(", "))
    } else {
        format!("Did you mean {}?", near.join(", "))
    };
    fault(span, &format!("{word:?} is not a fact that passages may ask for"), &hint)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn check(text: &str, facts: &[Fact], expected: bool) {
        let condition = Condition::parse(text).unwrap_or_else(|fault| panic!("{text}: {fault:?}"));
        let facts: Facts = facts.iter().copied().collect();
        assert_eq!(condition.holds(&facts), expected, "{text} of {facts:?}");
        for wanted in [true, false] {
            assert_eq!(condition.explain(&facts, wanted).is_some(), expected == wanted, "{text} of {facts:?}");
        }
    }

    #[test]
    fn and_binds_closer_than_or_and_not_closest() {
        check("pastel or vivid and porous", &[Fact::Pastel], true);
        check("(pastel or vivid) and porous", &[Fact::Pastel], false);
        check("not pastel and porous", &[Fact::Porous], true);
        check("not (pastel and porous)", &[Fact::Pastel], true);
        check("pastel and (porous or fine) and not coily", &[Fact::Pastel, Fact::Fine, Fact::Coily], false);
    }

    #[test]
    fn a_reason_names_only_the_facts_that_mattered() {
        let condition = Condition::parse("pastel and (porous or fine) and not coily").expect("a good condition");
        let facts: Facts = [Fact::Pastel, Fact::Fine, Fact::Sun].into_iter().collect();
        let reason: Vec<_> = condition.explain(&facts, true).expect("it holds").into_iter().collect();
        let because = |fact, holds| Because { fact, holds };
        assert_eq!(reason, [because(Fact::Pastel, true), because(Fact::Coily, false), because(Fact::Fine, true)]);
    }

    fn check_fault(text: &str, span: Span, message: &str) {
        let fault = Condition::parse(text).expect_err(text);
        assert_eq!((fault.span, fault.message.as_str()), (span, message), "{text}");
    }

    #[test]
    fn a_fault_points_at_its_place() {
        check_fault("", 0..0, "the condition stops here, and a fact is missing");
        check_fault("pastel and", 10..10, "the condition stops here, and a fact is missing");
        check_fault("pastel and pregnant", 11..19, "\"pregnant\" is not a fact that passages may ask for");
        check_fault("pastel porous", 7..13, "this comes after the end of the condition");
        check_fault("(pastel and porous", 0..1, "this bracket is never closed");
        check_fault("pastel and or porous", 11..13, "a fact is missing before \"or\"");
        check_fault("pastel & porous", 7..8, "'&' has no meaning in a condition");
        check_fault("pastel and vivid", 0..16, "no client can meet this condition");
        check_fault("over-porous and not porous", 0..26, "no client can meet this condition");
        check_fault("fine or not fine", 0..16, "every client meets this condition");
        check_fault("pastel é", 7..9, "'é' has no meaning in a condition");
    }

    #[test]
    fn deep_nesting_and_endless_lists_are_refused_and_never_overflow() {
        let deep = format!("{}pastel{}", "(".repeat(100_000), ")".repeat(100_000));
        assert_eq!(Condition::parse(&deep).expect_err("too deep").message, "the condition is nested too deeply");
        let nots = format!("{} pastel", "not ".repeat(100_000));
        assert_eq!(Condition::parse(&nots).expect_err("too deep").message, "the condition is nested too deeply");
        let long = Fact::all().map(Worded::word).collect::<Vec<_>>().join(" or ");
        assert!(Condition::parse(&long).expect_err("too long").message.contains("more than 10 facts"));
    }

    #[test]
    fn no_fact_is_about_health() {
        let words = ["pregnan", "allerg", "reaction", "medic", "asthma", "scalp-condition", "incident", "sore", "age"];
        for fact in Fact::all() {
            let word = fact.word();
            assert!(!words.iter().any(|health| word.split('-').any(|part| part.starts_with(health))), "{word}");
        }
    }
}
