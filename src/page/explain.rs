//! One zone's forecast walked through in plain sentences, each with its numbers, units and sources.
//!
//! In: a history and its forecast. Out: [`Sentence`]s, and their text for a terminal. Knows nothing of: any page; this is for the stylist who asks why.

use chrono::NaiveDate;

use super::words::{Words, colour};
use crate::forecast::{Forecast, Milestone, Return, ZoneForecast};
use crate::plan::{date_range, day_in_words, span_in_words, too_wide};
use crate::record::Shareable;
use crate::science::bibliography::{self as books, Reference};
use crate::science::colour::naming::name;
use crate::science::dye::band::{BANDS, Band, SHAPES};
use crate::science::dye::class::{RATE_PERMANENT, WASHED_OUT};
use crate::science::fade::conditioner::PER_USE;
use crate::science::fade::dose::{HEAT_DAY, LAMP_HOUR, POOL_SWIM, RINSE, SUN_AGAINST_LAMP, WATER_HARD, WaterHardness};
use crate::science::fade::kinetics::{LOOSE_COPPER, LOOSE_DOSE};
use crate::science::fade::learning::SHARE_NOISE;
use crate::science::fade::rate::RateDistribution;
use crate::science::fade::uncertainty::{BETWEEN_CLIENTS, HABITS, START_BY_EYE, VISIT_SCATTER};
use crate::science::hair::base::Pigment;
use crate::science::parameter::{Parameter, Source};
use crate::units::{Days, Fraction, Washes, Worded};

/// One step of the walk.
#[derive(Debug, Clone, PartialEq)]
pub struct Sentence {
    /// What it says.
    pub text: String,
    /// Where its numbers come from, each once.
    pub sources: Vec<Source>,
}

impl Sentence {
    fn new(text: String, numbers: &[&Parameter], books: &[&'static Reference]) -> Self {
        let mut sources: Vec<Source> = Vec::new();
        let all = books.iter().map(|book| Source::Published(book)).chain(numbers.iter().map(|number| number.source));
        for source in all {
            if !sources.iter().any(|other| label(*other) == label(source)) {
                sources.push(source);
            }
        }
        Self { text, sources }
    }
}

/// How a source is named behind a sentence.
const fn label(source: Source) -> &'static str {
    match source {
        Source::Published(book) => book.short,
        Source::CommonPractice => "common practice, no source",
        Source::Assumed(_) => "assumed here",
    }
}

/// The walk through the zone that covers most hair; empty when nothing was coloured.
#[must_use]
pub fn explain(history: &Shareable, forecast: &Forecast, words: &dyn Words) -> Vec<Sentence> {
    let Some(zone) = forecast.leading_zone().map(|index| &forecast.zones[index]) else { return Vec::new() };
    let service = history.latest().date;
    let mut walk = vec![base(zone, words), loads(zone), dose(forecast), leaving(zone)];
    walk.extend(light(forecast));
    walk.extend(home(zone));
    walk.extend(share(forecast, zone));
    walk.extend(dates(service, forecast, zone));
    walk.push(prior(zone));
    walk.push(evidence(history, forecast, zone));
    walk.push(result(zone));
    walk.extend(wild(history, forecast));
    walk
}

/// The walk as numbered lines for a terminal.
#[must_use]
pub fn explain_text(walk: &[Sentence]) -> String {
    if walk.is_empty() {
        return "No zone was coloured at this visit, so there is nothing to explain.\n".to_owned();
    }
    let line = |(at, sentence): (usize, &Sentence)| {
        let sources: Vec<&str> = sentence.sources.iter().map(|source| label(*source)).collect();
        format!("{:>2}. {}\n    [{}]\n", at + 1, sentence.text, sources.join("; "))
    };
    walk.iter().enumerate().map(line).collect()
}

fn base(zone: &ZoneForecast, words: &dyn Words) -> Sentence {
    let (stage, numbers) = match zone.base.pigment {
        Pigment::Lightened(stage) => {
            (format!("lightened to stage {:.1}", stage.value()), crate::science::hair::stage::PARAMETERS)
        }
        Pigment::Natural(depth) => {
            (format!("at natural depth {:.1}", depth.value()), crate::science::hair::depth::PARAMETERS)
        }
    };
    let bare = zone.bare;
    let text = format!(
        "Base: the {} of placement {} are {stage}; without tone that is {}, L* {:.1}, a* {:.1}, b* {:.1}.",
        zone.name.word(),
        zone.placement + 1,
        colour(words, name(bare)),
        bare.l,
        bare.a,
        bare.b
    );
    Sentence::new(text, numbers, &[&books::KUBELKA_MUNK_1931, &books::CIE_015_2018])
}

fn loads(zone: &ZoneForecast) -> Sentence {
    let found: Vec<String> = Band::WORDS
        .iter()
        .zip(zone.deposit.loads.0)
        .filter(|(_, load)| *load >= 0.005)
        .map(|((_, word, _), load)| format!("{word} {load:.2}"))
        .collect();
    let found = if found.is_empty() { "no dye at all".to_owned() } else { found.join(", ") };
    let bands: [&Parameter; BANDS] = SHAPES.map(|(centre, _)| centre);
    let text = format!(
        "Loads: the finished colour needs {found} on it (peak K/S of each hue family); the fit is {:.2} ΔE00 off.",
        zone.deposit.residual
    );
    Sentence::new(text, &bands, &[&books::KUBELKA_MUNK_1931, &books::SHARMA_2005])
}

fn dose(forecast: &Forecast) -> Sentence {
    let habits = &forecast.habits;
    let mut parts = vec![format!("{:.1} washes", habits.washes.to_per_week())];
    let mut numbers: Vec<&Parameter> = Vec::new();
    let mut part = |holds: bool, text: String, number: &'static Parameter| {
        if holds {
            parts.push(text);
            numbers.push(number);
        }
    };
    let (rinses, swims) = (habits.rinses.to_per_week(), habits.pool_swims.to_per_week());
    part(rinses > 0.0, format!("{rinses:.1} rinses at {} wash each", RINSE.value), &RINSE);
    part(swims > 0.0, format!("{swims:.1} swims at {} wash each", POOL_SWIM.value), &POOL_SWIM);
    let heat = habits.heat_days.to_per_week();
    part(heat > 0.0, format!("{heat:.1} days of hot tools at {} wash each", HEAT_DAY.value), &HEAT_DAY);
    part(habits.hardness == WaterHardness::Hard, format!("hard water, times {}", WATER_HARD.value), &WATER_HARD);
    let copper = format!("copper in it, which loosens oxidative colour {}-fold", LOOSE_COPPER.value);
    part(habits.copper, copper, &LOOSE_COPPER);
    if numbers.is_empty() {
        numbers.push(&crate::science::fade::dose::WARMTH_LUKEWARM);
    }
    let text = format!(
        "Dose: {} a week, in {} water with {} shampoo, wear like {:.2} ordinary washes a week, from day {:.0} on.",
        parts.join(", "),
        habits.warmth.word(),
        habits.shampoo.word(),
        forecast.weekly().to_washes(),
        forecast.clock.first_wash().to_days()
    );
    Sentence::new(text, &numbers, &[])
}

fn leaving(zone: &ZoneForecast) -> Sentence {
    let life = zone.class.washes();
    let said = life.map_or_else(
        || format!("handbooks say it grows out; a rate of {} per wash is taken", RATE_PERMANENT.value),
        |life| format!("handbooks say {} to {} washes until washed out", life.low, life.high),
    );
    let quickest = zone.leaving.kappa.iter().copied().fold(0.0, f64::max);
    let slowest = zone.leaving.kappa.iter().copied().fold(f64::INFINITY, f64::min);
    let least = zone.leaving.loose.iter().copied().fold(f64::INFINITY, f64::min) * 100.0;
    let most = zone.leaving.loose.iter().copied().fold(0.0, f64::max) * 100.0;
    let loose =
        if most - least < 0.5 { format!("{most:.0} %") } else { format!("{least:.0} to {most:.0} %, by hue family,") };
    let text = format!(
        "Leaving: {} colour; {said}. Here {loose} sits loose and is gone to a third after {:.1} washes; of the rest {:.1} to {:.1} % leave with each wash, by hue family.",
        zone.class.word(),
        zone.leaving.tau,
        (1.0 - (-slowest).exp()) * 100.0,
        (1.0 - (-quickest).exp()) * 100.0
    );
    Sentence::new(text, &[life.unwrap_or(&RATE_PERMANENT), &WASHED_OUT, &LOOSE_DOSE], &[])
}

fn light(forecast: &Forecast) -> Option<Sentence> {
    let hours = forecast.habits.sun_hours;
    let taken = forecast.sun_a_week() * 100.0;
    let text = format!(
        "Light: {hours:.1} h of sun a week take {taken:.1} % beside, of every hue family alike ({} an hour of weatherometer, times {} for an hour of sun).",
        LAMP_HOUR.value, SUN_AGAINST_LAMP.value
    );
    (hours > 0.0).then(|| Sentence::new(text, &[&LAMP_HOUR, &SUN_AGAINST_LAMP], &[]))
}

fn home(zone: &ZoneForecast) -> Option<Sentence> {
    let text = format!(
        "Home: the colour conditioner lays down {:.0} % of a salon colouring with each use, and it leaves like any direct dye.",
        PER_USE.value * 100.0
    );
    zone.home.map(|_| Sentence::new(text, &[&PER_USE], &[]))
}

fn share(forecast: &Forecast, zone: &ZoneForecast) -> Option<Sentence> {
    let told: Vec<String> = [1.0, 2.0, 4.0, 8.0]
        .iter()
        .filter_map(|weeks| {
            let dose = forecast.clock.dose_on(Days::from_days(weeks * 7.0));
            let left = zone.share_after(dose)?.to_fraction() * 100.0;
            Some(format!("{left:.0} % after {weeks:.0} weeks ({:.1} washes)", dose.to_washes()))
        })
        .collect();
    let text = format!(
        "Share left, the colour difference from the bare base against the fresh one's, at the middle rate: {}.",
        told.join(", ").replace("1 weeks", "1 week")
    );
    (!told.is_empty()).then(|| Sentence::new(text, &[], &[&books::SHARMA_2005]))
}

fn dates(service: NaiveDate, forecast: &Forecast, zone: &ZoneForecast) -> Vec<Sentence> {
    let mut told = Vec::new();
    if let Some(turns) = zone.turns {
        let text = format!("Turns: its hue family changes after {}.", when(service, turns));
        told.push(Sentence::new(text, crate::science::colour::naming::PARAMETERS, &[]));
    }
    let share = zone.refresh_share.to_fraction() * 100.0;
    let text = match zone.nearly_back {
        Some(back) => format!("Nearly back to base: {share:.0} % is left after {}.", when(service, back)),
        None => format!("Nearly back to base: {share:.0} % left is not reached, so no such day is given."),
    };
    const PRACTICE: Parameter = Parameter::common_practice("refresh share", 0.3, 0.05, 0.95, "1");
    told.push(Sentence::new(text, &[&PRACTICE], &[]));
    if let Some(range) = zone.nearly_back {
        let wide = if too_wide(range) { " That is too wide to book by." } else { "" };
        let text = format!(
            "Range: the first day is for the one client in ten whose colour leaves {:.2} times as fast as the middle one's, the last for the one whose leaves {:.2} times as fast.{wide}",
            zone.rate.quantile(0.9),
            zone.rate.quantile(0.1)
        );
        let numbers = [&BETWEEN_CLIENTS, &HABITS, &START_BY_EYE, zone.class.washes().unwrap_or(&RATE_PERMANENT)];
        told.push(Sentence::new(text, &numbers, &[]));
    }
    if let Some(edge) = forecast.evenness {
        let text =
            format!("Evenness: an edge between two zones is noticeable, grade 4, after {}.", when(service, edge));
        told.push(Sentence::new(text, &[], &[&books::ISO_105_A02, &books::ISO_105_A05]));
    }
    told
}

/// "8.2 washes, about 15 December 2026 (8 to 26 December 2026)".
fn when(service: NaiveDate, milestone: Milestone) -> String {
    let range = date_range(service, milestone);
    let day = |day: Option<NaiveDate>| day.map_or_else(|| "later than half a year".to_owned(), day_in_words);
    let washes = Washes::to_washes(milestone.dose);
    let span = match (range.earliest, range.latest) {
        (Some(from), Some(to)) => span_in_words(from, to),
        (from, to) => format!("{} to {}", day(from), day(to)),
    };
    format!("a dose of {washes:.1} washes, about {} ({span})", day(range.usual))
}

fn spread(rate: &RateDistribution) -> String {
    let (low, high) = (rate.median() * rate.quantile(0.1), rate.median() * rate.quantile(0.9));
    format!("{:.2} times the usual rate, 8 times in 10 between {low:.2} and {high:.2}", rate.median())
}

fn prior(zone: &ZoneForecast) -> Sentence {
    let from = if (zone.prior.median() - 1.0).abs() > 1e-9 {
        "the handbooks and this salon's own returns"
    } else {
        "the handbooks"
    };
    let text = format!("Before any return, by {from}: {}.", spread(&zone.prior));
    Sentence::new(text, &[zone.class.washes().unwrap_or(&RATE_PERMANENT), &BETWEEN_CLIENTS], &[])
}

fn evidence(history: &Shareable, forecast: &Forecast, zone: &ZoneForecast) -> Sentence {
    let text = match zone.returns {
        0 => format!("Evidence: no return with {} colour is on record.", zone.class.word()),
        1 => format!("Evidence: the last visit, at which what was left of {} colour was judged.", zone.class.word()),
        count => format!(
            "Evidence: the last {count} visits at which what was left of {} colour was judged.",
            zone.class.word()
        ),
    };
    let each: Vec<String> = forecast
        .returned
        .iter()
        .filter(|returned| returned.class == zone.class)
        .map(|returned| one_return(history.visits()[returned.seen_at].date, returned))
        .collect();
    let text = if each.is_empty() { text } else { format!("{text} {}.", each.join("; ")) };
    Sentence::new(text, &[&SHARE_NOISE, &VISIT_SCATTER], &[])
}

/// "15 October 2026, a dose of 10.2 washes: ends 25 to 35 % seen, 30 % usual".
fn one_return(seen_on: NaiveDate, returned: &Return) -> String {
    let percent = |share: Fraction| format!("{:.0}", share.to_fraction() * 100.0);
    let zones: Vec<String> = returned
        .zones
        .iter()
        .map(|judged| {
            let (low, high) = (percent(judged.seen.low), percent(judged.seen.high));
            let seen = if low == high { low } else { format!("{low} to {high}") };
            format!("{} {seen} % seen, {} % usual", judged.zone.word(), percent(judged.usual))
        })
        .collect();
    let seen_on = day_in_words(seen_on);
    format!("{seen_on}, a dose of {:.1} washes: {}", returned.dose.to_washes(), zones.join(", "))
}

fn result(zone: &ZoneForecast) -> Sentence {
    let text = if zone.returns == 0 {
        "Result: the dates rest on the first of these alone.".to_owned()
    } else {
        format!("Result, for the visit to come: {}.", spread(&zone.rate))
    };
    Sentence::new(text, &[&VISIT_SCATTER, &HABITS], &[])
}

fn wild(history: &Shareable, forecast: &Forecast) -> Vec<Sentence> {
    forecast
        .wild
        .iter()
        .map(|wild| {
            let text = format!(
                "Look again: what was seen on {} of {} colour fits badly with everything else known of this client (probability {:.1} %); it counts for little.",
                day_in_words(history.visits()[wild.seen_at].date),
                wild.class.word(),
                wild.probability * 100.0
            );
            Sentence::new(text, &[&SHARE_NOISE], &[])
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::page::sample::Sample;

    #[test]
    fn every_sentence_has_a_source_and_every_published_one_stands_in_the_bibliography() {
        let sample = Sample::rose();
        let walk = explain(&sample.shareable, &sample.forecast, sample.words);
        assert!(walk.len() >= 8, "{}", explain_text(&walk));
        for sentence in &walk {
            assert!(!sentence.sources.is_empty(), "{}", sentence.text);
            for source in &sentence.sources {
                if let Source::Published(book) = source {
                    assert!(books::ALL.iter().any(|known| known.short == book.short), "{book:?}");
                }
            }
        }
    }
}
