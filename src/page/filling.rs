//! What fills the places of a passage for one client, and a passage as finished advice.
//!
//! In: a passage, the plan, the salon, words. Out: [`Advice`], mark-up finished. Knows nothing of: why a passage was chosen.

use chrono::NaiveDate;

use super::advice::{Advice, Entry, Told, Why};
use super::markdown::{self, Origin, to_html};
use super::words::{Dates, Words};
use crate::care::{Evidence, Measure, Passage, Placeholder, REVIEWED, Text};
use crate::plan::{Plan, VisitPart, Window};
use crate::salon::{Salon, Units};
use crate::units::Celsius;

/// What a passage's places are filled from.
#[derive(Clone, Copy)]
pub struct Filling<'a> {
    /// The words of the page's language.
    pub words: &'a dyn Words,
    /// The salon.
    pub salon: &'a Salon,
    /// The plan.
    pub plan: &'a Plan,
}

impl Filling<'_> {
    /// A passage as finished advice.
    pub(super) fn advice(self, passage: &Passage) -> Advice {
        let html = |text: &str| to_html(text, Origin::Passage);
        let why = passage.why.as_ref().map(|why| {
            let source = self.source(passage.evidence, &passage.source);
            Why {
                label: self.words.pattern("why.label"),
                body_html: html(&format!("{}\n\n{source}", self.markdown(why))),
            }
        });
        let entry = Entry::new(Told {
            heading: self.bare(&passage.heading),
            body_html: html(&self.markdown(&passage.body)),
            why,
        });
        Advice { section: passage.section, urgency: passage.level, entry }
    }

    /// Everything about this client and this salon that a passage is filled with, one after the other.
    ///
    /// A quantity is told by the salon's units.
    pub(super) fn values(self, passage: &Passage, mut tell: impl FnMut(&str)) {
        tell(match self.salon.units {
            Units::Metric => "metric",
            Units::Imperial => "imperial",
        });
        passage.texts().flat_map(Text::placeholders).for_each(|place| tell(&self.place(place)));
    }

    /// What a rule rests on. Where the source itself says that it is practice or hearsay, it is not said twice.
    fn source(self, evidence: Evidence, source: &str) -> String {
        let source = markdown::escape(source);
        let kind = match evidence {
            Evidence::Official => "evidence.official",
            Evidence::Published => "evidence.published",
            Evidence::SecondHand | Evidence::CommonPractice | Evidence::FromMemory => {
                return self.words.say("why.said", &[("source", &source)]);
            }
        };
        self.words.say("why.source", &[("evidence", &self.words.pattern(kind)), ("source", &source)])
    }

    /// A text with its places filled, as bare text.
    fn bare(self, text: &Text) -> String {
        text.fill(&|place| self.place(place), &|measure| self.measure(measure))
    }

    /// A text with its places filled, as Markdown in which what was filled in is plain.
    fn markdown(self, text: &Text) -> String {
        text.fill(&|place| markdown::escape(&self.place(place)), &|measure| markdown::escape(&self.measure(measure)))
    }

    fn place(self, place: Placeholder) -> String {
        let (plan, practice, emergency) = (self.plan, &self.salon.practice, &self.salon.emergency);
        let best = |window: Option<Window>| window.map(|window| self.date(window.best)).unwrap_or_default();
        match place {
            Placeholder::Salon => self.salon.name.clone(),
            Placeholder::ServiceDate => self.date(plan.service),
            Placeholder::Reviewed => self.date(REVIEWED),
            Placeholder::PageExpires => self.date(plan.expires),
            Placeholder::FirstWash => self.date(plan.first_wash),
            Placeholder::EveryDays => self.count("day", f64::from(plan.rhythm.every_days)),
            Placeholder::WaterMax => self.temperature(practice.water_max_c),
            Placeholder::IronMax => self.temperature(practice.iron_max_c),
            Placeholder::HeatDays => self.count("day", practice.heat_days),
            Placeholder::TrimWeeks => self.words.say(
                "count.weeks-range",
                &[("low", &number(practice.trim_weeks.earliest)), ("high", &number(practice.trim_weeks.latest))],
            ),
            Placeholder::RelightenWeeks => self.count("week", practice.relighten_min_weeks),
            Placeholder::AlertTestHours => self.count("hour", practice.alert_test_lead_hours),
            Placeholder::RefreshBest => best(plan.refresh_visit()),
            Placeholder::RootsBest => best(visit(plan, VisitPart::Roots).or(plan.roots.map(|roots| roots.window))),
            Placeholder::EventDate => self.plan.event.map(|event| self.date(event)).unwrap_or_default(),
            Placeholder::EmergencyNumber => emergency.number.clone(),
            Placeholder::AdviceLine => match &emergency.advice_line {
                Some(line) => self.words.say("care.advice-line", &[("number", line)]),
                None => self.words.pattern("care.advice"),
            },
        }
    }

    fn measure(self, measure: Measure) -> String {
        match measure {
            Measure::Temperature(temperature) => self.temperature(temperature.to_celsius()),
            Measure::Length(length) => match self.salon.units {
                Units::Metric => self.words.say("unit.centimetres", &[("number", &number(length.to_mm() / 10.0))]),
                Units::Imperial => {
                    // Inches to the nearest half: nobody measures advice more finely.
                    let inches = (length.to_mm() / 25.4 * 2.0).round() / 2.0;
                    let key = if inches <= 1.0 { "unit.inch" } else { "unit.inches" };
                    self.words.say(key, &[("number", &number(inches))])
                }
            },
        }
    }

    fn temperature(self, celsius: f64) -> String {
        match (self.salon.units, Celsius::try_new(celsius)) {
            (Units::Imperial, Some(celsius)) => {
                // Fahrenheit to the nearest five, as dials are marked.
                let fahrenheit = ((celsius.to_celsius() * 1.8 + 32.0) / 5.0).round() * 5.0;
                self.words.say("unit.fahrenheit", &[("number", &number(fahrenheit))])
            }
            _ => self.words.say("unit.celsius", &[("number", &number(celsius))]),
        }
    }

    fn count(self, unit: &str, count: f64) -> String {
        let key = if (count - 1.0).abs() < 0.05 { format!("count.{unit}") } else { format!("count.{unit}s") };
        self.words.say(&key, &[("count", &number(count))])
    }

    fn date(self, date: NaiveDate) -> String {
        Dates::of_service(self.words, self.plan.service).weekday(date)
    }
}

/// The window of the first visit for something: visits are merged, and a page must not name two days for one.
fn visit(plan: &Plan, part: VisitPart) -> Option<Window> {
    plan.visits.iter().find(|visit| visit.parts.contains(&part)).map(|visit| visit.window)
}

/// A number as people write it: no decimal unless it has one.
fn number(value: f64) -> String {
    let rounded = (value * 10.0).round() / 10.0;
    if rounded.fract().abs() < 0.05 { format!("{rounded:.0}") } else { format!("{rounded:.1}") }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::care::{Facts, Library, select};
    use crate::page::sample::Sample;

    #[test]
    fn every_passage_for_everybody_is_filled_without_a_place_left_open() {
        let sample = Sample::rose();
        let library = Library::shipped("en").expect("English is shipped");
        let facts = Facts::of(&sample.shareable, &sample.plan);
        let filling = Filling { words: sample.words, salon: &sample.salon, plan: &sample.plan };
        let selected = select(&library, &facts);
        assert!(selected.len() > 20, "{}", selected.len());
        for one in selected {
            let told = filling.advice(one.passage).entry;
            let why = told.why.as_ref().map(|why| &why.body_html);
            let all = format!("{} {} {why:?}", told.heading, told.body_html);
            assert!(!all.contains('{') && !all.contains('}'), "{all}");
            assert!(!all.contains("  "), "a place was filled with nothing: {all}");
        }
    }

    #[test]
    fn numbers_are_written_short() {
        assert_eq!(["2", "1.5", "38"].map(|text| number(text.parse().expect("a number"))), ["2", "1.5", "38"]);
    }
}
