//! The whole head: every zone forecast, and what they come to together.

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
        let mut zones = self.zones.clone();
        for zone in &mut zones {
            zone.home = (uses.to_per_week() > 0.0).then(|| match zone.home {
                Some(home) => home.used(uses, &self.habits),
                None => HomeColour::of_zone(zone, uses, &self.habits),
            });
        }
        let (wild, returned) = (self.wild.clone(), self.returned.clone());
        Self { wild, returned, ..settle(zones, self.habits, self.clock) }
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

    /// The share the eye still has after a dose: the median over zones, each counted by its hair.
    ///
    /// Nothing when no zone has a share.
    #[must_use]
    pub fn share_after(&self, dose: Washes) -> Option<Fraction> {
        median_share(&self.zones, dose)
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
    for zone in &mut zones {
        zone.turns = milestone::turns(zone, &clock);
        zone.nearly_back = milestone::nearly_back(zone, &clock);
    }
    let lead = leading(&zones).map(|index| &zones[index]);
    let nearly_back = lead.and_then(|lead| {
        milestone::crossing(|dose| median_share(&zones, dose), lead.refresh_share)
            .map(|dose| Milestone::at(dose, &lead.rate, &clock))
    });
    let turns = lead.and_then(|lead| lead.turns);
    let edges = evenness::edges(&zones, &clock);
    let evenness = evenness::first(&edges);
    Forecast { habits, clock, nearly_back, turns, evenness, edges, wild: Vec::new(), returned: Vec::new(), zones }
}

fn leading(zones: &[ZoneForecast]) -> Option<usize> {
    // The first of equals leads, so that the order of the record decides.
    (0..zones.len()).reduce(|best, next| if zones[next].hair() > zones[best].hair() { next } else { best })
}

fn median_share(zones: &[ZoneForecast], dose: Washes) -> Option<Fraction> {
    let mut shares: Vec<(f64, f64)> =
        zones.iter().filter_map(|zone| Some((zone.share_after(dose)?.to_fraction(), zone.hair()))).collect();
    shares.sort_by(|one, other| one.0.total_cmp(&other.0));
    let half = shares.iter().map(|(_, hair)| hair).sum::<f64>() / 2.0;
    let mut covered = 0.0;
    for (share, hair) in shares {
        covered += hair;
        if covered >= half {
            return Some(Fraction::from_fraction(share));
        }
    }
    None
}
