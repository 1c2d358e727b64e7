//! The finished colour of a zone: named, matched by eye, or measured.

use crate::diagnostic::{Diagnostic, SourceText, nearest};
use crate::form::{Filled, Findings};
use crate::record::{FinishedColour, FoundBy};
use crate::science::colour::cielab::Lab;
use crate::science::colour::srgb::{self, Srgb};
use crate::science::dye::shade;

/// The largest chroma taken for hair: beyond what surface colours reach at any hue that dyes on hair show (common practice, no source).
const LARGEST_CHROMA: f64 = 110.0;

pub(super) fn colour(section: &Filled, findings: &mut Findings<'_>) -> Option<FinishedColour> {
    let name = section.owned("name");
    let found = section.word("found");
    match (section.text("hex"), section.numbers("lab")) {
        (Some(_), Some(_)) => {
            let hint = "Keep the measured one, `lab`, or the matched one, `hex`";
            findings.fault(section.span_of("hex"), "one colour is told in two ways", "and by `lab` too", hint);
            None
        }
        (Some(hex), None) => {
            let lab = srgb::to_lab(Srgb::from_hex(hex)?);
            Some(FinishedColour { lab, name, found: found.unwrap_or(FoundBy::MatchedByEye) })
        }
        (None, Some(&[l, a, b])) => {
            let lab = measured(Lab::new(l, a, b), section, findings)?;
            Some(FinishedColour { lab, name, found: found.unwrap_or(FoundBy::Measured) })
        }
        _ if section.is_written("hex") || section.is_written("lab") => None,
        _ => named(section, name.as_deref(), found, findings),
    }
}

fn measured(lab: Lab, section: &Filled, findings: &mut Findings<'_>) -> Option<Lab> {
    let hint = "Write lightness L*, a* and b* in this order: `lab = [72.0, 18.0, 8.0]`";
    if !(0.0..=100.0).contains(&lab.l) {
        findings.fault(
            section.span_of("lab"),
            "the lightness L* is a number from 0 to 100",
            "the first of these",
            hint,
        );
        return None;
    }
    if lab.chroma() > LARGEST_CHROMA {
        findings.fault(
            section.span_of("lab"),
            "no hair has a colour as strong as this",
            "a* and b* are too far from 0",
            hint,
        );
        return None;
    }
    Some(lab)
}

fn named(
    section: &Filled,
    name: Option<&str>,
    found: Option<FoundBy>,
    findings: &mut Findings<'_>,
) -> Option<FinishedColour> {
    let Some(name) = name else {
        if !section.is_written("name") {
            let hint = "Write a shade, `colour = { name = \"rose pastel\" }`, or a colour matched by eye, `colour = { hex = \"#e8b4b8\" }`";
            findings.missing(section.span(), "the finished colour is not told", "which one?", hint);
        }
        return None;
    };
    if found.is_some_and(|found| found != FoundBy::Named) {
        let hint = "Beside the name write `lab` for a measured colour or `hex` for one matched by eye";
        findings.fault(
            section.span_of("found"),
            "a colour that is only named was neither measured nor matched",
            "not with a name alone",
            hint,
        );
        return None;
    }
    let Some(shade) = shade::by_name(name) else {
        findings.tell(unknown_shade(name, section, findings.source()));
        return None;
    };
    Some(FinishedColour { lab: shade.colour, name: Some(name.to_owned()), found: FoundBy::Named })
}

/// The nearest shade names, or all of them, and how to do without a name.
fn unknown_shade(name: &str, section: &Filled, source: &SourceText) -> Diagnostic {
    let names: Vec<&str> = shade::shades().iter().map(|shade| shade.name).collect();
    let near: Vec<String> = nearest(name, &names, 3).iter().map(|name| format!("\"{name}\"")).collect();
    let words = if near.is_empty() {
        format!("The shades known by name are: {}", names.join(", "))
    } else {
        format!("Did you mean {}?", near.join(" or "))
    };
    let other =
        format!("Any other colour is written as matched by eye: `colour = {{ hex = \"#e8b4b8\", name = \"{name}\" }}`");
    Diagnostic::fault(&source.name, format!("the shade \"{name}\" is not known"))
        .at(section.span_of("name"), "not known")
        .hint(words)
        .hint(other)
}
