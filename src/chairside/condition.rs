//! How the fibre fared from visit to visit: porosity and stretch of every zone, and which way they went.
//!
//! In: a client's visits, oldest first. Out: words. Knows nothing of: mark-up, files.

use std::collections::BTreeMap;

use chrono::NaiveDate;

use crate::record::{Elasticity, ServiceRecord, ZoneName};
use crate::science::hair::porosity::Porosity;
use crate::units::Worded;

use super::ahead::day;

/// What was found on one day, the poorest hair of the zone counting.
type Found = BTreeMap<NaiveDate, (Option<Porosity>, Option<Elasticity>)>;

/// A line for every zone that was looked at: "ends: porous on Tue 15 Sep 2026, over-porous on … The hair fares worse."
pub(super) fn trend(visits: &[ServiceRecord]) -> Vec<String> {
    let mut zones: BTreeMap<ZoneName, Found> = BTreeMap::new();
    for visit in visits {
        for zone in visit.placements.iter().flat_map(|placement| &placement.zones) {
            if zone.porosity.is_none() && zone.elasticity.is_none() {
                continue;
            }
            let here = zones.entry(zone.name).or_default().entry(visit.date).or_default();
            here.0 = here.0.max(zone.porosity);
            here.1 = match (here.1, zone.elasticity) {
                (Some(one), Some(other)) => Some(one.min(other)),
                (one, other) => one.or(other),
            };
        }
    }
    zones.into_iter().map(|(zone, found)| line(zone, &found)).collect()
}

fn line(zone: ZoneName, found: &Found) -> String {
    // What stayed the same is one stretch of days, not a line for each visit.
    let mut stretches: Vec<(String, NaiveDate, NaiveDate)> = Vec::new();
    for (date, (porosity, stretch)) in found {
        let words = [porosity.map(Porosity::word), stretch.map(Worded::word)];
        let words = words.into_iter().flatten().collect::<Vec<_>>().join(", ");
        match stretches.last_mut() {
            Some((same, _, last)) if *same == words => *last = *date,
            _ => stretches.push((words, *date, *date)),
        }
    }
    let told = stretches.iter().map(|(words, first, last)| {
        let say = |date: &NaiveDate| format!("{} {}", day(*date), date.format("%Y"));
        if first == last {
            format!("{words} on {}", say(first))
        } else {
            format!("{words} from {} to {}", say(first), say(last))
        }
    });
    format!("{}: {}{}", zone.word(), told.collect::<Vec<_>>().join("; "), way(found))
}

/// Which way it went between the first finding and the last, each kind by itself.
fn way(found: &Found) -> &'static str {
    let porosities: Vec<Porosity> = found.values().filter_map(|found| found.0).collect();
    let stretches: Vec<Elasticity> = found.values().filter_map(|found| found.1).collect();
    let porosity = porosities.first().zip(porosities.last()).map(|(first, last)| last.cmp(first));
    let stretch = stretches.first().zip(stretches.last()).map(|(first, last)| first.cmp(last));
    if porosities.len() < 2 && stretches.len() < 2 {
        return ". Looked at once.";
    }
    let worse = [porosity, stretch].into_iter().flatten().any(std::cmp::Ordering::is_gt);
    let better = [porosity, stretch].into_iter().flatten().any(std::cmp::Ordering::is_lt);
    match (worse, better) {
        (true, true) => ". One is better, the other worse.",
        (true, false) => ". Worse than at first.",
        (false, true) => ". Better than at first.",
        (false, false) => ". As at first.",
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn found(all: &[(u32, Option<Porosity>, Option<Elasticity>)]) -> Found {
        let day = |day| NaiveDate::from_ymd_opt(2026, 9, day).expect("a day");
        all.iter().map(|(number, porosity, stretch)| (day(*number), (*porosity, *stretch))).collect()
    }

    #[test]
    fn hair_that_grew_rougher_or_weaker_fares_worse() {
        let (porous, over) = (Some(Porosity::Porous), Some(Porosity::OverPorous));
        let (full, part) = (Some(Elasticity::FullReturn), Some(Elasticity::PartReturn));
        assert_eq!(way(&found(&[(1, porous, None), (2, over, None)])), ". Worse than at first.");
        assert_eq!(way(&found(&[(1, porous, full), (2, porous, part)])), ". Worse than at first.");
        assert_eq!(way(&found(&[(1, over, part), (2, porous, full)])), ". Better than at first.");
        assert_eq!(way(&found(&[(1, over, full), (2, porous, part)])), ". One is better, the other worse.");
        assert_eq!(way(&found(&[(1, porous, None), (2, porous, full)])), ". As at first.");
        assert_eq!(way(&found(&[(1, porous, full)])), ". Looked at once.");
        let told = line(ZoneName::Ends, &found(&[(15, porous, part)]));
        assert_eq!(told, "ends: porous, part return on Tue 15 Sep 2026. Looked at once.");
        let told = line(ZoneName::Ends, &found(&[(1, porous, full), (8, porous, full), (15, over, full)]));
        let want = "ends: porous, full return from Tue 1 Sep 2026 to Tue 8 Sep 2026; over-porous, full return on Tue 15 Sep 2026. Worse than at first.";
        assert_eq!(told, want);
    }
}
