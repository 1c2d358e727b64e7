//! One passage: a Markdown file with TOML front matter between two lines of `+++`.
//!
//! In: the text of a file. Out: [`Passage`], or every fault of the file with its place.
//! Knows nothing of: which client it is for; how Markdown becomes HTML.

use super::Placeholder;
use super::condition::Condition;
use super::front_matter::{FRONT_MATTER, split};
use super::text::Text;
use super::wording::never_said;
use crate::diagnostic::Checked;
use crate::diagnostic::Diagnostic;
use crate::diagnostic::Report;
use crate::diagnostic::SourceText;
use crate::diagnostic::Span;
use crate::form;
use crate::form::{Filled, Findings};
use crate::units::Worded;
use crate::units::worded;

worded! {
    /// A section of the page, in the order it is read.
    Section, "section" {
        /// Tonight.
        Tonight = "tonight",
        /// Until the first wash and shortly after.
        FirstDays = "first-days",
        /// Washing, drying, combing.
        Washing = "washing",
        /// Each week.
        EachWeek = "each-week",
        /// Hot tools and dryers.
        Heat = "heat",
        /// Sun, pool and sea.
        SunAndWater = "sun-and-water",
        /// Colour at home.
        AtHomeColour = "at-home-colour",
        /// What is normal.
        WhatIsNormal = "what-is-normal",
        /// Before the next visit.
        BeforeNextVisit = "before-next-visit",
        /// Other questions.
        Questions = "questions",
        /// The care boxes: the same on every page.
        CareBoxes = "care-boxes",
        /// About this page.
        About = "about",
    }
}

impl Section {
    /// Whether it is shown on a page that has no plan.
    #[must_use]
    pub const fn without_plan(self) -> bool {
        matches!(self, Self::CareBoxes | Self::About)
    }
}

worded! {
    /// What a rule rests on.
    Evidence, "evidence" {
        /// A regulator, a health service or a standard was read.
        Official = "official",
        /// A peer-reviewed paper or a textbook.
        Published = "published",
        /// Official or expert advice, read in somebody else's words.
        SecondHand = "second-hand",
        /// Common practice, no source.
        CommonPractice = "common practice",
        /// From memory.
        FromMemory = "from memory",
    }
}

worded! {
    /// How urgent a care box is.
    CareLevel, "level" {
        /// Call an ambulance or go to an emergency department now.
        Emergency = "emergency",
        /// Ask for help the same day.
        Urgent = "urgent",
        /// Tell the salon, a pharmacist or a doctor.
        Tell = "tell",
    }
}

worded! {
    /// What stays when a page would grow too long.
    Priority, "priority" {
        /// Stays before all others; what is for everybody always stays.
        Must = "must",
        /// Stays as long as there is room.
        Should = "should",
        /// The first to be left out.
        May = "may",
    }
}

/// The longest passage file, bytes; the longest shipped one has not a tenth of it.
const LONGEST: usize = 32 * 1024;

/// A passage.
#[derive(Debug, Clone, PartialEq)]
pub struct Passage {
    /// The file it came from.
    pub file: String,
    /// Its name, which is the file's name without `.md`.
    pub id: String,
    /// Where it stands.
    pub section: Section,
    /// Its place within the section, low first.
    pub order: u16,
    /// What stays when a page would grow too long.
    pub priority: Priority,
    /// A client's question or a short imperative.
    pub heading: Text,
    /// Whom it is for; nothing means everybody.
    pub when: Option<Condition>,
    /// How urgent, for a care box.
    pub level: Option<CareLevel>,
    /// What it rests on.
    pub evidence: Evidence,
    /// The source in a few words.
    pub source: String,
    /// The reason, when one is known.
    pub why: Option<Text>,
    /// The text, Markdown.
    pub body: Text,
}

impl Passage {
    /// Reads a passage file; its name in the salon folder or in the shipped library ends in `ID.md`.
    #[must_use]
    pub fn read(source: &SourceText) -> Checked<Self> {
        if source.text.len() > LONGEST {
            let fault = Diagnostic::fault(&source.name, "the file is far too long to be a passage");
            let fault = fault.hint("A passage is one to three short sentences; put the rest into others.");
            return Checked::new(None, Report { items: vec![fault] });
        }
        let parts = match split(source) {
            Ok(parts) => parts,
            Err(fault) => return Checked::new(None, Report { items: vec![*fault] }),
        };
        let (filled, mut findings) = form::read(&parts.front, &FRONT_MATTER);
        let passage = filled.and_then(|fields| understand(source, &fields, parts.body, &mut findings));
        findings.check(passage)
    }

    /// Words a client reads on the open page: heading and text, without the reason one tap away.
    #[must_use]
    pub fn word_count(&self) -> usize {
        self.heading.word_count() + self.body.word_count()
    }

    /// Every text of the passage.
    pub fn texts(&self) -> impl Iterator<Item = &Text> {
        [Some(&self.heading), Some(&self.body), self.why.as_ref()].into_iter().flatten()
    }
}

fn understand(source: &SourceText, fields: &Filled, body: Span, findings: &mut Findings<'_>) -> Option<Passage> {
    let when = when(source, fields, findings);
    let level = level(fields, findings);
    let field = |name: &str| Some((fields.text(name)?, fields.span_of(name)));
    let heading = field("heading").and_then(|(text, span)| places(source, text, span, findings));
    let why = field("why").map(|(text, span)| places(source, text, span, findings));
    let text = source.text[body.clone()].trim_end();
    if text.trim().is_empty() {
        let hint = "Write one to three short sentences below the second line +++";
        findings.tell(Diagnostic::fault(&source.name, "the passage has no text").hint(hint));
    }
    let body = places(source, text, body, findings);
    caution_wording(source, findings);
    same_as_file(source, fields, findings);
    let when = when?;
    let passage = Passage {
        file: source.name.clone(),
        id: fields.owned("id")?,
        section: fields.word("section")?,
        order: fields.whole("order")?,
        priority: fields.word("priority").unwrap_or(if when.is_none() { Priority::Must } else { Priority::Should }),
        heading: heading?,
        when,
        level: level?,
        evidence: fields.word("evidence")?,
        source: fields.owned("source")?,
        why: match why {
            Some(why) => Some(why?),
            None => None,
        },
        body: body?,
    };
    only_what_everybody_has(&passage, findings);
    Some(passage)
}

/// A passage for everybody may only ask for what can be filled for everybody.
fn only_what_everybody_has(passage: &Passage, findings: &mut Findings<'_>) {
    let missing = passage.texts().flat_map(Text::placeholders).find_map(|place| Some((place, place.needs()?)));
    if let (None, Some((place, fact))) = (&passage.when, missing) {
        let message = format!("not everybody has a {}", place.word());
        let hint = format!("Write when = \"{}\" in place of universal = true", fact.word());
        findings.tell(Diagnostic::fault(&passage.file, message).hint(hint));
    }
}

/// Whom the passage is for: the outer `None` is a fault, the inner one is everybody.
fn when(source: &SourceText, fields: &Filled, findings: &mut Findings<'_>) -> Option<Option<Condition>> {
    let universal = fields.yes("universal") == Some(true);
    if universal && fields.is_written("when") {
        findings.fault(
            fields.key_of("when"),
            "a passage for everybody has no condition",
            "the two exclude each other",
            "Drop this line, or universal = true",
        );
        return None;
    }
    if universal {
        return Some(None);
    }
    if !fields.is_written("when") {
        let fault = Diagnostic::fault(&source.name, "the passage does not say whom it is for");
        findings.tell(fault.hint("Write when = \"...\" with facts, or universal = true"));
        return None;
    }
    let text = fields.text("when")?;
    match Condition::parse(text) {
        Ok(condition) => Some(Some(condition)),
        Err(fault) => {
            let place = within(source, text, &fields.span_of("when"), &fault.span);
            findings.fault(place, fault.message, "here", fault.hint);
            None
        }
    }
}

/// The level of a care box: the outer `None` is a fault.
fn level(fields: &Filled, findings: &mut Findings<'_>) -> Option<Option<CareLevel>> {
    let section: Section = fields.word("section")?;
    match (section == Section::CareBoxes, fields.is_written("level")) {
        (false, false) => Some(None),
        (true, true) => Some(Some(fields.word("level")?)),
        (true, false) => {
            findings.fault(
                fields.span_of("section"),
                "a care box does not say how urgent it is",
                "a care box",
                "Write level = \"emergency\", \"urgent\" or \"tell\"",
            );
            None
        }
        (false, true) => {
            findings.fault(fields.key_of("level"), "only a care box has a level", "not here", "Drop this line");
            None
        }
    }
}

/// A text with its places, or faults at them.
fn places(source: &SourceText, text: &str, span: Span, findings: &mut Findings<'_>) -> Option<Text> {
    match Text::parse(text) {
        Ok(text) => Some(text),
        Err(faults) => {
            let known = Placeholder::WORDS.iter().map(|(_, word, _)| format!("{{{word}}}"));
            let known = format!("Known: {}, {{15 cm}}, {{180 C}}", known.collect::<Vec<_>>().join(", "));
            for (place, message) in faults {
                let place = within(source, text, &span, &place);
                findings.fault(place, message, "here", known.clone());
            }
            None
        }
    }
}

/// A place inside a text, as a place in the file; the whole value when it was written with escapes.
fn within(source: &SourceText, text: &str, value: &Span, place: &Span) -> Span {
    let raw = &source.text[value.clone()];
    match raw.find(text) {
        Some(at) if !text.is_empty() => value.start + at + place.start..value.start + at + place.end,
        _ => value.clone(),
    }
}

/// What a page must never claim is a caution: the salon may be quoting, but should look again.
fn caution_wording(source: &SourceText, findings: &mut Findings<'_>) {
    for (span, never) in never_said(&source.text) {
        findings.caution(span, "these words claim more than anybody can show", "never said on a page", never.reason);
    }
}

fn same_as_file(source: &SourceText, fields: &Filled, findings: &mut Findings<'_>) {
    let stem = source.name.rsplit('/').next().and_then(|name| name.strip_suffix(".md"));
    let Some(id) = fields.text("id").filter(|id| stem != Some(*id)) else { return };
    findings.fault(
        fields.span_of("id"),
        format!("the id {id:?} is not the name of the file"),
        "differs from the file's name",
        "Give the file and the id one name: a passage of yours replaces ours of the same id",
    );
}

#[cfg(test)]
mod tests {
    use super::*;

    const GOOD: &str = "+++\nid = \"sample\"\nsection = \"washing\"\norder = 10\nheading = \"How hot?\"\nwhen = \"pastel\"\nevidence = \"common practice\"\nsource = \"Common practice, no source\"\n+++\nUp to {water_max}.\n";

    fn read(text: &str) -> Checked<Passage> {
        Passage::read(&SourceText { name: "content/sample.md".to_owned(), text: text.to_owned() })
    }

    /// Replaces one piece of the good passage and expects one fault on what is given.
    fn check_fault(from: &str, to: &str, message: &str, at: &str) {
        let text = GOOD.replacen(from, to, 1);
        let report = read(&text).report;
        let [fault] = report.items.as_slice() else { panic!("{to}: {report:?}") };
        assert!(fault.message.contains(message), "{to}: {}", fault.message);
        let shown = fault.span.clone().map_or("", |span| &text[span]);
        assert_eq!(shown, at, "{to}");
    }

    #[test]
    fn a_good_passage_is_read_whole() {
        let passage = read(GOOD).value.expect("a passage");
        assert_eq!((passage.id.as_str(), passage.section, passage.order), ("sample", Section::Washing, 10));
        assert_eq!(passage.priority, Priority::Should);
        assert_eq!(passage.word_count(), 6);
    }

    #[test]
    fn windows_line_ends_and_a_byte_order_mark_are_fine() {
        assert!(read(&format!("\u{feff}{}", GOOD.replace('\n', "\r\n"))).value.is_some());
    }

    #[test]
    fn each_fault_points_at_its_place() {
        check_fault("water_max", "water", "not a placeholder", "{water}");
        check_fault("\"pastel\"", "\"pastell\"", "not a fact", "pastell");
        check_fault("\"washing\"", "\"bathing\"", "section", "\"bathing\"");
        check_fault("= 10", "= \"ten\"", "order", "\"ten\"");
        check_fault("= 10", "= 100000", "order", "100000");
        check_fault("\"sample\"", "\"other\"", "not the name of the file", "\"other\"");
        check_fault("order", "oder = 1\norder", "oder", "oder");
        check_fault("when = \"pastel\"", "", "whom it is for", "");
        check_fault("when", "universal = true\nwhen", "has no condition", "when");
        check_fault("when", "level = \"urgent\"\nwhen", "only a care box", "level");
        check_fault("\"washing\"", "\"care-boxes\"", "how urgent", "\"care-boxes\"");
        check_fault("Up to {water_max}.", "", "no text", "");
        check_fault("Up to {water_max}.", "This repairs hair.", "claim more", "repairs hair");
        check_fault("source = \"Common practice, no source\"\n", "", "source", "");
        check_fault("source = \"Common practice, no source\"", "source = \" \"", "source", "\" \"");
    }

    #[test]
    fn a_file_without_front_matter_is_one_fault_and_never_a_panic() {
        for text in ["", "+++", "+++\n", "Hello", "+++\nid = \"sample\"\n", "+++\n= =\n+++\nText.\n"] {
            let checked = read(text);
            assert!(checked.value.is_none() && checked.report.has_fault(), "{text:?}");
        }
    }

    #[test]
    fn all_faults_of_a_file_are_told_at_once() {
        let text = GOOD.replace("washing", "bathing").replace("pastel", "pastell").replace("= 10", "= -1");
        assert_eq!(read(&text).report.items.len(), 3);
    }
}
