//! The sections of advice, the dates they carry, and the care boxes.
//!
//! In: plan and advice. Out: [`Block`] and [`CareBoxes`]. Knows nothing of: how the advice was chosen.

use chrono::{Days, NaiveDate};
use serde::Serialize;

use super::first_screen::night;
use super::{CalendarLink, Sources};
use crate::page::advice::{Entry, Section, Urgency};
use crate::page::words::{capital, list, part_words, say_html};
use crate::plan::{Plan, RhythmLimit, Standing};
use crate::record::FoundBy;

/// Most wash dates listed: the rhythm carries on by itself.
const MOST_WASH_DATES: usize = 6;

/// Wash days without a visit to end them go on for so long in a calendar.
const LONGEST_RHYTHM: Days = Days::new(84);

/// Most visits told to a client; the salon sees all.
const MOST_VISITS: usize = 2;

/// One section.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Block {
    /// Its mark in the page.
    pub id: &'static str,
    /// Heading.
    pub heading: String,
    /// The leading sentence.
    pub lead: Option<String>,
    /// Dates as finished mark-up.
    pub dates_html: Vec<String>,
    /// A calendar file of these dates.
    pub calendar: Option<CalendarLink>,
    /// Plain sentences.
    pub lines: Vec<String>,
    /// Advice.
    pub entries: Vec<Entry>,
}

/// The care boxes.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct CareBoxes {
    /// Heading.
    pub heading: String,
    /// Said before the boxes: rinse now.
    pub lead: String,
    /// Most urgent first.
    pub boxes: Vec<CareBox>,
}

/// One care box.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct CareBox {
    /// "emergency", "urgent" or "tell"; the urgency is in the heading's words as well.
    pub level: &'static str,
    /// One action in words.
    pub heading: String,
    /// Text, finished mark-up.
    pub body_html: String,
    /// Numbers to call, with their words.
    pub calls: Vec<Call>,
}

/// A number to call.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Call {
    /// `tel:` address.
    pub href: String,
    /// Words.
    pub label: String,
}

/// Tonight.
pub(super) fn tonight(sources: &Sources<'_>) -> Option<Block> {
    let entries = entries(sources, Section::Tonight);
    (!entries.is_empty()).then(|| Block { entries, ..headed("tonight", night(sources)) })
}

/// Washing to the next visit, in the order clients ask.
pub(super) fn before_care(sources: &Sources<'_>) -> Vec<Block> {
    let order = [
        (Section::FirstDays, "first-days"),
        (Section::WhatIsNormal, "what-is-normal"),
        (Section::AtHomeColour, "at-home-colour"),
        (Section::SunAndWater, "sun-and-water"),
        (Section::Heat, "heat"),
        (Section::EachWeek, "each-week"),
    ];
    let rest = order.into_iter().filter_map(|(section, id)| block(sources, section, id));
    std::iter::once(washing(sources)).chain(rest).chain(before_next_visit(sources)).collect()
}

/// Other questions, about these dates.
pub(super) fn after_care(sources: &Sources<'_>, planned: bool) -> Vec<Block> {
    if !planned {
        // Without a plan there are no dates to be sure of.
        let heading = sources.words.pattern("section.about-page");
        return block(sources, Section::About, "about").map(|block| Block { heading, ..block }).into_iter().collect();
    }
    let questions = block(sources, Section::Questions, "questions");
    questions.into_iter().chain([about(sources)]).collect()
}

fn washing(sources: &Sources<'_>) -> Block {
    let (words, plan, dates) = (sources.words, sources.plan, sources.dates());
    let limit = match plan.rhythm.limit {
        RhythmLimit::Colour => "washing.limit-colour",
        RhythmLimit::Cap => "washing.limit-cap",
        RhythmLimit::Scalp => "washing.limit-scalp",
        RhythmLimit::Habit => "washing.limit-habit",
    };
    let mut lines = vec![words.pattern(limit)];
    if let Some(until) = plan.rhythm.keeps_until {
        lines.push(words.say("washing.keeps-until", &[("date", &dates.day(until))]));
    }
    lines.push(words.pattern("washing.rinse-now"));
    Block {
        lead: Some(sources.every_days("washing.every")),
        dates_html: wash_dates(sources),
        calendar: calendar(sources),
        lines,
        ..block(sources, Section::Washing, "washing").unwrap_or_else(|| empty(sources, "washing"))
    }
}

/// The wash days up to the next visit: the first, the days between them, the last day on which one may fall.
///
/// Nothing when there is no plan, or the visit comes before the first wash.
#[must_use]
pub fn wash_days(plan: &Plan) -> Option<(NaiveDate, u32, NaiveDate)> {
    if plan.standing != Standing::Planned {
        return None;
    }
    let until = plan.next_visit().map_or(plan.first_wash + LONGEST_RHYTHM, |visit| visit.window.best - Days::new(1));
    (until >= plan.first_wash).then(|| (plan.first_wash, plan.rhythm.every_days.max(1), until))
}

fn calendar(sources: &Sources<'_>) -> Option<CalendarLink> {
    wash_days(sources.plan)?;
    let href = sources.link?.washing_name().to_owned();
    Some(CalendarLink { href, save_as: None, label: sources.words.pattern("washing.calendar") })
}

fn wash_dates(sources: &Sources<'_>) -> Vec<String> {
    let dates = sources.dates();
    let mut washes: Vec<NaiveDate> = sources.plan.wash_dates.clone();
    if washes.first() != Some(&sources.plan.first_wash) {
        washes.insert(0, sources.plan.first_wash);
    }
    // The visit begins anew, and so do the wash days of the calendar file.
    let until = wash_days(sources.plan).map(|(.., until)| until);
    let washes = washes.into_iter().filter(|date| until.is_some_and(|until| *date <= until));
    washes.take(MOST_WASH_DATES).map(|date| dates.time_html(date, &dates.weekday(date))).collect()
}

fn before_next_visit(sources: &Sources<'_>) -> Option<Block> {
    let block = block(sources, Section::BeforeNextVisit, "before-next-visit");
    let lines: Vec<String> = visits(sources);
    if block.is_none() && lines.is_empty() {
        return None;
    }
    Some(Block { dates_html: lines, ..block.unwrap_or_else(|| empty(sources, "before-next-visit")) })
}

/// The next visits, each with what it is for, as finished mark-up.
fn visits(sources: &Sources<'_>) -> Vec<String> {
    let (words, dates) = (sources.words, sources.dates());
    let visits = sources.plan.visits.iter().take(MOST_VISITS);
    visits
        .map(|visit| {
            let parts: Vec<String> = visit.parts.iter().map(|part| part_words(words, *part)).collect();
            let date = dates.time_html(visit.window.best, &dates.weekday(visit.window.best));
            let parts = crate::page::escape(&list(words, &parts));
            say_html(words, "visit.line", &[("date", &date), ("parts", &parts)])
        })
        .collect()
}

/// What the dates mean and what the forecast does not know.
fn about(sources: &Sources<'_>) -> Block {
    let words = sources.words;
    let dated = sources.plan.turns.is_some() || sources.plan.nearly_back.is_some();
    let mut lines: Vec<String> = dated.then(|| words.pattern("numbers.range")).into_iter().collect();
    if let Some(count) = sources.plan.rhythm.habit_per_week {
        // One decimal is all a person tells about washing.
        let count = format!("{count:.1}");
        let key = if count == "1.0" { "numbers.habit-one" } else { "numbers.habit" };
        lines.push(words.say(key, &[("count", count.trim_end_matches(".0"))]));
    }
    lines.extend(dated.then(|| sources.every_days("numbers.rhythm")));
    match sources.forecast.returns() {
        0 => {}
        1 => lines.push(words.pattern("numbers.visit")),
        count => lines.push(words.say("numbers.visits", &[("count", &count.to_string())])),
    }
    // Where no date of fading is given, there is no range that could be wider.
    lines.extend(match sources.leading().filter(|_| dated).map(|zone| zone.found) {
        Some(FoundBy::MatchedByEye) => Some(words.pattern("numbers.by-eye")),
        Some(FoundBy::Named) => Some(words.pattern("numbers.named")),
        Some(FoundBy::Measured) | None => None,
    });
    Block {
        lead: Some(words.pattern("numbers.lead")),
        lines,
        ..block(sources, Section::About, "about").unwrap_or_else(|| empty(sources, "about"))
    }
}

/// The advice of one section; nothing when there is none.
fn block(sources: &Sources<'_>, section: Section, id: &'static str) -> Option<Block> {
    let entries = entries(sources, section);
    (!entries.is_empty()).then(|| Block { entries, ..empty(sources, id) })
}

fn entries(sources: &Sources<'_>, section: Section) -> Vec<Entry> {
    sources.advice.iter().filter(|advice| advice.section == section).map(|advice| advice.entry.clone()).collect()
}

fn empty(sources: &Sources<'_>, id: &'static str) -> Block {
    headed(id, sources.words.pattern(&format!("section.{id}")))
}

fn headed(id: &'static str, heading: String) -> Block {
    Block { id, heading, lead: None, dates_html: Vec::new(), calendar: None, lines: Vec::new(), entries: Vec::new() }
}

/// The care boxes, most urgent first, with the numbers of the salon's country.
pub(super) fn care_boxes(sources: &Sources<'_>) -> CareBoxes {
    let words = sources.words;
    let mut boxes: Vec<(Urgency, CareBox)> = sources
        .advice
        .iter()
        .filter(|advice| advice.section == Section::CareBoxes)
        .map(|advice| (advice.urgency.unwrap_or(Urgency::Tell), advice))
        .map(|(urgency, advice)| (urgency, care_box(sources, urgency, &advice.entry)))
        .collect();
    boxes.sort_by_key(|(urgency, _)| *urgency);
    CareBoxes {
        heading: capital(&words.pattern("care.heading")),
        lead: words.pattern("washing.rinse-now"),
        boxes: boxes.into_iter().map(|(_, one)| one).collect(),
    }
}

fn care_box(sources: &Sources<'_>, urgency: Urgency, entry: &Entry) -> CareBox {
    let emergency = &sources.salon.emergency;
    let number = match urgency {
        Urgency::Emergency => Some(&emergency.number),
        Urgency::Urgent => emergency.advice_line.as_ref(),
        Urgency::Tell => None,
    };
    // Short numbers only: what is not digits is shown in the text and never made a link.
    let call = number.filter(|number| number.chars().all(|c| c.is_ascii_digit()) && !number.is_empty());
    CareBox {
        level: match urgency {
            Urgency::Emergency => "emergency",
            Urgency::Urgent => "urgent",
            Urgency::Tell => "tell",
        },
        heading: entry.heading.clone(),
        body_html: entry.body_html.clone(),
        calls: call
            .map(|number| Call {
                href: format!("tel:{number}"),
                label: sources.words.say("care.call", &[("number", number)]).replace(' ', "\u{a0}"),
            })
            .into_iter()
            .collect(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::page::sample::Sample;

    #[test]
    fn the_boxes_stand_most_urgent_first_with_the_numbers_of_the_country() {
        let sample = Sample::rose();
        let care = care_boxes(&sample.sources());
        assert_eq!(care.boxes.iter().map(|one| one.level).collect::<Vec<_>>(), ["emergency", "urgent", "tell"]);
        assert_eq!(care.boxes[0].calls[0].href, "tel:999");
        assert_eq!(care.boxes[1].calls[0].label, "Call\u{a0}111");
        assert!(care.boxes[2].calls.is_empty());
    }

    #[test]
    fn an_emergency_number_that_is_no_number_is_never_a_link() {
        let mut sample = Sample::rose();
        sample.salon.emergency.number = "999\"><script>".to_owned();
        assert!(care_boxes(&sample.sources()).boxes[0].calls.is_empty());
    }

    #[test]
    fn washing_is_told_even_without_advice_and_begins_with_the_first_wash() {
        let mut sample = Sample::rose();
        sample.advice.clear();
        let blocks = before_care(&sample.sources());
        assert_eq!(blocks[0].id, "washing");
        assert_eq!(blocks[0].lead.as_deref(), Some("Wash about every 4 days, counted from your last wash."));
        assert!(blocks[0].dates_html[0].contains("Tuesday 1 December"));
        assert!(blocks[0].lines.iter().any(|line| line.contains("Do not wait for wash day")));
    }

    #[test]
    fn the_wash_days_listed_end_before_the_visit_as_those_of_the_calendar_file_do() {
        let mut sample = Sample::rose();
        let listed = |sample: &Sample| washing(&sample.sources()).dates_html.len();
        assert_eq!(listed(&sample), MOST_WASH_DATES, "the visit is far");
        let third = sample.plan.wash_dates[2];
        for visit in &mut sample.plan.visits {
            visit.window.best = third;
        }
        assert_eq!(listed(&sample), 2, "no wash on the day of the visit nor after it");
        sample.plan.visits[0].window.best = sample.plan.first_wash;
        assert_eq!(listed(&sample), 0, "the visit comes first");
    }

    #[test]
    fn a_page_without_a_date_of_fading_does_not_speak_of_its_range() {
        let mut sample = Sample::rose();
        let told = |sample: &Sample| about(&sample.sources()).lines.join(" ");
        assert!(told(&sample).contains("wider"), "{}", told(&sample));
        (sample.plan.turns, sample.plan.nearly_back) = (None, None);
        assert!(!told(&sample).contains("wider"), "{}", told(&sample));
    }
}
