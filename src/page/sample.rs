//! A sample page for unit tests: a rose pastel on pale yellow, three zones, invented people.

use crate::page::catalogue::Catalogue;

use chrono::{Days, NaiveDate, NaiveTime, Weekday};

use super::advice::{Advice, Entry, Section, Told, Urgency, Why};
use super::client::Sources;
use super::link::Link;
use crate::forecast::{Clock, Forecast, ZoneForecast};
use crate::plan::{
    CHOICES, DateRange, DayColour, Doubt, Plan, Rhythm, RhythmLimit, RibbonStep, RibbonZone, Standing, Visit,
    VisitPart, WhatIf, Window,
};
use crate::record::{
    AgeCheck, ClientCode, ClientFile, Consents, Contact, FinishedColour, FoundBy, Habits, Hair, Health, History,
    Placement, PlacementKind, ServiceRecord, Shareable, Wishes, Zone, ZoneName,
};
use crate::salon::{Emergency, OpenHours, Practice, Salon, SalonContact, SalonEstimate, ShadeKind, Units};
use crate::science::colour::cielab::Lab;
use crate::science::colour::naming;
use crate::science::dye::band::Loads;
use crate::science::dye::class::DyeClass;
use crate::science::dye::deposit::Deposit;
use crate::science::fade::dose::Wear;
use crate::science::fade::kinetics::Leaving;
use crate::science::fade::rate::RateDistribution;
use crate::science::fade::uncertainty::RateSpread;
use crate::science::hair::base::{Base, Pigment};
use crate::science::hair::porosity::Porosity;
use crate::science::hair::stage::LightenedStage;
use crate::units::{Days as Elapsed, Fraction, Millimetres};

/// All that one page is made from.
pub(crate) struct Sample {
    pub(crate) history: History,
    pub(crate) shareable: Shareable,
    pub(crate) salon: Salon,
    pub(crate) forecast: Forecast,
    pub(crate) plan: Plan,
    pub(crate) advice: Vec<Advice>,
    pub(crate) words: &'static Catalogue,
    pub(crate) note_html: Option<String>,
    pub(crate) link: Option<Link>,
}

impl Sample {
    pub(crate) fn rose() -> Self {
        let history = history();
        Self {
            shareable: history.shareable(),
            history,
            salon: salon(),
            forecast: forecast(),
            plan: plan(),
            advice: advice(),
            words: Catalogue::shipped("en").expect("English is shipped"),
            note_html: None,
            link: None,
        }
    }

    pub(crate) fn sources(&self) -> Sources<'_> {
        Sources {
            shareable: &self.shareable,
            salon: &self.salon,
            forecast: &self.forecast,
            plan: &self.plan,
            advice: &self.advice,
            booked: None,
            words: self.words,
            link: self.link.as_ref(),
            note_html: self.note_html.as_deref(),
            reviewed: day(0),
        }
    }

    pub(crate) fn show_first_name(&mut self, name: &str) {
        self.history.client.first_name = Some(name.to_owned());
        self.history.client.show_first_name = true;
        self.shareable = self.history.shareable();
    }

    /// Puts one text into every field that holds words somebody wrote.
    pub(crate) fn write_everywhere(&mut self, text: &str) {
        self.show_first_name(text);
        for zone in &mut self.history.visits[0].placements[0].zones {
            zone.colour.as_mut().expect("a colour").name = Some(text.to_owned());
        }
        self.shareable = self.history.shareable();
        let contact = &mut self.salon.contact;
        for line in [&mut contact.phone, &mut contact.text, &mut contact.email, &mut contact.address] {
            *line = Some(text.to_owned());
        }
        self.salon.name = text.to_owned();
        self.salon.accent = Some(text.to_owned());
        self.salon.emergency =
            Emergency { country: text.to_owned(), number: text.to_owned(), advice_line: Some(text.to_owned()) };
        self.retell(|told| {
            told.heading = text.to_owned();
            told.why.iter_mut().for_each(|why| why.label = text.to_owned());
        });
    }

    /// Changes what every piece of advice says.
    pub(crate) fn retell(&mut self, change: impl Fn(&mut Told)) {
        for advice in &mut self.advice {
            let mut told = Told::clone(&advice.entry);
            change(&mut told);
            advice.entry = Entry::new(told);
        }
    }
}

/// A day after the service.
pub(crate) fn day(after: u64) -> NaiveDate {
    NaiveDate::from_ymd_opt(2026, 11, 28).expect("a date") + Days::new(after)
}

fn window(earliest: u64, best: u64, latest: u64) -> Window {
    Window { earliest: day(earliest), best: day(best), latest: day(latest) }
}

fn range(earliest: u64, usual: u64, latest: u64) -> Option<DateRange> {
    Some(DateRange { earliest: Some(day(earliest)), usual: Some(day(usual)), latest: Some(day(latest)) })
}

pub(crate) fn plan() -> Plan {
    Plan {
        standing: Standing::Planned,
        service: day(0),
        shade: Some(ShadeKind::Pastel),
        leading_zone: Some(1),
        first_wash: day(3),
        rhythm: Rhythm {
            per_week: 1.75,
            every_days: 4,
            limit: RhythmLimit::Colour,
            keeps_until: Some(day(24)),
            habit_per_week: Some(2.5),
        },
        wash_dates: (0..6).map(|wash| day(3 + wash * 4)).collect(),
        turns: range(9, 14, 20),
        nearly_back: range(24, 31, 41),
        refresh: Some(window(17, 24, 31)),
        doubt: Doubt::default(),
        roots: None,
        trim: None,
        visits: vec![
            Visit { window: window(17, 24, 31), parts: vec![VisitPart::Refresh] },
            Visit { window: window(49, 56, 63), parts: vec![VisitPart::Refresh, VisitPart::Roots, VisitPart::Trim] },
        ],
        top_up_zones: vec![2],
        ribbon: (0..3).map(|zone| RibbonZone { zone, steps: steps(zone) }).collect(),
        cautions: Vec::new(),
        what_if: CHOICES
            .map(|washes| WhatIf {
                washes,
                conditioner: false,
                steps: steps(1).iter().map(|step| DayColour { day: step.day, colour: step.colour }).collect(),
                turns: None,
                nearly_back: range(20, 28, 36),
                refresh: Some(window(17, 24, 31)),
            })
            .to_vec(),
        event: None,
        forecast: forecast(),
        expires: NaiveDate::from_ymd_opt(2027, 6, 30).expect("a date"),
    }
}

const FRESH: [Lab; 3] = [Lab::new(75.0, 26.0, 6.0), Lab::new(73.0, 29.0, 6.0), Lab::new(71.0, 31.0, 5.0)];
const BARE: [Lab; 3] = [Lab::new(83.0, 2.0, 24.0), Lab::new(84.0, 1.5, 22.0), Lab::new(85.0, 1.0, 20.0)];

/// Made-up steps that only have to look plausible: a held and a loose pool, no dose before the first wash.
fn steps(zone: usize) -> Vec<RibbonStep> {
    let left = |day: u32, rate: f64| {
        let dose = f64::from(day.saturating_sub(3)) / 4.0 * rate;
        0.25 * (-dose / 1.2).exp() + 0.75 * (-0.145 * dose).exp()
    };
    let speed = [1.0, 1.1, 1.4][zone];
    (0..=56)
        .filter(|day| *day == 3 || day % 7 == 0)
        .map(|day| {
            let share = left(day, speed);
            let mix = |fresh: f64, bare: f64| bare + (fresh - bare) * share;
            let colour = Lab::new(
                mix(FRESH[zone].l, BARE[zone].l),
                mix(FRESH[zone].a, BARE[zone].a),
                mix(FRESH[zone].b, BARE[zone].b),
            );
            let fraction = |value: f64| Fraction::try_new(value.clamp(0.0, 1.0));
            RibbonStep {
                date: self::day(u64::from(day)),
                day,
                colour,
                name: naming::name(colour),
                left: fraction(share),
                left_low: fraction(left(day, speed * 1.4)),
                left_high: fraction(left(day, speed * 0.7)),
                grey_scale: 5.0 * share,
            }
        })
        .collect()
}

fn forecast() -> Forecast {
    let zones = [ZoneName::Roots, ZoneName::MidLengths, ZoneName::Ends];
    Forecast {
        zones: zones.iter().enumerate().map(|(at, name)| zone_forecast(at, *name)).collect(),
        habits: Wear::default(),
        clock: Clock::new(Elapsed::from_days(3.0), &Wear::default()),
        turns: None,
        nearly_back: None,
        evenness: None,
        edges: Vec::new(),
        returned: Vec::new(),
        wild: Vec::new(),
    }
}

fn zone_forecast(at: usize, name: ZoneName) -> ZoneForecast {
    let stage = LightenedStage::try_new(9.5).expect("a stage");
    // At most three zones: exact.
    let from = at as f64 * 100.0;
    ZoneForecast {
        placement: 0,
        kind: PlacementKind::FullHead,
        area: None,
        name,
        from: Millimetres::from_mm(from),
        to: Millimetres::from_mm(from + 100.0),
        share_of_hair: Fraction::from_fraction(1.0),
        class: DyeClass::Direct,
        shade: ShadeKind::Pastel,
        porosity: Porosity::Porous,
        base: Base { pigment: Pigment::Lightened(stage), white: Fraction::from_fraction(0.0) },
        bare: BARE[at],
        finished: FRESH[at],
        found: FoundBy::MatchedByEye,
        deposit: Deposit { loads: Loads::default(), colour: FRESH[at], residual: 0.4 },
        too_warm: None,
        leaving: Leaving { loose: [0.25; 5], tau: 1.2, kappa: [0.145; 5], light: 0.0 },
        home: None,
        spread: RateSpread { level: 0.3, visit: 0.0 },
        prior: RateDistribution::log_normal(0.0, 0.3),
        rate: RateDistribution::log_normal(0.0, 0.3),
        returns: 0,
        refresh_share: Fraction::from_fraction(0.3),
        turns: None,
        nearly_back: None,
    }
}

fn history() -> History {
    let code = ClientCode::try_new("wren").expect("a code");
    let zone = |at: usize, name: ZoneName| Zone {
        name,
        from: Millimetres::from_mm(at as f64 * 100.0),
        to: Millimetres::from_mm(at as f64 * 100.0 + 100.0),
        stage: LightenedStage::try_new(9.5),
        porosity: None,
        elasticity: None,
        lightened_before: None,
        colour: Some(FinishedColour {
            lab: FRESH[at],
            name: Some("rose pastel".to_owned()),
            found: FoundBy::MatchedByEye,
        }),
        span: 0..0,
    };
    let names = [ZoneName::Roots, ZoneName::MidLengths, ZoneName::Ends];
    let placement = Placement {
        kind: PlacementKind::FullHead,
        area: None,
        share: None,
        zones: names.into_iter().enumerate().map(|(at, name)| zone(at, name)).collect(),
        lightening: Vec::new(),
        toning: Vec::new(),
    };
    let visit = ServiceRecord {
        file: "records/wren.toml".to_owned(),
        client: code.clone(),
        client_span: 0..0,
        date: day(0),
        date_span: 0..0,
        start: None,
        end: None,
        stylist: None,
        stylist_span: None,
        hair: Hair::default(),
        placements: vec![placement],
        habits: Habits::default(),
        wishes: Wishes::default(),
        advice: Vec::new(),
        price: None,
        minutes_taken: None,
        note: None,
        seen: None,
        health: Health::default(),
    };
    let client = ClientFile {
        file: "clients/wren.toml".to_owned(),
        code,
        first_name: Some("Wren".to_owned()),
        show_first_name: false,
        language: None,
        contact: Contact::default(),
        age: AgeCheck::Confirmed(day(0)),
        consents: Consents::default(),
        history: Vec::new(),
        link_number: 1,
        sealed: None,
        health: Health::default(),
    };
    History { client, visits: vec![visit] }
}

fn salon() -> Salon {
    Salon {
        name: "Saltmarsh Rooms".to_owned(),
        contact: SalonContact {
            phone: Some("+44 20 7946 0000".to_owned()),
            text: None,
            email: Some("hello@saltmarsh.example".to_owned()),
            address: Some("12 Harbour Row, Saltmarsh".to_owned()),
        },
        base_address: "https://care.saltmarsh.example".to_owned(),
        time_zone: chrono_tz::Europe::London,
        units: Units::Metric,
        language: "en-GB".to_owned(),
        hours: vec![OpenHours { day: Weekday::Tue, open: NaiveTime::MIN, close: NaiveTime::MIN }],
        closures: Vec::new(),
        stylists: Vec::new(),
        chairs: 2,
        services: Vec::new(),
        practice: Practice::default(),
        book: crate::salon::BookRules::default(),
        retention: crate::salon::Retention::default(),
        theme: "paper".to_owned(),
        accent: Some("#2f6f5e".to_owned()),
        emergency: Emergency {
            country: "GB".to_owned(),
            number: "999".to_owned(),
            advice_line: Some("111".to_owned()),
        },
        page_expires_after_days: 180,
        sealed: false,
        currency: None,
        logo: None,
        estimate: SalonEstimate::default(),
    }
}

/// One `section | urgency | heading | text | why` a line.
const ADVICE: &str = include_str!("sample_advice.txt");

fn advice() -> Vec<Advice> {
    ADVICE.lines().filter(|line| !line.is_empty()).map(one_advice).collect()
}

fn one_advice(line: &str) -> Advice {
    let parts: Vec<&str> = line.split(" | ").collect();
    let [section, urgency, heading, body, why] = parts[..] else { panic!("five parts: {line}") };
    let section = match section {
        "tonight" => Section::Tonight,
        "washing" => Section::Washing,
        "first-days" => Section::FirstDays,
        "each-week" => Section::EachWeek,
        "heat" => Section::Heat,
        "sun" => Section::SunAndWater,
        "normal" => Section::WhatIsNormal,
        "care" => Section::CareBoxes,
        "before" => Section::BeforeNextVisit,
        other => panic!("no section {other}"),
    };
    let list = |text: &str| text.split(" * ").map(|item| format!("<li>{item}</li>")).collect::<String>();
    Advice {
        section,
        entry: Entry::new(Told {
            heading: heading.to_owned(),
            body_html: if body.contains(" * ") { format!("<ul>{}</ul>", list(body)) } else { format!("<p>{body}</p>") },
            why: (why != "-").then(|| Why { label: "Why?".to_owned(), body_html: format!("<p>{why}</p>") }),
        }),
        urgency: match urgency {
            "emergency" => Some(Urgency::Emergency),
            "urgent" => Some(Urgency::Urgent),
            "tell" => Some(Urgency::Tell),
            _ => None,
        },
    }
}
