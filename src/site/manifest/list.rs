//! The list as it is stored now, format 5: a line that says so, a digest of all that follows, the program, the loose names, the parts.
//!
//! In: the stored bytes. Out: [`Manifest`]; and back. Knows nothing of: how a part is stored.

use std::collections::BTreeSet;

use sha2::{Digest, Sha256};

use super::parts::{add_number, add_text, read_number, read_text};
use super::{Key, Part, Parts, old};

/// How the list begins. Lists of formats 1 to 4 are read as well.
const BEGINNING: &[u8] = b"afterhue written-files 5\n";

/// How one of format 4 begins: its parts never say what there was to say, and its digest leaves the beginning out.
const FOURTH: &[u8] = b"afterhue written-files 4\n";

/// What an earlier run wrote and this program may therefore remove.
#[derive(Debug, Default, Clone, PartialEq, Eq)]
pub(in crate::site) struct Manifest {
    /// The program that wrote it, as a digest of its bytes; nothing when that could not be told.
    pub(in crate::site) program: Option<Key>,
    /// Each part by the name it goes by, that of its first file.
    pub(in crate::site) parts: Parts,
    /// Files that belong to no part.
    pub(in crate::site) loose: BTreeSet<String>,
}

impl Manifest {
    /// Where it is kept.
    pub(in crate::site) const PATH: &'static str = "private/written-files";

    /// Where an earlier version of the program kept it.
    pub(in crate::site) const OLD_PATH: &'static str = "private/written-files.json";

    /// Where the names of a run that has not ended are noted, one a line.
    pub(in crate::site) const JOURNAL: &'static str = "private/written-files.journal";

    /// Takes in the names of a journal; a last line without its end was never acted on.
    pub(in crate::site) fn take_in(&mut self, journal: &str) {
        let whole = journal.rfind('\n').map_or("", |end| &journal[..end]);
        let mut new: BTreeSet<String> = whole.lines().filter(|name| inside(name)).map(str::to_owned).collect();
        if !new.is_empty() {
            let mut known = |name: &str| {
                new.remove(name);
            };
            self.parts.iter().for_each(|part| part.each(&mut known));
            self.loose.extend(new);
        }
    }

    /// The folders its files lie in.
    pub(in crate::site) fn folders(&self) -> BTreeSet<String> {
        let mut folders = BTreeSet::new();
        let mut add = |name: &str| {
            if let Some((folder, _)) = name.rsplit_once('/')
                && !folders.contains(folder)
            {
                folders.insert(folder.to_owned());
            }
        };
        self.parts.iter().for_each(|part| part.each(&mut add));
        self.loose.iter().for_each(|name| add(name));
        folders
    }

    /// Whether a file of a part is listed.
    pub(in crate::site) fn lists(&self, part: &str, file: &str) -> bool {
        self.loose.contains(file) || self.parts.get(part).is_some_and(|part| !part.all(|name, _| name != file))
    }

    /// The same list without some files; a part that lost one must be made again. Parts without files go as well.
    pub(in crate::site) fn without(&self, names: &BTreeSet<String>) -> Self {
        let (mut parts, mut loose) = (Parts::default(), self.loose.clone());
        loose.retain(|name| !names.contains(name));
        for (place, part) in self.parts.iter().enumerate() {
            let untouched = part.all(|name, _| !names.contains(name));
            if names.contains(part.name) || part.count == 0 {
                continue;
            } else if untouched {
                parts.push_from(&self.parts, place);
                continue;
            }
            let mut files = part.owned().files;
            files.retain(|(name, _)| !names.contains(name));
            if !files.is_empty() {
                parts.push(part.name, &Part { files, ..Part::default() });
            }
        }
        Self { program: self.program, parts, loose }
    }

    /// Reads a manifest; nothing when it is damaged, of another format, or names a place outside `public/` and `private/`.
    #[must_use]
    pub(in crate::site) fn parse(mut bytes: Vec<u8>) -> Option<Self> {
        let Some(beginning) = [BEGINNING, FOURTH].into_iter().find(|beginning| bytes.starts_with(beginning)) else {
            let old = old::parse(std::str::from_utf8(&bytes).ok()?)?;
            let sound = old.loose.iter().all(|name| inside(name))
                && old.parts.iter().all(|part| part.all(|name, _| inside(name)));
            return sound.then_some(old);
        };
        let mut rest = &bytes[BEGINNING.len()..];
        let digest = rest.split_off(..32)?;
        let digested = if beginning == FOURTH { &[] } else { BEGINNING };
        (digest == Sha256::new().chain_update(digested).chain_update(rest).finalize().as_slice()).then_some(())?;
        let program = match rest.split_off_first()? {
            0 => None,
            _ => Some(rest.split_off(..32)?.try_into().ok()?),
        };
        let loose = (0..read_number(&mut rest)?).map(|_| read_text(&mut rest).filter(|name| inside(name)));
        let loose = loose.map(|name| name.map(str::to_owned)).collect::<Option<_>>()?;
        let before = bytes.len() - rest.len();
        bytes.drain(..before);
        Some(Self { program, parts: Parts::read(bytes, inside)?, loose })
    }

    /// The bytes to store.
    #[must_use]
    pub(in crate::site) fn to_bytes(&self) -> Vec<u8> {
        let mut head = vec![u8::from(self.program.is_some())];
        head.extend(self.program.iter().flatten());
        add_number(&mut head, self.loose.len() as u64);
        self.loose.iter().for_each(|name| add_text(&mut head, name));
        let parts = self.parts.as_bytes();
        let digest = Sha256::new().chain_update(BEGINNING).chain_update(&head).chain_update(parts).finalize();
        [BEGINNING, digest.as_slice(), &head, parts].concat()
    }
}

/// Whether a name lies inside `public/` or `private/`.
fn inside(name: &str) -> bool {
    (name.starts_with("public/") || name.starts_with("private/"))
        && !name.contains('\n')
        && name.split('/').all(|part| !part.is_empty() && part != "." && part != "..")
}

#[cfg(test)]
mod tests {
    use super::*;
    use chrono::NaiveDate;

    use crate::diagnostic::Diagnostic;
    use crate::site::manifest::Stamp;
    use crate::site::outlet::About;

    fn manifest(file: &str) -> Manifest {
        let files = vec![(file.to_owned(), Stamp { bytes: 3, modified: 1_764_000_000_123_456_789 })];
        let (until, last_seen) = (NaiveDate::from_ymd_opt(2027, 1, 31), NaiveDate::from_ymd_opt(2026, 11, 20));
        let told = vec![
            Diagnostic::caution("records/x.toml", "two days").at(3..900, "here").hint("one").hint("another"),
            Diagnostic::note("clients/x.toml", ""),
        ];
        let about = last_seen.map(|last_seen| About { last_seen, told });
        let mut parts = Parts::default();
        parts.push(file, &Part { key: Some([7; 32]), until, about, files });
        Manifest { program: Some([1; 32]), parts, loose: BTreeSet::from(["public/old.html".to_owned()]) }
    }

    #[test]
    fn a_manifest_comes_back_as_it_was_and_a_hostile_one_is_refused() {
        let sound = manifest("public/c/ab/c.html");
        assert_eq!(Manifest::parse(sound.to_bytes()), Some(sound));
        for hostile in ["public/../salon.toml", "/etc/passwd", "records/x.toml", "public//x", "public/a\nb"] {
            assert_eq!(Manifest::parse(manifest(hostile).to_bytes()), None, "{hostile}");
            let loose = Manifest { loose: BTreeSet::from([hostile.to_owned()]), ..Manifest::default() };
            assert_eq!(Manifest::parse(loose.to_bytes()), None, "{hostile}");
            let old = format!("{{\"format\": 1, \"files\": [{hostile:?}]}}");
            assert_eq!(Manifest::parse(old.into_bytes()), None, "{hostile}");
        }
    }

    #[test]
    fn a_list_of_format_4_is_read_and_says_nothing_of_a_client_about_whom_there_was_something_to_say() {
        let mut sound = manifest("public/c/ab/c.html");
        let mut part = sound.parts.at(0).owned();
        part.about.iter_mut().for_each(|about| about.told.clear());
        sound.parts = Parts::default();
        sound.parts.push("public/c/ab/c.html", &part);
        let of_fourth = |mut bytes: Vec<u8>| {
            let (head, body) = (FOURTH.len(), Sha256::digest(&bytes[FOURTH.len() + 32..]));
            bytes[..head].copy_from_slice(FOURTH);
            bytes[head..head + 32].copy_from_slice(&body);
            bytes
        };
        let mut bytes = of_fourth(sound.to_bytes());
        assert_eq!(Manifest::parse(bytes.clone()), Some(sound));
        let flags = bytes.iter().rposition(|byte| *byte == 15).expect("keyed, ends, about, silent");
        bytes[flags] = 7;
        let read = Manifest::parse(of_fourth(bytes)).expect("a sound list");
        assert_eq!((read.parts.at(0).about(), read.parts.at(0).until()), (None, part.until));
    }

    #[test]
    fn no_byte_of_a_manifest_can_change_unseen() {
        let bytes = manifest("public/c/ab/c.html").to_bytes();
        for at in 0..bytes.len() {
            let mut damaged = bytes.clone();
            damaged[at] ^= 1;
            assert_eq!(Manifest::parse(damaged), None, "byte {at}");
            assert_eq!(Manifest::parse(bytes[..at].to_vec()), None, "cut at {at}");
        }
    }

    #[test]
    fn a_part_that_lost_a_file_must_be_made_again() {
        let (page, calendar) = ("public/c/ab/c.html", "public/c/ab/c.ics");
        let mut sound = manifest(page);
        let mut part = sound.parts.at(0).owned();
        part.files.push((calendar.to_owned(), part.files[0].1));
        sound.parts = Parts::default();
        sound.parts.push(page, &part);
        let left = sound.without(&BTreeSet::from([calendar.to_owned()]));
        assert_eq!((left.parts.at(0).key, left.parts.at(0).count, left.loose.len()), (None, 1, 1));
        let left = sound.without(&BTreeSet::from(["public/old.html".to_owned(), page.to_owned()]));
        assert_eq!((left.parts.len(), left.loose.len()), (0, 0));
        assert_eq!(sound.without(&BTreeSet::new()), sound);
    }

    #[test]
    fn a_journal_names_what_is_not_known_yet_and_its_last_line_only_with_an_end() {
        let mut list = manifest("public/c/ab/c.html");
        list.take_in("public/c/ab/c.html\npublic/new.html\nsalon.toml\npublic/torn");
        assert_eq!(list.loose, ["public/new.html", "public/old.html"].map(str::to_owned).into());
    }
}
