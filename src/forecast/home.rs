//! What a client lays down at home, beside what the salon did.
//!
//! In: recorded habits, a zone's base and deposit. Out: [`HomeColour`]. Knows nothing of: how often it should be used.

use super::ZoneForecast;
use crate::record::Habits;
use crate::science::dye::band::Loads;
use crate::science::dye::class::DyeClass;
use crate::science::dye::{deposit, shade};
use crate::science::fade::conditioner::{PER_USE, built_up};
use crate::science::fade::dose::{Wear, light, weekly};
use crate::science::fade::kinetics::{Leaving, leaving};
use crate::science::hair::base::{Base, Pigment};
use crate::science::hair::porosity::Porosity;
use crate::units::{PerWeek, Washes};

/// A colour conditioner in steady use on one zone.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct HomeColour {
    /// Uses a week.
    uses: PerWeek,
    /// What one use lays down.
    per_use: Loads,
    /// How it leaves: a direct dye.
    law: Leaving,
    /// Uses for each unit of dose.
    per_dose: f64,
}

impl HomeColour {
    /// The conditioner of these habits; nothing when none is used. Its shade is the one named, else that of the zone.
    pub(super) fn of(habits: &Habits, base: &Base, fresh: &Loads, lightened: bool, porosity: Porosity) -> Option<Self> {
        let used = habits.conditioner.as_ref().filter(|used| used.uses.to_per_week() > 0.0)?;
        let named = used.shade.as_deref().and_then(shade::by_name);
        let loads = named.map_or(*fresh, |shade| deposit::fit(base, shade.colour).loads);
        let law = leaving(DyeClass::Direct, lightened, porosity);
        let per_use = loads.times(PER_USE.value);
        Some(Self { uses: used.uses, per_use, law, per_dose: 0.0 }.under(&super::wear(habits)))
    }

    /// A conditioner in the shade of the zone, so many times a week.
    pub(super) fn of_zone(zone: &ZoneForecast, uses: PerWeek, wear: &Wear) -> Self {
        let lightened = matches!(zone.base.pigment, Pigment::Lightened(_));
        let law = leaving(DyeClass::Direct, lightened, zone.porosity);
        Self { uses, per_use: zone.deposit.loads.times(PER_USE.value), law, per_dose: 0.0 }.under(wear)
    }

    /// The same conditioner used more or less often.
    pub(super) fn used(self, uses: PerWeek, wear: &Wear) -> Self {
        Self { uses, ..self }.under(wear)
    }

    /// The same use under other habits of washing and sun.
    pub(super) fn under(mut self, wear: &Wear) -> Self {
        let dose = weekly(wear).to_washes();
        self.per_dose = if dose > 0.0 { self.uses.to_per_week() / dose } else { 0.0 };
        self.law = self.law.in_light(light(wear));
        self
    }

    /// What it has built up after a dose.
    pub(super) fn loads_after(&self, dose: Washes) -> Loads {
        built_up(&self.law, &self.per_use.times(self.per_dose), dose)
    }
}
