//! The demo salon: every file reads without a fault, and it shows the hair, the habits and the findings it claims to show.

use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::Path;

use afterhue::diagnostic::{Report, SourceText, render};
use afterhue::record::{
    AgeCheck, Area, Curl, Elasticity, History, HistoryKind, Known, Placement, PlacementKind, ServiceRecord, SwimPlace,
    Texture, Took, Zone, ZoneName, histories, read_client, read_visit,
};
use afterhue::salon::{Salon, read_salon};
use afterhue::science::dye::class::DyeClass;
use afterhue::science::fade::dose::WaterHardness;
use afterhue::science::hair::porosity::Porosity;
use afterhue::units::PeroxidePercent;
use chrono::{Datelike, NaiveDate};

/// The demo as read.
struct Demo {
    salon: Salon,
    histories: Vec<History>,
    sources: Vec<SourceText>,
}

/// Every TOML file of the demo, as the name it is known by and its text.
fn sources() -> Vec<SourceText> {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("site-demo");
    let mut found = vec![SourceText::new("salon.toml", fs::read_to_string(root.join("salon.toml")).expect("a salon"))];
    let mut open = vec![root.join("clients"), root.join("records")];
    while let Some(folder) = open.pop() {
        for entry in fs::read_dir(&folder).expect("a folder of the demo") {
            let path = entry.expect("an entry").path();
            if path.is_dir() {
                open.push(path);
            } else {
                let name = path.strip_prefix(&root).expect("in the demo").to_string_lossy().replace('\\', "/");
                found.push(SourceText::new(name, fs::read_to_string(&path).expect("text in UTF-8")));
            }
        }
    }
    found.sort_by(|one, other| one.name.cmp(&other.name));
    found
}

fn demo() -> Demo {
    let sources = sources();
    let mut report = Report::default();
    let (mut salon, mut clients, mut visits) = (None, Vec::new(), Vec::new());
    for source in &sources {
        if source.name == "salon.toml" {
            let checked = read_salon(source);
            report.extend(checked.report);
            salon = checked.value;
        } else if source.name.starts_with("clients/") {
            let checked = read_client(source);
            report.extend(checked.report);
            clients.extend(checked.value);
        } else {
            let checked = read_visit(source);
            report.extend(checked.report);
            visits.extend(checked.value);
        }
    }
    assert!(!report.has_fault(), "{}", render(&report, &sources));
    let salon = salon.expect("a salon without a fault");
    let stylists: Vec<String> = salon.stylists.iter().map(|stylist| stylist.code.clone()).collect();
    let scalp_peroxide_max = PeroxidePercent::from_percent(salon.practice.scalp_peroxide_max);
    let known = Known { stylists: &stylists, scalp_peroxide_max, clients_at_fault: &[] };
    let (histories, together) = histories(clients, visits, &known);
    assert!(!together.has_fault(), "{}", render(&together, &sources));
    Demo { salon, histories, sources }
}

impl Demo {
    fn visits(&self) -> impl Iterator<Item = &ServiceRecord> {
        self.histories.iter().flat_map(|history| &history.visits)
    }

    fn placements(&self) -> impl Iterator<Item = &Placement> {
        self.visits().flat_map(|visit| &visit.placements)
    }

    fn zones(&self) -> impl Iterator<Item = &Zone> {
        self.placements().flat_map(|placement| &placement.zones)
    }

    /// Whether some zone of a placement of one dye class carries a shade whose name holds this word.
    fn shade(&self, word: &str, class: DyeClass) -> bool {
        let named =
            |zone: &Zone| zone.colour.as_ref().and_then(|c| c.name.as_deref()).is_some_and(|n| n.contains(word));
        self.placements().any(|p| p.toning.iter().any(|pass| pass.dye == class) && p.zones.iter().any(named))
    }
}

fn day(text: &str) -> NaiveDate {
    text.parse().expect("a date")
}

#[test]
fn every_file_reads_without_a_fault_and_no_visit_is_left_out() {
    let demo = demo();
    let records = demo.sources.iter().filter(|source| source.name.starts_with("records/")).count();
    assert_eq!(demo.visits().count(), records);
    assert!(demo.histories.len() >= 24, "{} clients with a visit", demo.histories.len());
    assert!(records >= 50, "{records} visits");
    assert_eq!((demo.salon.stylists.len(), demo.salon.services.len()), (4, 5));
    assert!(demo.salon.services.iter().any(|service| service.code == "alert-test"));
}

#[test]
fn the_visits_cover_a_year_and_most_clients_came_lately() {
    let demo = demo();
    let dates: BTreeSet<NaiveDate> = demo.visits().map(|visit| visit.date).collect();
    assert!(*dates.first().expect("a visit") < day("2025-12-31"));
    assert!(*dates.last().expect("a visit") <= day("2026-11-25"));
    let lately = demo.histories.iter().filter(|history| history.latest().date >= day("2026-10-14")).count();
    assert!(lately + 1 >= demo.histories.len(), "{lately} of {}", demo.histories.len());
}

#[test]
fn every_visit_is_on_a_day_its_stylist_works() {
    let demo = demo();
    for visit in demo.visits() {
        let code = visit.stylist.as_deref().expect("a stylist");
        let stylist = demo.salon.stylists.iter().find(|stylist| stylist.code == code).expect("a known stylist");
        let (date, within) = (visit.date, |(from, to): &(NaiveDate, NaiveDate)| (*from..=*to).contains(&visit.date));
        assert!(stylist.days.contains(&date.weekday()), "{}: {code} does not work on that day", visit.file);
        assert!(!stylist.absences.iter().chain(&demo.salon.closures).any(within), "{}: {code} was away", visit.file);
        let hours = demo.salon.hours.iter().find(|hours| hours.day == date.weekday()).expect("an open day");
        let opened = visit.start.is_none_or(|start| start >= hours.open);
        assert!(opened && visit.end.is_none_or(|end| end <= hours.close), "{}: outside opening hours", visit.file);
    }
}

#[test]
fn every_shade_named_by_the_design_is_there() {
    let demo = demo();
    for (word, class) in [
        ("rose pastel", DyeClass::Direct),
        ("powder blue", DyeClass::Direct),
        ("mint", DyeClass::Direct),
        ("violet pastel", DyeClass::Direct),
        ("peach", DyeClass::Direct),
        ("vivid", DyeClass::Direct),
        ("silver", DyeClass::Demi),
        ("copper gloss", DyeClass::Demi),
        ("warm brown", DyeClass::Permanent),
    ] {
        assert!(demo.shade(word, class), "no {word} by a {class:?} dye");
    }
    let rose_on_pale = demo.zones().any(|zone| stage(zone) >= 9.5 && named(zone, "rose pastel"));
    let violet_on_warm = demo.zones().any(|zone| stage(zone) == 8.0 && named(zone, "violet pastel"));
    assert!(rose_on_pale && violet_on_warm);
}

fn stage(zone: &Zone) -> f64 {
    zone.stage.map_or(0.0, |stage| stage.value())
}

fn named(zone: &Zone, word: &str) -> bool {
    zone.colour.as_ref().and_then(|colour| colour.name.as_deref()) == Some(word)
}

#[test]
fn every_technique_is_there() {
    let demo = demo();
    let only = |kind| demo.visits().any(|v| !v.placements.is_empty() && v.placements.iter().all(|p| p.kind == kind));
    for kind in [
        PlacementKind::FullHead,
        PlacementKind::Regrowth,
        PlacementKind::Foils,
        PlacementKind::Freehand,
        PlacementKind::FaceFrame,
        PlacementKind::Panel,
    ] {
        assert!(only(kind), "no visit of {kind:?} only");
    }
    assert!(demo.visits().any(|visit| {
        let has = |area| visit.placements.iter().any(|p| p.kind == PlacementKind::Panel && p.area == Some(area));
        has(Area::Left) && has(Area::Right)
    }));
    let foils_without_dye = |p: &Placement| p.kind == PlacementKind::Foils && p.toning.is_empty();
    assert!(demo.placements().any(foils_without_dye));
    assert!(demo.visits().any(|visit| visit.hair.white.is_some_and(|white| white.to_fraction() >= 0.4)));
}

#[test]
fn every_kind_of_hair_is_there() {
    let demo = demo();
    for texture in [Texture::Fine, Texture::Medium, Texture::Coarse] {
        assert!(demo.visits().any(|visit| visit.hair.texture == Some(texture)), "no {texture:?} hair");
    }
    for curl in [Curl::Straight, Curl::Wavy, Curl::Curly, Curl::Coily] {
        assert!(demo.visits().any(|visit| visit.hair.curl == Some(curl)), "no {curl:?} hair");
    }
    for porosity in [Porosity::Resistant, Porosity::Normal, Porosity::Porous, Porosity::OverPorous] {
        assert!(demo.zones().any(|zone| zone.porosity == Some(porosity)), "no {porosity:?} zone");
    }
    let failed = |zone: &Zone| matches!(zone.elasticity, Some(Elasticity::Breaks | Elasticity::NoReturn));
    assert!(demo.zones().any(failed));
    let took_less = |p: &Placement| {
        p.toning.iter().any(|pass| pass.took == Some(Took::Less) && pass.zones.contains(&ZoneName::Band))
    };
    assert!(demo.placements().any(took_less));
    let relaxed = |history: &History| history.client.history.iter().any(|entry| entry.kind == HistoryKind::Relaxer);
    assert!(demo.histories.iter().any(relaxed));
}

#[test]
fn every_habit_and_wish_is_there() {
    let demo = demo();
    assert!(demo.visits().any(|visit| visit.habits.hardness == Some(WaterHardness::Hard)));
    for place in [SwimPlace::Pool, SwimPlace::Sea] {
        assert!(demo.visits().any(|visit| visit.habits.swim_place == Some(place)), "nobody swims in the {place:?}");
    }
    let ahead = |visit: &ServiceRecord| visit.wishes.event.is_some_and(|event| event > day("2026-11-25"));
    assert!(demo.histories.iter().any(|history| ahead(history.latest())));
    assert!(demo.visits().any(|visit| visit.habits.conditioner.is_some()));
    assert!(demo.visits().any(|visit| visit.note.as_deref().is_some_and(|note| note.contains("**"))));
}

#[test]
fn every_gate_has_somebody_behind_it() {
    let demo = demo();
    let some = |what: &str, is: &dyn Fn(&History) -> bool| assert!(demo.histories.iter().any(is), "nobody: {what}");
    some("age not recorded", &|history| history.client.age == AgeCheck::NotRecorded);
    some("under 16", &|history| history.client.age == AgeCheck::Under16);
    some("a reaction", &|history| !history.client.health.reactions.is_empty());
    some("an incident", &|history| !history.client.health.incidents.is_empty());
    some("black henna", &|history| history.client.health.answers.black_henna == Some(true));
    some("strength over the limit", &|history| {
        let confirmed = |p: &Placement| p.lightening.iter().any(|step| step.confirmed_as_used);
        history.visits.iter().flat_map(|visit| &visit.placements).any(confirmed)
    });
    // Nobody under 16, or of unknown age, was ever given a lasting dye or lightener.
    for history in demo.histories.iter().filter(|h| !matches!(h.client.age, AgeCheck::Confirmed(_))) {
        for placement in history.visits.iter().flat_map(|visit| &visit.placements) {
            let lasting = placement.toning.iter().any(|pass| pass.dye != DyeClass::Temporary);
            assert!(placement.lightening.is_empty() && !lasting, "{}", history.client.file);
        }
    }
}

#[test]
fn an_alert_test_was_clear_two_days_before_every_lasting_dye() {
    let demo = demo();
    // The shortest record tells only what was done; that it lacks a test is what it is there to show.
    for history in demo.histories.iter().filter(|history| history.client.code.as_str() != "robin-24") {
        let tests: Vec<_> = history
            .visits
            .iter()
            .flat_map(|visit| &visit.health.alert_tests)
            .chain(&history.client.health.alert_tests)
            .collect();
        for visit in &history.visits {
            let mut passes = visit.placements.iter().flat_map(|placement| &placement.toning);
            if !passes.any(|pass| pass.dye != DyeClass::Temporary) {
                continue;
            }
            let in_time = tests.iter().any(|test| {
                let days = (visit.date - test.applied).num_days();
                (2..=25).contains(&days) && test.clear == Some(true) && test.read.is_some_and(|read| read <= visit.date)
            });
            assert!(in_time, "{}: no clear test in the weeks before", visit.file);
        }
    }
}

#[test]
fn one_client_came_back_five_times_with_less_left_after_more_washes() {
    let demo = demo();
    let history = demo.histories.iter().find(|history| history.visits.len() >= 6).expect("a client of six visits");
    let mut left_after: BTreeMap<u16, f64> = BTreeMap::new();
    for seen in history.visits.iter().filter_map(|visit| visit.seen.as_ref()) {
        let lengths = seen.zones.iter().find(|zone| zone.zone == ZoneName::MidLengths).expect("the mid-lengths");
        let middle = f64::midpoint(lengths.left.low.to_fraction(), lengths.left.high.to_fraction());
        left_after.insert(seen.washes.expect("washes counted"), middle);
        let ends = seen.zones.iter().find(|zone| zone.zone == ZoneName::Ends).expect("the ends");
        assert!(ends.left.low.to_fraction() <= middle, "porous ends keep no more than the lengths");
    }
    assert_eq!(left_after.len(), 5);
    let falling: Vec<f64> = left_after.into_values().collect();
    assert!(falling.is_sorted_by(|earlier, later| earlier >= later), "{falling:?}");
}

#[test]
fn hair_grows_and_is_cut_as_the_visits_say() {
    // Growth of scalp hair lies between 0.2 and 0.5 mm a day for nearly everybody; 15 mm is how well a stylist measures.
    for history in &demo().histories {
        for pair in history.visits.windows(2) {
            let [before, after] = pair else { continue };
            let (Some(then), Some(now)) = (before.hair.length, after.hair.length) else { continue };
            let days = (after.date - before.date).num_days() as f64;
            let grown = now.to_mm() - then.to_mm() + after.hair.trimmed.map_or(0.0, |cut| cut.to_mm());
            assert!(
                (0.2 * days - 15.0..=0.5 * days + 15.0).contains(&grown),
                "{}: {grown} mm in {days} days",
                after.file
            );
        }
    }
}

#[test]
fn a_record_can_be_short_and_written_in_the_trades_other_words() {
    let demo = demo();
    let records = || demo.sources.iter().filter(|source| source.name.starts_with("records/"));
    assert!(records().any(|source| source.text.lines().count() < 15));
    for twin in [
        "natural_level = ",
        "level = ",
        "developer_vol = ",
        "\"quasi\"",
        "\"semi\"",
        "[[placement.bleach]]",
        "\"tint\"",
    ] {
        assert!(records().any(|source| source.text.contains(twin)), "nobody writes {twin}");
    }
}

#[test]
fn no_full_head_of_lilac_stands_on_grown_out_roots() {
    for source in demo().sources {
        let text = source.text.to_lowercase();
        assert!(!text.contains("lilac") && !text.contains("lavender"), "{}", source.name);
    }
}
