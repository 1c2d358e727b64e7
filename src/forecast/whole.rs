//! The whole head: every zone forecast, and what they come to together.

use super::curve::Curve;
use super::milestone::Dose;
use super::{Clock, Forecast, HomeColour, Milestone, ZoneForecast, base, evenness, milestone, returns, wear, zone};
use crate::record::Shareable;
use crate::salon::{Salon, ShadeKind};
use crate::science::fade::dose::{Wear, light, weekly};
use crate::science::fade::rate::RateDistribution;
use crate::units::{Days, Fraction, PerWeek, Washes};

/// Forecasts the latest visit of a history at the habits it records.
#[must_use]
pub fn forecast(history: &Shareable, salon: &Salon) -> Forecast {
    let visits = base::worked(history);
    let visit = history.latest();
    let mut zones: Vec<ZoneForecast> = Vec::new();
    for (index, placement) in visit.placements.iter().enumerate() {
        for zone in &placement.zones {
            zones.extend(zone::of_record(visits, salon, index, placement, zone));
        }
    }
    let told = returns::told(history, salon);
    returns::learn(&mut zones, &told, &salon.estimate);
    let wild = returns::wild(&told, &salon.estimate);
    let returned = told.into_iter().map(|told| told.shown).collect();
    let habits = wear(&visit.habits);
    let first_wash = leading(&zones).map_or(Days::from_days(0.0), |zone| first_wash(salon, zones[zone].shade));
    Forecast { wild, returned, ..settle(zones, habits, Clock::new(first_wash, &habits)) }
}

/// The day of the first wash the salon advises for a kind of shade.
pub(super) fn first_wash(salon: &Salon, shade: ShadeKind) -> Days {
    Days::from_days((salon.practice.first_wash_hours.of(shade) / 24.0).ceil())
}

impl Forecast {
    /// The same colour under other habits.
    #[must_use]
    pub fn under(&self, habits: Wear) -> Self {
        let clock = Clock::new(self.clock.first_wash(), &habits);
        let mut next = Self { habits, clock, ..self.clone() };
        let light = light(&habits);
        if next.zones.iter().any(|zone| zone.leaving.light != light || zone.home.is_some()) {
            // Sun and home colour go by the week and not by the wash, so a dose no longer holds as much of them.
            for zone in &mut next.zones {
                zone.leaving = zone.leaving.in_light(light);
                zone.home = zone.home.map(|home| home.under(&habits));
            }
            return Self { wild: next.wild, returned: next.returned, ..settle(next.zones, habits, clock) };
        }
        // Otherwise what happens at a dose happens at that dose; only its day moves.
        for zone in &mut next.zones {
            zone.turns = zone.turns.map(|turns| Milestone::at(turns.dose, &zone.rate, &clock));
            zone.nearly_back = zone.nearly_back.map(|back| Milestone::at(back.dose, &zone.rate, &clock));
        }
        for edge in &mut next.edges {
            let rate = &next.zones[edge.nearer].rate;
            edge.noticeable = edge.noticeable.map(|seen| Milestone::at(seen.dose, rate, &clock));
        }
        if let Some(rate) = next.rate() {
            next.turns = next.turns.map(|turns| Milestone::at(turns.dose, &rate, &clock));
            next.nearly_back = next.nearly_back.map(|back| Milestone::at(back.dose, &rate, &clock));
        }
        next.evenness = evenness::first(&next.edges);
        next
    }

    /// The same colour with another number of washes a week.
    #[must_use]
    pub fn with_washes(&self, washes: PerWeek) -> Self {
        self.under(Wear { washes, ..self.habits })
    }

    /// The same colour with a colour conditioner at home so many times a week; with none at 0.
    ///
    /// Where the client uses one already it is the same conditioner, else one in the shade of each zone.
    #[must_use]
    pub fn with_conditioner(&self, uses: PerWeek) -> Self {
        let (wild, returned) = (self.wild.clone(), self.returned.clone());
        Self { wild, returned, ..settle(self.zones_with(uses), self.habits, self.clock) }
    }

    /// The dates of the whole head with another number of washes a week, with so many uses of a colour conditioner.
    ///
    /// As [`with_conditioner`](Self::with_conditioner) and then [`with_washes`](Self::with_washes), but nothing is told of
    /// single zones, of edges and of returns.
    #[must_use]
    pub fn glance(&self, washes: PerWeek, uses: PerWeek) -> Self {
        let habits = Wear { washes, ..self.habits };
        let (clock, light) = (self.clock_at(washes), light(&habits));
        let mut zones = self.zones_with(uses);
        for zone in &mut zones {
            zone.leaving = zone.leaving.in_light(light);
            zone.home = zone.home.map(|home| home.under(&habits));
        }
        let same = zones.iter().zip(&self.zones).all(|(new, old)| new.leaving == old.leaving && new.home == old.home);
        if !same {
            return glance(zones, habits, clock);
        }
        // What happens at a dose happens at that dose; only its day moves.
        let rate = self.rate();
        let moved = |known: Option<Milestone>| Some(Milestone::at(known?.dose, &rate?, &clock));
        let (nearly_back, turns) = (moved(self.nearly_back), moved(self.turns));
        let (edges, wild, returned) = (Vec::new(), Vec::new(), Vec::new());
        Self { habits, clock, nearly_back, turns, evenness: None, edges, wild, returned, zones }
    }

    /// The days as they would be with another number of washes a week.
    #[must_use]
    pub fn clock_at(&self, washes: PerWeek) -> Clock {
        Clock::new(self.clock.first_wash(), &Wear { washes, ..self.habits })
    }

    /// The zones with a colour conditioner so many times a week.
    fn zones_with(&self, uses: PerWeek) -> Vec<ZoneForecast> {
        let mut zones = self.zones.clone();
        for zone in &mut zones {
            zone.home = (uses.to_per_week() > 0.0).then(|| match zone.home {
                Some(home) => home.used(uses, &self.habits),
                None => HomeColour::of_zone(zone, uses, &self.habits),
            });
        }
        zones
    }

    /// What the habits amount to in a week.
    #[must_use]
    pub fn weekly(&self) -> Washes {
        weekly(&self.habits)
    }

    /// The share of colour that sun takes in a week, beside what the washes do.
    #[must_use]
    pub fn sun_a_week(&self) -> f64 {
        1.0 - (-light(&self.habits) * self.weekly().to_washes()).exp()
    }

    /// The zone that covers most hair, an index into `zones`.
    #[must_use]
    pub fn leading_zone(&self) -> Option<usize> {
        leading(&self.zones)
    }

    /// Whether its zones are of several placements, so that the name of a zone alone does not say which it is.
    #[must_use]
    pub fn has_several_placements(&self) -> bool {
        self.zones.iter().any(|zone| zone.placement != self.zones[0].placement)
    }

    /// The share the eye still has after a dose: the median over zones, each counted by its hair.
    ///
    /// Nothing when no zone has a share.
    #[must_use]
    pub fn share_after(&self, dose: Washes) -> Option<Fraction> {
        median(self.zones.iter().filter_map(|zone| Some((zone.share_after(dose)?, zone.hair()))))
    }

    /// How sure the rate is, over the whole head: the leading zone's.
    #[must_use]
    pub fn rate(&self) -> Option<RateDistribution> {
        self.leading_zone().map(|index| self.zones[index].rate)
    }

    /// How many returns the dates of the leading zone stand on.
    #[must_use]
    pub fn returns(&self) -> usize {
        self.leading_zone().map_or(0, |index| self.zones[index].returns)
    }
}

/// Puts every milestone on the days of one clock.
fn settle(mut zones: Vec<ZoneForecast>, habits: Wear, clock: Clock) -> Forecast {
    let curves: Vec<Curve<'_>> = zones.iter().map(Curve::of).collect();
    let found: Vec<[Option<Milestone>; 2]> =
        curves.iter().map(|curve| [milestone::turns(curve, &clock), milestone::nearly_back(curve, &clock)]).collect();
    let lead = leading(&zones);
    let nearly_back = match (lead, &found[..]) {
        // One zone alone is the whole head.
        (Some(_), [[_, back]]) => *back,
        _ => whole_back(&curves, lead, &clock),
    };
    let turns = lead.and_then(|lead| found[lead][0]);
    let edges = evenness::edges(&curves, &clock);
    let evenness = evenness::first(&edges);
    for (zone, [turns, back]) in zones.iter_mut().zip(found) {
        (zone.turns, zone.nearly_back) = (turns, back);
    }
    Forecast { habits, clock, nearly_back, turns, evenness, edges, wild: Vec::new(), returned: Vec::new(), zones }
}

/// The dates of the whole head alone: those of single zones and of edges are left open.
fn glance(mut zones: Vec<ZoneForecast>, habits: Wear, clock: Clock) -> Forecast {
    zones.iter_mut().for_each(|zone| (zone.turns, zone.nearly_back) = (None, None));
    let curves: Vec<Curve<'_>> = zones.iter().map(Curve::of).collect();
    let lead = leading(&zones);
    let nearly_back = whole_back(&curves, lead, &clock);
    let turns = lead.and_then(|lead| milestone::turns(&curves[lead], &clock));
    let (edges, wild, returned) = (Vec::new(), Vec::new(), Vec::new());
    Forecast { habits, clock, nearly_back, turns, evenness: None, edges, wild, returned, zones }
}

/// When the share of the whole head crosses the refresh share of its leading zone.
fn whole_back(curves: &[Curve<'_>], lead: Option<usize>, clock: &Clock) -> Option<Milestone> {
    let lead = curves[lead?].zone;
    let share = |dose: Dose| median(curves.iter().filter_map(|curve| Some((curve.share(dose)?, curve.zone.hair()))));
    let whole: f64 = curves.iter().filter(|curve| curve.has_share()).map(|curve| curve.zone.hair()).sum();
    let most = curves.iter().find(|curve| curve.has_share() && curve.zone.hair() > MORE_THAN_HALF * whole);
    let threshold = lead.refresh_share;
    let crossed = match most {
        // A zone of more than half the hair is the median by itself, whatever the others do.
        Some(most) => milestone::crossing(|dose| most.share(dose), threshold),
        None => milestone::crossing(share, threshold),
    };
    crossed.map(|dose| Milestone::at(dose, &lead.rate, clock))
}

/// More than half, by enough that no rounding of a sum can make it less.
const MORE_THAN_HALF: f64 = 0.5 + 1e-9;

fn leading(zones: &[ZoneForecast]) -> Option<usize> {
    // The first of equals leads, so that the order of the record decides.
    (0..zones.len()).reduce(|best, next| if zones[next].hair() > zones[best].hair() { next } else { best })
}

/// The median of shares, each counted by its hair.
fn median(shares: impl Iterator<Item = (Fraction, f64)>) -> Option<Fraction> {
    let mut shares: Vec<(Fraction, f64)> = shares.collect();
    shares.sort_by(|one, other| one.0.to_fraction().total_cmp(&other.0.to_fraction()));
    let half = shares.iter().map(|(_, hair)| hair).sum::<f64>() / 2.0;
    let mut covered = 0.0;
    for (share, hair) in shares {
        covered += hair;
        if covered >= half {
            return Some(share);
        }
    }
    None
}
