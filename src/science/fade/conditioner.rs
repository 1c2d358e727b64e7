//! Home colour conditioner: a little dye with each use, leaving again like any direct dye.
//!
//! In: the load of a use, uses for each unit of dose, the law by which it leaves. Out: what has built up after a dose. Knows nothing of: who uses it, and when.

use super::kinetics::{Kept, Leaving};
use crate::science::dye::band::{BANDS, Loads};
use crate::science::parameter::Parameter;
use crate::units::Washes;

/// What one use lays down, against a salon colouring of the same shade.
pub const PER_USE: Parameter = Parameter::assumed(
    "load of one use of a colour conditioner, against a salon colouring of its shade",
    0.05,
    0.01,
    0.20,
    "1",
    "no load a use was measured; a cationic colour refresher is said to last 5 to 10 washes (Evans & Wickett 2012, p. 152), which tells how it leaves and not how much it is",
);

/// Every number of this module.
pub const PARAMETERS: &[&Parameter] = &[&PER_USE];

/// The loads that steady use has built up after a dose.
///
/// ```text
/// xᵢ(D) = aᵢ · ∫₀ᴰ fᵢ(s) ds
///       = aᵢ · [ φᵢ·(1 − e^(−D·(1/τ + ℓ)))/(1/τ + ℓ) + (1 − φᵢ)·(1 − e^(−D·(κᵢ + ℓ)))/(κᵢ + ℓ) ]
/// ```
///
/// | symbol | meaning | unit | range |
/// |---|---|---|---|
/// | `D` | dose since the service | wash | ≥ 0 |
/// | `aᵢ` | load laid down for each unit of dose: uses times [`PER_USE`] times the load of the shade | 1/wash | ≥ 0 |
/// | `φᵢ`, `τ`, `κᵢ`, `ℓ` | the constants of [`Leaving`] | | |
/// | `xᵢ` | load built up | 1 | ≥ 0 |
///
/// It levels off where a wash takes as much as a use brings. Frequent use on pale hair levels off at a load that dulls it: the law shows that by itself.
///
/// # Validity
/// Uses are spread evenly over the washes. A conditioner lays down direct dye whatever the salon used, and adds to what is there.
///
/// # Uncertainty
/// Wide: [`PER_USE`] spans a factor of twenty. A return after which a conditioner was used counts for less for that reason ([`super::learning::CONDITIONER`]).
///
/// # Source
/// The law of leaving, summed over uses. The load of a use is assumed.
#[must_use]
pub fn built_up(law: &Leaving, each: &Loads, dose: Washes) -> Loads {
    let d = dose.to_washes();
    let sum = |rate: f64| if rate > 0.0 { (1.0 - (-rate * d).exp()) / rate } else { d };
    let (loose_sum, mut held) = (sum(1.0 / law.tau + law.light), Kept::default());
    Loads(std::array::from_fn::<f64, BANDS, _>(|band| match each.0[band] {
        0.0 => 0.0,
        load => {
            let loose = law.loose[band];
            load * (loose * loose_sum + (1.0 - loose) * held.of(law.kappa[band] + law.light, sum))
        }
    }))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::science::dye::band::absorption;
    use crate::science::dye::class::DyeClass;
    use crate::science::fade::kinetics::leaving;
    use crate::science::hair::base::Base;
    use crate::science::hair::porosity::Porosity;
    use crate::science::hair::stage::LightenedStage;

    const ROSE: Loads = Loads([0.0, 0.1, 0.5, 0.0, 0.1]);

    fn law() -> Leaving {
        leaving(DyeClass::Direct, true, Porosity::Porous)
    }

    #[test]
    fn it_is_the_sum_of_what_each_use_left() {
        // A hundred small uses, each left to its own washes.
        let parts = 20_000;
        let dose = 6.0;
        for band in [1, 2, 4] {
            let one = |part: u32| law().remaining(band, Washes::from_washes((f64::from(part) + 0.5) * dose / 20_000.0));
            let summed: f64 =
                (0..parts).map(|part| one(part).to_fraction()).sum::<f64>() * ROSE.0[band] * dose / 20_000.0;
            let found = built_up(&law(), &ROSE, Washes::from_washes(dose)).0[band];
            assert!((found - summed).abs() < 1e-6, "{found} is not {summed}");
        }
        assert_eq!(built_up(&law(), &ROSE, Washes::from_washes(0.0)), Loads([0.0; BANDS]));
    }

    #[test]
    fn it_levels_off_and_overuse_dulls_pale_hair() {
        let at = |uses: f64, dose: f64| built_up(&law(), &ROSE.times(PER_USE.value * uses), Washes::from_washes(dose));
        assert!(at(1.0, 60.0).total() < 1.01 * at(1.0, 30.0).total());
        let base = Base::lightened(LightenedStage::try_new(10.0).expect("a stage"));
        let lightness = |uses: f64| base.colour_under(&absorption(&at(uses, 30.0))).l;
        let bare = base.bare().l;
        assert!(bare - lightness(1.0) > 0.5, "once a wash tints");
        assert!(lightness(1.0) - lightness(7.0) > 3.0, "daily use between washes far apart dulls");
    }
}
