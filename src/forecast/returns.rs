//! What was seen on return, as evidence of the client's rate.
//!
//! In: the visits in time, the laws. Out: [`Return`]s by dye class, what each class's client rate is believed to be, and returns too odd to be believed whole.

use std::collections::BTreeMap;

use super::Clock;
use super::habits::{start, wear};
use super::whole::first_wash;
use super::zone::{self, ZoneForecast};
use crate::record::{Seen, SeenZone, ServiceRecord, Shareable};
use crate::salon::{Salon, SalonEstimate};
use crate::science::dye::class::DyeClass;
use crate::science::fade::dose::{Wear, weekly};
use crate::science::fade::learning::{Belief, CONDITIONER, COUNT, Evidence, Observation, WILD};
use crate::science::fade::pooling::{self, ClassEstimate};
use crate::science::fade::rate::RateDistribution;
use crate::science::fade::uncertainty::{HABITS, RateSpread, VISIT_SCATTER, class_spread};
use crate::units::{Days, PerWeek, Washes};

/// One return: how a colour of one dye class looked when the client came back.
#[derive(Debug, Clone, PartialEq)]
pub struct Return {
    /// The dye class.
    pub class: DyeClass,
    /// The visit whose colour was judged, an index into the history.
    pub about: usize,
    /// The visit at which it was judged.
    pub seen_at: usize,
    evidence: Evidence,
}

/// A return that fits badly with everything else known of this client: told to the stylist, damped in the forecast.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Wild {
    /// The dye class.
    pub class: DyeClass,
    /// The visit at which it was seen, an index into the history.
    pub seen_at: usize,
    /// How likely something at least as far out was, given all else.
    pub probability: f64,
}

/// Every return of a client, oldest first.
///
/// What is seen at a visit is about the last visit before it that placed something.
#[must_use]
pub fn returns(history: &Shareable, salon: &Salon) -> Vec<Return> {
    let visits = history.visits();
    let mut found = Vec::new();
    for (seen_at, visit) in visits.iter().enumerate() {
        let about = visits[..seen_at].iter().rposition(|earlier| !earlier.placements.is_empty());
        if let (Some(seen), Some(about)) = (&visit.seen, about) {
            let days = (visit.date - visits[about].date).num_days() as f64;
            if let Some(days) = Days::try_new(days) {
                found.extend(
                    of_visit(&visits[..=about], salon, seen, days).into_iter().map(|(class, evidence)| Return {
                        class,
                        about,
                        seen_at,
                        evidence,
                    }),
                );
            }
        }
    }
    found
}

/// The evidence of one return, by dye class.
fn of_visit(visits: &[ServiceRecord], salon: &Salon, seen: &Seen, days: Days) -> Vec<(DyeClass, Evidence)> {
    let Some(visit) = visits.last() else { return Vec::new() };
    let mut judged: BTreeMap<DyeClass, Vec<(ZoneForecast, &SeenZone)>> = BTreeMap::new();
    for one in &seen.zones {
        if let Some(law) = law_of(visits, salon, one) {
            judged.entry(law.class).or_default().push((law, one));
        }
    }
    judged
        .into_iter()
        .filter_map(|(class, zones)| {
            let dose = dose_since(visit, salon, &zones[0].0, seen, days);
            let observed: Vec<Observation> = zones
                .iter()
                .filter(|(law, _)| law.share_after(dose).is_some())
                .map(|(law, one)| Observation::new(|rate| share(law, dose, rate), one.left))
                .collect();
            Some((class, Evidence::of_visit(&observed, scatter(&zones[0].0, seen))?))
        })
        .collect()
}

/// The law of the zone that was judged, as it was after its visit.
fn law_of(visits: &[ServiceRecord], salon: &Salon, seen: &SeenZone) -> Option<ZoneForecast> {
    let index = usize::from(seen.placement).checked_sub(1)?;
    let placement = visits.last()?.placements.get(index)?;
    let zone = placement.zones.iter().find(|zone| zone.name == seen.zone)?;
    zone::of_record(visits, salon, index, placement, zone)
}

fn share(law: &ZoneForecast, dose: Washes, rate: f64) -> f64 {
    let dose = Washes::from_washes((dose.to_washes() * rate).min(Washes::HIGH));
    law.share_after(dose).map_or(1.0, |share| share.to_fraction())
}

/// The dose since a visit: counted washes and rinses where they were told, else the habits of that visit.
fn dose_since(visit: &ServiceRecord, salon: &Salon, law: &ZoneForecast, seen: &Seen, days: Days) -> Washes {
    let habits = wear(&visit.habits);
    let Some(washes) = seen.washes else {
        return Clock::new(first_wash(salon, law.shade), &habits).dose_on(days);
    };
    let weeks = (days.to_days() / 7.0).max(1.0 / 7.0);
    let counted = |count: u16| PerWeek::from_per_week((f64::from(count) / weeks).min(PerWeek::HIGH));
    let counted = Wear { washes: counted(washes), rinses: seen.rinses.map_or(habits.rinses, counted), ..habits };
    Washes::from_washes((weekly(&counted).to_washes() * weeks).min(Washes::HIGH))
}

/// The scatter of one return about the client's own rate.
fn scatter(law: &ZoneForecast, seen: &Seen) -> f64 {
    let told = if seen.washes.is_some() { COUNT.value } else { HABITS.value };
    let conditioner = if seen.conditioner_uses.is_some_and(|uses| uses > 0) { CONDITIONER.value } else { 0.0 };
    VISIT_SCATTER.value.hypot(start(law.found).spread()).hypot(told).hypot(conditioner)
}

/// The prior of a client's own rate: the published one, or what the salon's stored estimate makes of it.
fn prior(class: DyeClass, spread: RateSpread, estimate: &SalonEstimate) -> (f64, f64) {
    estimate.of(class).map_or((0.0, spread.level), |known| (known.shift, known.sd))
}

/// Gives every zone its rate: prior, moved by the returns of its dye class.
pub(super) fn learn(zones: &mut [ZoneForecast], returns: &[Return], estimate: &SalonEstimate) {
    let mut beliefs: BTreeMap<DyeClass, Belief> = BTreeMap::new();
    for zone in zones {
        let (centre, level) = prior(zone.class, zone.spread, estimate);
        zone.prior = RateDistribution::log_normal(centre, level.hypot(zone.spread.visit));
        zone.returns = of_class(returns, zone.class).count();
        zone.rate = if zone.returns == 0 {
            zone.prior
        } else {
            let belief = beliefs.entry(zone.class).or_insert_with(|| {
                of_class(returns, zone.class).fold(Belief::prior(centre, level), |b, one| b.after(&one.evidence))
            });
            belief.next_visit(zone.spread.visit)
        };
    }
}

fn of_class(returns: &[Return], class: DyeClass) -> impl Iterator<Item = &Return> {
    returns.iter().filter(move |one| one.class == class)
}

/// Returns that fit badly with the prior and all other returns of their class.
pub(super) fn wild(returns: &[Return], estimate: &SalonEstimate) -> Vec<Wild> {
    let probability = |index: usize, one: &Return| {
        let spread = RateSpread { level: class_spread(one.class).level(), visit: 0.0 };
        let (centre, level) = prior(one.class, spread, estimate);
        let others = returns.iter().enumerate().filter(|(at, other)| *at != index && other.class == one.class);
        let without = others.fold(Belief::prior(centre, level), |belief, (_, other)| belief.after(&other.evidence));
        one.evidence.surprise(&without)
    };
    returns
        .iter()
        .enumerate()
        .map(|(index, one)| Wild { class: one.class, seen_at: one.seen_at, probability: probability(index, one) })
        .filter(|wild| wild.probability < WILD.value)
        .collect()
}

/// The salon's own estimate from every return on record, begun afresh from the published priors.
#[must_use]
pub fn salon_estimate(histories: &[Shareable], salon: &Salon) -> SalonEstimate {
    let all: Vec<Vec<Return>> = histories.iter().map(|history| returns(history, salon)).collect();
    let mut classes: BTreeMap<DyeClass, ClassEstimate> = BTreeMap::new();
    let seen: std::collections::BTreeSet<DyeClass> = all.iter().flatten().map(|one| one.class).collect();
    for class in seen {
        let clients: Vec<Vec<&Evidence>> = all
            .iter()
            .map(|client| of_class(client, class).map(|one| &one.evidence).collect::<Vec<_>>())
            .filter(|visits| !visits.is_empty())
            .collect();
        classes.extend(pooling::estimate(class_spread(class), &clients).map(|known| (class, known)));
    }
    SalonEstimate { classes }
}
