//! A run that makes only what changed ends with the same files as one that makes everything, whatever was edited before.

use std::cell::Cell;
use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::time::Duration;

use afterhue::pipeline::{self, Survey};
use afterhue::site::{Key, Made, Outlet, Queue, Still, Stood, WriteFailure, Writer, Written, queued};
use afterhue::workspace::{Known, READ_BEFORE, Secret, list_folder, read_folder, read_listed};
use chrono::{Days, NaiveDate};
use proptest::prelude::*;

use crate::salon_copy::{SalonCopy, TODAY};

/// The clients of the property: enough to share a salon, few enough to build a hundred times.
const CLIENTS: [&str; 5] = ["wren-04", "ash-14", "heron-15", "plum-03", "hazel-10"];

/// One thing a person may do between two runs. The first number chooses a client or a file.
#[derive(Debug, Clone)]
enum Edit {
    Washes(usize, u8),
    NoteOfVisit(usize, u8),
    Name(usize, u8),
    Relinked(usize, u8),
    SalonName(u8),
    KeptForDays(u16),
    Theme(&'static str),
    OwnStyle(Option<u8>),
    Logo(u8),
    Passage(Option<u8>),
    Booked(usize, u8),
    NoBookings,
    Estimate(Option<u8>),
    Today(u16),
    Secret(u8),
    RecordGone(usize),
    ClientGone(usize),
    RecordAtFault(usize),
    ClientAtFault(usize),
    OwnerUnknown,
    PutRight,
    PageGone(usize),
    PageTouched(usize),
}

fn edit() -> impl Strategy<Value = Edit> {
    let some = || 0_usize..64;
    prop_oneof![
        (some(), 1_u8..7).prop_map(|(at, to)| Edit::Washes(at, to)),
        (some(), any::<u8>()).prop_map(|(at, to)| Edit::NoteOfVisit(at, to)),
        (some(), any::<u8>()).prop_map(|(at, to)| Edit::Name(at, to)),
        (some(), 1_u8..6).prop_map(|(at, to)| Edit::Relinked(at, to)),
        any::<u8>().prop_map(Edit::SalonName),
        (30_u16..400).prop_map(Edit::KeptForDays),
        prop_oneof![Just("paper"), Just("daylight")].prop_map(Edit::Theme),
        proptest::option::of(any::<u8>()).prop_map(Edit::OwnStyle),
        any::<u8>().prop_map(Edit::Logo),
        proptest::option::of(any::<u8>()).prop_map(Edit::Passage),
        (some(), 1_u8..28).prop_map(|(at, to)| Edit::Booked(at, to)),
        Just(Edit::NoBookings),
        proptest::option::of(1_u8..9).prop_map(Edit::Estimate),
        (0_u16..400).prop_map(Edit::Today),
        any::<u8>().prop_map(Edit::Secret),
        some().prop_map(Edit::RecordGone),
        some().prop_map(Edit::ClientGone),
        some().prop_map(Edit::RecordAtFault),
        some().prop_map(Edit::ClientAtFault),
        Just(Edit::OwnerUnknown),
        Just(Edit::PutRight),
        some().prop_map(Edit::PageGone),
        some().prop_map(Edit::PageTouched),
    ]
}

/// A line's value in a text, changed; the same text when it has no such line.
fn set(text: &str, key: &str, value: &str) -> String {
    let line = |line: &str| if line.starts_with(key) { format!("{key} = {value}\n") } else { line.to_owned() };
    text.split_inclusive('\n').map(line).collect()
}

/// A writer that counts what is made.
struct Counted<'a>(&'a Writer, AtomicUsize);

impl Outlet for Counted<'_> {
    type Failure = WriteFailure;

    fn stands(&self, part: &str, key: &Key, today: NaiveDate) -> Option<Still> {
        self.0.stands(part, key, today)
    }

    fn stood(&self, key: &Key, today: NaiveDate) -> Option<Stood> {
        self.0.stood(key, today)
    }

    fn put(&self, part: &str, made: Made) -> Result<(), WriteFailure> {
        self.1.fetch_add(1, Ordering::Relaxed);
        self.0.put(part, made)
    }
}

/// A salon, the day, and the secret.
struct Salon {
    copy: SalonCopy,
    today: NaiveDate,
    secret: u8,
    /// Client files and records as they were.
    originals: BTreeMap<String, Vec<u8>>,
    /// How many files the last run read to know whether they changed.
    read: Cell<usize>,
}

impl Salon {
    fn new() -> Self {
        let copy = SalonCopy::new();
        let ours = |name: &String| CLIENTS.iter().any(|code| name.ends_with(&format!("{code}.toml")));
        for part in ["clients", "records"] {
            for name in copy.files(part).keys().filter(|name| !ours(name)) {
                fs::remove_file(copy.path(name)).expect("removed");
            }
        }
        let originals = [copy.files("clients"), copy.files("records")].into_iter().flatten().collect();
        Self { copy, today: TODAY.parse().expect("a day"), secret: 7, originals, read: Cell::new(0) }
    }

    /// The name of one of the files of a part, if there are any.
    fn one(&self, part: &str, at: usize) -> Option<String> {
        let there = Some(part).filter(|part| self.copy.path(part).exists());
        let names: Vec<String> = there.into_iter().flat_map(|part| self.copy.files(part).into_keys()).collect();
        (!names.is_empty()).then(|| names[at % names.len()].clone())
    }

    fn change(&self, name: Option<String>, how: impl Fn(&str) -> String) {
        if let Some(name) = name.filter(|name| self.copy.path(name).exists()) {
            self.copy.write(&name, &how(&self.copy.read(&name)));
        }
    }

    fn keep_or_not(&self, name: &str, text: Option<String>) {
        match text {
            Some(text) => self.copy.write(name, &text),
            None => drop(fs::remove_file(self.copy.path(name))),
        }
    }

    fn apply(&mut self, edit: &Edit) {
        let client = |at: &usize| Some(format!("clients/{}.toml", CLIENTS[at % CLIENTS.len()]));
        let salon = || Some("salon.toml".to_owned());
        match edit {
            Edit::Washes(at, to) => {
                self.change(self.one("records", *at), |text| set(text, "washes_per_week", &to.to_string()));
            }
            Edit::NoteOfVisit(at, to) => {
                self.change(self.one("records", *at), |text| {
                    set(text, "minutes_taken", &(100 + u16::from(*to)).to_string())
                });
            }
            Edit::Name(at, to) => self.change(client(at), |text| set(text, "first_name", &format!("\"Robin{to}\""))),
            Edit::Relinked(at, to) => self.change(client(at), |text| set(text, "link_number", &to.to_string())),
            Edit::SalonName(to) => self.change(salon(), |text| set(text, "name", &format!("\"Rooms {to}\""))),
            Edit::KeptForDays(to) => {
                self.change(salon(), |text| set(text, "page_expires_after_days", &to.to_string()));
            }
            Edit::Theme(to) => self.change(salon(), |text| set(text, "theme", &format!("\"{to}\""))),
            Edit::OwnStyle(to) => {
                let sheet = include_str!("../../themes/paper/client.css");
                let text = to.map(|to| format!("{sheet}\nmain {{ margin-top: {to}px }}\n"));
                self.keep_or_not("themes/paper/client.css", text);
            }
            Edit::Logo(to) => self.change(Some("logo.svg".to_owned()), |text| {
                text.trim_end().to_owned() + &"\n".repeat(usize::from(*to % 4))
            }),
            Edit::Passage(to) => {
                let shipped = include_str!("../../content-templates/en/about-page.md");
                self.keep_or_not("content/about-page.md", to.map(|to| format!("{shipped}\nSay the number {to}.\n")));
            }
            Edit::Booked(at, day) => {
                let row = format!(
                    "\n[[appointment]]\nnumber = 900\nclient = \"{}\"\nfor = \"visit\"\nservice = \"gloss\"\nstate = \"booked\"\ndate = 2027-01-{day:02}\ntime = 10:00:00\nstylist = \"ines\"\nminutes = [10, 18, 15, 22, 10]\nsequence = 0\nchanged = 2026-11-25\n",
                    CLIENTS[at % CLIENTS.len()]
                );
                self.copy.write("private/bookings.toml", &format!("format = 1\nlast_number = 900\n{row}"));
            }
            Edit::NoBookings => self.keep_or_not("private/bookings.toml", None),
            Edit::Estimate(to) => {
                let text = to.map(|to| {
                    format!("format = 1\n[[class]]\ndye = \"direct\"\nshift = 0.{to}\nsd = 0.2\nreturns = 9\n")
                });
                self.keep_or_not("private/salon-estimate.toml", text);
            }
            Edit::Today(to) => {
                let first: NaiveDate = "2026-11-01".parse().expect("a day");
                self.today = first + Days::new(u64::from(*to));
            }
            Edit::Secret(to) => self.secret = *to,
            Edit::RecordGone(at) => drop(self.one("records", *at).map(|name| fs::remove_file(self.copy.path(&name)))),
            Edit::ClientGone(at) => {
                let code = CLIENTS[at % CLIENTS.len()];
                for name in self.originals.keys().filter(|name| name.ends_with(&format!("{code}.toml"))) {
                    let _ = fs::remove_file(self.copy.path(name));
                }
            }
            Edit::RecordAtFault(at) => self.change(self.one("records", *at), |text| format!("{text}weather = 1\n")),
            Edit::ClientAtFault(at) => self.change(client(at), |text| format!("{text}weather = 1\n")),
            Edit::OwnerUnknown => self.copy.write("records/2026/nobodys.toml", "format = [\n"),
            Edit::PutRight => {
                for (name, bytes) in &self.originals {
                    self.copy.write(name, std::str::from_utf8(bytes).expect("text"));
                }
                let _ = fs::remove_file(self.copy.path("records/2026/nobodys.toml"));
            }
            Edit::PageGone(at) => drop(self.one("public/c", *at).map(|name| fs::remove_file(self.copy.path(&name)))),
            Edit::PageTouched(at) => {
                self.change(self.one("public/c", *at), |text| text.replacen("e", "f", 1));
            }
        }
    }

    /// A run; afresh, when no program is named. Nothing when the salon's own files are at fault.
    fn run(&self, program: Option<Key>) -> Option<(usize, Written)> {
        let texts = read_folder(&self.copy.path("")).expect("a salon folder");
        let read = pipeline::read(&texts);
        let (salon, theme) = read.house.as_ref()?;
        let secret = Secret::from_bytes([self.secret; 32]);
        let writer = Writer::open(&self.copy.path(""), program).expect("begun");
        let counted = Counted(&writer, AtomicUsize::new(0));
        // As the command goes: client by client where the folder allows it, without reading what is known. The disks these tests
        // run on have a clock of its own step and no coarser one, so a file is known as soon as that has moved on.
        let folder = self.copy.path("");
        let known = if program.is_some() { Known::open(&folder, Duration::ZERO) } else { Known::nothing(&folder) };
        let listed = list_folder(&folder, known.clock()).expect("a salon folder");
        let reads = AtomicUsize::new(0);
        let text_of = |name: &str| {
            reads.fetch_add(1, Ordering::Relaxed);
            read_listed(&folder, name)
        };
        let survey = listed.as_ref().and_then(|listed| Survey::of(listed, &known, &text_of));
        self.read.set(reads.load(Ordering::Relaxed));
        let swept = survey.and_then(|(survey, found)| {
            known.keep(&folder, found);
            let sweep =
                |out: &Queue<'_, _>| pipeline::sweep(&survey, &secret, self.today, out, &text_of).expect("built");
            queued(&counted, 2, sweep).expect("written")
        });
        let told = match swept {
            Some(swept) => {
                assert_eq!(swept.report.in_order(), read.report.in_order(), "both ways say the same");
                assert_eq!(swept.at_fault, read.at_fault);
                swept.told
            }
            None => pipeline::build_each(&read, salon, theme, &secret, self.today, &counted).expect("built"),
        };
        let made = counted.1.into_inner();
        let written = writer.finish(&told.kept).expect("ended");
        if read.at_fault.is_empty() && !read.owner_unknown {
            let built = pipeline::build(&read, salon, theme, &secret, self.today).expect("built");
            assert!(
                self.made() == built.files,
                "not what a build in memory gives: {:?}",
                names_that_differ(&self.made(), &built.files)
            );
        }
        Some((made, written))
    }

    /// What runs made: everything public, and the cards.
    fn made(&self) -> BTreeMap<String, Vec<u8>> {
        let mut files = if self.copy.path("public").exists() { self.copy.files("public") } else { BTreeMap::new() };
        let private = self.copy.files("private").into_iter();
        files.extend(private.filter(|(name, _)| name.starts_with("private/cards")));
        files
    }
}

type Files = BTreeMap<String, Vec<u8>>;

fn names_that_differ<'a>(one: &'a Files, other: &'a Files) -> BTreeSet<&'a String> {
    one.keys().chain(other.keys()).filter(|name| one.get(*name) != other.get(*name)).collect()
}

const PROGRAM: Option<Key> = Some([1; 32]);

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::with_cases(12) })]

    #[test]
    fn after_any_edits_a_run_that_makes_what_changed_ends_as_one_that_makes_everything(
        rounds in proptest::collection::vec(proptest::collection::vec(edit(), 1..4), 1..6),
    ) {
        let (mut one, mut other) = (Salon::new(), Salon::new());
        prop_assert!(one.run(PROGRAM).is_some() && other.run(None).is_some(), "the demo is sound");
        for edits in &rounds {
            for edit in edits {
                one.apply(edit);
                other.apply(edit);
            }
            let ran = one.run(PROGRAM);
            let afresh = other.run(None);
            prop_assert_eq!(ran.is_some(), afresh.is_some());
            let (one_made, other_made) = (one.made(), other.made());
            prop_assert!(one_made == other_made, "{:?} differ", names_that_differ(&one_made, &other_made));
            if ran.is_some() {
                let (made, written) = one.run(PROGRAM).expect("as before");
                prop_assert_eq!((made, written.changed, written.removed), (0, 0, 0), "nothing changed since");
            }
        }
    }
}

#[test]
fn one_change_makes_one_page_and_an_expired_one_goes_when_only_the_date_moves() {
    let mut salon = Salon::new();
    let (made, written) = salon.run(PROGRAM).expect("sound");
    assert!(made >= 3 && written.changed > made, "{made} {written:?}");
    salon.apply(&Edit::Washes(salon.one_of("2026-11-20-wren-04"), 6));
    let (made, _) = salon.run(PROGRAM).expect("sound");
    assert_eq!(made, 2, "the page with its calendars, and the cards it may be on");
    let pages = |salon: &Salon| salon.copy.files("public/c").len();
    let before = pages(&salon);
    salon.today = salon.today + Days::new(3000);
    let (made, written) = salon.run(PROGRAM).expect("sound");
    assert_eq!((made, pages(&salon)), (1, 0), "only the cards, on which nobody is left");
    assert!(before > 0 && written.removed >= before);
    salon.apply(&Edit::Today(24));
    salon.run(PROGRAM).expect("sound");
    assert_eq!(pages(&salon), before, "the day moved back");
}

/// Long enough that the clock of a disk has moved on.
const A_MOMENT: Duration = Duration::from_millis(30);

/// Each run is held against a build in memory of everything there is, so a change that went unseen would show.
#[cfg(unix)]
#[test]
fn only_what_may_have_changed_is_read_and_no_change_goes_unseen() {
    let salon = Salon::new();
    let run = |read: usize, makes: bool, about: &str| {
        let (made, _) = salon.run(PROGRAM).expect("sound");
        assert_eq!((salon.read.get(), made > 0), (read, makes), "{about}: files read, and whether parts were made");
    };
    let all = salon.originals.len();
    std::thread::sleep(A_MOMENT);
    run(all, true, "the first run");
    run(0, false, "nothing changed");
    let name = salon.one("records", salon.one_of("2026-11-20-wren-04")).expect("there");
    let path = salon.copy.path(&name);
    let time = fs::metadata(&path).expect("there").modified().expect("a time");
    let put = |path: &std::path::Path, minutes: u16| {
        fs::write(path, set(&salon.copy.read(&name), "minutes_taken", &minutes.to_string())).expect("written");
        fs::File::options().write(true).open(path).expect("there").set_modified(time).expect("set back");
    };
    let size = || fs::metadata(&path).expect("there").len();
    put(&path, 101);
    let before = size();
    run(1, true, "a change right after a run, with its time put back");
    for minutes in 102..112 {
        put(&path, minutes);
        assert_eq!(size(), before);
        run(1, true, "the same size and time once more");
    }
    let copy = salon.copy.path("copy");
    put(&copy, 113);
    fs::rename(&copy, &path).expect("replaced");
    run(1, true, "another file in its place");
    // What was too young to be known is read once more.
    std::thread::sleep(A_MOMENT);
    salon.run(PROGRAM).expect("sound");
    run(0, false, "nothing changed");
    let moved = salon.copy.path(&name.replace("wren-04", "wren-04-b"));
    fs::rename(&path, &moved).expect("renamed");
    run(1, true, "another name");
    fs::rename(&moved, &path).expect("renamed");
    std::thread::sleep(A_MOMENT);
    run(1, true, "the old name");
    run(0, false, "nothing changed");
    let list = salon.copy.path(READ_BEFORE);
    let mut damaged = fs::read(&list).expect("there");
    *damaged.last_mut().expect("not empty") ^= 1;
    fs::write(&list, damaged).expect("written");
    run(all, false, "a damaged list");
}

/// The program itself, with the clock's step it takes for granted.
#[test]
fn a_record_of_the_same_size_and_time_is_seen_by_the_program_long_after_it_was_known() {
    let salon = SalonCopy::of(&["wren-04", "plum-03"]);
    std::thread::sleep(Duration::from_millis(2100));
    salon.build();
    salon.build();
    let before = salon.files("public");
    let name = salon.files("records").into_keys().find(|name| name.contains("2026-11-20-wren-04")).expect("there");
    let (path, text) = (salon.path(&name), salon.read(&name));
    let time = fs::metadata(&path).expect("there").modified().expect("a time");
    let changed = if text.contains("washes_per_week = 3") { "washes_per_week = 5" } else { "washes_per_week = 3" };
    let changed = set(&text, "washes_per_week", changed.rsplit(' ').next().expect("a number"));
    assert!(changed != text && changed.len() == text.len());
    fs::write(&path, changed).expect("written");
    fs::File::options().write(true).open(&path).expect("there").set_modified(time).expect("set back");
    salon.build();
    assert!(salon.files("public") != before, "the change is on the page");
}

#[test]
fn a_damaged_list_is_told_in_a_sentence_and_everything_is_made_again() {
    let salon = SalonCopy::new();
    salon.build();
    let before = salon.files("public");
    let page = before.keys().find(|name| name.ends_with(".html") && name.contains("/c/")).expect("a page");
    let stale = page.replace(&page[page.len() - 9..page.len() - 5], "2222");
    salon.write(&stale, "the page of a client who is gone");
    let mut list = fs::read(salon.path("private/written-files")).expect("there");
    *list.last_mut().expect("not empty") ^= 1;
    fs::write(salon.path("private/written-files"), list).expect("written");
    let output = salon.afterhue(&["pages", "--today", TODAY]).output().expect("it runs");
    let said = String::from_utf8_lossy(&output.stderr).into_owned();
    assert!(said.contains("list of what was written before is damaged, so every page is made again"), "{said}");
    assert_eq!(salon.files("public"), before, "what was ours by its form is gone");
    let output = salon.afterhue(&["pages", "--today", TODAY, "--afresh"]).output().expect("it runs");
    let said = String::from_utf8_lossy(&output.stderr).into_owned();
    assert!(!said.contains("damaged") && said.contains("(0 files changed"), "{said}");
}

impl Salon {
    /// The place of a record among all, by a part of its name.
    fn one_of(&self, named: &str) -> usize {
        self.copy.files("records").keys().position(|name| name.contains(named)).expect("there")
    }
}
