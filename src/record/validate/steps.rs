//! Lightening steps and toning passes.

use crate::form::{Filled, Findings};
use crate::record::{LighteningStep, ToningPass, ZoneName};
use crate::science::dye::peroxide;
use crate::science::hair::stage::LightenedStage;
use crate::units::{Grams, Minutes, PeroxidePercent, Worded};

/// Strongest hydrogen peroxide a hair product may hold or release, %.
///
/// Regulation (EU) 2019/831, Annex, entry 12, amending Annex III of Regulation (EC) 1223/2009; also retained in UK law.
const LEGAL_PEROXIDE: f64 = 12.0;

pub(super) fn lightening(step: &Filled, named: &[ZoneName], findings: &mut Findings<'_>) -> LighteningStep {
    let confirmed = step.yes("confirmed_as_used").unwrap_or(false);
    if step.yes("heat") == Some(true) {
        let hint = "Heat drives lightener beyond control: burns and broken hair follow. It is kept as it was done; do not repeat it";
        findings.caution(step.span_of("heat"), "lightener was used with added heat", "heat", hint);
    }
    LighteningStep {
        zones: zones(step, named, findings),
        on_scalp: step.yes("on_scalp"),
        developer: developer(step, confirmed, findings),
        minutes: step.quantity("minutes", Minutes::try_new),
        heat: step.yes("heat"),
        stage_reached: step.quantity("stage_reached", LightenedStage::try_new),
        confirmed_as_used: confirmed,
        span: step.span(),
    }
}

pub(super) fn toning(pass: &Filled, named: &[ZoneName], findings: &mut Findings<'_>) -> Option<ToningPass> {
    let confirmed = pass.yes("confirmed_as_used").unwrap_or(false);
    let zones = zones(pass, named, findings);
    let developer = developer(pass, confirmed, findings);
    Some(ToningPass {
        zones,
        dye: pass.word("dye")?,
        ph: pass.word("ph"),
        target: pass.owned("target"),
        mix: pass.pair("mix"),
        dilution: pass.pair("dilution"),
        grams: pass.quantity("grams", Grams::try_new),
        developer,
        minutes: pass.quantity("minutes", Minutes::try_new),
        took: pass.word("took"),
        confirmed_as_used: confirmed,
        span: pass.span(),
    })
}

/// The zones a step covers; empty means all of the placement.
fn zones(step: &Filled, named: &[ZoneName], findings: &mut Findings<'_>) -> Vec<ZoneName> {
    let zones: Vec<ZoneName> = step.words("zones");
    if zones.contains(&ZoneName::All) && !named.contains(&ZoneName::All) {
        return Vec::new();
    }
    // Without a zone that could be read, every name would seem unknown.
    for zone in zones.iter().filter(|zone| !named.is_empty() && !named.contains(zone)) {
        let known = named.iter().map(|zone| format!("\"{}\"", zone.word())).collect::<Vec<_>>().join(", ");
        let hint = format!("The zones of this placement are {known}; without `zones` a step covers them all");
        let message = format!("this placement has no zone \"{}\"", zone.word());
        findings.fault(step.span_of("zones"), message, "", hint);
    }
    zones
}

/// The developer in percent, from percent or volumes; over the legal limit only as a confirmed incident.
fn developer(step: &Filled, confirmed: bool, findings: &mut Findings<'_>) -> Option<PeroxidePercent> {
    if step.has("developer_percent") && step.has("developer_vol") {
        let hint = "Keep one of the two: 3, 6, 9 and 12 % are 10, 20, 30 and 40 vol";
        findings.fault(
            step.span_of("developer_vol"),
            "the developer is told in percent and in volumes",
            "the second of the two",
            hint,
        );
        return None;
    }
    let field = if step.has("developer_vol") { "developer_vol" } else { "developer_percent" };
    let percent = step
        .number("developer_percent")
        .or_else(|| step.quantity("developer_vol", peroxide::label).map(PeroxidePercent::to_percent))?;
    // 12 % as 40 vol must not fail by a rounding of the product.
    if percent > LEGAL_PEROXIDE + 1e-9 {
        let place = step.span_of(field);
        if confirmed {
            let hint = "It is kept as an incident, for the salon only. Correct the number if it was a slip";
            findings.caution(
                place,
                format!("{} % peroxide is over the legal 12 % (40 vol)", told(percent)),
                "confirmed as used",
                hint,
            );
        } else {
            let hint = "Correct the number; or, if this was really used, add `confirmed_as_used = true` to keep it as an incident";
            findings.fault(
                place,
                format!("{} % peroxide is over the legal 12 % (40 vol) for hair", told(percent)),
                "really?",
                hint,
            );
        }
    }
    PeroxidePercent::try_new(percent)
}

/// To one digit behind the point, and none when it is nought.
fn told(percent: f64) -> f64 {
    (percent * 10.0).round() / 10.0
}
