//! The fade ribbon: every zone's band along the calendar, with dates, words and the window to come back.
//!
//! In: plan and forecast. Out: [`Ribbon`]. Knows nothing of: the rest of the page.

use std::collections::BTreeMap;

use chrono::NaiveDate;
use serde::Serialize;

use super::Sources;
use super::band::{Bands, Course};
use super::bracket::Bracket;
use super::first_screen::shade;
use crate::forecast::{Milestone, ZoneForecast};
use crate::page::words::{Words, base_words, capital, change, colour, list, share_left};
use crate::plan::{Caution, DateRange, RibbonStep, RibbonZone, date_range};
use crate::science::colour::naming;
use crate::units::{Fraction, Worded};

/// Most zones side by side; of more, those up to the leading one are shown.
const MOST_ZONES: usize = 6;

/// Most rows: a year in a glance, not a table.
const MOST_ROWS: u32 = 9;

/// Most rows of a colour that holds for months: each says what the one before it says.
const MOST_ROWS_HELD: u32 = 3;

/// Computed steps between rows, the fewest that give few enough rows.
const STRIDES: [u32; 6] = [1, 2, 4, 8, 16, 32];

/// The fade ribbon.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Ribbon {
    /// Heading of the section.
    pub heading: String,
    /// What happens, date by date.
    pub story: Vec<Saying>,
    /// The zones in the order of the bands; empty when there is only one.
    pub zones: Vec<ZoneKey>,
    /// Bands side by side, 1 to 6.
    pub bands: usize,
    /// The rows, oldest first.
    pub rows: Vec<Row>,
    /// What the marks mean.
    pub note: String,
}

/// One sentence with its range.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Saying {
    /// What happens.
    pub text: String,
    /// Its usual day in machine form, when it has one.
    pub on: Option<String>,
    /// The earlier and the later edge of its date.
    pub range: Option<String>,
}

/// Which band is which zone.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct ZoneKey {
    /// Name.
    pub name: String,
    /// A small drawing of the bands with this one marked.
    pub glyph_svg: String,
}

/// One row: a day and the stretch of hair until the next.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Row {
    /// Machine form of the day.
    pub iso: String,
    /// The day in words.
    pub date: String,
    /// The bands.
    pub band_svg: String,
    /// The part of the window's bracket that lies in this row; may be empty.
    pub mark_svg: String,
    /// Colour and share left in words, zones alike told once; as they run on in a sentence, the style sheet sets their capitals.
    pub lines: Vec<String>,
    /// Told in the row of the best day.
    pub due: Option<String>,
}

/// A zone with all that its words need.
struct Told<'a> {
    placement: usize,
    /// The placement in words, when there are several.
    group: Option<String>,
    /// The zone within its placement.
    zone: String,
    course: Course<'a>,
    nearly_back: f64,
    back: Option<Milestone>,
    base: String,
}

/// The ribbon of a plan; nothing when no zone was coloured.
pub(super) fn ribbon(sources: &Sources<'_>, bands: &Bands) -> Option<Ribbon> {
    let zones = told(sources);
    if zones.is_empty() {
        return None;
    }
    let words = sources.words;
    let window = sources.plan.refresh_visit();
    let (stride, rows) = rows(sources, &zones);
    let open = window.filter(|window| window.earliest < window.latest);
    let note = open.map_or_else(String::new, |window| {
        words.say("ribbon.window", &[("span", &sources.dates().span(window.earliest, window.latest))])
    });
    Some(Ribbon {
        heading: words.pattern("ribbon.heading"),
        story: story(sources, &zones),
        zones: if zones.len() > 1 { keys(words, &zones) } else { Vec::new() },
        bands: zones.len(),
        rows: (0..rows).map(|row| self::row(sources, &zones, bands, row * stride, stride)).collect(),
        note: [note, words.pattern("ribbon.screens")].join(" ").trim().to_owned(),
    })
}

/// What every band of the page is drawn from: the zones as the ribbon shows them, and the day on which it ends.
pub(super) fn courses<'a>(sources: &Sources<'a>) -> (Vec<Course<'a>>, u32) {
    let zones = told(sources);
    let (stride, rows) = rows(sources, &zones);
    (zones.into_iter().map(|zone| zone.course).collect(), stride * rows)
}

/// The zones shown: in the order of the record, the leading one always among them.
fn told<'a>(sources: &Sources<'a>) -> Vec<Told<'a>> {
    let leading = sources.plan.leading_zone;
    let mut ribbon: Vec<&RibbonZone> = sources.plan.ribbon.iter().filter(|zone| !zone.steps.is_empty()).collect();
    if ribbon.len() > MOST_ZONES {
        let at = ribbon.iter().position(|zone| Some(zone.zone) == leading).unwrap_or(0);
        let first = at.saturating_sub(MOST_ZONES - 1);
        ribbon = ribbon[first..first + MOST_ZONES].to_vec();
    }
    let zones: Vec<&ZoneForecast> = ribbon.iter().map(|zone| zone_of(sources, zone)).collect();
    ribbon.into_iter().map(|zone| tell(sources, zone, group(sources, zone_of(sources, zone), &zones))).collect()
}

/// What tells a placement from the others: its kind, or its part of the head among some of one kind.
fn group(sources: &Sources<'_>, zone: &ZoneForecast, all: &[&ZoneForecast]) -> Option<String> {
    let mut others = all.iter().filter(|other| other.placement != zone.placement).peekable();
    others.peek()?;
    let kind = sources.words.pattern(&format!("placement.{}", zone.kind.word().replace(' ', "-")));
    if others.all(|other| other.kind != zone.kind) {
        return Some(kind);
    }
    Some(match zone.area {
        Some(area) => sources.words.pattern(&format!("area.{}", area.word().replace(' ', "-"))),
        None => format!("{kind} {}", zone.placement + 1),
    })
}

fn zone_of<'a>(sources: &Sources<'a>, zone: &RibbonZone) -> &'a ZoneForecast {
    &sources.forecast.zones[zone.zone]
}

fn tell<'a>(sources: &Sources<'a>, ribbon: &'a RibbonZone, group: Option<String>) -> Told<'a> {
    let (words, zone) = (sources.words, zone_of(sources, ribbon));
    Told {
        placement: zone.placement,
        group,
        zone: words.pattern(&format!("zone.{}", zone.name.word())),
        course: Course { steps: &ribbon.steps },
        nearly_back: zone.refresh_share.to_fraction(),
        back: zone.nearly_back,
        base: base_words(words, zone),
    }
}

/// Days between rows, and how many rows: until a week past the last date that matters.
fn rows(sources: &Sources<'_>, zones: &[Told<'_>]) -> (u32, u32) {
    let plan = sources.plan;
    let last_step = zones.iter().filter_map(|zone| zone.course.steps.last()).map(|step| step.day).max().unwrap_or(0);
    let matters = [plan.refresh_visit().map(|window| window.latest), plan.nearly_back.and_then(|range| range.usual)];
    let until = matters.into_iter().flatten().filter_map(|date| u32::try_from((date - plan.service).num_days()).ok());
    let end = until.max().map_or(last_step, |day| day + 7).min(last_step.max(7));
    // Every row begins at a computed step, or its words would be those of another day.
    let apart = zones.iter().find_map(|zone| Some(zone.course.steps.get(1)?.day)).unwrap_or(7);
    let strides = STRIDES.map(|steps| steps * apart);
    let most = if plan.cautions.contains(&Caution::HoldsLong) { MOST_ROWS_HELD } else { MOST_ROWS };
    let stride = strides.into_iter().find(|stride| end.div_ceil(*stride) < most).unwrap_or(strides[5]);
    (stride, (end.div_ceil(stride) + 1).clamp(2, most))
}

fn row(sources: &Sources<'_>, zones: &[Told<'_>], bands: &Bands, day: u32, stride: u32) -> Row {
    let words = sources.words;
    let date = sources.plan.service + chrono::Days::new(u64::from(day));
    let text = sources.dates().day(date);
    let name = words.say("ribbon.swatch", &[("date", &text)]);
    let refresh = sources.plan.refresh_visit();
    let window = refresh.map(|window| Bracket::of(window, sources.plan.service));
    let best = match sources.booked {
        Some(booked) if refresh.is_some_and(|window| window.best == booked.date) => "booked.day",
        _ => "ribbon.best",
    };
    let due = refresh.filter(|_| window.is_some_and(|b| (day..day + stride).contains(&b.best)));
    Row {
        iso: date.to_string(),
        date: text,
        band_svg: bands.stretch(f64::from(day), f64::from(day + stride), &name),
        mark_svg: window.map_or_else(String::new, |bracket| bracket.svg(f64::from(day), f64::from(stride))),
        lines: lines(sources, zones, day, day.checked_sub(stride)),
        due: due.map(|window| words.say(best, &[("date", &sources.dates().weekday(window.best))])),
    }
}

/// Colour and share in words, zones that read alike told together, in the order of the bands.
fn lines(sources: &Sources<'_>, zones: &[Told<'_>], day: u32, before: Option<u32>) -> Vec<String> {
    let mut alike: BTreeMap<String, Vec<usize>> = BTreeMap::new();
    for (at, zone) in zones.iter().enumerate() {
        let before = before.map(|before| zone.course.nearest(before));
        alike.entry(row_words(sources, zone, zone.course.nearest(day), before)).or_default().push(at);
    }
    if alike.len() == 1 {
        return alike.into_keys().collect();
    }
    let mut lines: Vec<(usize, String)> = alike
        .into_iter()
        .map(|(text, alike)| {
            let names = list(sources.words, &names(sources, zones, &alike));
            (alike[0], sources.words.say("ribbon.zone-line", &[("zones", &names), ("words", &text)]))
        })
        .collect();
    lines.sort();
    lines.into_iter().map(|(_, line)| line).collect()
}

/// The names of some zones; a placement whose zones are all among them is named once.
fn names(sources: &Sources<'_>, zones: &[Told<'_>], some: &[usize]) -> Vec<String> {
    let mut names = Vec::new();
    for &at in some {
        let whole = (0..zones.len()).filter(|&other| zones[other].placement == zones[at].placement);
        let name = match &zones[at].group {
            Some(group) if whole.into_iter().all(|other| some.contains(&other)) => group.clone(),
            _ => name(sources.words, &zones[at]),
        };
        if !names.contains(&name) {
            names.push(name);
        }
    }
    names
}

/// The whole name of a zone.
fn name(words: &dyn Words, zone: &Told<'_>) -> String {
    match &zone.group {
        Some(group) => words.say("zone.of-placement", &[("placement", group), ("zone", &zone.zone)]),
        None => zone.zone.clone(),
    }
}

/// The words of a step beside those of the row before: never the same when the two are seen to differ.
fn row_words(sources: &Sources<'_>, zone: &Told<'_>, step: &RibbonStep, before: Option<&RibbonStep>) -> String {
    let text = step_words(sources, zone, step);
    let alike = before.filter(|before| step_words(sources, zone, before) == text);
    match alike.and_then(|before| change(sources.words, before.colour, step.colour)) {
        None => text,
        Some(change) => sources.words.say("change.colour", &[("colour", &text), ("change", &change)]),
    }
}

fn step_words(sources: &Sources<'_>, zone: &Told<'_>, step: &RibbonStep) -> String {
    let words = sources.words;
    let name = colour(words, step.name);
    match step.left.map(Fraction::to_fraction) {
        None => name,
        // "Pale blonde, nearly back to pale blonde" says one thing twice.
        Some(left) if left < zone.nearly_back && name == zone.base => {
            share_left(words, left, zone.nearly_back, &zone.base)
        }
        Some(left) => {
            let left = share_left(words, left, zone.nearly_back, &zone.base);
            words.say("ribbon.colour-and-left", &[("colour", &name), ("left", &left)])
        }
    }
}

/// What happens: what turns, what is nearly back, each with its range.
fn story(sources: &Sources<'_>, zones: &[Told<'_>]) -> Vec<Saying> {
    let (words, plan, dates) = (sources.words, sources.plan, sources.dates());
    let steps = sources.leading_steps().unwrap_or_default();
    let Some(lead) = zones.iter().find(|zone| std::ptr::eq(zone.course.steps, steps)).or(zones.first()) else {
        return Vec::new();
    };
    let sure = [
        (Caution::TooWarmBase, "story.too-warm"),
        (Caution::TooDarkBase, "story.too-dark"),
        (Caution::NoFadeDate, "story.no-date"),
        (Caution::HoldsLong, "story.holds"),
    ];
    let told = sure.into_iter().filter(|(caution, _)| plan.cautions.contains(caution));
    let mut story: Vec<Saying> =
        told.map(|(_, key)| Saying { text: words.pattern(key), on: None, range: None }).collect();
    let turns = plan.turns.and_then(|range| Some((range.usual?, range, turned(sources)?)));
    let back = plan.nearly_back.and_then(|range| {
        let date = range.usual?;
        let (place, base) = back_by(sources, zones, date).unwrap_or((None, &lead.base));
        let text = words.say("story.nearly-back", &[("date", &dates.day(date)), ("base", base)]);
        Some((date, range, placed(words, place, text)))
    });
    let mut dated: Vec<(NaiveDate, DateRange, String)> = turns
        // What was nearly back before has nothing left to turn into its base.
        .filter(|(date, _, colour)| *colour != lead.base || back.as_ref().is_none_or(|(back, ..)| date < back))
        .map(|(date, range, colour)| {
            let text = turn_words(sources, date, &colour, &lead.base);
            (date, range, placed(words, lead.group.clone(), text))
        })
        .into_iter()
        .chain(back)
        .collect();
    dated.sort_by_key(|(date, ..)| *date);
    let say = |(date, range, text): (NaiveDate, DateRange, String)| Saying {
        text,
        on: Some(date.to_string()),
        range: range_words(sources, range),
    };
    story.extend(dated.into_iter().map(say));
    story
}

/// What of several placements is nearly back by a day, and to which base; the place is nothing when all of it is.
///
/// Nothing when there is one placement: its zones go together.
fn back_by<'a>(sources: &Sources<'_>, zones: &'a [Told<'_>], day: NaiveDate) -> Option<(Option<String>, &'a str)> {
    zones.first()?.group.as_ref()?;
    let usual = |zone: &Told<'_>| date_range(sources.plan.service, zone.back?).usual;
    let some: Vec<usize> = (0..zones.len()).filter(|&at| usual(&zones[at]).is_some_and(|usual| usual <= day)).collect();
    let place = (some.len() < zones.len()).then(|| list(sources.words, &names(sources, zones, &some)));
    Some((place, &zones[*some.first()?].base))
}

/// A sentence with the place it is about before it: "Left side: around 9 January it turns to mint."
fn placed(words: &dyn Words, place: Option<String>, text: String) -> String {
    let Some(place) = place else { return text };
    let mut letters = text.chars();
    let text: String = letters.next().map(|first| first.to_lowercase().chain(letters).collect()).unwrap_or_default();
    words.say("ribbon.zone-line", &[("zones", &capital(&place)), ("words", &text)])
}

/// The colour that comes up at the turn of the leading zone: the first of another hue, not the one it leaves.
fn turned(sources: &Sources<'_>) -> Option<String> {
    let zone = sources.leading()?;
    Some(colour(sources.words, naming::name(zone.colour_after(zone.turns?.dose))))
}

/// What a turn is called: a colour that already reads like the base is one that gives way to it.
fn turn_words(sources: &Sources<'_>, date: NaiveDate, colour: &str, base: &str) -> String {
    let shade = shade(sources).to_lowercase();
    let named =
        colour.split([' ', '-']).next_back().is_some_and(|noun| shade.split([' ', '-']).any(|word| word == noun));
    let key = match () {
        () if colour == base => "story.turns-to-base",
        // A stylist's name may lie across a line of ours: nothing turns into what it is already called.
        () if named => "story.turns-on",
        () => "story.turns",
    };
    sources.words.say(key, &[("date", &sources.dates().day(date)), ("colour", colour)])
}

/// The earlier and the later edge of a date.
fn range_words(sources: &Sources<'_>, range: DateRange) -> Option<String> {
    let dates = sources.dates();
    let key_and_span = match (range.earliest, range.latest) {
        (Some(from), Some(to)) => ("story.range", dates.span(from, to)),
        (Some(from), None) => ("story.range-from", dates.day(from)),
        (None, _) => return None,
    };
    Some(sources.words.say(key_and_span.0, &[("span", &key_and_span.1)]))
}

/// Small drawings of which band is which.
fn keys(words: &dyn Words, zones: &[Told<'_>]) -> Vec<ZoneKey> {
    let side = zones.len() * 3;
    let at = |index: usize| index * 3 + 1;
    let lines = |draw: &dyn Fn(usize) -> String| (0..zones.len()).map(draw).collect::<String>();
    let down = |index: usize| format!("M{}.5 0v{side}", at(index));
    let key = |(index, zone): (usize, &Told<'_>)| ZoneKey {
        name: capital(&name(words, zone)),
        glyph_svg: format!(
            "<svg class=\"which\" aria-hidden=\"true\" viewBox=\"0 0 {side} {side}\"><g><path class=\"faint\" \
             d=\"{}\"/><path d=\"{}\"/></g></svg>",
            lines(&down),
            down(index)
        ),
    };
    zones.iter().enumerate().map(key).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::page::sample::Sample;
    use crate::record::{Area, PlacementKind};
    use crate::units::{Days, Washes};

    #[test]
    fn every_row_has_a_date_a_named_band_and_words() {
        let sample = Sample::rose();
        let ribbon = ribbon(&sample.sources(), &Bands::default()).expect("a ribbon");
        assert!((4..=9).contains(&ribbon.rows.len()), "{}", ribbon.rows.len());
        assert_eq!(ribbon.zones.len(), 3);
        for row in &ribbon.rows {
            assert!(!row.date.is_empty() && !row.lines.is_empty() && row.band_svg.contains("aria-label"));
        }
        assert_eq!(ribbon.rows.iter().filter(|row| row.due.is_some()).count(), 1);
        assert_eq!(
            ribbon.rows[0].lines,
            ["roots and mid-lengths: soft rose, all of it left", "ends: clear pink, all of it left"]
        );
    }

    #[test]
    fn two_panels_are_told_apart_by_their_part_of_the_head_and_once_when_alike() {
        let mut sample = Sample::rose();
        for (at, area) in [Area::Left, Area::Left, Area::Right].into_iter().enumerate() {
            let zone = &mut sample.forecast.zones[at];
            (zone.kind, zone.area, zone.placement) = (PlacementKind::Panel, Some(area), at / 2);
        }
        let ribbon = ribbon(&sample.sources(), &Bands::default()).expect("a ribbon");
        let names: Vec<&str> = ribbon.zones.iter().map(|zone| zone.name.as_str()).collect();
        assert_eq!(names, ["Left side, roots", "Left side, mid-lengths", "Right side, ends"]);
        let first = &ribbon.rows[0].lines;
        assert!(first[0].starts_with("left side: ") && first[1].starts_with("right side: "), "{first:?}");
    }

    #[test]
    fn with_two_panels_the_story_says_which_of_them_turns_and_which_is_nearly_back() {
        let mut sample = Sample::rose();
        let usual = sample.plan.nearly_back.and_then(|range| range.usual).expect("a day");
        for (at, area) in [Area::Left, Area::Left, Area::Right].into_iter().enumerate() {
            let zone = &mut sample.forecast.zones[at];
            (zone.kind, zone.area, zone.placement) = (PlacementKind::Panel, Some(area), at / 2);
        }
        let told = |sample: &Sample| {
            let story = ribbon(&sample.sources(), &Bands::default()).expect("a ribbon").story;
            story.into_iter().map(|saying| saying.text).find(|text| text.contains("nearly back")).expect("told")
        };
        let service = sample.plan.service;
        let back = |days: i64| {
            let day = Some(Days::from_days(((usual - service).num_days() + days) as f64));
            Some(Milestone { dose: Washes::from_washes(5.0), earliest: day, usual: day, latest: day })
        };
        for (at, zone) in sample.forecast.zones.iter_mut().enumerate() {
            zone.nearly_back = back(if at == 2 { -1 } else { 20 });
        }
        assert!(told(&sample).starts_with("Right side: around "), "{}", told(&sample));
        for zone in &mut sample.forecast.zones {
            zone.nearly_back = back(-1);
        }
        assert!(told(&sample).starts_with("Around "), "all of it: {}", told(&sample));
    }

    #[test]
    fn a_long_fade_takes_longer_strides_not_more_rows() {
        let mut sample = Sample::rose();
        for zone in &mut sample.plan.ribbon {
            for step in &mut zone.steps {
                step.day *= 4;
            }
        }
        sample.plan.refresh = None;
        sample.plan.nearly_back = None;
        let ribbon = ribbon(&sample.sources(), &Bands::default()).expect("a ribbon");
        assert!(ribbon.rows.len() <= 9, "{}", ribbon.rows.len());
    }
}
