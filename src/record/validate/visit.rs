//! The visit as a whole.

use chrono::NaiveDate;

use super::{habits, health, placement};
use crate::form::{Filled, Findings};
use crate::record::{ClientCode, Hair, ServiceRecord, Wishes};
use crate::science::hair::depth::NaturalDepth;
use crate::units::{Fraction, Millimetres, MillimetresPerDay, Minutes};

pub(super) fn visit(file: &Filled, findings: &mut Findings<'_>) -> Option<ServiceRecord> {
    let date = file.date("date");
    let hair = file.section("hair").map_or_else(Hair::default, |section| hair(section, findings));
    let depth_told = file.section("hair").is_some_and(|section| section.is_written("natural_depth"));
    let placements = file
        .sections("placement")
        .iter()
        .filter_map(|section| placement::placement(section, &hair, depth_told, findings))
        .collect();
    shares(file, findings);
    zones(file, findings);
    times(file, findings);
    day_of_the_name(file, findings);
    Some(ServiceRecord {
        file: findings.source().name.clone(),
        client: ClientCode::try_new(file.text("client")?)?,
        client_span: file.span_of("client"),
        date: date?,
        date_span: file.span_of("date"),
        start: file.time("start"),
        end: file.time("end"),
        stylist: file.owned("stylist"),
        stylist_span: file.has("stylist").then(|| file.span_of("stylist")),
        hair,
        placements,
        habits: habits::habits(file.section("habits")),
        wishes: date.map_or_else(Wishes::default, |date| habits::wishes(file.section("wishes"), date, findings)),
        advice: file.texts("advice").iter().map(|(text, _)| text.clone()).collect(),
        price: file.number("price"),
        minutes_taken: file.quantity("minutes_taken", Minutes::try_new),
        note: file.owned("note"),
        seen: file.section("seen").map(habits::seen),
        health: health::health(file.section("health"), findings),
    })
}

fn hair(section: &Filled, findings: &mut Findings<'_>) -> Hair {
    let length = |field| section.quantity(field, Millimetres::try_new);
    let hair = Hair {
        texture: section.word("texture"),
        curl: section.word("curl"),
        length: length("length_mm"),
        density: section.word("density"),
        natural_depth: section.quantity("natural_depth", NaturalDepth::try_new),
        white: section.number("white_percent").and_then(|percent| Fraction::try_new(percent / 100.0)),
        scalp_oil: section.word("scalp_oil"),
        regrowth: length("regrowth_mm"),
        left_untouched: length("left_untouched_mm"),
        growth: section.quantity("growth_mm_per_day", MillimetresPerDay::try_new),
        trimmed: length("trimmed_mm"),
    };
    if let Some(length) = hair.length {
        for (field, value) in [("regrowth_mm", hair.regrowth), ("left_untouched_mm", hair.left_untouched)] {
            if value.is_some_and(|value| value > length) {
                let hint = format!("The hair is {} mm long (`length_mm`); correct one of the two", length.to_mm());
                findings.fault(
                    section.span_of(field),
                    format!("`{field}` is longer than the hair"),
                    "longer than the hair",
                    hint,
                );
            }
        }
    }
    hair
}

/// A record whose name begins with another day than it tells: one of the two is a slip, and every date hangs on it.
fn day_of_the_name(file: &Filled, findings: &mut Findings<'_>) {
    let name = findings.source().name.rsplit('/').next().unwrap_or_default();
    let named = name.get(..10).and_then(|start| start.parse::<NaiveDate>().ok());
    let Some((named, date)) = named.zip(file.date("date")).filter(|(named, date)| named != date) else { return };
    let hint = format!("Correct the day, or give the file a name with {date}");
    let message = format!("this record says {date}, and its name says {named}");
    findings.caution(file.span_of("date"), message, "which of the two?", hint);
}

/// More zones than this is a slip of copying, and would make a page nobody can read.
const MOST_ZONES: usize = 200;

fn zones(file: &Filled, findings: &mut Findings<'_>) {
    let count: usize = file.sections("placement").iter().map(|placement| placement.sections("zone").len()).sum();
    if count > MOST_ZONES {
        let message = format!("this record has {count} zones, and at most {MOST_ZONES} are read");
        findings.fault(file.key_of("placement"), message, "", "Is something repeated by mistake?");
    }
}

/// Placements may share hair (foils within a full head), so more than all of it is a caution, not a fault.
fn shares(file: &Filled, findings: &mut Findings<'_>) {
    let told: Vec<(f64, &Filled)> = file
        .sections("placement")
        .iter()
        .filter_map(|placement| Some((placement.number("share_percent")?, placement)))
        .collect();
    let sum: f64 = told.iter().map(|(share, _)| share).sum();
    if let Some((_, last)) = told.last().filter(|_| sum > 100.0 + 1e-6) {
        let hint = "Write for each placement the share of all hair that it covers by itself";
        let message = format!("the placements together cover {sum:.0} % of the hair");
        findings.caution(last.span_of("share_percent"), message, "more than all of it", hint);
    }
}

fn times(file: &Filled, findings: &mut Findings<'_>) {
    let (Some(start), Some(end)) = (file.time("start"), file.time("end")) else { return };
    if end <= start {
        let hint = format!("It began at {start}; correct one of the two");
        findings.fault(file.span_of("end"), "the visit ends before it begins", "not after the beginning", hint);
        return;
    }
    #[expect(clippy::cast_precision_loss, reason = "a day has few minutes")]
    let there = (end - start).num_minutes() as f64;
    if file.number("minutes_taken").is_some_and(|taken| taken > there) {
        let hint = format!("From {start} to {end} is {there} minutes; correct one of the three");
        findings.caution(
            file.span_of("minutes_taken"),
            "the service took longer than the visit",
            "more than there was",
            hint,
        );
    }
}
