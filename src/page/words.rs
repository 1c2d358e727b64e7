//! Where prose comes from, and dates, shares and colours in words.
//!
//! In: keys and typed values. Out: words of one language. Knows nothing of: which file the words came from.

use std::borrow::Cow;

use chrono::{Datelike, NaiveDate, NaiveTime, Timelike};

use super::catalogue::colour_key;
use super::escape;
use super::pattern::Pattern;
use crate::forecast::ZoneForecast;
use crate::plan::VisitPart;
use crate::science::colour::cielab::Lab;
use crate::science::colour::naming::{self, Change, ColourName, Depth, Hue};
use crate::science::hair::base::Pigment;

/// A source of words in one language.
pub trait Words {
    /// The language, a BCP 47 tag.
    fn language(&self) -> &str;
    /// Its direction: "ltr" or "rtl".
    fn direction(&self) -> &str;
    /// The pattern of a key, with places as `{name}`.
    fn pattern(&self, key: &str) -> String;

    /// The pattern of a key, borrowed where it can be.
    fn text(&self, key: &str) -> Cow<'_, str> {
        self.pattern(key).into()
    }

    /// The pattern of a key with its places filled, as bare text.
    fn say(&self, key: &str, places: &[(&str, &str)]) -> String {
        Pattern::of(self.pattern(key)).filled(places)
    }
}

/// A sentence with mark-up in its places: pattern escaped, values finished mark-up.
pub(super) fn say_html(words: &dyn Words, key: &str, places: &[(&str, &str)]) -> String {
    Pattern::of(escape(&words.text(key))).filled(places)
}

/// Writes dates as a page says them: the year only when it is not the year of the service.
#[derive(Clone, Copy)]
pub(super) struct Dates<'a> {
    /// The words.
    pub(super) words: &'a dyn Words,
    /// The year that goes without saying.
    pub(super) year: i32,
}

impl<'a> Dates<'a> {
    /// Dates of a page about a service.
    pub(super) fn of_service(words: &'a dyn Words, service: NaiveDate) -> Self {
        Self { words, year: service.year() }
    }

    /// "Tuesday 1 December", with the year when it is another.
    pub(super) fn weekday(self, date: NaiveDate) -> String {
        self.write(date, if date.year() == self.year { "date.weekday" } else { "date.weekday-year" })
    }

    /// "Saturday 28 November 2026".
    pub(super) fn whole(self, date: NaiveDate) -> String {
        self.write(date, "date.weekday-year")
    }

    /// "30 June 2027".
    pub(super) fn day_year(self, date: NaiveDate) -> String {
        self.write(date, "date.day-year")
    }

    /// "1 December".
    pub(super) fn day(self, date: NaiveDate) -> String {
        self.write(date, "date.day")
    }

    /// "15 to 29 December" or "28 December to 3 January".
    pub(super) fn span(self, from: NaiveDate, to: NaiveDate) -> String {
        if from == to {
            return self.weekday(from);
        }
        let same_month = (from.year(), from.month()) == (to.year(), to.month());
        let first = if same_month { from.day().to_string() } else { self.day(from) };
        self.words.say("date.span", &[("from", &first), ("to", &self.day(to))])
    }

    /// A date as mark-up with its machine form; `text` is already escaped or holds no mark-up characters of its own.
    pub(super) fn time_html(self, date: NaiveDate, text: &str) -> String {
        format!("<time datetime=\"{date}\">{}</time>", escape(text))
    }

    fn write(self, date: NaiveDate, key: &str) -> String {
        let weekday = self.words.text(WEEKDAYS[date.weekday().num_days_from_monday() as usize]);
        let month = self.words.text(MONTHS[date.month0() as usize]);
        let (day, year) = (date.day().to_string(), date.year().to_string());
        self.words.say(key, &[("weekday", &weekday), ("day", &day), ("month", &month), ("year", &year)])
    }
}

/// The keys of the days, from Monday.
const WEEKDAYS: [&str; 7] = ["weekday.1", "weekday.2", "weekday.3", "weekday.4", "weekday.5", "weekday.6", "weekday.7"];

/// The keys of the months.
const MONTHS: [&str; 12] = [
    "month.1", "month.2", "month.3", "month.4", "month.5", "month.6", "month.7", "month.8", "month.9", "month.10",
    "month.11", "month.12",
];

/// A time of day in words: "10am", "2.15pm", "midday".
#[must_use]
pub fn clock(words: &dyn Words, time: NaiveTime) -> String {
    match (time.hour(), time.minute()) {
        (12, 0) => words.pattern("time.midday"),
        (0, 0) => words.pattern("time.midnight"),
        (hour, minute) => {
            let half = words.pattern(if hour < 12 { "time.morning" } else { "time.afternoon" });
            let hour = if hour % 12 == 0 { 12 } else { hour % 12 }.to_string();
            match minute {
                0 => words.say("time.hour", &[("hour", &hour), ("half", &half)]),
                _ => {
                    let minutes = format!("{minute:02}");
                    words.say("time.hour-minutes", &[("hour", &hour), ("minutes", &minutes), ("half", &half)])
                }
            }
        }
    }
}

/// A colour in words: "soft rose", "pale blonde".
pub fn colour(words: &dyn Words, name: ColourName) -> String {
    words.pattern(&colour_key(name.hue, name.depth, name.strength))
}

/// Share of white hair from which a natural base is told by how it looks, not by its depth.
const LOOKS_WHITE: f64 = 0.25;

/// What a zone fades back to: natural hair by its depth as the trade names it, lightened or white hair by its colour.
#[must_use]
pub fn base_words(words: &dyn Words, zone: &ZoneForecast) -> String {
    match zone.base.pigment {
        Pigment::Natural(depth) if zone.base.white.to_fraction() < LOOKS_WHITE => {
            words.pattern(&format!("natural.{:.0}", depth.value()))
        }
        _ => colour(words, naming::name(zone.bare)),
    }
}

/// What parts a colour from the step before it, when their names alone would read the same: "a little lighter".
pub(super) fn change(words: &dyn Words, before: Lab, now: Lab) -> Option<String> {
    naming::change(before, now).map(|change| {
        words.pattern(match change {
            Change::Lighter => "change.lighter",
            Change::Darker => "change.darker",
            Change::Softer => "change.softer",
            Change::Stronger => "change.stronger",
            Change::Warmer => "change.warmer",
            Change::Cooler => "change.cooler",
        })
    })
}

/// A colour in words beside the step before it: never the same words when the two are seen to differ.
#[must_use]
pub fn colour_after(words: &dyn Words, before: Option<Lab>, now: Lab) -> String {
    let plain = colour(words, naming::name(now));
    match before.and_then(|before| change(words, before, now)) {
        None => plain,
        Some(change) => words.say("change.colour", &[("colour", &plain), ("change", &change)]),
    }
}

/// The steps of the ribbon's words, most first: each with the least share it is said of.
/// Common practice, no source: people tell fifths apart, and a third from a half, not percents.
const LEFT: [(&str, f64); 6] = [
    ("left.all", 0.95),
    ("left.nearly-all", 0.8),
    ("left.most", 0.6),
    ("left.half", 0.42),
    ("left.third", 0.27),
    ("left.hint", 0.0),
];

/// How much of the colour is left, in words; `nearly_back` is the share from which it counts as back to its base.
pub(super) fn share_left(words: &dyn Words, left: f64, nearly_back: f64, base: &str) -> String {
    if left < nearly_back {
        return words.say("left.nearly-back", &[("base", base)]);
    }
    let (key, _) = LEFT.iter().find(|(_, least)| left >= *least).unwrap_or(&LEFT[LEFT.len() - 1]);
    words.pattern(key)
}

/// Every step of what can be left, in words, most first, with its least and its most share: what `share_left` says, the other way round.
#[must_use]
pub fn steps_left(words: &dyn Words, nearly_back: f64, base: &str) -> Vec<(String, f64, f64)> {
    let mut most = 1.0;
    let mut steps = Vec::new();
    for (_, least) in LEFT {
        let least = least.max(nearly_back);
        if least < most {
            steps.push((share_left(words, least, nearly_back, base), least, most));
            most = least;
        }
    }
    if most > 0.0 {
        steps.push((share_left(words, 0.0, nearly_back, base), 0.0, most));
    }
    steps
}

/// "a", "a and b", "a, b and c".
pub(super) fn list<T: AsRef<str>>(words: &dyn Words, items: &[T]) -> String {
    let (comma, and) = (words.text("list.comma"), words.text("list.and"));
    let mut out = String::new();
    for (at, item) in items.iter().enumerate() {
        let join = if at == 0 {
            ""
        } else if at + 1 == items.len() {
            &and
        } else {
            &comma
        };
        out.push_str(join);
        out.push_str(item.as_ref());
    }
    out
}

/// The same with a capital at the front, as a heading or a line begins.
pub(super) fn capital(text: &str) -> String {
    let mut rest = text.chars();
    rest.next().map_or_else(String::new, |first| first.to_uppercase().chain(rest).collect())
}

/// What a visit is for, in words.
pub(super) fn part_words(words: &dyn Words, part: VisitPart) -> String {
    words.pattern(match part {
        VisitPart::Refresh => "visit.refresh",
        VisitPart::Roots => "visit.roots",
        VisitPart::Trim => "visit.trim",
    })
}

/// A hue as keys of the catalogue spell it.
pub(super) fn hue_key(hue: Hue) -> &'static str {
    match hue {
        Hue::Rose => "rose",
        Hue::Red => "red",
        Hue::Peach => "peach",
        Hue::Orange => "orange",
        Hue::Gold => "gold",
        Hue::Yellow => "yellow",
        Hue::YellowGreen => "yellow-green",
        Hue::Green => "green",
        Hue::Teal => "teal",
        Hue::Blue => "blue",
        Hue::Violet => "violet",
        Hue::Magenta => "magenta",
        Hue::Neutral => "neutral",
        Hue::Auburn => "auburn",
        Hue::Copper => "copper",
        Hue::Brown => "brown",
        Hue::Beige => "beige",
        Hue::RoseBeige => "rose-beige",
    }
}

/// A depth as keys of the catalogue spell it.
pub(super) fn depth_key(depth: Depth) -> &'static str {
    match depth {
        Depth::VeryDark => "very-dark",
        Depth::Dark => "dark",
        Depth::Medium => "medium",
        Depth::Light => "light",
        Depth::Pale => "pale",
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::page::catalogue::Catalogue;

    fn english() -> &'static Catalogue {
        Catalogue::shipped("en").expect("English is shipped")
    }

    fn day(year: i32, month: u32, day: u32) -> NaiveDate {
        NaiveDate::from_ymd_opt(year, month, day).expect("a date")
    }

    #[test]
    fn dates_are_written_with_weekday_and_the_year_only_when_it_changes() {
        let dates = Dates { words: english(), year: 2026 };
        assert_eq!(dates.weekday(day(2026, 12, 22)), "Tuesday 22 December");
        assert_eq!(dates.weekday(day(2027, 1, 12)), "Tuesday 12 January 2027");
        let named = |date| [dates.words.text(WEEKDAYS[date]), dates.words.text(MONTHS[date])];
        assert_eq!(named(6), ["Sunday", "July"]);
        assert_eq!(dates.span(day(2026, 12, 15), day(2026, 12, 29)), "15 to 29 December");
        assert_eq!(dates.span(day(2026, 12, 28), day(2027, 1, 3)), "28 December to 3 January");
    }

    #[test]
    fn less_left_never_sounds_like_more() {
        let words = english();
        let said = |left| share_left(words, left, 0.3, "pale blonde");
        assert_eq!(said(1.0), "all of it left");
        assert_eq!(said(0.5), "about half left");
        assert_eq!(said(0.35), "about a third left");
        assert_eq!(said(0.2), "nearly back to pale blonde");
    }

    /// Common practice, no source; charts differ by about one: 5 light brown, 6 dark blonde.
    #[test]
    fn natural_hair_is_called_what_the_trade_calls_its_depth_and_white_or_lightened_hair_what_it_looks_like() {
        use crate::science::hair::depth::NaturalDepth;
        use crate::units::Fraction;
        let mut zone = crate::page::sample::Sample::rose().forecast.zones[0].clone();
        assert_eq!(base_words(english(), &zone), colour(english(), naming::name(zone.bare)));
        let depth = |depth| Pigment::Natural(NaturalDepth::try_new(depth).expect("a depth"));
        for (value, called) in [
            (1.0, "black"),
            (4.6, "light brown"),
            (5.0, "light brown"),
            (6.0, "dark blonde"),
            (10.0, "lightest blonde"),
        ] {
            (zone.base.pigment, zone.base.white) = (depth(value), Fraction::from_fraction(0.0));
            assert_eq!(base_words(english(), &zone), called);
        }
        zone.base.white = Fraction::from_fraction(0.5);
        assert_eq!(base_words(english(), &zone), colour(english(), naming::name(zone.bare)));
    }

    #[test]
    fn the_steps_of_what_is_left_meet_and_each_says_what_the_ribbon_says_in_it() {
        let words = english();
        for nearly_back in [0.0, 0.2, 0.3, 0.45, 1.0] {
            let steps = steps_left(words, nearly_back, "pale blonde");
            assert_eq!((steps[0].2, steps.last().map(|last| last.1)), (1.0, Some(0.0)));
            assert!(steps.windows(2).all(|pair| pair[0].1 == pair[1].2));
            for (said, least, most) in &steps {
                assert_eq!(*said, share_left(words, f64::midpoint(*least, *most), nearly_back, "pale blonde"));
            }
        }
    }
}
