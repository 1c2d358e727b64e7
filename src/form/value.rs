//! One value held against what its field wants.

use toml::Spanned;
use toml::de::{DeArray, DeValue};

use super::field::{Choices, Field, Section, Wants};
use super::filled::Value;
use super::moment;
use super::read::{Reader, heading};
use super::shape::Shape;
use crate::diagnostic::{Span, did_you_mean};

/// The most words in one list.
pub(super) const MOST_WORDS: usize = 50;

pub(super) type Item<'a> = Spanned<DeValue<'a>>;
type Path = Vec<&'static str>;

/// A field under the name it was written with.
#[derive(Clone, Copy)]
pub(super) struct Written<'a> {
    pub(super) name: &'a str,
    field: &'static Field,
}

impl Written<'_> {
    /// What the form says about a text that is none of the field's values.
    pub(super) fn advice(&self, text: &str) -> Option<String> {
        (self.field.advice)(text)
    }

    pub(super) fn example(&self) -> String {
        format!("Write for example `{} = {}`", self.name, self.field.example)
    }
}

impl Reader<'_> {
    /// The value of a field, or nothing when it was told as a fault.
    pub(super) fn value(
        &mut self,
        field: &'static Field,
        name: &str,
        item: &Item<'_>,
        path: &mut Path,
    ) -> Option<Value> {
        let written = Written { name, field };
        match field.wants {
            Wants::Text(shape) => self.text(written, shape, item).map(Value::Text),
            Wants::Texts(shape, most) => self.texts(written, shape, most, item),
            Wants::Number(limits) => self.number(written, limits, item).map(Value::Number),
            Wants::Whole(limits) => self.whole(written, limits, item).map(Value::Number),
            Wants::About(limits) => self.about(written, limits, item),
            Wants::Numbers(parts, limits) => self.numbers(written, parts, limits, item),
            Wants::Ratio => self.ratio(written, item),
            Wants::YesNo => self.yes_no(written, item),
            Wants::Date => self.date(written, item),
            Wants::Time => self.time(written, item),
            Wants::Word(choices) => self.word(written, &choices(), item).map(Value::Word),
            Wants::Words(choices) => {
                let items = self.list(written, MOST_WORDS, item)?;
                items.iter().map(|item| self.word(written, &choices(), item)).collect::<Option<_>>().map(Value::Words)
            }
            Wants::Section(section) => self.section(written, section, item, path),
            Wants::Sections(section, most) => self.sections(written, section, most, item, path),
        }
    }

    pub(super) fn wants(&mut self, written: Written<'_>, what: &str, item: &Item<'_>, hint: Option<String>) {
        let hints = [hint.unwrap_or_else(|| written.example())];
        self.fault(&item.span(), format!("`{}` wants {what}", written.name), kind(item.get_ref()), &hints);
    }

    fn text(&mut self, written: Written<'_>, shape: Shape, item: &Item<'_>) -> Option<String> {
        let DeValue::String(text) = item.get_ref() else {
            let raw = &self.source.text[item.span()];
            let number = matches!(item.get_ref(), DeValue::Integer(_) | DeValue::Float(_));
            let hint = (number && shape.refusal(raw).is_none())
                .then(|| format!("Put it between quotation marks: `{} = \"{raw}\"`", written.name));
            self.wants(written, "text", item, hint);
            return None;
        };
        if let Some(refusal) = shape.refusal(text) {
            let message = format!("`{}` wants {}", written.name, shape.wanted());
            let meant = shape.meant(text).map(|meant| format!("Write `{} = \"{meant}\"`", written.name));
            let hint = meant.or_else(|| Shape::advice(refusal)).unwrap_or_else(|| written.example());
            self.fault(&item.span(), message, refusal, &[hint]);
            return None;
        }
        Some(text.to_string())
    }

    fn texts(&mut self, written: Written<'_>, shape: Shape, most: usize, item: &Item<'_>) -> Option<Value> {
        let items = self.list(written, most, item)?;
        let texts = items.iter().map(|item| Some((self.text(written, shape, item)?, item.span())));
        texts.collect::<Option<_>>().map(Value::Texts)
    }

    fn list<'v, 'i>(&mut self, written: Written<'_>, most: usize, item: &'v Item<'i>) -> Option<&'v DeArray<'i>> {
        let DeValue::Array(items) = item.get_ref() else {
            let raw = &self.source.text[item.span()];
            let hint =
                matches!(item.get_ref(), DeValue::String(_)).then(|| format!("Write `{} = [{raw}]`", written.name));
            self.wants(written, "a list in square brackets", item, hint);
            return None;
        };
        self.few_enough(written, items.len(), most, &item.span()).then_some(items)
    }

    fn few_enough(&mut self, written: Written<'_>, count: usize, most: usize, span: &Span) -> bool {
        if count > most {
            let message = format!("`{}` is there {count} times, and at most {most} are read", written.name);
            self.fault(span, message, "the first of them", &["Is something repeated by mistake?".to_owned()]);
        }
        count <= most
    }

    fn yes_no(&mut self, written: Written<'_>, item: &Item<'_>) -> Option<Value> {
        if let DeValue::Boolean(yes) = item.get_ref() {
            return Some(Value::YesNo(*yes));
        }
        let hint = format!("Write `{0} = true` for yes or `{0} = false` for no, without quotation marks", written.name);
        self.wants(written, "yes or no", item, Some(hint));
        None
    }

    fn date(&mut self, written: Written<'_>, item: &Item<'_>) -> Option<Value> {
        let raw = &self.source.text[item.span()];
        if let DeValue::Datetime(moment) = item.get_ref()
            && let (Some(date), None) = (moment.date, moment.time)
        {
            let Some(day) = moment::day(date) else {
                self.fault(
                    &item.span(),
                    "there is no such day, or it is too far away",
                    "this day",
                    &[written.example()],
                );
                return None;
            };
            return Some(Value::Date(day));
        }
        let hint = moment::how_to_write_a_day(written.name, raw);
        self.wants(written, "a day", item, Some(hint));
        None
    }

    fn time(&mut self, written: Written<'_>, item: &Item<'_>) -> Option<Value> {
        let raw = &self.source.text[item.span()];
        if let DeValue::Datetime(moment) = item.get_ref()
            && let (None, Some(time)) = (moment.date, moment.time)
            && let Some(time) = moment::time(time)
        {
            return Some(Value::Time(time));
        }
        let hint = moment::how_to_write_a_time(written.name, raw);
        self.wants(written, "a time of day", item, Some(hint));
        None
    }

    fn word(&mut self, written: Written<'_>, choices: &Choices, item: &Item<'_>) -> Option<&'static str> {
        let text = match item.get_ref() {
            DeValue::String(text) => text.as_ref(),
            DeValue::Integer(number) => number.as_str(),
            _ => {
                self.wants(written, &format!("a word for the {}", choices.what), item, None);
                return None;
            }
        };
        if let Some(word) = (choices.find)(text) {
            return Some(word);
        }
        let own: Vec<&str> = choices.words.iter().map(|(word, _)| *word).collect();
        let all: Vec<&str> = choices
            .words
            .iter()
            .flat_map(|(word, twins)| std::iter::once(*word).chain(twins.iter().copied()))
            .collect();
        let near = || did_you_mean(text, &all).map(|near| format!("Did you mean \"{near}\"?"));
        let mut hints: Vec<String> = written.advice(text).or_else(near).into_iter().collect();
        hints.push(format!("The words are: {}", own.join(", ")));
        let message = format!("{} is not a word for the {}", self.source.text[item.span()].trim(), choices.what);
        let message =
            if message.len() > 120 { format!("this is not a word for the {}", choices.what) } else { message };
        self.fault(&item.span(), message, "not known", &hints);
        None
    }

    fn section(
        &mut self,
        written: Written<'_>,
        section: &'static Section,
        item: &Item<'_>,
        path: &mut Path,
    ) -> Option<Value> {
        path.push(written.field.name);
        let filled = if let DeValue::Table(table) = item.get_ref() {
            Some(Value::Section(self.fill(section, table, item.span(), path)))
        } else {
            self.not_a_section(written, item, path);
            None
        };
        path.pop();
        filled
    }

    fn sections(
        &mut self,
        written: Written<'_>,
        section: &'static Section,
        most: usize,
        item: &Item<'_>,
        path: &mut Path,
    ) -> Option<Value> {
        path.push(written.field.name);
        let filled = match item.get_ref() {
            DeValue::Array(items) if self.few_enough(written, items.len(), most, &item.span()) => {
                let mut filled = Vec::with_capacity(items.len());
                for item in items {
                    match item.get_ref() {
                        DeValue::Table(table) => filled.push(self.fill(section, table, item.span(), path)),
                        _ => self.not_a_section(written, item, path),
                    }
                }
                Some(Value::Sections(filled))
            }
            DeValue::Array(_) => None,
            _ => {
                self.not_a_section(written, item, path);
                None
            }
        };
        path.pop();
        filled
    }

    fn not_a_section(&mut self, written: Written<'_>, item: &Item<'_>, path: &Path) {
        let heading = heading(self.top(), path);
        let hint = format!("Write `{heading}` on a line of its own, and the fields of the section below it");
        match (item.get_ref(), written.field.wants) {
            (DeValue::Table(_), Wants::Sections(..)) if self.may_be_unread(written.field.name) => {}
            (DeValue::Table(_), Wants::Sections(..)) if !self.source.text[item.span()].starts_with(['[', '{']) => {
                // Only a section below it is written: TOML then makes up the one above.
                self.fault(
                    &item.span(),
                    format!("`{heading}` is missing above this line"),
                    "below which one?",
                    &[hint],
                );
            }
            (DeValue::Table(_), Wants::Sections(..)) => {
                let message = format!("`{}` can be there several times, so it has double brackets", written.name);
                self.fault(&item.span(), message, "single here", &[hint]);
            }
            (DeValue::Array(_), Wants::Section(_)) => {
                let message = format!("`{}` is there only once, so it has single brackets", written.name);
                self.fault(&item.span(), message, "double here", &[hint]);
            }
            (DeValue::String(_), Wants::Section(section)) => {
                // `colour = "copper"` for `colour = { name = "copper" }`.
                let raw = &self.source.text[item.span()];
                let first = section.fields.iter().find(|field| matches!(field.wants, Wants::Text(_) | Wants::Word(_)));
                let braces = first.map(|field| format!("Write `{} = {{ {} = {raw} }}`", written.name, field.name));
                self.wants(written, "a section of its own", item, braces.or(Some(hint)));
            }
            _ => self.wants(written, "a section of its own", item, Some(hint)),
        }
    }
}

/// What a value is, in words for a label.
const fn kind(value: &DeValue<'_>) -> &'static str {
    match value {
        DeValue::String(_) => "this is text",
        DeValue::Integer(_) | DeValue::Float(_) => "this is a number",
        DeValue::Boolean(_) => "this is a yes or no",
        DeValue::Datetime(moment) => match (&moment.date, &moment.time) {
            (Some(_), None) => "this is a day",
            (None, Some(_)) => "this is a time of day",
            _ => "this is a day with a time",
        },
        DeValue::Array(_) => "this is a list",
        DeValue::Table(_) => "this is a section",
    }
}
