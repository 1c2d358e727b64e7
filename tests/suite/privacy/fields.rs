//! Every private field, taken from the field tables, and how one is filled.
//!
//! A field is private unless it stands in [`MAY_SHAPE`]. So a new field of a table is filled with a marker and varied
//! at random from the day it is there, and whoever lets it shape a page has to write it down here.

use afterhue::form::{Field, Form, Section, Shape, Wants};
use afterhue::record;
use afterhue::salon;
use afterhue::schedule::diary::BOOKINGS;
use toml::value::{Date, Datetime, Time};
use toml::{Table, Value};

use crate::dice::Dice;

/// The kinds of file a salon folder holds; `every_form_of_the_sources_is_looked_at` compares them with the sources.
pub(crate) const KINDS: [(&str, &Form); 5] = [
    ("CLIENT", &record::CLIENT),
    ("VISIT", &record::VISIT),
    ("SALON", &salon::SALON),
    ("BOOKINGS", &BOOKINGS),
    ("ESTIMATE", &salon::ESTIMATE),
];

/// The fields that may shape or stand on a public page: kind, section, fields.
pub(super) const MAY_SHAPE: &[(&str, &str, &str)] = &[
    ("CLIENT", "", "format first_name show_first_name language link_number sealed"),
    // Under 16, or not confirmed: a page of help only.
    ("CLIENT", "age", "sixteen_or_over confirmed"),
    // What was done to the hair chooses passages; the remark beside it is the salon's.
    ("CLIENT", "history", "what date"),
    ("VISIT", "", "format client date note"),
    (
        "VISIT",
        "hair",
        "texture curl density length_mm natural_depth white_percent scalp_oil regrowth_mm left_untouched_mm \
         growth_mm_per_day trimmed_mm",
    ),
    ("VISIT", "placement", "kind area share_percent"),
    ("VISIT", "placement.zone", "name from_mm to_mm stage underlying_pigment porosity elasticity lightened_before"),
    ("VISIT", "placement.zone.colour", "name hex lab found"),
    ("VISIT", "placement.lightening", "zones on_scalp developer_percent developer_vol minutes heat stage_reached"),
    ("VISIT", "placement.toning", "zones dye ph developer_percent developer_vol minutes took mix dilution"),
    (
        "VISIT",
        "habits",
        "washes_per_week rinse_days_per_week water shampoo sun_hours_per_week swims_per_week swims_in water_hardness \
         copper_in_water sport_days_per_week",
    ),
    ("VISIT", "habits.colour_conditioner", "uses_per_week shade"),
    ("VISIT", "habits.heat_tools", "days_per_week celsius"),
    ("VISIT", "wishes", "after event"),
    ("VISIT", "seen", "washes_since rinses_since colour_conditioner_uses"),
    ("VISIT", "seen.zone", "placement zone left_percent"),
    (
        "SALON",
        "",
        "format name currency base_address time_zone units language theme accent logo page_expires_after_days sealed",
    ),
    ("SALON", "contact", "phone text email address"),
    ("SALON", "emergency", "country number advice_line"),
    // The best days of a page are days on which the salon is open.
    ("SALON", "hours", "days open close"),
    ("SALON", "closed", "from to"),
    // Who works when, and what is offered: references between sections, checked as a whole; names are varied.
    ("SALON", "stylist", "code days skills leaves"),
    ("SALON", "stylist.hours", "days open close"),
    ("SALON", "stylist.pause", "days from to"),
    ("SALON", "stylist.away", "from to"),
    // A booked visit says what it usually costs.
    ("SALON", "service", "code price"),
    ("SALON", "practice.first_wash_hours", "pastel vivid toner permanent"),
    ("SALON", "practice.refresh_share_percent", "pastel vivid toner permanent"),
    ("SALON", "practice.refresh_weeks", "pastel vivid toner permanent"),
    ("SALON", "practice.wash_cap_per_week", "pastel vivid toner permanent"),
    (
        "SALON",
        "practice",
        "scalp_retouch_weeks tint_roots_weeks foils_weeks freehand_weeks trim_weeks regrowth_warn_mm regrowth_stop_mm \
         relighten_min_weeks scalp_peroxide_max_percent alert_test_lead_hours alert_test_valid_months \
         growth_mm_per_day water_max_celsius iron_max_celsius heat_days_per_week",
    ),
    // How the book is kept moves appointments, and only by hand does one become booked; its steps are checked as a whole.
    ("SALON", "book", "step_minutes show_time"),
    // A page names the day and hour of a booked visit, and how long it takes.
    ("BOOKINGS", "", "format"),
    ("BOOKINGS", "appointment", "client for service state date time number stylist minutes"),
    // What returns taught: no person in it.
    ("ESTIMATE", "", "format"),
    ("ESTIMATE", "class", "dye shift sd returns"),
];

fn may_shape(kind: &str, path: &str, field: &str) -> bool {
    MAY_SHAPE.iter().any(|(of, section, fields)| {
        *of == kind && *section == path && fields.split_whitespace().any(|name| name == field)
    })
}

/// Whether nothing in a section may shape a page: then it may be made, emptied and repeated at will.
fn all_private(kind: &str, path: &str, section: &'static Section) -> bool {
    section.fields.iter().all(|field| match field.section() {
        Some(below) => all_private(kind, &joined(path, field.name), below),
        None => !may_shape(kind, path, field.name),
    })
}

fn over_the_limit(step: &Table) -> bool {
    let number = |name| step.get(name).and_then(|value| value.as_float().or(value.as_integer().map(|n| n as f64)));
    number("developer_percent").is_some_and(|percent| percent > 12.0)
        || number("developer_vol").is_some_and(|vol| vol > 40.0)
}

fn joined(path: &str, name: &str) -> String {
    if path.is_empty() { name.to_owned() } else { format!("{path}.{name}") }
}

/// How private fields are filled.
pub(crate) struct Filler {
    pub(super) kind: &'static str,
    pub(super) dice: Dice,
    /// Every field filled, or each optional one left out now and then.
    pub(super) every: bool,
    /// What texts were written, in lower case, each once in all files.
    pub(super) marks: Vec<String>,
    day: u32,
}

impl Filler {
    pub(crate) fn new(seed: u64, every: bool) -> Self {
        Self { kind: "", dice: Dice(seed), every, marks: Vec::new(), day: 0 }
    }

    /// The text of a file with every private field filled anew.
    pub(crate) fn filled(&mut self, kind: &'static str, text: &str) -> String {
        self.kind = kind;
        let form = KINDS.iter().find(|(name, _)| *name == kind).expect("a kind").1;
        let mut table: Table = text.parse().expect("the demo is sound");
        self.section(&mut table, form.top, "");
        toml::to_string(&table).expect("TOML")
    }

    fn section(&mut self, table: &mut Table, section: &'static Section, path: &str) {
        // Days and hours inside a section go forwards.
        self.day = 1;
        for field in section.fields {
            let place = joined(path, field.name);
            match field.wants {
                Wants::Section(below) => self.one(table, field, below, &place),
                Wants::Sections(below, most) => self.several(table, field, (below, most), &place),
                _ if may_shape(self.kind, path, field.name) => {}
                // Over 12 % the answer decides whether the file is sound: nobody may write it otherwise.
                _ if field.name == "confirmed_as_used" && over_the_limit(table) => {}
                _ => {
                    table.remove(field.name);
                    if field.required || self.every || self.dice.uniform() < 0.6 {
                        let value = self.value(field);
                        table.insert(field.name.to_owned(), value);
                    }
                }
            }
        }
    }

    fn one(&mut self, table: &mut Table, field: &Field, below: &'static Section, place: &str) {
        let free = all_private(self.kind, place, below);
        if free {
            table.remove(field.name);
            if self.every || field.required || self.dice.uniform() < 0.7 {
                table.insert(field.name.to_owned(), Value::Table(Table::new()));
            }
        }
        if let Some(Value::Table(inner)) = table.get_mut(field.name) {
            self.section(inner, below, place);
        }
    }

    fn several(&mut self, table: &mut Table, field: &Field, (below, most): (&'static Section, usize), place: &str) {
        if all_private(self.kind, place, below) {
            let many = if self.every { 2 } else { self.dice.below(most.min(3) + 1) };
            table.insert(field.name.to_owned(), Value::Array(vec![Value::Table(Table::new()); many]));
        }
        for item in table.get_mut(field.name).and_then(Value::as_array_mut).into_iter().flatten() {
            if let Value::Table(inner) = item {
                self.section(inner, below, place);
            }
        }
    }

    fn mark(&mut self) -> String {
        let mark = format!("zzq{}qzz", self.marks.len() + 1);
        self.marks.push(mark.clone());
        mark
    }

    fn value(&mut self, field: &Field) -> Value {
        match field.wants {
            Wants::Text(shape) => Value::String(self.text(shape)),
            Wants::Texts(shape, _) => {
                Value::Array(vec![Value::String(self.text(shape)), Value::String(self.text(shape))])
            }
            Wants::Number(limits) => {
                // Minutes stay below the length of a visit, which is checked.
                let high = if limits.unit == "min" { limits.high.min(120.0) } else { limits.high };
                Value::Float((limits.low + (high - limits.low) * self.dice.uniform()).floor().max(limits.low))
            }
            Wants::Whole(limits) => {
                let span = (limits.high.min(limits.low + 400.0) - limits.low) as usize;
                Value::Integer(limits.low as i64 + self.dice.below(span + 1) as i64)
            }
            Wants::Numbers(parts, limits) => {
                let high = limits.high.min(240.0);
                let mut numbers: Vec<f64> =
                    parts.iter().map(|_| (limits.low + (high - limits.low) * self.dice.uniform()).floor()).collect();
                numbers.sort_by(f64::total_cmp);
                Value::Array(numbers.into_iter().map(Value::Float).collect())
            }
            Wants::YesNo => Value::Boolean(self.dice.uniform() < 0.5),
            Wants::Date => {
                self.day += 1 + self.dice.below(4) as u32;
                let date = Date { year: 2025, month: 1, day: self.day as u8 };
                Value::Datetime(Datetime { date: Some(date), time: None, offset: None })
            }
            Wants::Time => {
                self.day += 1 + self.dice.below(4) as u32;
                let time = Time { hour: (8 + self.day).min(23) as u8, minute: 17, second: Some(0), nanosecond: None };
                Value::Datetime(Datetime { date: None, time: Some(time), offset: None })
            }
            Wants::Word(choices) => Value::String(choices().words[self.dice.below(choices().words.len())].0.to_owned()),
            Wants::Words(choices) => Value::Array(vec![Value::String(choices().words[0].0.to_owned())]),
            Wants::About(_) | Wants::Ratio => Value::String("1:2".to_owned()),
            Wants::Section(_) | Wants::Sections(..) => unreachable!("a section is no value"),
        }
    }

    fn text(&mut self, shape: Shape) -> String {
        match shape {
            Shape::Email => format!("{}@example.org", self.mark()),
            Shape::Phone => {
                let digits = format!("{:05}", 91_000 + self.marks.len());
                self.marks.push(format!("77009{digits}"));
                format!("+44 77009 {digits}")
            }
            // A private code is a stylist's: a reference, and one of four.
            Shape::Code => ["ines", "joss", "petra", "kofi"][self.dice.below(4)].to_owned(),
            Shape::Currency => "GBP".to_owned(),
            _ => self.mark(),
        }
    }
}

#[test]
fn every_form_of_the_sources_is_looked_at() {
    let mut found = Vec::new();
    let mut open = vec![std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("src")];
    while let Some(folder) = open.pop() {
        for entry in std::fs::read_dir(folder).expect("the sources") {
            let path = entry.expect("an entry").path();
            if path.is_dir() {
                open.push(path);
            } else if path.extension().is_some_and(|kind| kind == "rs") {
                let text = std::fs::read_to_string(&path).expect("a source");
                // A form of a unit test holds nobody.
                let text = text.split("#[cfg(test)]").next().unwrap_or_default();
                let names = text.lines().filter_map(|line| line.split("static ").nth(1)?.split_once(": Form ="));
                found.extend(names.map(|(name, _)| name.to_owned()));
            }
        }
    }
    found.sort();
    // A passage is a text for the public, written by the salon; nothing in its front matter is about a person.
    let mut known: Vec<&str> = KINDS.iter().map(|(name, _)| *name).chain(["FRONT_MATTER"]).collect();
    known.sort_unstable();
    assert_eq!(found, known);
}

#[test]
fn every_field_that_may_shape_a_page_is_in_a_table() {
    for (kind, path, fields) in MAY_SHAPE {
        let form = KINDS.iter().find(|(name, _)| name == kind).expect("a kind").1;
        for name in fields.split_whitespace() {
            let mut there = false;
            form.top.walk(&mut |at, field| there |= at.join(".") == *path && field.name == name);
            assert!(there, "{kind}: {path} has no field {name}");
        }
    }
}
