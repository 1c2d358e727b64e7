//! One field of the form as a template shows it: what it wants decides how it is asked.
//!
//! In: a place, what was typed, what there is to say. Out: [`FieldView`]. Knows nothing of: mark-up.

use std::collections::BTreeMap;

use serde::Serialize;

use crate::diagnostic::{Diagnostic, Severity};
use crate::form::{Field, Form, Section, Shape, Typed, Wants};

/// A field to show.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub(super) struct FieldView {
    /// Its place, the name it is posted under.
    pub(super) place: String,
    /// What it is called.
    pub(super) label: String,
    /// "number", "text", "prose", "choice", "choices", "date" or "time".
    pub(super) kind: &'static str,
    /// What was typed.
    pub(super) value: String,
    /// The unit, behind a number.
    pub(super) unit: &'static str,
    /// What a tap on a stepper adds; nothing where no stepper fits.
    pub(super) by: Option<String>,
    /// The words to choose from.
    pub(super) choices: Vec<ChoiceView>,
    /// What there is to say.
    pub(super) told: Vec<ToldView>,
}

/// One word to choose.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub(super) struct ChoiceView {
    pub(super) value: String,
    pub(super) words: String,
    pub(super) chosen: bool,
}

/// One thing to say.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub(super) struct ToldView {
    pub(super) fault: bool,
    pub(super) message: String,
    pub(super) hints: Vec<String>,
}

/// What there is to say at a place.
pub(super) fn told_at(told: &BTreeMap<String, Vec<Diagnostic>>, place: &str) -> Vec<ToldView> {
    told.get(place).into_iter().flatten().map(told_view).collect()
}

/// One diagnostic in the words of `check`.
pub(super) fn told_view(one: &Diagnostic) -> ToldView {
    ToldView { fault: one.severity == Severity::Fault, message: one.message.clone(), hints: one.hints.clone() }
}

/// The field of a place in a form; nothing when there is no such place or it is a section.
pub(super) fn field_at(form: &'static Form, place: &str) -> Option<&'static Field> {
    let mut section: &'static Section = form.top;
    let mut parts = place.split('.').peekable();
    while let Some(part) = parts.next() {
        let field = section.fields.iter().find(|field| field.name == part)?;
        match field.wants {
            Wants::Section(below) => section = below,
            Wants::Sections(below, most) => {
                let number: usize = parts.next().filter(|number| number.len() < 4)?.parse().ok()?;
                section = (number < most).then_some(below)?;
            }
            _ => return parts.peek().is_none().then_some(field),
        }
    }
    None
}

/// A field as it is shown.
///
/// # Panics
/// When the form has no such field: a fault in the program.
pub(super) fn view(
    form: &'static Form,
    typed: &Typed,
    told: &BTreeMap<String, Vec<Diagnostic>>,
    place: &str,
    label: &str,
) -> FieldView {
    let field = field_at(form, place).unwrap_or_else(|| panic!("the form has no field {place}"));
    let value = typed.get(place).cloned().unwrap_or_default();
    let (kind, unit) = match field.wants {
        Wants::Number(limits) | Wants::Whole(limits) => ("number", limits.unit),
        Wants::About(limits) => ("text", limits.unit),
        Wants::Date => ("date", ""),
        Wants::Time => ("time", ""),
        Wants::YesNo | Wants::Word(_) => ("choice", ""),
        Wants::Words(_) => ("choices", ""),
        Wants::Text(Shape::Prose) | Wants::Texts(..) => ("prose", ""),
        _ => ("text", ""),
    };
    FieldView {
        label: if label.is_empty() { label_of(field.name) } else { label.to_owned() },
        kind,
        // "Washes a week" says its unit.
        unit: if label.contains(" a week") || label.starts_with("Days") { "" } else { unit },
        by: (kind == "number").then(|| step_of(unit).to_string()),
        choices: choices(field.wants, &value),
        told: told_at(told, place),
        place: place.to_owned(),
        value,
    }
}

fn choices(wants: Wants, value: &str) -> Vec<ChoiceView> {
    let one =
        |word: &str, words: &str, chosen: bool| ChoiceView { value: word.to_owned(), words: words.to_owned(), chosen };
    match wants {
        Wants::YesNo => vec![
            one("true", "yes", value == "true"),
            one("false", "no", value == "false"),
            one("", "not noted", value.is_empty()),
        ],
        Wants::Word(choices) => {
            let choices = choices();
            let chosen = (choices.find)(value);
            let mut all: Vec<ChoiceView> =
                choices.words.iter().map(|(word, _)| one(word, word, chosen == Some(*word))).collect();
            all.push(one("", "not noted", value.is_empty()));
            if chosen.is_none() && !value.is_empty() {
                all.push(one(value, value, true));
            }
            all
        }
        Wants::Words(choices) => {
            let chosen: Vec<&str> = value.split(',').map(str::trim).collect();
            choices().words.iter().map(|(word, _)| one(word, word, chosen.contains(word))).collect()
        }
        _ => Vec::new(),
    }
}

/// What one tap adds, in a unit: small enough to be exact, large enough to be quick. Common practice, no source.
fn step_of(unit: &str) -> f64 {
    match unit {
        "mm" | "min" | "g" | "%" => 5.0,
        "°C" => 10.0,
        "mm a day" => 0.05,
        "hours a week" => 2.0,
        _ => 1.0,
    }
}

/// A name of a field as words: the unit stands behind the number.
fn label_of(name: &str) -> String {
    let plain = name.trim_end_matches("_mm").trim_end_matches("_percent").trim_end_matches("_per_week");
    let words = plain.replace('_', " ");
    let mut letters = words.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::record::VISIT;

    #[test]
    fn only_places_of_the_form_are_fields() {
        assert!(field_at(&VISIT, "placement.0.zone.1.colour.name").is_some());
        for bad in [
            "",
            "placement",
            "placement.0",
            "placement.x.kind",
            "placement.99999.kind",
            "hair.length_mm.x",
            "../x",
            "placement.31.kind",
        ] {
            assert!(field_at(&VISIT, bad).is_none(), "{bad}");
        }
    }

    #[test]
    fn a_word_that_is_none_stays_in_sight() {
        let typed: Typed = [("hair.curl".to_owned(), "<wiggly>".to_owned())].into();
        let view = view(&VISIT, &typed, &BTreeMap::new(), "hair.curl", "");
        assert!(view.choices.iter().any(|one| one.value == "<wiggly>" && one.chosen));
        assert_eq!(view.label, "Curl");
    }
}
