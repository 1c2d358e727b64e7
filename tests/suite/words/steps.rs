//! Neighbouring steps of a fading never read the same when they are seen to differ, unless the words say by what they differ.

use afterhue::page::words::{Words, colour, colour_after};
use afterhue::science::colour::cielab::Lab;
use afterhue::science::colour::delta_e::ciede2000;
use afterhue::science::colour::naming::name;
use afterhue::science::colour::srgb;
use afterhue::science::dye::band::absorption;
use afterhue::science::dye::class::DyeClass;
use afterhue::science::dye::{deposit, shade};
use afterhue::science::fade::kinetics::leaving;
use afterhue::science::hair::base::Base;
use afterhue::science::hair::porosity::Porosity;
use afterhue::science::hair::stage::LightenedStage;
use afterhue::units::Washes;

use super::catalogue;
use crate::salon_copy::SalonCopy;

/// The difference the issue names.
const SEEN: f64 = 3.0;

/// Counts the neighbours that share a name and yet are seen to differ, and fails on the first that read the same.
fn hold(what: &str, steps: &[(Lab, String)]) -> usize {
    let words: &dyn Words = catalogue();
    let mut told_apart = 0;
    for pair in steps.windows(2) {
        let ((before, said_before), (now, said)) = (&pair[0], &pair[1]);
        if ciede2000(*before, *now) <= SEEN || name(*before) != name(*now) {
            continue;
        }
        told_apart += 1;
        let plain = colour(words, name(*now));
        let change = said.strip_prefix(&format!("{plain}, ")).unwrap_or_default();
        assert!(change.starts_with("a little ") && said_before.starts_with(&plain), "{what}: {said_before} | {said}");
    }
    told_apart
}

#[test]
fn neighbours_on_every_base_under_every_shade_never_read_the_same() {
    let words: &dyn Words = catalogue();
    let mut told_apart = 0;
    for shade in shade::shades() {
        for stage in [10.0, 9.5, 9.0, 8.0, 7.0, 6.0] {
            let base = Base::lightened(LightenedStage::try_new(stage).expect("a stage"));
            let loads = deposit::fit(&base, shade.colour).loads;
            for class in [DyeClass::Direct, DyeClass::Demi, DyeClass::Permanent] {
                let law = leaving(class, true, Porosity::Porous);
                let mut before = None;
                let steps: Vec<(Lab, String)> = (0..9)
                    .map(|week| {
                        let left = law.loads_after(&loads, Washes::from_washes(2.0 * f64::from(week)));
                        let now = base.colour_under(&absorption(&left));
                        (now, colour_after(words, before.replace(now), now))
                    })
                    .collect();
                told_apart += hold(&format!("{} on {stage}", shade.name), &steps);
            }
        }
    }
    assert!(told_apart > 200, "{told_apart}: the grid is too kind");
}

/// A zone's steps as `forecast --json` prints them: day, colour, words.
type Steps = Vec<(u32, Lab, String)>;

/// The zones of a client's forecast; nothing when the client has none.
fn forecast(salon: &SalonCopy, code: &str) -> Vec<Steps> {
    let output = salon.afterhue(&["forecast", code, "--json"]).output().expect("it runs");
    let json: serde_json::Value = serde_json::from_slice(&output.stdout).unwrap_or_default();
    let zones = json["zones"].as_array().cloned().unwrap_or_default();
    let step = |step: &serde_json::Value| {
        let number = |key: &str| step[key].as_f64().expect("a number");
        let lab = Lab::new(number("l"), number("a"), number("b"));
        (number("day") as u32, lab, step["colour"].as_str().expect("words").to_owned())
    };
    zones.iter().map(|zone| zone["steps"].as_array().expect("steps").iter().map(step).collect()).collect()
}

/// Printed to a tenth, a difference near the line may have been rounded over it.
fn seen(one: Lab, other: Lab) -> bool {
    ciede2000(one, other) > SEEN + 0.15
}

#[test]
fn neighbours_in_every_forecast_and_on_every_page_of_the_demo_never_read_the_same() {
    let salon = SalonCopy::new();
    salon.build();
    let (mut told_apart, mut rows_read) = (0, 0);
    for code in salon.files("clients").keys().filter_map(|name| name.strip_prefix("clients/")?.strip_suffix(".toml")) {
        let zones = forecast(&salon, code);
        for pair in zones.iter().flat_map(|steps| steps.windows(2)) {
            let seen = seen(pair[0].1, pair[1].1);
            assert!(!seen || pair[0].2 != pair[1].2 || pair[1].2.contains(", a little "), "{code}: {pair:?}");
            told_apart += usize::from(seen && pair[1].2.contains(", a little "));
        }
    }
    for (page, bytes) in salon.files("public").iter().filter(|(name, _)| name.ends_with(".html")) {
        for pair in rows(std::str::from_utf8(bytes).expect("UTF-8")).windows(2) {
            // A page draws in whole steps of a screen, which blurs a difference by about one half.
            let moved = pair[0].0.iter().zip(&pair[1].0).any(|(one, other)| ciede2000(*one, *other) > SEEN + 0.6);
            let told = pair[0].1 != pair[1].1 || pair[1].1.contains(", a little ");
            assert!(!moved || told, "{page}: {pair:?}");
            rows_read += usize::from(moved);
        }
    }
    assert!(told_apart > 10 && rows_read > 30, "{told_apart} {rows_read}");
}

/// The rows of a page's ribbon: the colour each band begins with, and all its words.
fn rows(page: &str) -> Vec<(Vec<Lab>, String)> {
    let zones = drawn(page);
    let row = |part: &str| {
        let (drawing, rest) = part.split_once("<p class=\"date\">").expect("a row has its date");
        let words = rest.split_once("</p>").expect("the date's end").1;
        let words = words.split("</div>").next().unwrap_or_default();
        let words = words.split("<p class=\"due\"").next().unwrap_or_default().to_owned();
        // The row is a window on the whole drawing, moved up to its first day.
        let place = between(drawing, "translate(", ")").expect("a row shows a part of the drawing");
        let day: f64 = place.split_once(" -").expect("two numbers").1.parse().expect("a day");
        (zones.iter().map(|zone| zone.colour_on(day)).collect(), words)
    };
    let ribbon = page.split("<ol class=\"ribbon").nth(1).unwrap_or_default().split("</ol>").next().unwrap_or_default();
    ribbon.split("<li>").skip(1).map(row).collect()
}

/// One zone as the page draws it, from its first day to its last.
struct Drawn {
    /// How many days it shows.
    days: f64,
    /// Share of them and colour; one when it does not change.
    stops: Vec<(f64, [f64; 3])>,
}

impl Drawn {
    /// The colour as a browser mixes it: between two stops, in sRGB.
    fn colour_on(&self, day: f64) -> Lab {
        let share = day / self.days;
        let after = self.stops.iter().position(|(at, _)| *at >= share).unwrap_or(self.stops.len() - 1);
        let ((from, one), (to, two)) = (self.stops[after.saturating_sub(1)], self.stops[after]);
        let part = if to > from { (share - from) / (to - from) } else { 1.0 };
        let [r, g, b] = [0, 1, 2].map(|c| (one[c] * (1.0 - part) + two[c] * part).round() as u8);
        srgb::to_lab(srgb::Srgb { r, g, b })
    }
}

/// The zones of a page's drawing of the whole hair.
fn drawn(page: &str) -> Vec<Drawn> {
    let channels = |hex: &str| {
        let srgb::Srgb { r, g, b } = srgb::Srgb::from_hex(hex).expect("a colour");
        [r, g, b].map(f64::from)
    };
    let whole = between(page, "<defs>", "</defs>").unwrap_or_default();
    let zone = |path: &str| {
        let fill = between(path, "fill=\"", "\"").expect("a zone is filled");
        let days = between(path, "h1v", "h").expect("a zone is as high as its days").parse().expect("days");
        let gradient = fill.strip_prefix("url(#").and_then(|mark| mark.strip_suffix(')'));
        let stops = match gradient {
            None => vec![(0.0, channels(fill))],
            Some(mark) => between(whole, &format!("id=\"{mark}\""), "</linearGradient>")
                .expect("the gradient is there")
                .split("<stop ")
                .skip(1)
                .map(|stop| {
                    let number = |name| between(stop, name, "\"").expect("a stop has both");
                    (number("offset=\"").parse().expect("an offset"), channels(number("stop-color=\"")))
                })
                .collect(),
        };
        Drawn { days, stops }
    };
    whole.split("<path id=\"h").skip(1).map(zone).collect()
}

/// What stands between two marks.
fn between<'a>(text: &'a str, from: &str, to: &str) -> Option<&'a str> {
    Some(text.split_once(from)?.1.split_once(to)?.0)
}
