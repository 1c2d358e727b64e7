//! What a client's whole history warns of: risks told loudly, never a reason to refuse what happened.

use super::words::{Elasticity, HistoryKind, ZoneName};
use super::{History, LighteningStep, ServiceRecord};
use crate::diagnostic::{Diagnostic, Report};
use crate::science::dye::class::DyeClass;
use crate::units::{PeroxidePercent, Worded};

/// The cautions of one client's history, about the client first, then visit by visit.
pub(super) fn cautions(history: &History, scalp_peroxide_max: PeroxidePercent) -> Report {
    let mut report = Report::default();
    consent(history, &mut report);
    let mut before: Option<&ServiceRecord> = None;
    for visit in &history.visits {
        for step in steps(visit) {
            on_scalp(visit, step, scalp_peroxide_max, &mut report);
        }
        treated_before(history, visit, &mut report);
        stretched_before(before, visit, &mut report);
        never_lightened(history, visit, &mut report);
        seen(before, visit, &mut report);
        health_without_consent(history, visit, &mut report);
        // A visit that placed nothing leaves the hair and its colour as they were.
        if !visit.placements.is_empty() {
            before = Some(visit);
        }
    }
    report
}

fn steps(visit: &ServiceRecord) -> impl Iterator<Item = &LighteningStep> {
    visit.placements.iter().flat_map(|placement| &placement.lightening)
}

fn consent(history: &History, report: &mut Report) {
    let Some(given) = history.client.consents.service else {
        let caution = Diagnostic::caution(&history.client.file, "consent to the service and to a page is not recorded");
        report.push(caution.hint("Ask, and write the day under [consents]: `service = 2026-01-12`"));
        return;
    };
    if let Some(visit) = history.visits.iter().find(|visit| visit.date < given) {
        report.push(
            Diagnostic::caution(&visit.file, "this visit is before the client's recorded consent")
                .at(visit.date_span.clone(), "before the consent")
                .hint(format!("The consent in {} is of {given}; correct the day that is wrong", history.client.file)),
        );
    }
}

fn on_scalp(visit: &ServiceRecord, step: &LighteningStep, most: PeroxidePercent, report: &mut Report) {
    let Some(strength) = step.developer.filter(|strength| step.on_scalp == Some(true) && *strength > most) else {
        return;
    };
    let message = format!(
        "lightener with {:.1} % peroxide was used on the scalp, over the salon's limit of {:.1} %",
        strength.to_percent(),
        most.to_percent()
    );
    report.push(Diagnostic::caution(&visit.file, message).at(step.span.clone(), "on the scalp").hint(
        "Burns can show days later: ask how the scalp is. The limit is `scalp_peroxide_max_percent` in salon.toml",
    ));
}

/// Lightening on relaxed hair; lightening or peroxide on henna or metallic dye.
fn treated_before(history: &History, visit: &ServiceRecord, report: &mut Report) {
    let had = |kind| {
        history
            .client
            .history
            .iter()
            .any(|entry| entry.kind == kind && entry.date.is_none_or(|date| date <= visit.date))
    };
    if let Some(step) = steps(visit).next().filter(|_| had(HistoryKind::Relaxer)) {
        report.push(
            Diagnostic::caution(&visit.file, "relaxed hair was lightened")
                .at(step.span.clone(), "on hair with a relaxer in its history")
                .hint("Relaxed hair can break off when it is lightened; test a strand first, and tell the client"),
        );
    }
    let oxidative = visit
        .placements
        .iter()
        .flat_map(|placement| &placement.toning)
        .find(|pass| matches!(pass.dye, DyeClass::Demi | DyeClass::Permanent))
        .map(|pass| &pass.span);
    if let Some(place) =
        steps(visit).map(|step| &step.span).next().or(oxidative).filter(|_| had(HistoryKind::HennaOrMetallic))
    {
        report.push(
            Diagnostic::caution(&visit.file, "peroxide was used on hair with henna or metallic dye in its history")
                .at(place.clone(), "with developer")
                .hint("Metal in the hair can heat up with peroxide; test a cutting first"),
        );
    }
}

/// A stage, which only lightened hair has, where nothing says that this hair was ever lightened.
fn never_lightened(history: &History, visit: &ServiceRecord, report: &mut Report) {
    let told = history.client.history.iter().any(|entry| entry.kind == HistoryKind::Lightening)
        || history.visits.iter().filter(|other| other.date <= visit.date).any(|other| steps(other).next().is_some());
    let zones = visit.placements.iter().flat_map(|placement| &placement.zones);
    let mut unexplained = zones.filter(|zone| zone.stage.is_some() && zone.lightened_before.unwrap_or(0) == 0);
    let Some(zone) = unexplained.next().filter(|_| !told) else { return };
    report.push(
        Diagnostic::note(&visit.file, "a stage is written, and no lightening of this hair is on record")
            .at(zone.span.clone(), "counted as lightened")
            .hint(
                "Add `lightening = [{ stage_reached = 9.5 }]` to the placement, or `lightened_before = 1` to the zone; \
                 hair that was never lightened has no stage: write `natural_depth` under [hair] instead",
            ),
    );
}

/// Lightening of a zone that failed the stretch test at the visit before and was not found better since.
fn stretched_before(before: Option<&ServiceRecord>, visit: &ServiceRecord, report: &mut Report) {
    let Some(before) = before else { return };
    let failed = |elasticity| matches!(elasticity, Some(Elasticity::Breaks | Elasticity::NoReturn));
    let weak: Vec<ZoneName> = before
        .placements
        .iter()
        .flat_map(|placement| &placement.zones)
        .filter(|zone| failed(zone.elasticity))
        .map(|zone| zone.name)
        .collect();
    for placement in &visit.placements {
        let untested = placement.zones.iter().find(|zone| weak.contains(&zone.name) && zone.elasticity.is_none());
        let Some(zone) = untested else { continue };
        let covering = |step: &&LighteningStep| step.zones.is_empty() || step.zones.contains(&zone.name);
        if let Some(step) = placement.lightening.iter().find(covering) {
            report.push(
                Diagnostic::caution(&visit.file, "hair that failed the stretch test last time was lightened")
                    .at(step.span.clone(), format!("{} failed on {}", zone.name.word(), before.date))
                    .hint("Write today's stretch test, `elasticity`, in the zone; hair that still fails must not be lightened"),
            );
        }
    }
}

/// What was seen must be about a visit and a zone that are there.
fn seen(before: Option<&ServiceRecord>, visit: &ServiceRecord, report: &mut Report) {
    let Some(seen) = &visit.seen else { return };
    let Some(before) = before else {
        report.push(
            Diagnostic::caution(
                &visit.file,
                "it tells what was left of the colour before, and no earlier visit is recorded",
            )
            .at(seen.span.clone(), "of which visit?")
            .hint("Add the record of the visit before, or take [seen] out; nothing is learned from it as it stands"),
        );
        return;
    };
    for zone in &seen.zones {
        let placement = usize::from(zone.placement).checked_sub(1).and_then(|index| before.placements.get(index));
        let there = placement.is_some_and(|placement| placement.zones.iter().any(|other| other.name == zone.zone));
        if !there {
            let message =
                format!("the visit before has no zone \"{}\" in placement {}", zone.zone.word(), zone.placement);
            report.push(Diagnostic::caution(&visit.file, message).at(zone.span.clone(), "of which zone?").hint(
                format!(
                    "Look at {} for its placements and zones; nothing is learned from this as it stands",
                    before.file
                ),
            ));
        }
    }
}

fn health_without_consent(history: &History, visit: &ServiceRecord, report: &mut Report) {
    let agreed = history.client.consents.health_data.is_some_and(|day| day <= visit.date);
    if !visit.health.tells_nothing() && !agreed {
        report.push(
            Diagnostic::caution(&visit.file, "health facts are kept without a consent recorded by that day").hint(
                format!(
                    "Ask, and write the day under [consents] in {}; or take [health] out here",
                    history.client.file
                ),
            ),
        );
    }
}
