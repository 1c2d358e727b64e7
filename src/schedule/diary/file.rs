//! The bookings file, `private/bookings.toml`: appointments as text, and back.

use std::collections::BTreeSet;
use std::fmt::Write as _;

use chrono::NaiveTime;

use super::appointment::{Appointment, Diary, Purpose, State};
use crate::diagnostic::{Checked, Diagnostic, Report, SourceText};
use crate::form::{self, Field, Filled, Form, Limits, Section, Shape, WRITTEN_BY_HAND, Wants, whole, word};
use crate::record::ClientCode;
use crate::schedule::span::{Kind, Spans};
use crate::units::Worded;

/// The bookings of a large salon over some years, in bytes.
const LARGEST: usize = 64 << 20;

/// Lines of a large file that may be in other words than the program's own, remarks among them.
const MOST_ODD_LINES: usize = 100;

/// The longest line the program writes is not half of it, in bytes.
const LONGEST_LINE: usize = 300;

/// The bookings file.
pub static BOOKINGS: Form = Form {
    what: "a bookings file",
    top: &TOP,
    smallest: "format = 1\nlast_number = 0\n",
    beside: None,
    largest: LARGEST,
};

static TOP: Section = Section::new(
    "",
    "the salon's appointments; written by `afterhue book`",
    &[
        Field::new("format", whole(1.0, 1.0, ""), "the format of this file, always 1", "1").required(),
        Field::new("last_number", whole(0.0, 4.0e9, ""), "the last number given to an appointment", "12").required(),
        Field::sections_of(&APPOINTMENT, 100_000),
    ],
);

static APPOINTMENT: Section = Section::new(
    "appointment",
    "one appointment",
    &[
        Field::new("number", whole(1.0, 4.0e9, ""), "its number, never used again", "12").required(),
        Field::new("client", Wants::Text(Shape::Code), "the client's code", "\"wren-04\"").required(),
        Field::new("for", word::<Purpose>(), "what it is for", "\"visit\"").required(),
        Field::new("service", word::<Kind>(), "as which service", "\"roots\"").required(),
        Field::new("state", word::<State>(), "where it stands", "\"booked\"").required(),
        Field::new("date", Wants::Date, "the day", "2026-12-10").required(),
        Field::new("time", Wants::Time, "the local time", "10:00:00").required(),
        Field::new("stylist", Wants::Text(Shape::Code), "the stylist's code", "\"ines\"").required(),
        Field::new(
            "minutes",
            Wants::Numbers(
                &["consultation", "hands-on", "developing", "finishing", "buffer"],
                Limits { low: 0.0, high: 1440.0, unit: "min" },
            ),
            "how long each span is",
            "[15, 60, 40, 45, 15]",
        )
        .required(),
        Field::new("lightener", Wants::YesNo, "whether lightener works while it develops", "true"),
        Field::new("sequence", whole(0.0, 4.0e9, ""), "how often it was changed", "1").required(),
        Field::new("changed", Wants::Date, "the day of the last change", "2026-11-25").required(),
    ],
);

/// Whether a file larger than a person writes is made of lines as the program writes them: any other could be anything, and its faults without number.
fn looks_written(text: &str) -> bool {
    let (mut odd, mut since_heading) = (0, 0);
    for line in text.lines() {
        let (name, rest) = line.split_at(line.find([' ', '=']).unwrap_or(line.len()));
        let field =
            rest.trim_start().starts_with('=') && [&TOP, &APPOINTMENT].iter().any(|of| of.field(name).is_some());
        let heading = line == "[[appointment]]";
        since_heading = if heading { 0 } else { since_heading + usize::from(field) };
        let ours = line.is_empty() || heading || (field && since_heading <= APPOINTMENT.fields.len());
        odd += usize::from(!ours);
        if odd > MOST_ODD_LINES || line.len() > LONGEST_LINE {
            return false;
        }
    }
    true
}

/// Reads the bookings. Two appointments of one number are a fault.
#[must_use]
pub fn read_bookings(source: &SourceText) -> Checked<Diary> {
    if source.text.len() > WRITTEN_BY_HAND && !looks_written(&source.text) {
        let fault = Diagnostic::fault(&source.name, "this large file is not as `afterhue book` writes it");
        let fault = fault.hint("Put the last good copy in its place; a backup has it under the same name");
        return Checked::new(None, Report { items: vec![fault] });
    }
    let (filled, mut findings) = form::read(source, &BOOKINGS);
    let diary = filled.map(|file| {
        let mut diary = Diary { last_number: file.whole("last_number").unwrap_or(0), ..Diary::default() };
        let mut numbers = BTreeSet::new();
        for section in file.sections("appointment") {
            let Some(one) = appointment(section) else { continue };
            if !numbers.insert(one.number) {
                let hint = "Give one of the two the number after `last_number`, and raise `last_number` to it";
                let message = format!("two appointments have the number {}", one.number);
                findings.fault(section.span_of("number"), message, "here again", hint);
            }
            diary.last_number = diary.last_number.max(one.number);
            diary.appointments.push(one);
        }
        diary.appointments.sort_by_key(|one| one.number);
        diary
    });
    findings.check(diary)
}

fn appointment(section: &Filled) -> Option<Appointment> {
    let &[consultation, hands_on, developing, finishing, buffer] = section.numbers("minutes")? else { return None };
    // The table's limits were checked: at most a day.
    let whole = |minutes: f64| minutes.round() as u16;
    Some(Appointment {
        number: section.whole("number")?,
        client: ClientCode::try_new(section.text("client")?)?,
        purpose: section.word("for")?,
        kind: section.word("service")?,
        state: section.word("state")?,
        date: section.date("date")?,
        time: section.time("time")?,
        stylist: section.owned("stylist")?,
        spans: Spans {
            consultation: whole(consultation),
            hands_on: whole(hands_on),
            developing: whole(developing),
            finishing: whole(finishing),
            buffer: whole(buffer),
            lightener: section.yes("lightener").unwrap_or(false),
        },
        sequence: section.whole("sequence")?,
        changed: section.date("changed")?,
    })
}

impl Diary {
    /// The text of its file.
    #[must_use]
    pub fn to_text(&self) -> String {
        let mut text =
            "# The salon's appointments. Written by `afterhue book`; change them with --accept, --move and --cancel.\n"
                .to_owned();
        let _ = write!(text, "format = 1\nlast_number = {}\n", self.last_number);
        for one in &self.appointments {
            let Spans { consultation, hands_on, developing, finishing, buffer, lightener } = one.spans;
            let time: NaiveTime = one.time;
            let _ = write!(
                text,
                "\n[[appointment]]\nnumber = {}\nclient = \"{}\"\nfor = \"{}\"\nservice = \"{}\"\nstate = \"{}\"\n\
                 date = {}\ntime = {}\nstylist = \"{}\"\n\
                 minutes = [{consultation}, {hands_on}, {developing}, {finishing}, {buffer}]\n\
                 lightener = {lightener}\nsequence = {}\nchanged = {}\n",
                one.number,
                one.client,
                one.purpose.word(),
                one.kind.word(),
                one.state.word(),
                one.date,
                time.format("%H:%M:%S"),
                one.stylist,
                one.sequence,
                one.changed,
            );
        }
        text
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_field_is_shown_with_an_example_that_reads_back_as_it_was_written() {
        let mut example = "format = 1\nlast_number = 12\n\n[[appointment]]\n".to_owned();
        for field in APPOINTMENT.fields {
            let _ = writeln!(example, "{} = {}", field.name, field.example);
        }
        let read = |text: String| read_bookings(&SourceText::new("private/bookings.toml", text));
        let first = read(example);
        assert!(first.report.items.is_empty(), "{:?}", first.report);
        let diary = first.value.expect("a diary");
        assert_eq!((diary.appointments.len(), diary.last_number), (1, 12));
        assert_eq!(read(diary.to_text()).value, Some(diary));
    }

    #[test]
    fn one_number_twice_and_a_field_out_of_bounds_are_faults() {
        let diary = read_bookings(&SourceText::new("b.toml", "format = 1\nlast_number = -3\n"));
        assert!(diary.report.has_fault());
        let one = "[[appointment]]\nnumber = 1\nclient = \"wren-04\"\nfor = \"visit\"\nservice = \"roots\"\nstate = \"booked\"\ndate = 2026-12-10\ntime = 10:00:00\nstylist = \"ines\"\nminutes = [0, 1, 2, 3, 4]\nsequence = 0\nchanged = 2026-11-25\n";
        let text = format!("format = 1\nlast_number = 1\n{one}{one}");
        assert!(read_bookings(&SourceText::new("b.toml", text)).report.has_fault());
    }

    #[test]
    fn the_bookings_of_years_are_read_and_a_large_file_of_anything_else_is_refused_as_a_whole() {
        let one = |number: u32| {
            format!(
                "[[appointment]]\nnumber = {number}\nclient = \"wren-04\"\nfor = \"visit\"\nservice = \"roots\"\nstate = \"booked\"\ndate = 2026-12-10\ntime = 10:00:00\nstylist = \"ines\"\nminutes = [0, 1, 2, 3, 4]\nsequence = 0\nchanged = 2026-11-25\n"
            )
        };
        let text = format!("format = 1\nlast_number = 1\n{}", (1..=6_000).map(one).collect::<String>());
        let read = |text: String| read_bookings(&SourceText::new("private/bookings.toml", text));
        assert!(text.len() > 1 << 20);
        let diary = read(text.clone()).value.expect("a diary");
        assert_eq!(read(diary.to_text()).value, Some(diary));
        for odd in ["a = 1\n", "a b\n", "[[x]]\n", "number = 1\n"] {
            let report = read(format!("{}{}", &text[..400_000], odd.repeat(30_000))).report;
            assert!(report.items.len() == 1 && !report.items[0].hints.is_empty(), "{odd}: {:?}", report.items.len());
        }
    }
}
