//! The laws of hair, dye and fading, held against published numbers and against what every colourist has seen.

mod cadence;
mod deposit;
mod known_behaviours;
mod measured;
mod properties;
mod published_numbers;
mod top_up;

use afterhue::science::colour::cielab::Lab;
use afterhue::science::colour::delta_e::ciede2000;
use afterhue::science::dye::band::{Loads, absorption};
use afterhue::science::dye::class::DyeClass;
use afterhue::science::dye::{deposit as law, shade};
use afterhue::science::fade::kinetics::{Leaving, leaving};
use afterhue::science::hair::base::Base;
use afterhue::science::hair::depth::NaturalDepth;
use afterhue::science::hair::porosity::Porosity;
use afterhue::science::hair::stage::LightenedStage;
use afterhue::units::Washes;

/// Hair lightened to a stage, without tone.
fn lightened(stage: f64) -> Base {
    Base::lightened(LightenedStage::try_new(stage).expect("a stage on the scale"))
}

/// Untouched hair.
fn natural(depth: f64) -> Base {
    Base::natural(NaturalDepth::try_new(depth).expect("a depth on the scale"))
}

/// The colour of a named shade.
fn named(name: &str) -> Lab {
    shade::by_name(name).unwrap_or_else(|| panic!("{name} is in the table of shades")).colour
}

/// A dose.
fn washes(dose: f64) -> Washes {
    Washes::from_washes(dose)
}

/// One zone that fades: base, loads and the constants of leaving.
struct Fading {
    base: Base,
    fresh: Loads,
    leaving: Leaving,
}

impl Fading {
    /// A shade on porous lightened hair.
    fn on_lightened(name: &str, stage: f64, class: DyeClass) -> Self {
        let base = lightened(stage);
        let fresh = law::fit(&base, named(name)).loads;
        Self { base, fresh, leaving: leaving(class, true, Porosity::Porous) }
    }

    /// The colour after a dose.
    fn after(&self, dose: f64) -> Lab {
        self.base.colour_under(&absorption(&self.leaving.loads_after(&self.fresh, washes(dose))))
    }

    /// How much of the colour the eye still has.
    fn seen_share(&self, dose: f64) -> f64 {
        let bare = self.base.bare();
        ciede2000(self.after(dose), bare) / ciede2000(self.after(0.0), bare)
    }
}
