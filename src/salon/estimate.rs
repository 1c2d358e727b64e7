//! The salon's own estimate: what `learn` found in the returns, stored in `private/salon-estimate.toml`.
//!
//! In: the text of that file. Out: [`SalonEstimate`]; and back. Knows nothing of: how it was found.
//!
//! Every page is a function of this stored estimate and never of a live one, so that one client's return changes no other client's page until somebody runs `learn`.

use std::collections::BTreeMap;
use std::fmt::Write as _;

use crate::diagnostic::{Checked, SourceText};
use crate::form::{self, Field, Form, Section, WRITTEN_BY_HAND, number, whole, word};
use crate::science::dye::class::DyeClass;
use crate::science::fade::pooling::ClassEstimate;
use crate::units::Worded;

/// The salon's estimate, by dye class; empty before the first `learn`.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct SalonEstimate {
    /// What is known of each class.
    pub classes: BTreeMap<DyeClass, ClassEstimate>,
}

/// The file of the estimate, `private/salon-estimate.toml`.
pub static ESTIMATE: Form =
    Form { what: "a salon estimate", top: &TOP, smallest: "format = 1\n", beside: None, largest: WRITTEN_BY_HAND };

static TOP: Section = Section::new(
    "",
    "what this salon's returns taught; written by `afterhue learn`",
    &[
        Field::new("format", whole(1.0, 1.0, ""), "the format of this file, always 1", "1").required(),
        Field::sections_of(&CLASS, 4),
    ],
);

static CLASS: Section = Section::new(
    "class",
    "what is known of one dye class",
    &[
        Field::new("dye", word::<DyeClass>(), "the dye class", "\"direct\"").required(),
        Field::new(
            "shift",
            number(-2.0, 2.0, ""),
            "how much faster colour leaves here than published, as a natural logarithm",
            "0.12",
        )
        .required(),
        Field::new("sd", number(0.01, 2.0, ""), "how far clients differ about that, a standard deviation", "0.28")
            .required(),
        Field::new("returns", whole(1.0, 1_000_000.0, ""), "the returns it stands on", "14").required(),
    ],
);

/// Reads a stored estimate.
#[must_use]
pub fn read_estimate(source: &SourceText) -> Checked<SalonEstimate> {
    let (filled, mut findings) = form::read(source, &ESTIMATE);
    let estimate = filled.map(|file| {
        let mut classes = BTreeMap::new();
        for section in file.sections("class") {
            let known = || {
                let (shift, sd) = (section.number("shift")?, section.number("sd")?);
                Some((
                    section.word::<DyeClass>("dye")?,
                    ClassEstimate { shift, sd, returns: section.whole("returns")? },
                ))
            };
            let Some((class, known)) = known() else { continue };
            if classes.insert(class, known).is_some() {
                let hint = "Run `afterhue learn`: it writes this file anew";
                findings.fault(
                    section.span_of("dye"),
                    format!("two sections are about {} dye", class.word()),
                    "here again",
                    hint,
                );
            }
        }
        SalonEstimate { classes }
    });
    findings.check(estimate)
}

impl SalonEstimate {
    /// What is known of a class.
    #[must_use]
    pub fn of(&self, class: DyeClass) -> Option<ClassEstimate> {
        self.classes.get(&class).copied()
    }

    /// The same, rounded to what its file holds, so that reading it back gives it again.
    #[must_use]
    pub fn rounded(mut self) -> Self {
        let round = |value: f64| (value * 10_000.0).round() / 10_000.0 + 0.0;
        for known in self.classes.values_mut() {
            *known = ClassEstimate { shift: round(known.shift), sd: round(known.sd).max(0.01), ..*known };
        }
        self
    }

    /// The text of its file.
    #[must_use]
    pub fn to_text(&self) -> String {
        let mut text =
            "# What this salon's returns taught. Written by `afterhue learn`; the pages follow it.\nformat = 1\n"
                .to_owned();
        for (class, known) in &self.classes {
            let _ = write!(
                text,
                "\n[[class]]\ndye = \"{}\"\nshift = {:?}\nsd = {:?}\nreturns = {}\n",
                class.word(),
                known.shift,
                known.sd,
                known.returns
            );
        }
        text
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn some() -> SalonEstimate {
        let of = |shift, sd, returns| ClassEstimate { shift, sd, returns };
        let classes = [(DyeClass::Direct, of(0.123_456, 0.28, 14)), (DyeClass::Demi, of(-0.000_001, 0.3, 2))];
        SalonEstimate { classes: classes.into_iter().collect() }.rounded()
    }

    #[test]
    fn an_estimate_is_read_back_as_it_was_written() {
        for estimate in [some(), SalonEstimate::default()] {
            let source = SourceText::new("private/salon-estimate.toml", estimate.to_text());
            let checked = read_estimate(&source);
            assert!(checked.report.items.is_empty(), "{:?}", checked.report);
            assert_eq!(checked.value, Some(estimate));
        }
    }

    #[test]
    fn a_class_told_twice_or_out_of_bounds_is_a_fault() {
        let twice = some().to_text().replace("demi-permanent", "direct");
        let wild = some().to_text().replace("0.1235", "9");
        for text in [twice, wild, "format = 1\n[[class]]\ndye = \"direct\"\n".to_owned()] {
            assert!(read_estimate(&SourceText::new("e.toml", text)).report.has_fault());
        }
    }
}
