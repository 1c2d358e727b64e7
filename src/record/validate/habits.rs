//! What the client does at home, what the client wants, and what was seen on return.

use chrono::NaiveDate;

use crate::form::{Filled, Findings};
use crate::record::{Habits, HeatTools, HomeConditioner, Seen, SeenZone, Wishes};
use crate::units::{Celsius, Fraction, Interval, PerWeek};

pub(super) fn habits(section: Option<&Filled>) -> Habits {
    let Some(habits) = section else {
        return Habits::default();
    };
    let a_week = |field| habits.quantity(field, PerWeek::try_new);
    Habits {
        washes: habits
            .pair("washes_per_week")
            .and_then(|(low, high)| Some(Interval { low: PerWeek::try_new(low)?, high: PerWeek::try_new(high)? })),
        rinses: a_week("rinse_days_per_week"),
        warmth: habits.word("water"),
        shampoo: habits.word("shampoo"),
        conditioner: habits.section("colour_conditioner").and_then(|conditioner| {
            let uses = conditioner.quantity("uses_per_week", PerWeek::try_new)?;
            Some(HomeConditioner { uses, shade: conditioner.owned("shade") })
        }),
        sun_hours: habits.number("sun_hours_per_week"),
        swims: a_week("swims_per_week"),
        swim_place: habits.word("swims_in"),
        heat: habits.section("heat_tools").and_then(|tools| {
            let days = tools.quantity("days_per_week", PerWeek::try_new)?;
            Some(HeatTools { days, temperature: tools.quantity("celsius", Celsius::try_new) })
        }),
        hardness: habits.word("water_hardness"),
        copper: habits.yes("copper_in_water").unwrap_or(false),
        sport: a_week("sport_days_per_week"),
    }
}

pub(super) fn wishes(section: Option<&Filled>, visit: NaiveDate, findings: &mut Findings<'_>) -> Wishes {
    let Some(wishes) = section else {
        return Wishes::default();
    };
    let event = wishes.date("event");
    if event.is_some_and(|event| event < visit) {
        let hint = format!("The visit is on {visit}; write a day after it, or take the line out");
        findings.fault(wishes.span_of("event"), "the event is before the visit", "this day is over", hint);
    }
    Wishes { after: wishes.word("after"), event }
}

pub(super) fn seen(section: &Filled) -> Seen {
    Seen {
        washes: section.whole("washes_since"),
        rinses: section.whole("rinses_since"),
        conditioner_uses: section.whole("colour_conditioner_uses"),
        zones: section.sections("zone").iter().filter_map(seen_zone).collect(),
        span: section.span(),
    }
}

fn seen_zone(zone: &Filled) -> Option<SeenZone> {
    let (low, high) = zone.pair("left_percent")?;
    let share = |percent: f64| Fraction::try_new(percent / 100.0);
    Some(SeenZone {
        placement: zone.whole("placement")?,
        zone: zone.word("zone")?,
        left: Interval { low: share(low)?, high: share(high)? },
        span: zone.span(),
    })
}
