//! The salon's practice: its own values over common practice.

use crate::form::{Filled, Findings};
use crate::salon::{ByShade, Practice, WeekRange};
use crate::units::{Fraction, MillimetresPerDay};

pub(super) fn practice(section: Option<&Filled>, findings: &mut Findings<'_>) -> Practice {
    let usual = Practice::default();
    let Some(own) = section else { return usual };
    let number = |field, usual: f64| own.number(field).unwrap_or(usual);
    let mut weeks = |field, usual| weeks_of(own, field, usual, findings);
    let practice = Practice {
        scalp_retouch_weeks: weeks("scalp_retouch_weeks", usual.scalp_retouch_weeks),
        tint_roots_weeks: weeks("tint_roots_weeks", usual.tint_roots_weeks),
        foils_weeks: weeks("foils_weeks", usual.foils_weeks),
        freehand_weeks: weeks("freehand_weeks", usual.freehand_weeks),
        trim_weeks: weeks("trim_weeks", usual.trim_weeks),
        refresh_weeks: by_shade(own.section("refresh_weeks"), usual.refresh_weeks, |section, field, usual| {
            weeks_of(section, field, usual, findings)
        }),
        first_wash_hours: by_shade(own.section("first_wash_hours"), usual.first_wash_hours, plain),
        refresh_share: by_shade(own.section("refresh_share_percent"), usual.refresh_share, share),
        wash_cap: by_shade(own.section("wash_cap_per_week"), usual.wash_cap, plain),
        regrowth_warn_mm: number("regrowth_warn_mm", usual.regrowth_warn_mm),
        regrowth_stop_mm: number("regrowth_stop_mm", usual.regrowth_stop_mm),
        relighten_min_weeks: number("relighten_min_weeks", usual.relighten_min_weeks),
        scalp_peroxide_max: number("scalp_peroxide_max_percent", usual.scalp_peroxide_max),
        alert_test_lead_hours: number("alert_test_lead_hours", usual.alert_test_lead_hours),
        alert_test_valid_months: own.whole("alert_test_valid_months").unwrap_or(usual.alert_test_valid_months),
        growth: own.quantity("growth_mm_per_day", MillimetresPerDay::try_new).unwrap_or(usual.growth),
        water_max_c: number("water_max_celsius", usual.water_max_c),
        iron_max_c: number("iron_max_celsius", usual.iron_max_c),
        heat_days: number("heat_days_per_week", usual.heat_days),
    };
    if practice.regrowth_warn_mm > practice.regrowth_stop_mm {
        let field = if own.has("regrowth_warn_mm") { "regrowth_warn_mm" } else { "regrowth_stop_mm" };
        let hint = format!(
            "`regrowth_warn_mm` is {} and `regrowth_stop_mm` is {}: the warning comes first",
            practice.regrowth_warn_mm, practice.regrowth_stop_mm
        );
        findings.fault(own.span_of(field), "the warning comes after the stop", "this one", hint);
    }
    practice
}

fn by_shade<T: Copy>(
    section: Option<&Filled>,
    usual: ByShade<T>,
    mut own: impl FnMut(&Filled, &'static str, T) -> T,
) -> ByShade<T> {
    let Some(section) = section else { return usual };
    ByShade {
        pastel: own(section, "pastel", usual.pastel),
        vivid: own(section, "vivid", usual.vivid),
        toner: own(section, "toner", usual.toner),
        permanent: own(section, "permanent", usual.permanent),
    }
}

fn plain(section: &Filled, field: &'static str, usual: f64) -> f64 {
    section.number(field).unwrap_or(usual)
}

fn share(section: &Filled, field: &'static str, usual: Fraction) -> Fraction {
    section.number(field).and_then(|percent| Fraction::try_new(percent / 100.0)).unwrap_or(usual)
}

fn weeks_of(section: &Filled, field: &'static str, usual: WeekRange, findings: &mut Findings<'_>) -> WeekRange {
    let Some(&[earliest, middle, latest]) = section.numbers(field) else { return usual };
    if !(earliest <= middle && middle <= latest) {
        let mut sorted = [earliest, middle, latest];
        sorted.sort_by(f64::total_cmp);
        let hint = format!("Write earliest, usual, latest: `{field} = [{}, {}, {}]`", sorted[0], sorted[1], sorted[2]);
        findings.fault(section.span_of(field), "the weeks do not go up", "earliest, usual, latest", hint);
    }
    WeekRange { usual: middle, earliest, latest }
}
