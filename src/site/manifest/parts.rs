//! The parts of the list as they are stored: looked into where they lie, so that a hundred thousand need no texts of their own.
//!
//! In: bytes. Out: [`Parts`], an [`Entry`] for each; and back. Knows nothing of: the file around them.
//!
//! A part is a byte of flags, then what they say is there: its key, its last day, the day its client was last seen, what there was
//! to say of the client; then its name and its files, each a size, a time, and how many bytes of its name are those of the name before.

use chrono::{Datelike, NaiveDate};

use super::{Key, Part, Stamp, said};
use crate::site::outlet::About;

const KEYED: u8 = 1;
const ENDS: u8 = 2;
const ABOUT: u8 = 4;
/// There was nothing to say of the client.
const SILENT: u8 = 8;
/// There was something to say, and it follows.
const TOLD: u8 = 16;

const LOOKED_THROUGH: &str = "looked through when it was read or added";

/// Parts in the order of their names, the names of their first files.
#[derive(Debug, Default, Clone, PartialEq, Eq)]
pub(in crate::site) struct Parts {
    bytes: Vec<u8>,
    /// Where each begins.
    starts: Vec<usize>,
}

/// A part where it is stored.
#[derive(Debug, Clone, Copy)]
pub(in crate::site) struct Entry<'a> {
    pub(in crate::site) name: &'a str,
    pub(in crate::site) key: Option<&'a Key>,
    flags: u8,
    /// Days since the beginning of our era; they are few enough to be a date.
    until: Option<i32>,
    last_seen: Option<i32>,
    told: &'a [u8],
    /// How many files there are.
    pub(in crate::site) count: usize,
    /// They, and whatever is stored behind them.
    files: &'a [u8],
}

impl Parts {
    /// Reads parts; nothing when the bytes are none, the names are not in order, or one of a file does not pass.
    pub(super) fn read(bytes: Vec<u8>, passes: impl Fn(&str) -> bool) -> Option<Self> {
        let (mut rest, mut starts, mut before) = (&bytes[..], Vec::new(), None);
        let mut name = String::new();
        while !rest.is_empty() {
            starts.push(bytes.len() - rest.len());
            let entry = Entry::read(rest)?;
            (before < Some(entry.name)).then_some(())?;
            for days in [entry.until, entry.last_seen].into_iter().flatten() {
                NaiveDate::from_num_days_from_ce_opt(days)?;
            }
            said::read(entry.told)?;
            before = Some(entry.name);
            rest = entry.files;
            entry.name.clone_into(&mut name);
            for _ in 0..entry.count {
                read_file(&mut rest, &mut name).filter(|_| passes(&name))?;
            }
        }
        Some(Self { bytes, starts })
    }

    /// The bytes to store.
    pub(super) fn as_bytes(&self) -> &[u8] {
        &self.bytes
    }

    pub(in crate::site) fn len(&self) -> usize {
        self.starts.len()
    }

    /// The part of a place in the order, below [`len`](Self::len).
    pub(in crate::site) fn at(&self, place: usize) -> Entry<'_> {
        Entry::read(&self.bytes[self.starts[place]..]).expect(LOOKED_THROUGH)
    }

    /// The place of the part of a name.
    pub(in crate::site) fn place(&self, name: &str) -> Option<usize> {
        let (mut low, mut high) = (0, self.len());
        while low < high {
            let middle = low.midpoint(high);
            match self.at(middle).name.cmp(name) {
                std::cmp::Ordering::Equal => return Some(middle),
                std::cmp::Ordering::Less => low = middle + 1,
                std::cmp::Ordering::Greater => high = middle,
            }
        }
        None
    }

    /// The part of a name.
    pub(in crate::site) fn get(&self, name: &str) -> Option<Entry<'_>> {
        self.place(name).map(|place| self.at(place))
    }

    pub(in crate::site) fn iter(&self) -> impl Iterator<Item = Entry<'_>> {
        (0..self.len()).map(|place| self.at(place))
    }

    /// Whether the last part has this name.
    pub(in crate::site) fn ends_with(&self, name: &str) -> bool {
        self.len() > 0 && self.at(self.len() - 1).name == name
    }

    /// Adds a part whose name comes after all others.
    pub(in crate::site) fn push(&mut self, name: &str, part: &Part) {
        let flag = |is: bool, flag: u8| if is { flag } else { 0 };
        let about = part.about.as_ref();
        let told = about.map(|about| &about.told).filter(|told| !told.is_empty());
        self.starts.push(self.bytes.len());
        self.bytes.push(
            flag(part.key.is_some(), KEYED)
                | flag(part.until.is_some(), ENDS)
                | flag(about.is_some(), ABOUT)
                | flag(about.is_some() && told.is_none(), SILENT)
                | flag(told.is_some(), TOLD),
        );
        self.bytes.extend(part.key.iter().flatten());
        for day in [part.until, about.map(|about| about.last_seen)].into_iter().flatten() {
            self.bytes.extend(day.num_days_from_ce().to_le_bytes());
        }
        if let Some(told) = told {
            let said = said::to_bytes(told);
            add_number(&mut self.bytes, said.len() as u64);
            self.bytes.extend(said);
        }
        add_text(&mut self.bytes, name);
        add_number(&mut self.bytes, part.files.len() as u64);
        let mut before = name;
        for (name, stamp) in &part.files {
            let shared = shared(before, name);
            add_number(&mut self.bytes, shared as u64);
            add_text(&mut self.bytes, &name[shared..]);
            add_number(&mut self.bytes, stamp.bytes);
            add_number(&mut self.bytes, stamp.modified.cast_unsigned());
            before = name;
        }
    }

    /// Adds a part of another list as it stands there; its name comes after all others.
    pub(in crate::site) fn push_from(&mut self, other: &Self, place: usize) {
        let end = other.starts.get(place + 1).copied().unwrap_or(other.bytes.len());
        self.starts.push(self.bytes.len());
        self.bytes.extend_from_slice(&other.bytes[other.starts[place]..end]);
    }
}

impl<'a> Entry<'a> {
    /// The part at the beginning of the bytes; its files are not looked at.
    fn read(mut bytes: &'a [u8]) -> Option<Self> {
        let flags = *bytes.split_off_first()?;
        let is = |flag: u8| flags & flag != 0;
        let key = if is(KEYED) { Some(bytes.split_off(..32)?.try_into().ok()?) } else { None };
        let until = if is(ENDS) { Some(read_days(&mut bytes)?) } else { None };
        let last_seen = if is(ABOUT) { Some(read_days(&mut bytes)?) } else { None };
        let told = if is(TOLD) { read_bytes(&mut bytes)? } else { &[] };
        let name = read_text(&mut bytes)?;
        let count = usize::try_from(read_number(&mut bytes)?).ok()?;
        Some(Self { name, key, flags, until, last_seen, told, count, files: bytes })
    }

    /// The last day on which its files stand.
    pub(in crate::site) fn until(&self) -> Option<NaiveDate> {
        self.until.map(day)
    }

    /// What is known of its client; nothing when there was something to say and it is not listed what.
    pub(in crate::site) fn about(&self) -> Option<About> {
        let last_seen = day(self.last_seen.filter(|_| self.flags & (SILENT | TOLD) != 0)?);
        Some(About { last_seen, told: said::read(self.told).expect(LOOKED_THROUGH) })
    }

    /// Whether something is so for every file.
    pub(in crate::site) fn all(&self, mut is: impl FnMut(&str, Stamp) -> bool) -> bool {
        let (mut rest, mut name) = (self.files, self.name.to_owned());
        (0..self.count).all(|_| {
            let stamp = read_file(&mut rest, &mut name).expect(LOOKED_THROUGH);
            is(&name, stamp)
        })
    }

    /// Does something with the name of every file.
    pub(in crate::site) fn each(&self, mut with: impl FnMut(&str)) {
        self.all(|name, _| {
            with(name);
            true
        });
    }

    /// The part by itself.
    pub(in crate::site) fn owned(&self) -> Part {
        let mut files = Vec::with_capacity(self.count);
        self.all(|name, stamp| {
            files.push((name.to_owned(), stamp));
            true
        });
        Part { key: self.key.copied(), until: self.until(), about: self.about(), files }
    }
}

/// How many bytes two names have in common at their beginning, up to the end of a character.
fn shared(before: &str, name: &str) -> usize {
    let same = before.bytes().zip(name.bytes()).take_while(|(one, other)| one == other).count();
    (0..=same).rev().find(|end| name.is_char_boundary(*end)).unwrap_or(0)
}

/// Takes a file off the front of the bytes: turns the name before into its name, and gives its stamp.
fn read_file(bytes: &mut &[u8], name: &mut String) -> Option<Stamp> {
    let shared = usize::try_from(read_number(bytes)?).ok()?;
    let rest = read_text(bytes)?;
    name.get(..shared)?;
    name.truncate(shared);
    name.push_str(rest);
    Some(Stamp { bytes: read_number(bytes)?, modified: read_number(bytes)?.cast_signed() })
}

fn read_days(bytes: &mut &[u8]) -> Option<i32> {
    Some(i32::from_le_bytes(bytes.split_off(..4)?.try_into().ok()?))
}

fn day(days: i32) -> NaiveDate {
    NaiveDate::from_num_days_from_ce_opt(days).expect(LOOKED_THROUGH)
}

/// Bytes with their number before them.
fn read_bytes<'a>(bytes: &mut &'a [u8]) -> Option<&'a [u8]> {
    let length = usize::try_from(read_number(bytes)?).ok()?;
    bytes.split_off(..length)
}

/// A text with its length before it.
pub(super) fn read_text<'a>(bytes: &mut &'a [u8]) -> Option<&'a str> {
    std::str::from_utf8(read_bytes(bytes)?).ok()
}

pub(super) fn add_text(bytes: &mut Vec<u8>, text: &str) {
    add_number(bytes, text.len() as u64);
    bytes.extend(text.as_bytes());
}

/// A whole number, seven bits a byte, the lowest first; the eighth says that more follow.
pub(super) fn read_number(bytes: &mut &[u8]) -> Option<u64> {
    let mut number = 0;
    for shift in (0..64).step_by(7) {
        let byte = *bytes.split_off_first()?;
        number |= u64::from(byte & 0x7f) << shift;
        if byte < 0x80 {
            return Some(number);
        }
    }
    None
}

pub(super) fn add_number(bytes: &mut Vec<u8>, mut number: u64) {
    while number >= 0x80 {
        bytes.push(number as u8 | 0x80);
        number >>= 7;
    }
    bytes.push(number as u8);
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_number_comes_back_and_one_without_an_end_is_none() {
        for number in [0, 1, 127, 128, 300, 1_764_000_000_123_456_789, u64::MAX] {
            let mut bytes = Vec::new();
            add_number(&mut bytes, number);
            let mut rest = &bytes[..];
            assert_eq!((read_number(&mut rest), rest.len()), (Some(number), 0));
            assert_eq!(read_number(&mut &bytes[..bytes.len() - 1]), None);
        }
        assert_eq!(read_number(&mut &[0xff; 20][..]), None);
    }

    #[test]
    fn names_share_their_beginning_up_to_the_end_of_a_character() {
        assert_eq!(shared("public/c/ab/x.html", "public/c/ab/x-washing.ics"), "public/c/ab/x".len());
        assert_eq!(shared("public/\u{e9}", "public/\u{e8}"), "public/".len());
        assert_eq!((shared("a", "a"), shared("a", "ab"), shared("b", "ab")), (1, 1, 0));
    }

    #[test]
    fn every_part_is_found_by_its_name_and_names_out_of_order_are_refused() {
        let names = ["private/cards.html", "public/404.html", "public/c/ab/c.html"];
        let mut parts = Parts::default();
        for (at, name) in names.iter().enumerate() {
            let files = vec![((*name).to_owned(), Stamp { bytes: at as u64, modified: -1 })];
            parts.push(name, &Part { files, ..Part::default() });
        }
        assert_eq!(names.map(|name| parts.place(name)), [Some(0), Some(1), Some(2)]);
        assert!(["", "public/c", "zebra"].iter().all(|name| parts.place(name).is_none()));
        assert_eq!(Parts::read(parts.as_bytes().to_vec(), |_| true), Some(parts.clone()));
        assert_eq!(Parts::read(parts.as_bytes().to_vec(), |name| name != names[1]), None);
        let mut disorder = Parts::default();
        [1, 0].iter().for_each(|place| disorder.push_from(&parts, *place));
        assert_eq!(Parts::read(disorder.as_bytes().to_vec(), |_| true), None);
    }
}
