//! The first screen: what is booked, what it is, what to do next, when to come back, each beside the hair as it will look then.
//!
//! In: plan, record, salon. Out: [`FirstScreen`]. Knows nothing of: the rest of the page.

use serde::Serialize;

use super::Sources;
use super::band::{Bands, Course};
use super::ribbon::courses;
use crate::page::advice::Section;
use crate::page::words::{Words, capital, clock, colour, list, part_words, say_html};
use crate::plan::{Visit, VisitPart};
use crate::schedule::diary::Booked;
use crate::science::colour::naming;
use crate::units::Worded;

/// The first screen.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct FirstScreen {
    /// The salon's name.
    pub salon: String,
    /// Whom it is for, only when the client wants it shown.
    pub client: Option<String>,
    /// The visit that is booked: said before anything else.
    pub booked: Option<Booking>,
    /// The shade in words.
    pub shade: String,
    /// When it was done, with the date marked up.
    pub done_html: String,
    /// The fresh hair beside it.
    pub band_svg: Option<String>,
    /// Tonight, the first wash, and the next visit unless one is booked.
    pub steps: Vec<Step>,
    /// The quiet line to the care boxes.
    pub sore: String,
}

/// A visit that is booked.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Booking {
    /// "Booked: Saturday 12 December, 10am", finished.
    pub said_html: String,
    /// How long to allow and what it usually costs.
    pub after: String,
    /// Its calendar file.
    pub calendar: Option<CalendarLink>,
}

/// One thing to do.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Step {
    /// What it is for the page's script: "night", "wash" or "back".
    pub mark: &'static str,
    /// What: "Tonight, Saturday 28 November", "First wash".
    pub label: String,
    /// "day" for a date in large type, "say" for a sentence.
    pub kind: &'static str,
    /// The date or the sentence, finished.
    pub value_html: String,
    /// A quieter line below, finished; what holds only until a day stands in a `span` that names it.
    pub after_html: Option<String>,
    /// The hair from this day to the next.
    pub band_svg: Option<String>,
    /// Name of the calendar file beside the page, with the words of its link.
    pub calendar: Option<CalendarLink>,
}

/// A link to a calendar file.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct CalendarLink {
    /// Relative address; on a sealed page the file itself, as a `data:` address.
    pub href: String,
    /// The name to save it under, where the file stands in the page.
    pub save_as: Option<String>,
    /// Words.
    pub label: String,
}

/// The first screen of a plan.
pub(super) fn first_screen(sources: &Sources<'_>, bands: &mut Bands) -> FirstScreen {
    let (words, plan) = (sources.words, sources.plan);
    let dates = sources.dates();
    let client = sources.shareable.client();
    let name = client.first_name.as_deref().filter(|_| client.show_first_name);
    let done = dates.time_html(plan.service, &dates.whole(plan.service));
    let shade = shade(sources);
    let days = |date: chrono::NaiveDate| (date - plan.service).num_days().max(0);
    let wash = days(plan.first_wash);
    let visit = sources.plan.next_visit().map_or(wash + 21, |visit| days(visit.window.best)).max(wash);
    let mut steps = Vec::new();
    steps.extend(tonight(sources));
    steps.push(first_wash(sources));
    steps.extend(sources.booked.is_none().then(|| come_back(sources)));
    let until = |mark| match mark {
        "night" => (0, wash),
        "wash" => (wash, visit),
        _ => (visit, visit + (visit - wash) / 2),
    };
    let strand = Strand::of(sources, until("back").1);
    let today = words.say("first.swatch-today", &[("date", &dates.day(plan.service)), ("shade", &shade)]);
    let band_svg = strand.as_ref().map(|strand| strand.first(bands, &today));
    for step in &mut steps {
        let name = words.say("first.swatch", &[("label", &step.label)]);
        let (from, to) = until(step.mark);
        step.band_svg = strand.as_ref().map(|strand| strand.stretch(bands, from, to, &name));
    }
    FirstScreen {
        salon: sources.salon.name.clone(),
        client: name.map(|name| words.say("first.for", &[("name", name)])),
        done_html: say_html(words, "first.done", &[("date", &done)]),
        band_svg,
        booked: sources.booked.map(|booked| booking(sources, booked)),
        shade,
        steps,
        sore: words.pattern("care.first-line"),
    }
}

/// The shade as the stylist named it, else the colour in words.
pub(in crate::page) fn shade(sources: &Sources<'_>) -> String {
    let Some(zone) = sources.leading() else { return sources.words.pattern("first.no-colour") };
    let placement = sources.shareable.latest().placements.get(zone.placement);
    let recorded = placement.and_then(|placement| placement.zones.iter().find(|other| other.name == zone.name));
    let name = recorded.and_then(|zone| zone.colour.as_ref()).and_then(|colour| colour.name.as_deref());
    capital(&name.map_or_else(|| colour(sources.words, naming::name(zone.finished)), str::to_owned))
}

/// The first line of tonight's advice.
fn tonight(sources: &Sources<'_>) -> Option<Step> {
    let first = sources.advice.iter().find(|advice| advice.section == Section::Tonight)?;
    Some(Step {
        mark: "night",
        label: night(sources),
        kind: "say",
        value_html: crate::page::escape(&first.entry.heading),
        after_html: None,
        band_svg: None,
        calendar: None,
    })
}

/// "Tonight, Saturday 28 November": on a later day the words still say which night.
pub(super) fn night(sources: &Sources<'_>) -> String {
    sources.words.say("first.tonight", &[("date", &sources.dates().weekday(sources.plan.service))])
}

fn first_wash(sources: &Sources<'_>) -> Step {
    let (dates, plan) = (sources.dates(), sources.plan);
    Step {
        mark: "wash",
        label: sources.words.pattern("first.wash"),
        kind: "day",
        value_html: dates.time_html(plan.first_wash, &dates.weekday(plan.first_wash)),
        after_html: Some(crate::page::escape(&sources.every_days("first.then-every"))),
        band_svg: None,
        calendar: None,
    }
}

/// The calendar file of the next visit.
fn calendar(sources: &Sources<'_>) -> Option<CalendarLink> {
    let label = sources.words.pattern("first.calendar");
    sources.link.map(|link| CalendarLink { href: link.calendar_name().to_owned(), save_as: None, label })
}

fn booking(sources: &Sources<'_>, booked: Booked) -> Booking {
    let (words, dates) = (sources.words, sources.dates());
    let key = if sources.salon.book.show_time { "booked.day-and-time" } else { "booked.day" };
    let places = [
        ("date", &*dates.time_html(booked.date, &dates.weekday(booked.date))),
        ("time", &*crate::page::escape(&clock(words, booked.time))),
    ];
    Booking { said_html: say_html(words, key, &places), after: allow(sources, booked), calendar: calendar(sources) }
}

fn come_back(sources: &Sources<'_>) -> Step {
    let (words, dates) = (sources.words, sources.dates());
    let label = words.pattern("first.come-back");
    let mark = "back";
    let Some(Visit { window, parts }) = sources.plan.next_visit() else {
        let value_html = crate::page::escape(&words.pattern("first.no-visit"));
        return Step { mark, label, kind: "say", value_html, after_html: None, band_svg: None, calendar: None };
    };
    let span = dates.span(window.earliest, window.latest);
    let what: Vec<String> = parts.iter().map(|part| part_words(words, *part)).collect();
    let around = (window.earliest != window.latest).then(|| words.say("first.window", &[("span", &span)]));
    let mut after = vec![
        crate::page::escape(&words.say("first.visit-for", &[("parts", &list(words, &what))])),
        // Once the last day has passed, the page's script says so here.
        format!("<span data-last=\"{}\">{}</span>", window.latest, crate::page::escape(&around.unwrap_or_default())),
    ];
    // A visit for the roots alone must not be taken for the colour's date, which the ribbon shows.
    if let Some(refresh) = sources.plan.refresh_visit().filter(|_| !parts.contains(&VisitPart::Refresh)) {
        let date = dates.time_html(refresh.best, &dates.day(refresh.best));
        after.push(format!("<span>{}</span>", say_html(words, "first.refresh-later", &[("date", &date)])));
    }
    Step {
        mark,
        label,
        kind: "day",
        value_html: dates.time_html(window.best, &dates.weekday(window.best)),
        after_html: Some(after.join(" ")),
        band_svg: None,
        calendar: calendar(sources),
    }
}

/// How long to allow, and what the salon usually asks for it: "Please allow 2.5 hours; the price is usually 60 to 85 pounds."
fn allow(sources: &Sources<'_>, booked: Booked) -> String {
    let (words, salon) = (sources.words, sources.salon);
    let length = length(words, booked.minutes);
    let service = salon.services.iter().find(|service| service.code == booked.kind.word());
    match service.and_then(|service| service.price).filter(|(_, high)| *high > 0.0) {
        Some(range) => {
            let price = price(words, range, salon.currency.as_deref());
            words.say("booked.length-and-price", &[("length", &length), ("price", &price)])
        }
        None => words.say("booked.length", &[("length", &length)]),
    }
}

/// A range of prices as people say it: "60 to 85 pounds". A currency without words of its own is told by its letters.
fn price(words: &dyn Words, (low, high): (f64, f64), currency: Option<&str>) -> String {
    let number = |value: f64| if value.fract() == 0.0 { format!("{value:.0}") } else { format!("{value:.2}") };
    let low_to_high = [("low", &*number(low)), ("high", &*number(high))];
    let amount =
        if low < high { words.say("price.range", &low_to_high) } else { words.say("price.one", &low_to_high[1..]) };
    let key = match currency {
        Some("GBP") => "price.pounds",
        Some("EUR") => "price.euros",
        Some("USD" | "CAD" | "AUD" | "NZD") => "price.dollars",
        _ => "price.letters",
    };
    let places = [("amount", &*amount), ("letters", currency.unwrap_or_default())];
    words.say(key, &places[..if key == "price.letters" { 2 } else { 1 }]).trim_end().to_owned()
}

/// A length in hours, up to the next half: "2.5 hours".
fn length(words: &dyn Words, minutes: u16) -> String {
    let halves = minutes.div_ceil(30).max(1);
    let count = (f64::from(halves) / 2.0).to_string();
    words.say(if halves <= 2 { "count.hour" } else { "count.hours" }, &[("count", &count)])
}

/// The leading zone's hair, with all the zones of the page.
struct Strand<'a> {
    zones: Vec<Course<'a>>,
    /// Which of them leads.
    leading: usize,
    /// The last day that any band of the page shows.
    until: f64,
}

impl<'a> Strand<'a> {
    /// Nothing when no zone was coloured.
    fn of(sources: &Sources<'a>, last: i64) -> Option<Self> {
        let steps = sources.leading_steps().filter(|steps| !steps.is_empty())?;
        let (zones, end) = courses(sources);
        let leading = zones.iter().position(|zone| std::ptr::eq(zone.steps, steps))?;
        // Days of one forecast: a few hundred, exact.
        Some(Self { zones, leading, until: f64::from(end).max(last as f64) })
    }

    fn first(&self, bands: &mut Bands, name: &str) -> String {
        bands.first(&self.zones, self.zones[self.leading], self.until, name)
    }

    fn stretch(&self, bands: &Bands, from: i64, to: i64, name: &str) -> String {
        bands.stretch_of(self.leading, self.zones[self.leading], from as f64, to as f64, name)
    }
}
