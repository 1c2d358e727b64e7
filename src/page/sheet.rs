//! Stylist sheets: what prepares the next visit, one printed page a client. For the salon only: they may name health facts.
//!
//! In: the due list, the diary, gates, words. Out: [`Sheets`]. Knows nothing of: templates.
//!
//! A sheet may forbid, never clear: scalp, stretch and history are asked again that day.

use chrono::{Datelike, NaiveDate};
use serde::Serialize;

use super::gates::gate_lines;
use super::mix::mix;
use super::mood::{Mood, mood};
use super::words::{Dates, Words, capital, colour, list};
use crate::forecast::{ZoneForecast, lightening_overlap};
use crate::plan::{Gate, VisitPart};
use crate::record::{ClientCode, ToningPass, ZoneName};
use crate::salon::Salon;
use crate::schedule::diary::{Appointment, Diary, Purpose, State};
use crate::schedule::due::{Due, lead_days};
use crate::science::colour::naming;
use crate::science::colour::srgb::{self, Srgb};
use crate::units::{Days, Washes, Worded};

/// The sheets of every client with a visit ahead, by date.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Sheets {
    /// Language, a BCP 47 tag.
    pub lang: String,
    /// Direction, "ltr" or "rtl".
    pub dir: String,
    /// Title of the document.
    pub title: String,
    /// Colours of the page.
    pub mood: Mood,
    /// The sheets.
    pub sheets: Vec<Sheet>,
}

/// One client's sheet.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Sheet {
    /// The client's code, also the place in the document.
    pub client: String,
    /// Code and first name.
    pub heading: String,
    /// When, with whom, what for, how long.
    pub visit: Vec<String>,
    /// What to settle first, the gravest first.
    pub gates_heading: String,
    /// Its lines.
    pub gates: Vec<String>,
    /// What is asked again that day.
    pub that_day: String,
    /// Heading of the zones.
    pub zones_heading: String,
    /// Headings of their columns.
    pub columns: [String; 5],
    /// The zones; empty when nothing was coloured.
    pub zones: Vec<SheetZone>,
    /// Notes below: order, regrowth, lightening, last time.
    pub notes: Vec<Note>,
}

/// One zone on the day of the visit.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct SheetZone {
    /// Its name.
    pub zone: String,
    /// Where it lies that day, from the scalp.
    pub place: String,
    /// The colour predicted, as a patch.
    pub swatch_svg: String,
    /// The same in words.
    pub colour: String,
    /// How much is left, with the range.
    pub left: String,
    /// What to mix.
    pub mix: String,
}

/// One heading with its lines.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Note {
    /// The heading.
    pub heading: String,
    /// The lines.
    pub lines: Vec<String>,
}

/// The sheets of all who have a visit ahead.
#[must_use]
pub fn sheets(due: &[Due], diary: &Diary, salon: &Salon, today: NaiveDate, words: &dyn Words) -> Sheets {
    let mut found: Vec<(&Appointment, &Due)> =
        due.iter().filter_map(|due| Some((ahead(diary, &due.client, today)?, due))).collect();
    found.sort_by_key(|(at, _)| (at.date, at.time, at.number));
    Sheets {
        lang: words.language().to_owned(),
        dir: words.direction().to_owned(),
        title: words.pattern("sheet.title"),
        mood: mood(None, salon.accent.as_deref().and_then(Srgb::from_hex)),
        sheets: found.into_iter().map(|(at, due)| Sheeting { at, due, salon, words }.sheet()).collect(),
    }
}

/// The next visit of a client, booked or else proposed.
fn ahead<'a>(diary: &'a Diary, client: &ClientCode, today: NaiveDate) -> Option<&'a Appointment> {
    diary.ahead(client, Purpose::Visit, today).or_else(|| diary.standing(client, Purpose::Visit, today))
}

struct Sheeting<'a> {
    at: &'a Appointment,
    due: &'a Due,
    salon: &'a Salon,
    words: &'a dyn Words,
}

impl Sheeting<'_> {
    fn sheet(&self) -> Sheet {
        let (words, due) = (self.words, self.due);
        let columns = ["sheet.zone", "sheet.place", "sheet.colour", "sheet.left", "sheet.mix"];
        Sheet {
            client: due.client.to_string(),
            heading: due
                .first_name
                .as_ref()
                .map_or_else(|| due.client.to_string(), |name| format!("{name} ({})", due.client)),
            visit: self.visit(),
            gates_heading: words.pattern("gate.heading"),
            gates: gate_lines(&self.gates(), due.tested, &due.plan, words),
            that_day: words.pattern("gate.that-day"),
            zones_heading: words.say("sheet.zones", &[("date", &self.dates().weekday(self.at.date))]),
            columns: columns.map(|key| words.pattern(key)),
            zones: due.plan.forecast.zones.iter().map(|zone| self.zone(zone)).collect(),
            notes: [self.order(), self.regrowth(), self.lightening(), self.last_time()].into_iter().flatten().collect(),
        }
    }

    /// The gates as they stand on the day of the visit: the test before that day, and no wait that is over by then.
    fn gates(&self) -> Vec<Gate> {
        let before = self.at.date.checked_sub_days(chrono::Days::new(lead_days(self.salon)));
        let gates =
            self.due.gates.iter().filter(|gate| !matches!(gate, Gate::RelightenGap { from } if *from <= self.at.date));
        gates
            .map(|gate| match gate {
                Gate::AlertTestDue { .. } => Gate::AlertTestDue { by: before },
                gate => gate.clone(),
            })
            .collect()
    }

    fn dates(&self) -> Dates<'_> {
        Dates { words: self.words, year: self.at.date.year() }
    }

    fn visit(&self) -> Vec<String> {
        let (words, at) = (self.words, self.at);
        let stylist = self.salon.stylists.iter().find(|one| one.code == at.stylist);
        let state = words.pattern(if at.state == State::Booked { "board.booked" } else { "board.proposed" });
        let places = [
            ("date", &*self.dates().weekday(at.date)),
            ("time", &*at.time.format("%H:%M").to_string()),
            ("stylist", stylist.map_or(at.stylist.as_str(), |one| one.name.as_str())),
            ("state", &*state),
        ];
        let mut lines = vec![words.say("sheet.when", &places)];
        if let Some(next) = self.due.next() {
            let parts: Vec<String> =
                next.parts.iter().map(|part| words.pattern(super::due_table::part_key(*part))).collect();
            let reason = words.pattern(super::due_table::reason_key(next.reason));
            lines.push(words.say("sheet.what", &[("what", &capital(&list(words, &parts))), ("reason", &reason)]));
        }
        let of = at.spans;
        let minute = |minutes: u16| minutes.to_string();
        let places = [
            ("all", &*minute(of.occupied())),
            ("talk", &*minute(of.consultation)),
            ("before", &*minute(of.hands_on)),
            ("developing", &*minute(of.developing)),
            ("after", &*minute(of.finishing)),
        ];
        lines.push(words.say("sheet.length", &places));
        lines
    }

    /// Days from the service to the visit.
    fn days(&self) -> Days {
        Days::from_days((self.at.date - self.due.plan.service).num_days().clamp(0, 3650) as f64)
    }

    fn dose(&self) -> Washes {
        self.due.plan.forecast.clock.dose_on(self.days())
    }

    fn zone(&self, zone: &ZoneForecast) -> SheetZone {
        let (words, dose) = (self.words, self.dose());
        let now = zone.colour_after(dose);
        let rate = self.due.shareable.latest().hair.growth.unwrap_or(self.salon.practice.growth);
        let (from, to) = zone.place_after(self.days(), rate);
        let places = [("from", &*format!("{:.0}", from.to_mm())), ("to", &*format!("{:.0}", to.to_mm()))];
        let words_now = colour(words, naming::name(now));
        let hex = srgb::from_lab(now).to_hex();
        SheetZone {
            zone: self.name(zone),
            place: words.say("sheet.millimetres", &places),
            swatch_svg: format!(
                "<svg class=\"swatch\" aria-hidden=\"true\" viewBox=\"0 0 24 24\"><rect width=\"24\" height=\"24\" fill=\"{hex}\"/></svg>"
            ),
            colour: words_now,
            left: self.left(zone, dose),
            mix: self.mix(zone, dose),
        }
    }

    fn name(&self, zone: &ZoneForecast) -> String {
        let words = self.words;
        let name = words.pattern(&format!("zone.{}", key(zone.name.word())));
        if self.due.shareable.latest().placements.len() < 2 {
            return name;
        }
        let kind = words.pattern(&format!("placement.{}", key(zone.kind.word())));
        let placement = format!("{kind} {}", zone.placement + 1);
        words.say("zone.of-placement", &[("placement", &placement), ("zone", &name)])
    }

    /// "45 % (30 to 61 %)".
    fn left(&self, zone: &ZoneForecast, dose: Washes) -> String {
        let at = |probability: f64| {
            let dose = (dose.to_washes() * zone.rate.quantile(probability) / zone.rate.median()).min(Washes::HIGH);
            zone.share_after(Washes::from_washes(dose)).map(|share| format!("{:.0}", share.to_fraction() * 100.0))
        };
        match (at(0.5), at(0.9), at(0.1)) {
            (Some(left), Some(low), Some(high)) => {
                self.words.say("sheet.percent", &[("left", &left), ("low", &low), ("high", &high)])
            }
            _ => self.words.pattern("sheet.no-share"),
        }
    }

    /// The mix from this client's last one.
    fn mix(&self, zone: &ZoneForecast, dose: Washes) -> String {
        let words = self.words;
        let refreshed = self.due.next().is_none_or(|next| next.parts.contains(&VisitPart::Refresh));
        let placement = self.due.shareable.latest().placements.get(zone.placement).filter(|_| refreshed);
        let Some(placement) = placement else { return words.pattern("sheet.not-this-time") };
        mix(words, zone, placement, dose)
    }

    /// Porous hair takes up faster: it comes last, and is looked at first.
    fn order(&self) -> Option<Note> {
        let mut zones: Vec<&ZoneForecast> = self.due.plan.forecast.zones.iter().collect();
        zones.sort_by(|one, other| one.porosity.uptake().total_cmp(&other.porosity.uptake()));
        if zones.len() < 2 {
            return None;
        }
        let mut names: Vec<String> = Vec::new();
        for zone in zones {
            let name = self.name(zone);
            if !names.contains(&name) {
                names.push(name);
            }
        }
        let lines = vec![self.words.say("sheet.order-line", &[("zones", &names.join(", "))])];
        Some(Note { heading: self.words.pattern("sheet.order"), lines })
    }

    fn regrowth(&self) -> Option<Note> {
        let words = self.words;
        let grown = self.due.person.regrowth_on(self.at.date)?;
        let stop = self.salon.practice.regrowth_stop_mm;
        let places = [("grown", &*format!("{:.0}", grown.to_mm())), ("stop", &*format!("{stop:.0}"))];
        let mut lines = vec![words.say("sheet.grown", &places)];
        if grown.to_mm() > stop {
            lines.push(words.pattern("sheet.two-stages"));
        }
        Some(Note { heading: words.pattern("sheet.regrowth"), lines })
    }

    fn lightening(&self) -> Option<Note> {
        let words = self.words;
        let overlaps = lightening_overlap(&self.due.shareable, self.salon);
        let mut lines: Vec<String> = overlaps
            .iter()
            .map(|stretch| {
                let mm = |length: crate::units::Millimetres| format!("{:.0}", length.to_mm());
                let (from, to, times) = (mm(stretch.from), mm(stretch.to), stretch.times.to_string());
                words.say("sheet.times", &[("from", &from), ("to", &to), ("times", &times)])
            })
            .collect();
        lines.dedup();
        if lines.is_empty() {
            lines.push(words.pattern("sheet.never-twice"));
        }
        Some(Note { heading: words.pattern("sheet.lightening"), lines })
    }

    /// Last mixes, what took unevenly, how long it took.
    fn last_time(&self) -> Option<Note> {
        let words = self.words;
        let latest = self.due.shareable.latest();
        let mut lines: Vec<String> =
            latest.placements.iter().flat_map(|placement| &placement.toning).map(|pass| self.pass(pass)).collect();
        if let Some(taken) = latest.minutes_taken {
            let minutes = format!("{:.0}", taken.to_minutes());
            lines.push(words.say("sheet.took-minutes", &[("minutes", &minutes)]));
        }
        lines.extend(latest.advice.iter().map(|said| words.say("sheet.said", &[("advice", said)])));
        (!lines.is_empty()).then(|| Note {
            heading: words.say("sheet.last-time", &[("date", &self.dates().whole(latest.date))]),
            lines,
        })
    }

    fn pass(&self, pass: &ToningPass) -> String {
        let words = self.words;
        let zone = |zone: &ZoneName| words.pattern(&format!("zone.{}", key(zone.word())));
        let zones: Vec<String> = pass.zones.iter().map(zone).collect();
        let mut facts = vec![if zones.is_empty() { words.pattern("zone.all") } else { list(words, &zones) }];
        facts.extend(pass.target.clone());
        facts.push(pass.dye.word().to_owned());
        let whole = |number: f64| format!("{number:.0}");
        let parts = |key: &str, (one, other): (f64, f64)| {
            words.say(key, &[("one", &one.to_string()), ("other", &other.to_string())])
        };
        facts.extend(pass.dilution.map(|of| parts("sheet.dilution", of)));
        facts.extend(pass.mix.map(|of| parts("sheet.mixed", of)));
        facts.extend(pass.grams.map(|of| words.say("sheet.grams", &[("grams", &whole(of.to_grams()))])));
        facts.extend(pass.minutes.map(|of| words.say("sheet.minutes", &[("minutes", &whole(of.to_minutes()))])));
        facts.extend(pass.took.map(|took| words.say("sheet.took", &[("how", took.word())])));
        capital(&facts.join(", "))
    }
}

/// A word as keys of the catalogue spell it.
fn key(word: &str) -> String {
    word.replace(' ', "-")
}
