//! What was decided so far, in one line: the label of every part that is closed.
//!
//! In: typed fields, or a zone on record. Out: words. Knows nothing of: mark-up.

use crate::form::{Typed, typed_count};
use crate::record::{Area, PlacementKind, ZoneName};
use crate::units::Worded;

/// What was typed at a place, without blanks round it.
pub(super) fn text(typed: &Typed, place: &str) -> String {
    typed.get(place).map(|text| text.trim().to_owned()).unwrap_or_default()
}

/// A part of the head: half of it is a side, as "left, 50 %" would also be what is left.
fn part(area: &str) -> String {
    if matches!(area, "left" | "right") { format!("{area} side") } else { area.to_owned() }
}

/// "left side": a placement by its part of the head, or by its kind.
pub(super) fn placed(kind: PlacementKind, area: Option<Area>) -> String {
    area.map_or_else(|| kind.word().to_owned(), |area| part(area.word()))
}

/// "left side, roots": a zone with its part of the head or its kind, where there are several placements.
pub(super) fn zone_of(several: bool, kind: PlacementKind, area: Option<Area>, zone: ZoneName) -> String {
    if several { format!("{}, {}", placed(kind, area), zone.word()) } else { zone.word().to_owned() }
}

/// "full head, whole head, 100 %".
pub(super) fn place(typed: &Typed, at: &str) -> String {
    let area = part(&text(typed, &format!("{at}.area")));
    let share = text(typed, &format!("{at}.share_percent"));
    let share = if share.is_empty() { share } else { format!("{share} %") };
    let parts = [text(typed, &format!("{at}.kind")), area, share];
    let parts: Vec<String> = parts.into_iter().filter(|part| !part.is_empty()).collect();
    if parts.is_empty() { "not told yet".to_owned() } else { parts.join(", ") }
}

/// "roots 0 to 60 mm: rose pastel on 10".
pub(super) fn zone(typed: &Typed, zone: &str) -> String {
    let say = |field: &str| text(typed, &format!("{zone}.{field}"));
    let name = if say("name").is_empty() { "zone".to_owned() } else { say("name") };
    let to = if say("to_mm").is_empty() { "?".to_owned() } else { say("to_mm") };
    format!("{name} {} to {to} mm: {}", say("from_mm"), worn(typed, zone))
}

/// "rose pastel on 10".
fn worn(typed: &Typed, zone: &str) -> String {
    let say = |field: &str| text(typed, &format!("{zone}.{field}"));
    let colour = ["name", "hex", "lab"].iter().map(|way| say(&format!("colour.{way}")));
    let colour = colour.into_iter().find(|text| !text.is_empty()).unwrap_or_else(|| "no colour yet".to_owned());
    let stage = say("stage");
    if stage.is_empty() { colour } else { format!("{colour} on {stage}") }
}

/// "roots rose pastel on 10, ends rose pastel on 10".
pub(super) fn placement(typed: &Typed, at: &str) -> String {
    let zones = (0..typed_count(typed, &format!("{at}.zone"))).map(|number| {
        let zone = format!("{at}.zone.{number}");
        format!("{} {}", text(typed, &format!("{zone}.name")), worn(typed, &zone)).trim().to_owned()
    });
    let zones: Vec<String> = zones.collect();
    format!("{}: {}", text(typed, &format!("{at}.kind")), zones.join(", "))
}

/// "lightener 40 min, then direct 20 min".
pub(super) fn work(typed: &Typed, at: &str) -> String {
    let mut parts = Vec::new();
    for list in ["lightening", "toning"] {
        for step in 0..typed_count(typed, &format!("{at}.{list}")) {
            let place = format!("{at}.{list}.{step}");
            let dye = text(typed, &format!("{place}.dye"));
            let what = match list {
                "lightening" => "lightener",
                _ if dye.is_empty() => "a pass",
                _ => &dye,
            };
            let minutes = text(typed, &format!("{place}.minutes"));
            parts.push(if minutes.is_empty() { what.to_owned() } else { format!("{what} {minutes} min") });
        }
    }
    if parts.is_empty() { "nothing yet".to_owned() } else { parts.join(", then ") }
}

/// "lightener on roots, 40 min, 6 %", a line for each step.
pub(super) fn lightening(typed: &Typed, at: &str) -> Vec<String> {
    (0..typed_count(typed, &format!("{at}.lightening")))
        .map(|step| {
            let say = |field: &str| text(typed, &format!("{at}.lightening.{step}.{field}"));
            let with = |before: &str, text: String, unit: &str| {
                if text.is_empty() { text } else { format!("{before}{text}{unit}") }
            };
            let minutes = with(", ", say("minutes"), " min");
            format!(
                "lightener{}{minutes}{}",
                with(" on ", say("zones"), ""),
                with(", ", say("developer_percent"), " %")
            )
        })
        .collect()
}

/// Every field of a part that is told: "washes a week 2, water lukewarm".
pub(super) fn all(typed: &Typed, below: &str, asked: &[(&str, &str)]) -> String {
    let said = asked.iter().filter_map(|(name, label)| {
        let told = text(typed, &format!("{below}{name}"));
        let unit = if name.ends_with("_mm") { " mm" } else { "" };
        (!told.is_empty()).then(|| format!("{} {told}{unit}", label.to_lowercase()))
    });
    let said: Vec<String> = said.collect();
    if said.is_empty() { "nothing yet".to_owned() } else { said.join(", ") }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn half_a_head_is_a_side_and_a_zone_says_whose_it_is_among_several() {
        let typed: Typed = [("p.kind", "panel"), ("p.area", "left"), ("p.share_percent", "50")]
            .map(|(place, text)| (place.to_owned(), text.to_owned()))
            .into();
        assert_eq!(place(&typed, "p"), "panel, left side, 50 %");
        let told = |several, area| zone_of(several, PlacementKind::Panel, area, ZoneName::Roots);
        assert_eq!(told(true, Some(Area::Right)), "right side, roots");
        assert_eq!(told(true, Some(Area::Front)), "front, roots");
        assert_eq!(told(true, None), "panel, roots");
        assert_eq!(told(false, Some(Area::Right)), "roots");
    }
}
