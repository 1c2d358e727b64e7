//! Numbers held against what their field wants.

use toml::de::{DeFloat, DeInteger, DeValue};

use super::field::Limits;
use super::filled::Value;
use super::read::Reader;
use super::syntax::number_meant;
use super::value::{Item, Written};

impl Reader<'_> {
    /// A finite number between the limits.
    pub(super) fn number(&mut self, written: Written<'_>, limits: Limits, item: &Item<'_>) -> Option<f64> {
        let number = match item.get_ref() {
            DeValue::Integer(integer) => of_integer(integer),
            DeValue::Float(float) => of_float(float),
            DeValue::String(text) => {
                let hint = number_meant(written.name, text).map(|number| {
                    let unit =
                        if limits.unit.is_empty() { String::new() } else { format!(" (counted in {})", limits.unit) };
                    format!("Write it without quotation marks: `{} = {number}`{unit}", written.name)
                });
                let hint = hint.or_else(|| written.advice(text));
                self.wants(written, "a number", item, hint);
                return None;
            }
            _ => {
                self.wants(written, "a number", item, None);
                return None;
            }
        };
        let Some(number) = number else {
            self.fault(
                &item.span(),
                format!("`{}` wants a number", written.name),
                "this is not a number that can be used",
                &[written.example()],
            );
            return None;
        };
        self.within(written, limits, number, item).then_some(number)
    }

    fn within(&mut self, written: Written<'_>, limits: Limits, number: f64, item: &Item<'_>) -> bool {
        let inside = (limits.low..=limits.high).contains(&number);
        if !inside {
            let unit = if limits.unit.is_empty() { String::new() } else { format!(" {}", limits.unit) };
            let message = if limits.low < limits.high {
                format!("`{}` is a number from {} to {}{unit}", written.name, limits.low, limits.high)
            } else {
                format!("`{}` is always {}{unit}", written.name, limits.low)
            };
            let label = if number < limits.low { "this is too small" } else { "this is too large" };
            self.fault(&item.span(), message, label, &[written.example()]);
        }
        inside
    }

    pub(super) fn whole(&mut self, written: Written<'_>, limits: Limits, item: &Item<'_>) -> Option<f64> {
        let number = self.number(written, limits, item)?;
        if number.fract() != 0.0 {
            self.fault(
                &item.span(),
                format!("`{}` wants a whole number", written.name),
                "this has a part behind the point",
                &[written.example()],
            );
            return None;
        }
        Some(number)
    }

    /// A number, or two as in "2 to 3".
    pub(super) fn about(&mut self, written: Written<'_>, limits: Limits, item: &Item<'_>) -> Option<Value> {
        let DeValue::String(text) = item.get_ref() else {
            return self.number(written, limits, item).map(|number| Value::Between(number, number));
        };
        let parts: Vec<Option<f64>> = text
            .replace(['–', '-'], " to ")
            .replace(" or ", " to ")
            .split(" to ")
            .map(|part| part.trim().parse().ok().filter(|number: &f64| number.is_finite()))
            .collect();
        match parts[..] {
            [Some(low), Some(high)] => {
                if low > high {
                    let hint = format!("Write `{} = \"{high} to {low}\"`", written.name);
                    self.fault(&item.span(), "the smaller number comes first", "this goes down", &[hint]);
                    return None;
                }
                (self.within(written, limits, low, item) && self.within(written, limits, high, item))
                    .then_some(Value::Between(low, high))
            }
            [Some(number)] => {
                let hint = format!("Write `{0} = {number}`, or `{0} = \"2 to 3\"` when it varies", written.name);
                self.wants(written, "a number, or two as in \"2 to 3\"", item, Some(hint));
                None
            }
            _ if number_meant(written.name, text).is_some() => {
                let number = number_meant(written.name, text).unwrap_or_default();
                let more = (number * 1.25).ceil();
                let hint =
                    format!("Write `{0} = {number}`, or `{0} = \"{number} to {more}\"` when it varies", written.name);
                self.wants(written, "a number, or two as in \"2 to 3\"", item, Some(hint));
                None
            }
            _ => {
                let hint = format!("Write for example `{0} = 2`, or `{0} = \"2 to 3\"` when it varies", written.name);
                self.wants(written, "a number, or two as in \"2 to 3\"", item, Some(hint));
                None
            }
        }
    }

    pub(super) fn numbers(
        &mut self,
        written: Written<'_>,
        parts: &[&str],
        limits: Limits,
        item: &Item<'_>,
    ) -> Option<Value> {
        let wanted = format!("{} numbers in square brackets: {}", parts.len(), parts.join(", "));
        let DeValue::Array(items) = item.get_ref() else {
            self.wants(written, &wanted, item, None);
            return None;
        };
        if items.len() != parts.len() {
            let label = format!("there {} {}", if items.len() == 1 { "is" } else { "are" }, items.len());
            self.fault(&item.span(), format!("`{}` wants {wanted}", written.name), &label, &[written.example()]);
            return None;
        }
        items.iter().map(|item| self.number(written, limits, item)).collect::<Option<_>>().map(Value::Numbers)
    }

    pub(super) fn ratio(&mut self, written: Written<'_>, item: &Item<'_>) -> Option<Value> {
        let parts = match item.get_ref() {
            DeValue::String(text) => {
                text.split_once(':').map(|(one, other)| (one.trim().parse().ok(), other.trim().parse().ok()))
            }
            _ => None,
        };
        let fits = |part: &f64| (0.0..=1000.0).contains(part);
        match parts {
            Some((Some(one), Some(other))) if fits(&one) && fits(&other) && one > 0.0 => {
                Some(Value::Between(one, other))
            }
            _ => {
                self.wants(written, "two numbers with a colon between, in quotation marks", item, None);
                None
            }
        }
    }
}

fn of_integer(integer: &DeInteger<'_>) -> Option<f64> {
    #[expect(clippy::cast_precision_loss, reason = "no limit of ours comes near 2^53")]
    i64::from_str_radix(integer.as_str(), integer.radix()).ok().map(|number| number as f64)
}

fn of_float(float: &DeFloat<'_>) -> Option<f64> {
    float.as_str().parse().ok().filter(|number: &f64| number.is_finite())
}
