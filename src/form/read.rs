//! A text held against its form: every field understood, every fault told.

use toml::Spanned;
use toml::de::{DeString, DeTable, DeValue, Error};

use super::field::{Field, Section, Wants};
use super::filled::{Entry, Filled};
use super::findings::Findings;
use super::syntax::{self, Broken};
use crate::diagnostic::{Diagnostic, Report, SourceText, Span, did_you_mean};

/// A kind of file.
#[derive(Debug)]
pub struct Form {
    /// What such a file is, with its article: "a visit record".
    pub what: &'static str,
    /// The fields at its top, `format` among them.
    pub top: &'static Section,
    /// The smallest such file, for someone who begins with an empty one.
    pub smallest: &'static str,
    /// The kind of file whose fields are easily written here.
    pub beside: Option<&'static Form>,
    /// The most bytes such a file may have; a larger one is something else.
    pub largest: usize,
}

/// The format this program reads and writes.
pub const FORMAT: f64 = 1.0;

/// No file that a person writes is nearly as large, in bytes: every field of a visit of eight placements fills a tenth of it.
pub const WRITTEN_BY_HAND: usize = 256 << 10;
/// More faults than this are not told one by one.
const MOST_FAULTS: usize = 100;
/// When so many are found, no more are looked for: those that stand first are among them.
const ENOUGH_FAULTS: usize = 4 * MOST_FAULTS;

/// Holds a text against its form.
///
/// The section is there also when there are faults, without the fields at fault: a validator may then say more about the rest.
#[must_use]
pub fn read<'a>(source: &'a SourceText, form: &'static Form) -> (Option<Filled>, Findings<'a>) {
    let alone = |fault: Diagnostic| (None, Findings::new(source, Report { items: vec![fault] }, false));
    if source.text.len() > form.largest {
        let fault = Diagnostic::fault(&source.name, format!("the file is too large to be {}", form.what));
        return alone(
            fault.hint(format!("Is this the right file? One of ours has at most {} kB", form.largest / 1024)),
        );
    }
    syntax::recovered(&source.text, |table, errors| read_table(source, form, &table, &errors))
}

fn read_table<'a>(
    source: &'a SourceText,
    form: &'static Form,
    table: &DeTable<'_>,
    errors: &[Error],
) -> (Option<Filled>, Findings<'a>) {
    let alone = |fault: Diagnostic| (None, Findings::new(source, Report { items: vec![fault] }, false));
    if table.is_empty() && errors.is_empty() {
        return alone(empty(source, form));
    }
    if let Some(fault) = other_format(source, table) {
        return alone(fault);
    }
    let (faults, broken) = syntax::faults(source, table, errors);
    let complete = faults.is_empty();
    let mut reader = Reader { source, form, broken, report: Report { items: faults } };
    let filled = reader.fill(form.top, table, 0..0, &mut Vec::new());
    (Some(filled), Findings::new(source, capped(reader.report, &source.name), complete))
}

fn empty(source: &SourceText, form: &Form) -> Diagnostic {
    Diagnostic::fault(&source.name, "nothing is written in this file").hint(format!(
        "{} needs at least:\n{}",
        upper_first(form.what),
        form.smallest.trim_end()
    ))
}

fn upper_first(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}

/// A fault that says all, when the file is of a format this program does not read.
fn other_format(source: &SourceText, table: &DeTable<'_>) -> Option<Diagnostic> {
    let (_, value) = table.iter().find(|(key, _)| key.get_ref() == "format")?;
    let DeValue::Integer(number) = value.get_ref() else { return None };
    let newer = i64::from_str_radix(number.as_str(), number.radix()).is_ok_and(|number| number > 1);
    newer.then(|| {
        Diagnostic::fault(&source.name, "this file was made by a newer version of afterhue")
            .at(value.span(), "this version reads format 1")
            .hint("Install the newer version, or use the file as it was before")
    })
}

/// At most [`MOST_FAULTS`], and a word about the rest.
fn capped(mut report: Report, file: &str) -> Report {
    if report.items.len() > MOST_FAULTS {
        report.items.sort_by_key(|item| item.span.as_ref().map(|span| span.start));
        report.items.truncate(MOST_FAULTS);
        report.push(
            Diagnostic::fault(file, "there are more faults in this file than are told here")
                .hint("Correct these first, then look again"),
        );
    }
    report
}

pub(super) struct Reader<'a> {
    pub(super) source: &'a SourceText,
    form: &'static Form,
    broken: Broken,
    report: Report,
}

/// The sections that lead to a place, from the top.
type Path = Vec<&'static str>;

impl Reader<'_> {
    pub(super) const fn top(&self) -> &'static Section {
        self.form.top
    }

    /// Whether a field is named where the text could not be read.
    pub(super) fn may_be_unread(&self, name: &str) -> bool {
        self.broken.mentions(name)
    }

    /// Tells a fault at a place, unless the place could not be read anyway.
    pub(super) fn fault(&mut self, span: &Span, message: impl Into<String>, label: &str, hints: &[String]) {
        if self.broken.covers(span) || self.report.items.len() > ENOUGH_FAULTS {
            return;
        }
        let fault = Diagnostic::fault(&self.source.name, message).at(span.clone(), label);
        self.report.push(hints.iter().fold(fault, |fault, hint| fault.hint(hint)));
    }

    pub(super) fn fill(
        &mut self,
        section: &'static Section,
        table: &DeTable<'_>,
        span: Span,
        path: &mut Path,
    ) -> Filled {
        let mut filled = Filled::new(section, span.clone(), table.len());
        let mut entries: Vec<(&Spanned<DeString<'_>>, &Spanned<DeValue<'_>>)> = table.iter().collect();
        entries.sort_by_key(|(key, _)| key.span().start);
        let mut seen: Vec<(&'static str, &str)> = Vec::with_capacity(table.len());
        let mut told: Vec<&'static str> = Vec::new();
        for (key, value) in entries {
            let Some(field) = section.field(key.get_ref()) else {
                self.unknown(section, key, value, path);
                told.extend(slipped(section, key.get_ref()));
                continue;
            };
            if let Some((_, first)) = seen.iter().find(|(name, _)| *name == field.name) {
                let message = format!("`{}` says the same as `{first}`, which is there too", key.get_ref());
                self.fault(&key.span(), message, "the second of the two", &["Keep one of the two".to_owned()]);
                continue;
            }
            seen.push((field.name, key.get_ref()));
            filled.note_written(field.name);
            if let Some(read) = self.value(field, key.get_ref(), value, path) {
                filled.insert(field.name, Entry { key: key.span(), span: value.span(), value: read });
            }
        }
        for field in section.fields.iter().filter(|field| field.required) {
            if !(seen.iter().any(|(name, _)| *name == field.name) || told.contains(&field.name)) {
                self.missing(field, &span, path);
            }
        }
        filled
    }

    fn missing(&mut self, field: &Field, span: &Span, path: &Path) {
        if self.broken.covers(span) && !span.is_empty() || self.broken.mentions(field.name) {
            return;
        }
        let mut inner = path.clone();
        inner.push(field.name);
        let what = match field.wants {
            Wants::Section(_) | Wants::Sections(..) => {
                format!("the section {} is missing", heading(self.form.top, &inner))
            }
            _ => format!("the field `{}` is missing", field.name),
        };
        let hint = match field.wants {
            Wants::Section(section) | Wants::Sections(section, _) => format!(
                "It is {}; write `{}` on a line of its own, and below it at least: {}",
                field.doc,
                heading(self.form.top, &inner),
                required_of(section)
            ),
            _ => format!("It is {}; write for example `{} = {}`", field.doc, field.name, field.example),
        };
        let fault = Diagnostic::fault(&self.source.name, what).hint(hint);
        // At the top there is no line to point at.
        self.report.push(if path.is_empty() { fault } else { fault.at(span.clone(), "in this section") });
    }

    fn unknown(
        &mut self,
        section: &'static Section,
        key: &Spanned<DeString<'_>>,
        value: &Spanned<DeValue<'_>>,
        path: &Path,
    ) {
        if self.report.items.len() > ENOUGH_FAULTS {
            return;
        }
        let name = key.get_ref().as_ref();
        let is_section = matches!(value.get_ref(), DeValue::Table(_))
            && !self.source.text[value.span()].starts_with('{')
            || matches!(value.get_ref(), DeValue::Array(items) if items.iter().any(|item| matches!(item.get_ref(), DeValue::Table(_))));
        let here = if path.is_empty() {
            "at the top of the file".to_owned()
        } else {
            format!("in {}", heading(self.form.top, path))
        };
        let what = if is_section { "section" } else { "field" };
        let hint = self.meant(section, name, path);
        self.fault(&key.span(), format!("there is no {what} `{name}` {here}"), "not known here", &[hint]);
    }

    /// What to write instead of a name that is not known here, the surest first.
    fn meant(&self, section: &'static Section, name: &str, path: &Path) -> String {
        let own = slipped(section, name);
        if !own.is_empty() {
            return format!(
                "Did you mean {}?",
                own.iter().map(|name| format!("`{name}`")).collect::<Vec<_>>().join(" or ")
            );
        }
        let names: Vec<&str> = section
            .fields
            .iter()
            .flat_map(|field| std::iter::once(field.name).chain(field.twins.iter().copied()))
            .collect();
        let near = || did_you_mean(name, &names).map(|near| format!("Did you mean `{near}`?"));
        elsewhere(self.form.top, name, Some(path))
            .or_else(|| {
                let beside = self.form.beside?;
                let hint = elsewhere(beside.top, name, None)?;
                Some(format!("That is for {}. {hint}", beside.what))
            })
            .or_else(near)
            .unwrap_or_else(|| {
                let own: Vec<&str> = section.fields.iter().map(|field| field.name).collect();
                format!("What can stand here: {}", own.join(", "))
            })
    }
}

/// How a name ends that says its unit.
const UNITS: [&str; 10] =
    ["mm", "percent", "vol", "minutes", "hours", "weeks", "months", "per_week", "per_day", "mm_per_day"];

/// The fields of a section that a name stands for without being theirs: a known slip, or the name without its unit.
fn slipped(section: &'static Section, name: &str) -> Vec<&'static str> {
    let unit = |field: &Field| field.name.strip_prefix(name).and_then(|rest| rest.strip_prefix('_'));
    let meant = |field: &&Field| field.slips.contains(&name) || unit(field).is_some_and(|unit| UNITS.contains(&unit));
    section.fields.iter().filter(meant).map(|field| field.name).collect()
}

/// Where fields of this name do belong, when they are in other sections than `here`.
fn elsewhere(top: &'static Section, name: &str, here: Option<&Path>) -> Option<String> {
    let mut found: Vec<(Path, &'static Field)> = Vec::new();
    top.walk(&mut |at, field| {
        if here.is_none_or(|here| at != here.as_slice()) && (field.is_called(name) || field.slips.contains(&name)) {
            found.push((at.to_vec(), field));
        }
    });
    // A name of its own goes before a slip for another.
    if found.iter().any(|(_, field)| field.is_called(name)) {
        found.retain(|(_, field)| field.is_called(name));
    }
    let (place, field) = found.first()?;
    if field.section().is_some() {
        let place = [place.as_slice(), &[field.name]].concat();
        return Some(format!("It is a section of its own: write `{}` on a line of its own", heading(top, &place)));
    }
    let written = if field.is_called(name) { name } else { field.name };
    if place.is_empty() {
        return Some(format!("`{written}` belongs at the top of the file, above the first line in square brackets"));
    }
    let places: Vec<String> = found.iter().map(|(place, _)| heading(top, place)).collect();
    Some(format!("`{written}` belongs in {}; a line belongs to the section named above it", places.join(" or in ")))
}

/// The fields a section cannot do without.
fn required_of(section: &Section) -> String {
    let required: Vec<&str> = section.fields.iter().filter(|field| field.required).map(|field| field.name).collect();
    required.join(", ")
}

/// A section as its line in square brackets: `[habits]`, `[[placement.zone]]`.
pub(super) fn heading(top: &'static Section, path: &[&'static str]) -> String {
    let mut section = top;
    let mut repeated = false;
    for name in path {
        let Some(field) = section.field(name) else { break };
        repeated = matches!(field.wants, Wants::Sections(..));
        section = field.section().unwrap_or(section);
    }
    let (open, close) = if repeated { ("[[", "]]") } else { ("[", "]") };
    format!("{open}{}{close}", path.join("."))
}
