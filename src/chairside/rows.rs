//! What a plain button does to the rows of a visit: split, merge, add, take away, move, step a number.
//!
//! In: the typed fields and a word such as `split:placement.0.zone.1`. Out: the fields after it. Knows nothing of: who pressed.

use crate::form::{Typed, typed_count};

/// Names a new zone may take, from the scalp outward.
const ZONE_NAMES: [&str; 4] = ["roots", "mid-lengths", "ends", "band"];

/// Does what a button says; whether it said anything we know.
pub(super) fn press(typed: &mut Typed, word: &str) -> bool {
    let parts: Vec<&str> = word.split(':').collect();
    match parts.as_slice() {
        ["split", place] => on_row(place, |list, at| split(typed, list, at)),
        ["merge", place] => on_row(place, |list, at| merge(typed, list, at)),
        ["remove", place] => on_row(place, |list, at| remove(typed, list, at)),
        ["earlier", place] => on_row(place, |list, at| at > 0 && swap(typed, list, at - 1, at)),
        ["clear", list] => {
            let there = typed_count(typed, list) > 0;
            set_rows(typed, list, Vec::new());
            there
        }
        ["add", list] => add(typed, list),
        ["set", field, text] => {
            typed.insert((*field).to_owned(), (*text).to_owned());
            true
        }
        ["more", field, by] => step(typed, field, by, 1.0),
        ["less", field, by] => step(typed, field, by, -1.0),
        _ => false,
    }
}

fn on_row(place: &str, act: impl FnOnce(&str, usize) -> bool) -> bool {
    let Some((list, number)) = place.rsplit_once('.') else { return false };
    number.parse().is_ok_and(|at: usize| at < 100 && act(list, at))
}

/// The fields of one row, their names without the row's place.
fn row(typed: &Typed, list: &str, at: usize) -> Typed {
    let begins = format!("{list}.{at}.");
    let fields = typed.iter().filter_map(|(place, text)| Some((place.strip_prefix(&begins)?, text)));
    fields.map(|(place, text)| (place.to_owned(), text.clone())).collect()
}

fn set_rows(typed: &mut Typed, list: &str, rows: Vec<Typed>) {
    let begins = format!("{list}.");
    typed.retain(|place, _| !place.starts_with(&begins));
    for (at, row) in rows.into_iter().enumerate() {
        typed.extend(row.into_iter().map(|(place, text)| (format!("{list}.{at}.{place}"), text)));
    }
}

fn rows(typed: &Typed, list: &str) -> Vec<Typed> {
    (0..typed_count(typed, list)).map(|at| row(typed, list, at)).collect()
}

fn split(typed: &mut Typed, list: &str, at: usize) -> bool {
    let mut rows = rows(typed, list);
    let Some(mut first) = rows.get(at).cloned() else { return false };
    let mut second = first.clone();
    let number = |row: &Typed, field: &str| row.get(field).and_then(|text| text.trim().parse::<f64>().ok());
    let length = typed.get("hair.length_mm").and_then(|text| text.trim().parse::<f64>().ok());
    if let (Some(from), Some(to)) = (number(&first, "from_mm"), number(&first, "to_mm").or(length)) {
        let middle = ((from + to) / 10.0).round() * 5.0;
        first.insert("to_mm".to_owned(), middle.to_string());
        second.insert("from_mm".to_owned(), middle.to_string());
        second.insert("to_mm".to_owned(), to.to_string());
    }
    if first.get("name").is_none_or(|name| name == "all" || name.is_empty()) {
        first.insert("name".to_owned(), ZONE_NAMES[0].to_owned());
        second.insert("name".to_owned(), ZONE_NAMES[2].to_owned());
    } else {
        let taken = |name: &str| rows.iter().any(|row| row.get("name").is_some_and(|other| other == name));
        let free = ZONE_NAMES.into_iter().find(|name| !taken(name)).unwrap_or_default();
        second.insert("name".to_owned(), free.to_owned());
    }
    rows[at] = first;
    rows.insert(at + 1, second);
    set_rows(typed, list, rows);
    true
}

fn merge(typed: &mut Typed, list: &str, at: usize) -> bool {
    let mut rows = rows(typed, list);
    if at + 1 >= rows.len() {
        return false;
    }
    let gone = rows.remove(at + 1);
    if let Some(to) = gone.get("to_mm") {
        rows[at].insert("to_mm".to_owned(), to.clone());
    }
    if rows.len() == 1 {
        rows[0].insert("name".to_owned(), "all".to_owned());
    }
    let names: Vec<String> = rows.iter().filter_map(|row| row.get("name").cloned()).collect();
    set_rows(typed, list, rows);
    // Steps and passes go on the zones that are still there; on none of them means on all.
    if let Some(placement) = list.strip_suffix(".zone") {
        for (place, text) in typed.iter_mut() {
            if place.starts_with(&format!("{placement}.")) && place.ends_with(".zones") {
                let kept = text.split(',').map(str::trim).filter(|name| names.iter().any(|other| other == name));
                *text = kept.collect::<Vec<_>>().join(", ");
            }
        }
    }
    true
}

fn remove(typed: &mut Typed, list: &str, at: usize) -> bool {
    let mut rows = rows(typed, list);
    if at >= rows.len() {
        return false;
    }
    rows.remove(at);
    set_rows(typed, list, rows);
    true
}

fn swap(typed: &mut Typed, list: &str, one: usize, other: usize) -> bool {
    let mut rows = rows(typed, list);
    if other >= rows.len() {
        return false;
    }
    rows.swap(one, other);
    set_rows(typed, list, rows);
    true
}

fn add(typed: &mut Typed, list: &str) -> bool {
    let at = typed_count(typed, list);
    let first: &[(&str, &str)] = match list.rsplit('.').next().unwrap_or_default() {
        _ if at >= 24 => return false,
        "placement" => &[("kind", "foils"), ("zone.0.name", "all"), ("zone.0.from_mm", "0"), ("toning.0.dye", "")],
        "lightening" => &[("minutes", "")],
        "toning" => &[("dye", "")],
        "alert_test" => &[("product", "")],
        "reaction" => &[("to", "")],
        _ => return false,
    };
    typed.extend(first.iter().map(|(field, text)| (format!("{list}.{at}.{field}"), (*text).to_owned())));
    true
}

/// A number up or down by a step, never below nothing; an empty field starts at the step.
fn step(typed: &mut Typed, field: &str, by: &str, way: f64) -> bool {
    let Ok(by) = by.parse::<f64>() else { return false };
    let now = typed.get(field).map_or("", |text| text.trim());
    let Ok(number) = (if now.is_empty() { "0" } else { now }).parse::<f64>() else { return true };
    let next = ((number + way * by).max(0.0) * 100.0).round() / 100.0;
    typed.insert(field.to_owned(), next.to_string());
    true
}

#[cfg(test)]
mod tests {
    use super::*;

    fn one_zone() -> Typed {
        let pairs = [
            ("hair.length_mm", "350"),
            ("placement.0.zone.0.name", "all"),
            ("placement.0.zone.0.from_mm", "0"),
            ("placement.0.zone.0.to_mm", "350"),
            ("placement.0.zone.0.stage", "9"),
            ("placement.0.toning.0.dye", "direct"),
        ];
        pairs.map(|(place, text)| (place.to_owned(), text.to_owned())).into()
    }

    #[test]
    fn a_split_zone_keeps_what_is_known_and_merges_back() {
        let mut typed = one_zone();
        assert!(press(&mut typed, "split:placement.0.zone.0"));
        assert_eq!(typed["placement.0.zone.0.name"], "roots");
        assert_eq!(typed["placement.0.zone.0.to_mm"], "175");
        assert_eq!(typed["placement.0.zone.1.from_mm"], "175");
        assert_eq!(typed["placement.0.zone.1.to_mm"], "350");
        assert_eq!(typed["placement.0.zone.1.stage"], "9");
        assert!(press(&mut typed, "split:placement.0.zone.1"));
        assert_eq!(typed["placement.0.zone.2.name"], "mid-lengths");
        typed.insert("placement.0.toning.0.zones".to_owned(), "roots, ends".to_owned());
        assert!(press(&mut typed, "merge:placement.0.zone.0"));
        assert_eq!(typed["placement.0.toning.0.zones"], "roots");
        assert!(press(&mut typed, "merge:placement.0.zone.0"));
        typed.remove("placement.0.toning.0.zones");
        assert_eq!(typed, one_zone());
    }

    #[test]
    fn words_that_mean_nothing_change_nothing() {
        for word in [
            "",
            "split:",
            "split:placement",
            "merge:placement.0.zone.0",
            "remove:placement.0.zone.9",
            "earlier:x.0",
            "add:health",
        ] {
            let mut typed = one_zone();
            assert!(!press(&mut typed, word), "{word}");
            assert_eq!(typed, one_zone(), "{word}");
        }
        let mut typed = one_zone();
        press(&mut typed, "less:hair.length_mm:400");
        assert_eq!(typed["hair.length_mm"], "0");
        press(&mut typed, "more:hair.trimmed_mm:5");
        assert_eq!(typed["hair.trimmed_mm"], "5");
    }
}
