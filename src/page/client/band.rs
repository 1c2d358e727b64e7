//! Hair as finished SVG: the computed colour at every step, mixed in Oklab between computed days.
//!
//! In: ribbon steps. Out: one SVG fragment a stretch. Knows nothing of: dates in words, templates.
//!
//! A page draws each zone once, from its first day to its last, and every stretch is a window on that drawing: the
//! colours of a day are the same wherever it is shown, and are written once. A stretch scales to whatever room its row
//! has, so a longer text makes a longer stretch and the band stays whole. All run down; a style sheet makes one run
//! along by swapping its axes, `.hair>g{transform:matrix(0,1,1,0,0,0)}`.

use std::cell::OnceCell;
use std::fmt::Write;

use crate::page::escape;
use crate::plan::{Coloured, RibbonStep};
use crate::science::colour::cielab::Lab;
use crate::science::colour::oklab;
use crate::science::colour::oklab::Oklab;
use crate::science::colour::srgb;
use crate::science::colour::srgb::Srgb;

/// Most days a drawing is sampled at; of a longer one, every few days.
const MOST_SAMPLES: u32 = 256;

/// The colour of one zone along the days, from computed steps.
#[derive(Clone, Copy)]
pub(super) struct Course<'a, S = RibbonStep> {
    /// The steps, by day; never empty.
    pub(super) steps: &'a [S],
}

/// The colours of a course ready to be mixed.
struct Mixed(Vec<Mixable>);

/// One computed colour.
struct Mixable {
    day: f64,
    colour: Lab,
    /// The same in Oklab, once it is asked for: a drawing that shows computed days alone mixes nothing.
    oklab: OnceCell<Oklab>,
}

/// A day so near to a computed one is that day: days are worked out as shares of a drawing.
const SAME_DAY: f64 = 1e-9;

impl Mixable {
    fn oklab(&self) -> Oklab {
        *self.oklab.get_or_init(|| oklab::from_lab(self.colour))
    }
}

impl Mixed {
    /// The colour on a day: computed on a step's own day, mixed in Oklab between two, held before and after.
    fn on(&self, day: f64) -> Shown {
        let after = self.0.partition_point(|step| step.day <= day);
        let (Some(before), Some(next)) = (after.checked_sub(1).and_then(|at| self.0.get(at)), self.0.get(after)) else {
            return Shown::Computed(self.0[after.saturating_sub(1)].colour);
        };
        if let Some(own) = [before, next].into_iter().find(|step| (step.day - day).abs() < SAME_DAY) {
            return Shown::Computed(own.colour);
        }
        Shown::Mixed(before.oklab().mix(next.oklab(), (day - before.day) / (next.day - before.day)))
    }

    fn screen_on(&self, day: f64) -> Srgb {
        match self.on(day) {
            Shown::Computed(colour) => srgb::from_lab(colour),
            Shown::Mixed(colour) => srgb::from_oklab(colour),
        }
    }
}

/// The colour of a day.
enum Shown {
    Computed(Lab),
    Mixed(Oklab),
}

impl<S: Coloured> Course<'_, S> {
    fn mixed(self) -> Mixed {
        let step = |step: &S| Mixable { day: f64::from(step.day()), colour: step.colour(), oklab: OnceCell::new() };
        Mixed(self.steps.iter().map(step).collect())
    }

    #[cfg(test)]
    fn colour_on(self, day: f64) -> Lab {
        match self.mixed().on(day) {
            Shown::Computed(colour) => colour,
            Shown::Mixed(colour) => oklab::to_lab(colour),
        }
    }

    fn screen_on(self, day: f64) -> Srgb {
        self.mixed().screen_on(day)
    }

    /// Days between its computed steps.
    fn apart(self) -> u32 {
        self.steps.get(1).map_or(1, |step| step.day().max(1))
    }
}

impl<'a> Course<'a> {
    #[cfg(test)]
    fn hex_on(self, day: f64) -> String {
        self.screen_on(day).to_hex()
    }

    /// The computed step nearest to a day.
    pub(super) fn nearest(self, day: u32) -> &'a RibbonStep {
        self.steps.iter().min_by_key(|step| step.day.abs_diff(day)).expect("a course has at least one step")
    }
}

/// Steps of 255 by which the page's own hair may miss the computed colour between two stops: rounding alone makes one, and
/// half a step more cannot be seen either.
const UNSEEN: f64 = 1.5;

/// The same for a band that is looked at by itself, where nothing stands beside it: 2 steps stay below the difference
/// ΔE00 1 that is just seen.
const UNSEEN_ALONE: f64 = 2.0;

/// The mark of the drawing that every stretch is a window on.
const WHOLE: &str = "h";

/// Draws the hair of one page, each gradient with a mark of its own.
#[derive(Default)]
pub(super) struct Bands {
    drawn: u32,
    /// Zones side by side in the whole drawing.
    side: usize,
}

impl Bands {
    /// The hair of one day, with the whole drawing of every zone behind it, not shown: the first drawing of a page.
    pub(super) fn first(&mut self, zones: &[Course<'_>], leading: Course<'_>, until: f64, name: &str) -> String {
        self.side = zones.len();
        let until = until.max(1.0);
        let (mut paints, mut paths) = (String::new(), String::new());
        for (at, course) in zones.iter().enumerate() {
            let fill = self.paint(*course, until, (1, UNSEEN), DOWN, &mut paints);
            write!(paths, "<path id=\"{WHOLE}{at}\" fill=\"{fill}\" d=\"M{at} 0h1v{until}h-1z\"/>")
                .expect("a string takes any text");
        }
        let today = leading.screen_on(0.0).to_hex();
        let whole = format!("<defs>{paints}<g id=\"{WHOLE}\">{paths}</g></defs>");
        svg(name, &format!("<path fill=\"{today}\" d=\"M0 0h1v1H0z\"/>{whole}"))
    }

    /// The stretch of all zones, side by side, from a day to a later one.
    pub(super) fn stretch(&self, from: f64, to: f64, name: &str) -> String {
        window(WHOLE, 0, self.side, from, to, name)
    }

    /// The stretch of one zone, by its place in the drawing; of a day when it ends as it begins.
    pub(super) fn stretch_of(&self, zone: usize, course: Course<'_>, from: f64, to: f64, name: &str) -> String {
        if from < to {
            return window(&format!("{WHOLE}{zone}"), zone, 1, from, to, name);
        }
        svg(name, &format!("<path fill=\"{}\" d=\"M0 0h1v1H0z\"/>", course.screen_on(from).to_hex()))
    }

    /// One zone from the first day to a last one, drawn by itself, running along.
    pub(super) fn line<S: Coloured>(&mut self, course: Course<'_, S>, to: f64, name: &str) -> String {
        self.alone(course, to, "", name)
    }

    /// The same running down, for a card.
    pub(super) fn strand(&mut self, course: Course<'_>, to: f64, name: &str) -> String {
        self.alone(course, to, DOWN, name)
    }

    fn alone<S: Coloured>(&mut self, course: Course<'_, S>, to: f64, runs: &str, name: &str) -> String {
        let mut paint = String::new();
        let fill = self.paint(course, to, (course.apart(), UNSEEN_ALONE), runs, &mut paint);
        svg(name, &format!("{paint}<g><path fill=\"{fill}\" d=\"M0 0h1v1H0z\"/></g>"))
    }

    /// What fills one zone from its first day to a last one: a gradient of its own, or one plain colour.
    fn paint<S: Coloured>(
        &mut self,
        course: Course<'_, S>,
        to: f64,
        look: (u32, f64),
        runs: &str,
        paints: &mut String,
    ) -> String {
        let stops = stops(course, to, look);
        if let [(_, only)] = stops.as_slice() {
            return only.to_hex();
        }
        self.drawn += 1;
        let id = self.drawn;
        write!(paints, "<linearGradient id=\"b{id}\"{runs}>").expect("a string takes any text");
        for (offset, colour) in &stops {
            paints.push_str("<stop offset=\"");
            push_number(paints, *offset);
            paints.push_str("\" stop-color=\"");
            paints.push_str(&colour.to_hex());
            paints.push_str("\"/>");
        }
        paints.push_str("</linearGradient>");
        format!("url(#b{id})")
    }
}

/// A gradient runs along unless told otherwise.
const DOWN: &str = " x2=\"0\" y2=\"1\"";

/// A drawing stretched to whatever room it is given.
fn svg(name: &str, inside: &str) -> String {
    [
        "<svg class=\"hair\" role=\"img\" aria-label=\"",
        &escape(name),
        "\" viewBox=\"0 0 1 1\" preserveAspectRatio=\"none\">",
        inside,
        "</svg>",
    ]
    .concat()
}

/// The part of a drawing from a day to a later one, `side` zones wide: a unit square, so that its axes can be swapped.
fn window(mark: &str, left: usize, side: usize, from: f64, to: f64, name: &str) -> String {
    // Rounded up, so that the part never falls short of its square.
    let scale = |size: f64| number((1.0e4 / size).ceil() / 1.0e4);
    let (wide, high) = (scale(side as f64), scale(to - from));
    svg(name, &format!("<g><use href=\"#{mark}\" transform=\"scale({wide} {high})translate(-{left} -{from})\"/></g>"))
}

/// A number between 0 and 1 as briefly as SVG reads it: ".25".
fn number(value: f64) -> String {
    let mut text = String::with_capacity(5);
    push_number(&mut text, value);
    text
}

fn push_number(out: &mut String, value: f64) {
    let parts = value * 1.0e4;
    // Where the fifth decimal is nearly a half, only the exact number tells which way it is rounded.
    if (parts.fract() - 0.5).abs() > 1e-6 && (0.0..9_999.4).contains(&parts) {
        push_decimals(out, parts.round() as usize);
    } else {
        out.push_str(&exact(value));
    }
}

/// Ten-thousandths, up to 9999.
fn push_decimals(out: &mut String, parts: usize) {
    out.push(if parts == 0 { '0' } else { '.' });
    let (mut rest, mut place) = (parts, 1000);
    while rest > 0 {
        out.push(char::from(b"0123456789"[rest / place]));
        (rest, place) = (rest % place, place / 10);
    }
}

/// The same of any number.
fn exact(value: f64) -> String {
    let text = format!("{value:.4}");
    let text = text.trim_end_matches('0').trim_end_matches('.');
    if text == "0" { text.to_owned() } else { text.trim_start_matches('0').to_owned() }
}

/// Offsets and colours from the first day to a last one; a single one when the colour does not change.
fn stops<S: Coloured>(course: Course<'_, S>, to: f64, (apart, most): (u32, f64)) -> Vec<(f64, Srgb)> {
    // At most MOST_SAMPLES: the cast cannot lose anything.
    let count = (to.ceil() as u32).div_ceil(apart).clamp(1, MOST_SAMPLES);
    let mixed = course.mixed();
    let all: Vec<(f64, [f64; 3])> = (0..=count)
        .map(|at| f64::from(at) / f64::from(count))
        .map(|share| (share, channels(mixed.screen_on(to * share))))
        .collect();
    if all.iter().all(|(_, colour)| *colour == all[0].1) {
        return vec![stop(&all[0])];
    }
    let mut kept = vec![0];
    keep(&all, (0, all.len() - 1), most, &mut kept);
    kept.into_iter().map(|at| stop(&all[at])).collect()
}

/// Keeps the stops that a browser would not draw by itself: it mixes its neighbours in sRGB, and so small a step is not seen.
///
/// The line simplification of Douglas and Peucker (1973), over colour instead of place.
fn keep(all: &[(f64, [f64; 3])], (first, last): (usize, usize), most: f64, kept: &mut Vec<usize>) {
    let ((from, start), (to, end)) = (all[first], all[last]);
    let away = |at: usize| {
        let share = (all[at].0 - from) / (to - from);
        (0..3).map(|c| (start[c] + (end[c] - start[c]) * share - all[at].1[c]).abs()).fold(0.0, f64::max)
    };
    let farthest = (first + 1..last).map(|at| (at, away(at))).max_by(|one, other| one.1.total_cmp(&other.1));
    match farthest {
        Some((at, away)) if away > most => {
            keep(all, (first, at), most, kept);
            keep(all, (at, last), most, kept);
        }
        _ => kept.push(last),
    }
}

fn stop((share, colour): &(f64, [f64; 3])) -> (f64, Srgb) {
    // Eight bits each: the casts lose nothing.
    let [r, g, b] = colour.map(|channel| channel as u8);
    (*share, Srgb { r, g, b })
}

fn channels(colour: Srgb) -> [f64; 3] {
    [colour.r, colour.g, colour.b].map(f64::from)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::page::sample;

    #[test]
    fn a_computed_day_keeps_its_own_colour_and_the_days_between_lie_between() {
        let plan = sample::plan();
        let course = Course { steps: &plan.ribbon[0].steps };
        for step in course.steps {
            assert_eq!(course.hex_on(f64::from(step.day)), srgb::from_lab(step.colour).to_hex());
        }
        let (one, two) = (&course.steps[1], &course.steps[2]);
        let between = course.colour_on((f64::from(one.day) + f64::from(two.day)) / 2.0);
        assert!(between.a < one.colour.a && between.a > two.colour.a);
        assert_eq!(course.hex_on(1.0e4), srgb::from_lab(course.steps.last().expect("steps").colour).to_hex());
    }

    /// The whole drawing of the sample's zones until a day.
    fn drawn(plan: &crate::plan::Plan, until: f64) -> (Bands, String) {
        let zones: Vec<Course<'_>> = plan.ribbon.iter().map(|zone| Course { steps: &zone.steps }).collect();
        let mut bands = Bands::default();
        let first = bands.first(&zones, zones[0], until, "<today>");
        (bands, first)
    }

    #[test]
    fn the_hair_is_drawn_once_and_every_stretch_is_a_window_on_it() {
        let plan = sample::plan();
        let (bands, first) = drawn(&plan, 56.0);
        let zones = plan.ribbon.len();
        for at in 0..zones {
            assert_eq!(first.matches(&format!("id=\"h{at}\"")).count(), 1, "{first}");
            assert_eq!(first.matches(&format!("id=\"b{}\"", at + 1)).count(), 1, "{first}");
        }
        assert!(
            first.contains("&lt;today&gt;") && !first.contains("style="),
            "the page's policy forbids style attributes"
        );
        let row = bands.stretch(14.0, 21.0, "one");
        let wide = number((1.0e4 / zones as f64).ceil() / 1.0e4);
        assert!(row.contains(&format!("href=\"#h\" transform=\"scale({wide} .1429)translate(-0 -14)\"")), "{row}");
        let one = bands.stretch_of(1, Course { steps: &plan.ribbon[1].steps }, 3.0, 24.0, "two");
        assert!(one.contains("href=\"#h1\" transform=\"scale(1 .0477)translate(-1 -3)\""), "{one}");
    }

    #[test]
    fn a_stop_is_left_out_only_where_the_browser_mixes_the_same_colour() {
        let plan = sample::plan();
        for zone in &plan.ribbon {
            let course = Course { steps: &zone.steps };
            let stops: Vec<(String, String)> = stops(course, 56.0, (1, UNSEEN))
                .into_iter()
                .map(|(share, colour)| (number(share), colour.to_hex()))
                .collect();
            let part = |hex: &str, at: usize| f64::from(u8::from_str_radix(&hex[at..at + 2], 16).expect("hex"));
            let at = |stop: &(String, String)| stop.0.parse::<f64>().expect("an offset");
            for day in 0..=56 {
                let share = f64::from(day) / 56.0;
                let after = stops.iter().position(|stop| at(stop) >= share - 1e-4).unwrap_or(stops.len() - 1);
                let (one, two) = (&stops[after.saturating_sub(1)], &stops[after]);
                let between = if at(two) > at(one) { (share - at(one)) / (at(two) - at(one)) } else { 1.0 };
                let wanted = course.hex_on(f64::from(day));
                for channel in [1, 3, 5] {
                    let mixed = part(&one.1, channel) * (1.0 - between) + part(&two.1, channel) * between;
                    assert!((mixed - part(&wanted, channel)).abs() <= UNSEEN + 0.2, "day {day}: {mixed} for {wanted}");
                }
            }
        }
    }

    #[test]
    fn a_number_is_written_as_it_is_rounded_exactly() {
        for of in 1..=384 {
            for at in 0..=of {
                let share = f64::from(at) / f64::from(of);
                assert_eq!(number(share), exact(share), "{at}/{of}");
            }
        }
        for value in [0.0, 1e-9, 0.000_05, 0.999_94, 0.999_95, 0.999_96, 1.0, 2.5] {
            assert_eq!(number(value), exact(value), "{value}");
        }
        assert_eq!([0.25, 0.06, 0.0312, 0.1].map(number), [".25", ".06", ".0312", ".1"]);
    }

    #[test]
    fn a_stretch_of_one_day_is_one_plain_colour() {
        let plan = sample::plan();
        let course = Course { steps: &plan.ribbon[0].steps };
        let svg = Bands::default().stretch_of(0, course, 3.0, 3.0, "today");
        assert!(svg.contains(&course.hex_on(3.0)) && !svg.contains("<use"), "{svg}");
    }
}
