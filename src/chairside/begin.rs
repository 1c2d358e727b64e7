//! A new visit with everything known from the last one filled in, so that only what changed is asked.
//!
//! In: the record of the last visit as typed, today. Out: what the form shows at first. Knows nothing of: files.

use chrono::NaiveDate;

use crate::form::{Typed, typed_count};

use super::questions::is_lightening;

/// What one visit tells about itself alone.
const OF_ONE_VISIT: [&str; 11] = [
    "start",
    "end",
    "price",
    "minutes_taken",
    "advice",
    "note",
    "seen",
    "health",
    "hair.regrowth_mm",
    "hair.trimmed_mm",
    "wishes.event",
];

/// The fields of a first visit.
pub(super) fn first(client: &str, today: NaiveDate) -> Typed {
    let fields = [
        ("format", "1"),
        ("placement.0.kind", "full head"),
        ("placement.0.zone.0.name", "all"),
        ("placement.0.zone.0.from_mm", "0"),
        ("placement.0.toning.0.dye", ""),
    ];
    let mut typed: Typed = fields.map(|(place, text)| (place.to_owned(), text.to_owned())).into();
    typed.insert("client".to_owned(), client.to_owned());
    typed.insert("date".to_owned(), today.to_string());
    typed
}

/// The fields of a visit like the last one, and the lightening that must be said anew: one that did not happen would be in the record.
pub(super) fn again(last: &Typed, today: NaiveDate) -> (Typed, Typed) {
    let alone = |place: &str| {
        OF_ONE_VISIT
            .iter()
            .any(|one| place == *one || place.strip_prefix(one).is_some_and(|rest| rest.starts_with('.')))
    };
    let mut typed: Typed = last
        .iter()
        .filter(|(place, text)| !alone(place) && !text.is_empty() && !place.ends_with(".took"))
        .map(|(place, text)| (place.clone(), text.clone()))
        .collect();
    typed.retain(|place, _| !place.ends_with(".confirmed_as_used"));
    typed.insert("date".to_owned(), today.to_string());
    for placement in 0..typed_count(&typed, "placement") {
        count_lightening(&mut typed, last, placement);
    }
    typed.into_iter().partition(|(place, _)| !is_lightening(place))
}

/// Every zone that was lightened last time was lightened once more before this visit.
fn count_lightening(typed: &mut Typed, last: &Typed, placement: usize) {
    let at = format!("placement.{placement}");
    let steps = typed_count(last, &format!("{at}.lightening"));
    for zone in 0..typed_count(last, &format!("{at}.zone")) {
        let name = last.get(&format!("{at}.zone.{zone}.name")).map_or("", String::as_str);
        let covered = (0..steps).filter(|step| {
            let zones = last.get(&format!("{at}.lightening.{step}.zones")).map_or("", String::as_str);
            zones.trim().is_empty() || zones.split(',').any(|one| one.trim() == name)
        });
        let field = format!("{at}.zone.{zone}.lightened_before");
        let before = last.get(&field).and_then(|text| text.parse::<usize>().ok());
        if let (true, Some(before)) = (covered.count() > 0, before) {
            typed.insert(field, (before + 1).to_string());
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_stays_is_filled_in_and_what_is_of_one_visit_is_not() {
        let pairs = [
            ("client", "wren-04"),
            ("date", "2026-09-15"),
            ("note", "lovely"),
            ("health.alert_test.0.product", "x"),
            ("hair.length_mm", "415"),
            ("hair.regrowth_mm", "22"),
            ("placement.0.zone.0.name", "roots"),
            ("placement.0.zone.0.lightened_before", "1"),
            ("placement.0.zone.1.name", "ends"),
            ("placement.0.zone.1.lightened_before", "2"),
            ("placement.0.lightening.0.zones", "roots"),
            ("placement.0.toning.0.took", "evenly"),
            ("placement.0.toning.0.dye", "direct"),
        ];
        let last: Typed = pairs.map(|(place, text)| (place.to_owned(), text.to_owned())).into();
        let (typed, unsaid) = again(&last, NaiveDate::from_ymd_opt(2026, 11, 25).expect("a day"));
        let told: Vec<String> = typed.iter().map(|(place, text)| format!("{place}={text}")).collect();
        assert_eq!(
            told,
            [
                "client=wren-04",
                "date=2026-11-25",
                "hair.length_mm=415",
                "placement.0.toning.0.dye=direct",
                "placement.0.zone.0.lightened_before=2",
                "placement.0.zone.0.name=roots",
                "placement.0.zone.1.lightened_before=2",
                "placement.0.zone.1.name=ends",
            ]
        );
        let unsaid: Vec<String> = unsaid.iter().map(|(place, text)| format!("{place}={text}")).collect();
        assert_eq!(unsaid, ["placement.0.lightening.0.zones=roots"], "said anew, or not at all");
    }
}
