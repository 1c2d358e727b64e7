//! A placement: its zones along the hair, and what was done to each.

use super::{colour, steps};
use crate::diagnostic::Diagnostic;
use crate::form::{Filled, Findings};
use crate::record::{Elasticity, Hair, LighteningStep, Placement, Zone, ZoneName};
use crate::science::hair::stage::{LightenedStage, UnderlyingPigment};
use crate::units::{Fraction, Millimetres, Worded};

/// The names of the zones a step covers; empty for all.
type Covered = Vec<ZoneName>;

pub(super) fn placement(
    section: &Filled,
    hair: &Hair,
    depth_told: bool,
    findings: &mut Findings<'_>,
) -> Option<Placement> {
    let sections = section.sections("zone");
    let named: Vec<ZoneName> = sections.iter().filter_map(|zone| name(zone, sections.len(), findings)).collect();
    twice(sections, findings);
    let lightening: Vec<LighteningStep> =
        section.sections("lightening").iter().map(|step| steps::lightening(step, &named, findings)).collect();
    let passes: Vec<Covered> = section.sections("toning").iter().map(|pass| pass.words("zones")).collect();
    let toning = section.sections("toning").iter().filter_map(|pass| steps::toning(pass, &named, findings)).collect();
    let mut zones = Vec::new();
    for filled in sections {
        let Some(zone) = zone(filled, sections.len(), &lightening, findings) else { continue };
        beyond_ends(filled, &zone, hair, findings);
        if !section.is_written("toning") || section.has("toning") {
            untoned(filled, &zone, &passes, findings);
        }
        if filled.has("colour") && zone.stage.is_none() && !depth_told && !stage_expected(filled, &zone, &lightening) {
            let hint =
                "If it is lightened, write its stage, `stage = 9.5`; if not, write `natural_depth = 6` under [hair]";
            findings.missing(filled.span(), "it is not told what this colour lies on", "this zone", hint);
        }
        zones.push((zone, filled));
    }
    zones.sort_by(|(one, _), (other, _)| one.from.to_mm().total_cmp(&other.from.to_mm()));
    overlaps(&zones, findings);
    Some(Placement {
        kind: section.word("kind")?,
        area: section.word("area"),
        share: section.number("share_percent").and_then(|percent| Fraction::try_new(percent / 100.0)),
        zones: zones.into_iter().map(|(zone, _)| zone).collect(),
        lightening,
        toning,
    })
}

/// Whether the zone has a stage that could not be read, or was lightened and so was asked for one.
fn stage_expected(filled: &Filled, zone: &Zone, lightening: &[LighteningStep]) -> bool {
    filled.is_written("stage")
        || filled.is_written("underlying_pigment")
        || lightening.iter().any(|step| covers(&step.zones, zone.name))
}

/// A zone's name; a single zone needs none.
fn name(zone: &Filled, count: usize, findings: &mut Findings<'_>) -> Option<ZoneName> {
    let name = zone.word("name");
    if name.is_none() && !zone.is_written("name") {
        if count == 1 {
            return Some(ZoneName::All);
        }
        let hint = "Write `name = \"roots\"`, \"mid-lengths\", \"ends\" or \"band\"";
        findings.missing(zone.span(), "where there is more than one zone, each needs a name", "this has none", hint);
    }
    name
}

fn twice(zones: &[Filled], findings: &mut Findings<'_>) {
    let names: Vec<Option<ZoneName>> = zones.iter().map(|zone| zone.word("name")).collect();
    for (index, zone) in zones.iter().enumerate() {
        if let Some(name) = names[index]
            && let Some(first) = names[..index].iter().position(|other| *other == Some(name))
        {
            let hint = format!(
                "The first is on line {}; give one of them another name",
                findings.line_of(&zones[first].span())
            );
            let message = format!("two zones of this placement are called \"{}\"", name.word());
            findings.fault(zone.span_of("name"), message, "here again", hint);
        }
    }
}

fn zone(filled: &Filled, count: usize, lightening: &[LighteningStep], findings: &mut Findings<'_>) -> Option<Zone> {
    let colour = filled.section("colour").and_then(|section| colour::colour(section, findings));
    let name = filled.word("name").or((count == 1).then_some(ZoneName::All));
    let from = filled.quantity("from_mm", Millimetres::try_new);
    let to = filled.quantity("to_mm", Millimetres::try_new);
    if let (Some(from), Some(to)) = (from, to)
        && from >= to
    {
        let hint =
            format!("It begins at {} mm from the scalp; write a larger number, or change the two round", from.to_mm());
        findings.fault(filled.span_of("to_mm"), "a zone ends before it begins", "not beyond its beginning", hint);
    }
    let elasticity = filled.word("elasticity");
    let steps: Vec<&LighteningStep> =
        name.map_or(Vec::new(), |name| lightening.iter().filter(|step| covers(&step.zones, name)).collect());
    if matches!(elasticity, Some(Elasticity::Breaks | Elasticity::NoReturn)) && !steps.is_empty() {
        let hint = "Hair that stretches and does not return, or breaks, must not be lightened again. Check that it was so, and do not repeat it";
        findings.caution(
            filled.span_of("elasticity"),
            "hair that failed the stretch test was lightened",
            "failed",
            hint,
        );
    }
    let stage = stage(filled, &steps, findings);
    Some(Zone {
        name: name?,
        from: from?,
        to: to?,
        stage,
        porosity: filled.word("porosity"),
        elasticity,
        lightened_before: filled.whole("lightened_before"),
        colour,
        span: filled.span(),
    })
}

/// Whether a step covers a zone.
pub(super) fn covers(zones: &[ZoneName], zone: ZoneName) -> bool {
    zones.is_empty() || zones.contains(&zone) || zones.contains(&ZoneName::All)
}

/// The stage of a zone: its own, its pigment's, or the one the last lightening step reached.
fn stage(zone: &Filled, steps: &[&LighteningStep], findings: &mut Findings<'_>) -> Option<LightenedStage> {
    if zone.has("stage") && zone.has("underlying_pigment") {
        let hint = "Keep one of the two; the stage is the finer one";
        findings.fault(
            zone.span_of("underlying_pigment"),
            "the stage is told in two ways",
            "and as a number too",
            hint,
        );
    }
    let own = zone.quantity("stage", LightenedStage::try_new);
    let pigment = || zone.word::<UnderlyingPigment>("underlying_pigment").map(UnderlyingPigment::stage);
    let reached = || steps.iter().rev().find_map(|step| step.stage_reached);
    let stage = own.or_else(pigment).or_else(reached);
    if stage.is_none() && !steps.is_empty() && !zone.is_written("stage") && !zone.is_written("underlying_pigment") {
        let hint = "Write `stage = 9.5` in the zone, or `underlying_pigment = \"pale yellow\"`, or `stage_reached = 9.5` in the step";
        findings.missing(
            zone.span(),
            "this zone was lightened, and the stage it reached is not told",
            "how far?",
            hint,
        );
    }
    stage
}

fn beyond_ends(filled: &Filled, zone: &Zone, hair: &Hair, findings: &mut Findings<'_>) {
    if let Some(length) = hair.length
        && zone.to > length
    {
        let hint = format!(
            "The hair is {0} mm long (`length_mm` under [hair]); write at most {0}, or correct the length",
            length.to_mm()
        );
        findings.fault(
            filled.span_of("to_mm"),
            "this zone goes beyond the ends of the hair",
            "longer than the hair",
            hint,
        );
    }
}

/// A coloured zone needs a pass that tells its dye class: how it fades depends on it.
fn untoned(filled: &Filled, zone: &Zone, passes: &[Covered], findings: &mut Findings<'_>) {
    if filled.is_written("colour") && !passes.iter().any(|zones| covers(zones, zone.name)) {
        let hint = format!(
            "Write under [[placement.toning]]: `zones = [\"{}\"]` and `dye = \"direct\"` (or \"demi-permanent\", \"permanent\", \"temporary\")",
            zone.name.word()
        );
        findings.missing(
            filled.span(),
            "this zone has a colour, and no toning pass tells the dye",
            "what gave it its colour?",
            hint,
        );
    }
}

/// Zones in order from the scalp: each begins where the one before has ended, or further out.
fn overlaps(zones: &[(Zone, &Filled)], findings: &mut Findings<'_>) {
    for pair in zones.windows(2) {
        let [(one, _), (other, filled)] = pair else { continue };
        if other.from < one.to {
            let hint = format!(
                "\"{}\" ends at {} mm; let this one begin there or further out",
                one.name.word(),
                one.to.to_mm()
            );
            let message = format!("the zones \"{}\" and \"{}\" overlap", one.name.word(), other.name.word());
            findings.fault(filled.span_of("from_mm"), message, "begins too early", hint);
        }
        if one.from < one.to && one.to < other.from {
            let message = format!("nothing is told of the hair from {} to {} mm", one.to.to_mm(), other.from.to_mm());
            let note = Diagnostic::note(&findings.source().name, message).at(filled.span_of("from_mm"), "begins here");
            let hint = format!(
                "It counts as untouched; if \"{}\" goes on to {} mm, write `to_mm = {}` there",
                one.name.word(),
                other.from.to_mm(),
                other.from.to_mm()
            );
            findings.tell(note.hint(hint));
        }
    }
}
