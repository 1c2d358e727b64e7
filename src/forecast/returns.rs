//! What was seen on return, as evidence of the client's rate.
//!
//! In: the visits in time, the laws. Out: [`Return`]s by dye class, what each class's client rate is believed to be, and returns too odd to be believed whole.

use std::collections::BTreeMap;

use super::Clock;
use super::curve::Curve;
use super::habits::{start, wear};
use super::whole::first_wash;
use super::zone::{self, ZoneForecast};
use crate::record::{Seen, SeenZone, ServiceRecord, Shareable, ZoneName};
use crate::salon::{Salon, SalonEstimate};
use crate::science::dye::class::DyeClass;
use crate::science::fade::dose::{Wear, weekly};
use crate::science::fade::learning::{Belief, CONDITIONER, COUNT, Evidence, Observation, WILD};
use crate::science::fade::pooling::{self, ClassEstimate};
use crate::science::fade::rate::RateDistribution;
use crate::science::fade::uncertainty::{HABITS, RateSpread, VISIT_SCATTER, class_spread};
use crate::units::{Days, Fraction, Interval, PerWeek, Washes};

/// One return: how a colour of one dye class looked when the client came back.
#[derive(Debug, Clone, PartialEq)]
pub struct Return {
    /// The dye class.
    pub class: DyeClass,
    /// The visit whose colour was judged, an index into the history.
    pub about: usize,
    /// The visit at which it was judged.
    pub seen_at: usize,
    /// The dose since, as counted or as the habits have it.
    pub dose: Washes,
    /// What was judged, zone by zone.
    pub zones: Vec<Judged>,
}

/// One zone as it was judged on return.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Judged {
    /// The zone.
    pub zone: ZoneName,
    /// The share seen.
    pub seen: Interval<Fraction>,
    /// The share the usual rate of the class leaves.
    pub usual: Fraction,
}

/// A return with what it says about the client's rate.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Told {
    pub(super) shown: Return,
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
    told(history, salon).into_iter().map(|told| told.shown).collect()
}

pub(super) fn told(history: &Shareable, salon: &Salon) -> Vec<Told> {
    let visits = history.visits();
    let mut found = Vec::new();
    for (seen_at, visit) in visits.iter().enumerate() {
        let about = visits[..seen_at].iter().rposition(|earlier| !earlier.placements.is_empty());
        if let (Some(seen), Some(about)) = (&visit.seen, about) {
            // A count of days, far below 2^52.
            if let Some(days) = Days::try_new((visit.date - visits[about].date).num_days() as f64) {
                found.extend(of_visit(&visits[..=about], salon, seen, days, seen_at));
            }
        }
    }
    found
}

/// One return as it was told, by dye class.
fn of_visit(visits: &[ServiceRecord], salon: &Salon, seen: &Seen, days: Days, seen_at: usize) -> Vec<Told> {
    let Some((visit, before)) = visits.split_last() else { return Vec::new() };
    let mut judged: BTreeMap<DyeClass, Vec<(ZoneForecast, &SeenZone)>> = BTreeMap::new();
    for one in &seen.zones {
        if let Some(law) = law_of(visits, salon, one) {
            judged.entry(law.class).or_default().push((law, one));
        }
    }
    let about = before.len();
    let of_class = |(class, zones): (DyeClass, Vec<(ZoneForecast, &SeenZone)>)| {
        let dose = dose_since(visit, salon, &zones[0].0, seen, days);
        let curves = zones.iter().map(|(law, one)| (Curve::of(law), *one));
        let shared: Vec<(Curve<'_>, &SeenZone)> = curves.filter(|(law, _)| law.has_share()).collect();
        let observed: Vec<Observation> =
            shared.iter().map(|(law, one)| Observation::new(|rate| share(law, dose, rate), one.left)).collect();
        let evidence = Evidence::of_visit(&observed, scatter(&zones[0].0, seen))?;
        let usual = |law: &Curve<'_>| Fraction::from_fraction(share(law, dose, 1.0));
        let judged = |(law, one): &(Curve<'_>, &SeenZone)| Judged { zone: one.zone, seen: one.left, usual: usual(law) };
        let zones = shared.iter().map(judged).collect();
        Some(Told { shown: Return { class, about, seen_at, dose, zones }, evidence })
    };
    judged.into_iter().filter_map(of_class).collect()
}

/// The law of the zone that was judged, as it was after its visit.
fn law_of(visits: &[ServiceRecord], salon: &Salon, seen: &SeenZone) -> Option<ZoneForecast> {
    let index = usize::from(seen.placement).checked_sub(1)?;
    let placement = visits.last()?.placements.get(index)?;
    let zone = placement.zones.iter().find(|zone| zone.name == seen.zone)?;
    zone::of_record(visits, salon, index, placement, zone)
}

fn share(law: &Curve<'_>, dose: Washes, rate: f64) -> f64 {
    let dose = Washes::from_washes((dose.to_washes() * rate).min(Washes::HIGH));
    law.share_of(law.colour_after(dose)).map_or(1.0, Fraction::to_fraction)
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
pub(super) fn learn(zones: &mut [ZoneForecast], returns: &[Told], estimate: &SalonEstimate) {
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

fn of_class(returns: &[Told], class: DyeClass) -> impl Iterator<Item = &Told> {
    returns.iter().filter(move |one| one.shown.class == class)
}

/// Returns that fit badly with the prior and all other returns of their class.
pub(super) fn wild(returns: &[Told], estimate: &SalonEstimate) -> Vec<Wild> {
    let probability = |index: usize, one: &Told| {
        let class = one.shown.class;
        let spread = RateSpread { level: class_spread(class).level(), visit: 0.0 };
        let (centre, level) = prior(class, spread, estimate);
        let others = returns.iter().enumerate().filter(|(at, other)| *at != index && other.shown.class == class);
        let without = others.fold(Belief::prior(centre, level), |belief, (_, other)| belief.after(&other.evidence));
        one.evidence.surprise(&without)
    };
    returns
        .iter()
        .enumerate()
        .map(|(index, one)| Wild {
            class: one.shown.class,
            seen_at: one.shown.seen_at,
            probability: probability(index, one),
        })
        .filter(|wild| wild.probability < WILD.value)
        .collect()
}

/// The salon's own estimate from every return on record, begun afresh from the published priors.
#[must_use]
pub fn salon_estimate(histories: &[Shareable], salon: &Salon) -> SalonEstimate {
    let all: Vec<Vec<Told>> = histories.iter().map(|history| told(history, salon)).collect();
    let mut classes: BTreeMap<DyeClass, ClassEstimate> = BTreeMap::new();
    let seen: std::collections::BTreeSet<DyeClass> = all.iter().flatten().map(|one| one.shown.class).collect();
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
