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

/// Most stops a stretch has: between them the eye sees no step.
const MOST_STOPS: u32 = 8;

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

    fn hex_on(self, day: f64) -> String {
        srgb::from_lab(self.colour_on(day)).to_hex()
    }

    /// The computed step nearest to a day.
    pub(super) fn nearest(self, day: u32) -> &'a RibbonStep {
        self.steps.iter().min_by_key(|step| step.day.abs_diff(day)).expect("a course has at least one step")
    }
}

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
    let mut stops: Vec<(String, String)> = (0..=count)
        .map(|at| {
            let share = f64::from(at) / f64::from(count);
            let offset = format!("{share:.3}");
            (offset.trim_end_matches('0').trim_end_matches('.').to_owned(), course.hex_on(from + days * share))
        })
        .collect();
    if stops.iter().all(|(_, hex)| *hex == stops[0].1) {
        stops.truncate(1);
    }
    stops
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
    fn a_stretch_without_change_is_one_plain_colour() {
        let plan = sample::plan();
        let course = Course { steps: &plan.ribbon[0].steps };
        let svg = Bands::default().stretch(&[course], 0.0, 0.0, "<today>");
        assert!(!svg.contains("Gradient") && svg.contains("&lt;today&gt;"), "{svg}");
    }
}
