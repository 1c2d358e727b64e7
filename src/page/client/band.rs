//! A stretch of hair as finished SVG: the computed colour at every step, mixed in Oklab between computed days.
//!
//! In: ribbon steps. Out: one SVG fragment a stretch. Knows nothing of: dates in words, templates.
//!
//! A stretch scales to whatever room its row has, so a longer text makes a longer stretch and the band stays whole.
//! Each holds the bands twice, running down and running along; the style sheet shows one of them.

use std::fmt::Write;

use crate::page::escape;
use crate::plan::RibbonStep;
use crate::science::colour::cielab::Lab;
use crate::science::colour::oklab;
use crate::science::colour::srgb;
use crate::science::colour::srgb::Srgb;

/// Most stops a stretch has: between them the eye sees no step.
const MOST_STOPS: u32 = 16;

/// The colour of one zone along the days, from computed steps.
#[derive(Clone, Copy)]
pub(super) struct Course<'a> {
    /// The steps, by day; never empty.
    pub(super) steps: &'a [RibbonStep],
}

impl<'a> Course<'a> {
    /// The colour on a day: computed on a step's own day, mixed in Oklab between two, held before and after.
    pub(super) fn colour_on(self, day: f64) -> Lab {
        let after = self.steps.partition_point(|step| f64::from(step.day) <= day);
        let (Some(before), Some(next)) =
            (after.checked_sub(1).and_then(|at| self.steps.get(at)), self.steps.get(after))
        else {
            return self.steps[after.saturating_sub(1)].colour;
        };
        let (from, to) = (f64::from(before.day), f64::from(next.day));
        let share = (day - from) / (to - from);
        oklab::to_lab(oklab::from_lab(before.colour).mix(oklab::from_lab(next.colour), share))
    }

    fn screen_on(self, day: f64) -> Srgb {
        srgb::from_lab(self.colour_on(day))
    }

    #[cfg(test)]
    fn hex_on(self, day: f64) -> String {
        self.screen_on(day).to_hex()
    }

    /// The computed step nearest to a day.
    pub(super) fn nearest(self, day: u32) -> &'a RibbonStep {
        self.steps.iter().min_by_key(|step| step.day.abs_diff(day)).expect("a course has at least one step")
    }
}

/// Steps of 255 by which a mixed stop may miss the computed colour: rounding alone makes one.
const UNSEEN: f64 = 1.0;

/// Draws stretches, each with marks of its own in the page.
#[derive(Default)]
pub(super) struct Bands {
    drawn: u32,
}

impl Bands {
    /// The stretch of some zones from a day to a later or the same day, side by side.
    pub(super) fn stretch(&mut self, courses: &[Course<'_>], from: f64, to: f64, name: &str) -> String {
        let side = courses.len();
        let (mut paints, mut down, mut along) = (String::new(), String::new(), String::new());
        for (at, course) in courses.iter().enumerate() {
            let (fill_down, fill_along) = self.paint(*course, from, to, &mut paints);
            write!(down, "<path fill=\"{fill_down}\" d=\"M{at} 0h1v{side}h-1z\"/>").expect("a string takes any text");
            write!(along, "<path fill=\"{fill_along}\" d=\"M0 {at}h{side}v1H0z\"/>").expect("a string takes any text");
        }
        format!(
            "<svg class=\"hair\" role=\"img\" aria-label=\"{}\" viewBox=\"0 0 {side} {side}\" \
             preserveAspectRatio=\"none\" shape-rendering=\"crispEdges\">{paints}<g class=\"down\">{down}</g><g class=\"along\">{along}</g></svg>",
            escape(name)
        )
    }

    /// One zone from the first day to a last one, running along only.
    pub(super) fn line(&mut self, course: Course<'_>, to: f64, name: &str) -> String {
        let stops = stops(course, 0.0, to);
        let name = escape(name);
        let head = format!(
            "<svg class=\"hair\" role=\"img\" aria-label=\"{name}\" viewBox=\"0 0 1 1\" preserveAspectRatio=\"none\">"
        );
        let (paint, fill) = match stops.as_slice() {
            [(_, only)] => (String::new(), only.clone()),
            _ => {
                self.drawn += 1;
                let drawn =
                    stops.iter().map(|(offset, hex)| format!("<stop offset=\"{offset}\" stop-color=\"{hex}\"/>"));
                let id = self.drawn;
                let drawn: String = drawn.collect();
                (format!("<linearGradient id=\"b{id}\">{drawn}</linearGradient>"), format!("url(#b{id})"))
            }
        };
        format!("{head}{paint}<path fill=\"{fill}\" d=\"M0 0h1v1H0z\"/></svg>")
    }

    /// What fills one zone's stretch, running down and running along.
    fn paint(&mut self, course: Course<'_>, from: f64, to: f64, paints: &mut String) -> (String, String) {
        let stops = stops(course, from, to);
        if let [(_, only)] = stops.as_slice() {
            return (only.clone(), only.clone());
        }
        self.drawn += 1;
        let id = self.drawn;
        write!(paints, "<linearGradient id=\"b{id}\" x2=\"0\" y2=\"1\">").expect("a string takes any text");
        for (offset, hex) in &stops {
            write!(paints, "<stop offset=\"{offset}\" stop-color=\"{hex}\"/>").expect("a string takes any text");
        }
        write!(paints, "</linearGradient><linearGradient id=\"a{id}\" href=\"#b{id}\" x2=\"1\" y2=\"0\"/>")
            .expect("a string takes any text");
        (format!("url(#b{id})"), format!("url(#a{id})"))
    }
}

/// Offsets and colours of a stretch; a single one when its colour does not change.
fn stops(course: Course<'_>, from: f64, to: f64) -> Vec<(String, String)> {
    let days = (to - from).max(0.0);
    // At most MOST_STOPS: the cast cannot lose anything.
    let count = (days.ceil() as u32).clamp(1, MOST_STOPS);
    let all: Vec<(f64, [f64; 3])> = (0..=count)
        .map(|at| f64::from(at) / f64::from(count))
        .map(|share| (share, channels(course.screen_on(from + days * share))))
        .collect();
    if all.iter().all(|(_, colour)| *colour == all[0].1) {
        return vec![written(&all[0])];
    }
    let mut kept = vec![0];
    keep(&all, 0, all.len() - 1, &mut kept);
    kept.into_iter().map(|at| written(&all[at])).collect()
}

/// Keeps the stops that a browser would not draw by itself: it mixes its neighbours in sRGB, and one step of 255 is not seen.
///
/// The line simplification of Douglas and Peucker (1973), over colour instead of place.
fn keep(all: &[(f64, [f64; 3])], first: usize, last: usize, kept: &mut Vec<usize>) {
    let ((from, start), (to, end)) = (all[first], all[last]);
    let away = |at: usize| {
        let share = (all[at].0 - from) / (to - from);
        (0..3).map(|c| (start[c] + (end[c] - start[c]) * share - all[at].1[c]).abs()).fold(0.0, f64::max)
    };
    let farthest = (first + 1..last).map(|at| (at, away(at))).max_by(|one, other| one.1.total_cmp(&other.1));
    match farthest {
        Some((at, away)) if away > UNSEEN => {
            keep(all, first, at, kept);
            keep(all, at, last, kept);
        }
        _ => kept.push(last),
    }
}

fn written((share, colour): &(f64, [f64; 3])) -> (String, String) {
    let offset = format!("{share:.3}");
    // Eight bits each: the casts lose nothing.
    let [r, g, b] = colour.map(|channel| channel as u8);
    (offset.trim_end_matches('0').trim_end_matches('.').to_owned(), Srgb { r, g, b }.to_hex())
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

    #[test]
    fn stretches_meet_in_the_same_colour_and_no_mark_is_used_twice() {
        let plan = sample::plan();
        let course = Course { steps: &plan.ribbon[0].steps };
        let (first, second) = (stops(course, 3.0, 10.0), stops(course, 10.0, 17.0));
        assert_eq!(first.last().map(|stop| &stop.1), second.first().map(|stop| &stop.1));
        let mut bands = Bands::default();
        let both = bands.stretch(&[course], 3.0, 10.0, "one") + &bands.stretch(&[course], 10.0, 17.0, "two");
        assert_eq!(both.matches("id=\"b1\"").count(), 1);
        assert_eq!(both.matches("id=\"b2\"").count(), 1);
        assert!(!both.contains("style="), "the page's policy forbids style attributes");
    }

    #[test]
    fn a_stop_is_left_out_only_where_the_browser_mixes_the_same_colour() {
        let plan = sample::plan();
        for zone in &plan.ribbon {
            let course = Course { steps: &zone.steps };
            let number = |hex: &str, at: usize| f64::from(u8::from_str_radix(&hex[at..at + 2], 16).expect("hex"));
            for week in 0..8 {
                let (from, to) = (f64::from(week) * 7.0, f64::from(week) * 7.0 + 7.0);
                let stops = stops(course, from, to);
                for day in 0..=7 {
                    let share = f64::from(day) / 7.0;
                    let at = |stop: &(String, String)| stop.0.parse::<f64>().expect("an offset");
                    let after = stops.iter().position(|stop| at(stop) >= share - 1e-3).unwrap_or(stops.len() - 1);
                    let (one, two) = (&stops[after.saturating_sub(1)], &stops[after]);
                    let part = if at(two) > at(one) { (share - at(one)) / (at(two) - at(one)) } else { 1.0 };
                    let wanted = course.hex_on(from + f64::from(day));
                    for channel in [1, 3, 5] {
                        let mixed = number(&one.1, channel) * (1.0 - part) + number(&two.1, channel) * part;
                        assert!((mixed - number(&wanted, channel)).abs() <= 1.6, "day {day} of week {week}");
                    }
                }
            }
        }
    }

    #[test]
    fn a_stretch_without_change_is_one_plain_colour() {
        let plan = sample::plan();
        let course = Course { steps: &plan.ribbon[0].steps };
        let svg = Bands::default().stretch(&[course], 0.0, 0.0, "<today>");
        assert!(!svg.contains("Gradient") && svg.contains("&lt;today&gt;"), "{svg}");
    }
}
