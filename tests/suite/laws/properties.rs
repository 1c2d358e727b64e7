//! What must hold for every hair, dye and habit.

use proptest::prelude::*;

use afterhue::science::colour::delta_e::ciede2000;
use afterhue::science::dye::band::{BANDS, Loads, absorption};
use afterhue::science::dye::class::DyeClass;
use afterhue::science::fade::dose::{Wear, light, weekly};
use afterhue::science::fade::kinetics::{Leaving, leaving};
use afterhue::science::hair::base::Base;
use afterhue::science::hair::porosity::Porosity;
use afterhue::units::{Fraction, PerWeek, Worded};

use super::{lightened, natural, washes};

fn bases() -> impl Strategy<Value = Base> {
    (any::<bool>(), 1.0..=10.0, 0.0..=1.0).prop_map(|(is_lightened, number, white)| Base {
        white: Fraction::from_fraction(white),
        ..if is_lightened { lightened(number) } else { natural(number) }
    })
}

fn loads() -> impl Strategy<Value = Loads> {
    prop::array::uniform5(prop_oneof![Just(0.0), 0.0..0.5, 0.0..20.0]).prop_map(Loads)
}

fn words<T: Worded + std::fmt::Debug>() -> impl Strategy<Value = T> {
    prop::sample::select(T::WORDS.iter().map(|(value, ..)| *value).collect::<Vec<_>>())
}

proptest! {
    #[test]
    fn no_dye_is_no_change(base in bases()) {
        let undyed = base.colour_under(&absorption(&Loads::default()));
        prop_assert!(ciede2000(undyed, base.bare()) < 1e-9);
    }

    #[test]
    fn reflectance_stays_between_none_and_all(base in bases(), dye in loads()) {
        let reflectance = base.reflectance_under(&absorption(&dye));
        prop_assert!(reflectance.0.iter().all(|r| (0.0..=1.0).contains(r)));
    }

    #[test]
    fn more_dye_reflects_no_more_at_any_wavelength(base in bases(), dye in loads(), more in 1.0..4.0) {
        let (less, more) = (base.reflectance_under(&absorption(&dye)), base.reflectance_under(&absorption(&dye.times(more))));
        prop_assert!(less.0.iter().zip(&more.0).all(|(less, more)| *more <= less + 1e-15));
    }

    #[test]
    fn no_wash_is_no_loss(class in words::<DyeClass>(), is_lightened: bool, porosity in words::<Porosity>(), dye in loads()) {
        let after = leaving(class, is_lightened, porosity).loads_after(&dye, washes(0.0));
        for (after, before) in after.0.iter().zip(dye.0) {
            prop_assert!((after - before).abs() <= 1e-12 * before);
        }
    }

    #[test]
    fn more_dose_never_leaves_more(
        class in words::<DyeClass>(), is_lightened: bool, porosity in words::<Porosity>(), dye in loads(),
        dose in 0.0..60.0, more in 0.0..60.0,
    ) {
        let law = leaving(class, is_lightened, porosity);
        let (first, second) = (law.loads_after(&dye, washes(dose)), law.loads_after(&dye, washes(dose + more)));
        prop_assert!(first.0.iter().zip(second.0).all(|(first, second)| second <= *first && second >= 0.0));
    }

    #[test]
    fn a_single_pool_composes(kappa in 0.001..2.0, one in 0.0..20.0, other in 0.0..20.0) {
        // First order: what is left after both doses is what the second leaves of what the first left.
        let law = Leaving { loose: [0.0; BANDS], tau: 1.0, kappa: [kappa; BANDS], light: 0.0 };
        let left = |dose| law.remaining(0, washes(dose)).to_fraction();
        prop_assert!((left(one + other) - left(one) * left(other)).abs() < 1e-12);
    }

    #[test]
    fn every_class_leaves_slower_than_the_one_before(
        is_lightened: bool, porosity in words::<Porosity>(), dose in 0.01..60.0, band in 0..BANDS,
    ) {
        // Order: Evans & Wickett 2012, table 1. `DyeClass::WORDS` runs temporary, direct, demi-permanent, permanent.
        let left = |class| leaving(class, is_lightened, porosity).remaining(band, washes(dose)).to_fraction();
        for pair in DyeClass::WORDS.windows(2) {
            prop_assert!(left(pair[0].0) < left(pair[1].0));
        }
    }

    #[test]
    fn bleached_hair_loses_faster_than_brown(class in words::<DyeClass>(), porosity in words::<Porosity>(), dose in 0.01..60.0, band in 0..BANDS) {
        // Order: Locke & Jachowicz 2005, abstract: dyed white and bleached hair changes far more than dyed brown hair.
        let left = |is_lightened| leaving(class, is_lightened, porosity).remaining(band, washes(dose)).to_fraction();
        // A temporary colour lies on the hair either way and is gone in two washes: no source orders it by damage.
        prop_assume!(class != DyeClass::Temporary);
        // Below a millionth both are empty and rounding decides.
        prop_assert!(left(true) < left(false) || left(false) < 1e-6);
    }

    #[test]
    fn washing_and_light_together_wear_more_than_either_alone(
        class in words::<DyeClass>(), band in 0..BANDS, times in 0.1..10.0, hours in 0.1..40.0,
    ) {
        // Direction: Locke & Jachowicz 2005, p. 416: about 10 with light and washing against 3.6 with washing alone.
        // A week; light alone is told with a rinse so small that it is none.
        let left = |times, sun_hours| {
            let wear = Wear { washes: PerWeek::from_per_week(times), sun_hours, ..Wear::default() };
            let law = leaving(class, true, Porosity::Porous).in_light(light(&wear));
            law.remaining(band, weekly(&wear)).to_fraction()
        };
        let both = left(times, hours);
        prop_assert!(both < left(times, 0.0) && both < left(1e-6, hours));
    }
}
