//! One invented client: the client file and one to four visits.

use std::fmt::Write;

use chrono::{Days, NaiveDate};

use super::dice::Dice;
use super::look::{LOOKS, Look};
use super::visit::{self, Head};

/// One client of the crowd: the files about them, path relative to the salon folder and text.
#[derive(Debug, PartialEq, Eq)]
pub(super) struct Invented {
    /// The client file and the visit records.
    pub(super) files: Vec<(String, String)>,
}

/// No visit of the crowd is after this day.
const LAST_DAY: NaiveDate = NaiveDate::from_ymd_opt(2026, 11, 24).expect("a day of the calendar");

const NAMES: &[&str] = &[
    "Alder", "Briony", "Corin", "Damaris", "Elowen", "Fenna", "Gethin", "Honor", "Isolde", "Jory", "Kerensa", "Linnet",
    "Merryn", "Nerys", "Orla", "Petroc", "Rosenwyn", "Sorrel", "Tamsin", "Ursel", "Verity", "Wenna", "Yestin", "Zelah",
];

/// The client of a number in a crowd.
pub(super) fn client(seed: u64, number: u64) -> Invented {
    let mut dice = Dice::of(seed, number);
    let code = format!("{}-{number:07}", ["ayr", "bel", "cam", "dee"][usize::try_from(number % 4).unwrap_or(0)]);
    let look = dice.one(LOOKS);
    let days = days(&mut dice);
    let mut head = Head::new(&mut dice, &look);
    let mut files = vec![(format!("clients/{:04}/{code}.toml", number / 1000), file(&mut dice, &code, days[0], &look))];
    let mut before: Option<NaiveDate> = None;
    for day in days {
        let text = visit::record(&mut dice, &code, day, &look, &mut head, before);
        files.push((format!("records/{}/{:04}/{day}-{code}.toml", day.format("%Y"), number / 1000), text));
        before = Some(day);
    }
    Invented { files }
}

/// One to four days, four to eleven weeks apart, the last of them this autumn.
fn days(dice: &mut Dice) -> Vec<NaiveDate> {
    let mut day = LAST_DAY - days_of(dice.whole(0, 110));
    let mut days = vec![day];
    for _ in 1..dice.whole(1, 4) {
        day = day - days_of(dice.whole(28, 77));
        days.push(day);
    }
    days.reverse();
    days
}

fn days_of(number: i64) -> Days {
    Days::new(number.unsigned_abs())
}

/// The client file. One in fifty leaves a question of the consultation open, which is a caution and no fault.
fn file(dice: &mut Dice, code: &str, first_visit: NaiveDate, look: &Look) -> String {
    let asked = first_visit - days_of(dice.whole(0, 20));
    let mut text = format!("format = 1\nfirst_name = \"{}\"\n", dice.one(NAMES));
    if dice.percent(30) {
        text.push_str("show_first_name = true\n");
    }
    let _ = write!(text, "\n[contact]\nphone = \"+44 7700 900{:03}\"\n", dice.whole(0, 999));
    if dice.percent(60) {
        let _ = writeln!(text, "email = \"{code}@example.org\"");
    }
    let _ = write!(text, "\n[age]\nsixteen_or_over = true\nconfirmed = {asked}\n");
    let _ = write!(text, "\n[consents]\nservice = {asked}\nhealth_data = {asked}\n");
    if dice.percent(25) {
        let _ = writeln!(text, "photo = {asked}");
    }
    if dice.percent(20) {
        text.push_str("\n[[history]]\nwhat = \"salon colour\"\nnote = \"elsewhere, some years ago\"\n");
    }
    text.push_str("\n[health]\nreaction = []\n\n[health.answers]\nblack_henna = false\nmedicine = false\n");
    text.push_str("pregnancy = false\nscalp_condition = false\n");
    if !dice.percent(2) {
        text.push_str("breathing = false\n");
    }
    let applied = first_visit - days_of(dice.whole(4, 9));
    let _ = write!(text, "\n[[health.alert_test]]\nproduct = \"{}\"\napplied = {applied}\n", look.range);
    let _ = write!(text, "read = {}\nclear = true\nread_by = \"ines\"\n", applied + days_of(2));
    text
}
