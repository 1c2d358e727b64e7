//! A form as a JSON Schema (draft 2020-12), for editors that check and complete while somebody writes.
//!
//! In: a [`Form`]. Out: JSON. A day is a string in it, as every converter from TOML to JSON writes it.
//!
//! The reader is kinder than the schema: it also takes a word with other capitals, hyphens or spaces. It is also stricter where fields depend on each other.

use serde_json::{Map, Value, json};

use super::field::{Field, Limits, Section, Wants};
use super::read::Form;
use super::shape::Shape;

/// The schema of a form.
#[must_use]
pub fn schema(form: &Form) -> Value {
    let mut schema = object(form.top);
    schema.insert("$schema".to_owned(), json!("https://json-schema.org/draft/2020-12/schema"));
    schema.insert("title".to_owned(), json!(form.what));
    Value::Object(schema)
}

fn object(section: &Section) -> Map<String, Value> {
    let mut properties = Map::new();
    let mut rules = Vec::new();
    for field in section.fields {
        let mut value = value(field.wants);
        value.insert("description".to_owned(), json!(description(field)));
        let names: Vec<&str> = std::iter::once(field.name).chain(field.twins.iter().copied()).collect();
        for name in &names {
            properties.insert((*name).to_owned(), Value::Object(value.clone()));
        }
        let each = names.iter().map(|name| json!({ "required": [name] }));
        // One of the twins, and never two that say the same.
        let one = Value::Object(Map::from_iter([("oneOf".to_owned(), each.clone().collect())]));
        match (field.required, names.len()) {
            (true, _) => rules.push(one),
            (false, 1) => {}
            (false, _) => rules.push(json!({ "anyOf": [one, { "not": { "anyOf": each.collect::<Vec<_>>() } }] })),
        }
    }
    let mut object = Map::new();
    object.insert("type".to_owned(), json!("object"));
    object.insert("description".to_owned(), json!(section.doc));
    object.insert("properties".to_owned(), Value::Object(properties));
    object.insert("additionalProperties".to_owned(), json!(false));
    if !rules.is_empty() {
        object.insert("allOf".to_owned(), Value::Array(rules));
    }
    object
}

fn description(field: &Field) -> String {
    if field.example.is_empty() {
        field.doc.to_owned()
    } else {
        format!("{}; for example {}", field.doc, field.example)
    }
}

fn value(wants: Wants) -> Map<String, Value> {
    let value = match wants {
        Wants::Text(shape) => text(shape),
        Wants::Texts(shape, most) => json!({ "type": "array", "items": text(shape), "maxItems": most }),
        Wants::Number(limits) => number("number", limits),
        Wants::Whole(limits) => number("integer", limits),
        Wants::About(limits) => {
            let two = r"^\s*[0-9]+(\.[0-9]+)?\s*(to|or|-|–)\s*[0-9]+(\.[0-9]+)?\s*$";
            json!({ "anyOf": [number("number", limits), { "type": "string", "pattern": two }] })
        }
        Wants::Numbers(parts, limits) => {
            json!({ "type": "array", "items": number("number", limits), "minItems": parts.len(), "maxItems": parts.len() })
        }
        Wants::Ratio => json!({ "type": "string", "pattern": r"^\s*[0-9]+(\.[0-9]+)?\s*:\s*[0-9]+(\.[0-9]+)?\s*$" }),
        Wants::YesNo => json!({ "type": "boolean" }),
        Wants::Date => json!({ "type": "string", "format": "date", "pattern": "^[0-9]{4}-[0-9]{2}-[0-9]{2}$" }),
        Wants::Time => json!({ "type": "string", "pattern": "^[0-9]{2}:[0-9]{2}(:[0-9]{2}(\\.[0-9]+)?)?$" }),
        Wants::Word(choices) => json!({ "enum": words(&choices()) }),
        Wants::Words(choices) => {
            json!({ "type": "array", "items": { "enum": words(&choices()) }, "maxItems": super::value::MOST_WORDS })
        }
        Wants::Section(section) => Value::Object(object(section)),
        Wants::Sections(section, most) => json!({ "type": "array", "items": object(section), "maxItems": most }),
    };
    let Value::Object(value) = value else { unreachable!("every arm is an object") };
    value
}

fn number(kind: &str, limits: Limits) -> Value {
    json!({ "type": kind, "minimum": limits.low, "maximum": limits.high })
}

/// Every word with its twins; one that is a number may also be written as one.
fn words(choices: &super::field::Choices) -> Vec<Value> {
    let spelled = choices.words.iter().flat_map(|(word, twins)| std::iter::once(word).chain(twins.iter()));
    spelled
        .flat_map(|word| {
            let number = word.parse::<i64>().ok().map(Value::from);
            std::iter::once(json!(word)).chain(number)
        })
        .collect()
}

fn text(shape: Shape) -> Value {
    let most = if shape == Shape::Prose { 10_000 } else { 200 };
    let pattern = match shape {
        Shape::Prose => r"\S",
        Shape::Line => r"^[^\n]*\S[^\n]*$",
        Shape::Phone => "^\\+[0-9][0-9 ]*$",
        Shape::Dial => "^[0-9 ]{1,20}$",
        Shape::Email => r#"^[^ @<>",;\\]+@[^ @<>",;\\.]+(\.[^ @<>",;\\.]+)+$"#,
        Shape::Code => "^[a-z0-9][a-z0-9-]{0,30}[a-z0-9]$",
        Shape::HexColour => "^#[0-9a-fA-F]{6}$",
        Shape::Language => "^[a-z]{2,3}(-[A-Za-z0-9]{2,8})*$",
        Shape::Country => "^[A-Z]{2}$",
        Shape::Currency => "^[A-Z]{3}$",
        Shape::Path => r"^[^/\\:][^\\:]*$",
    };
    json!({ "type": "string", "pattern": pattern, "minLength": 1, "maxLength": most })
}
