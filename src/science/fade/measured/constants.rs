//! The constants that are fitted, as one point to move.
//!
//! In: the shipped [`Parameter`]s, or a trial point. Out: the law of leaving at that point. Knows nothing of: how a better point is found.

use crate::science::dye::band::{BANDS, Band};
use crate::science::dye::class::RATE_PERMANENT;
use crate::science::fade::dose::LAMP_HOUR;
use crate::science::fade::kinetics::{
    HUE_BLUE, HUE_ORANGE, HUE_PINK_RED_PERMANENT, HUE_VIOLET, HUE_YELLOW, LOOSE_COPPER, LOOSE_DOSE, LOOSE_LIGHTENED,
    LOOSE_RED, Leaving,
};
use crate::science::parameter::Parameter;

/// How many constants are fitted.
pub const FITTED: usize = 7;

/// The fitted parameters, in the order of a point.
pub const PARAMETERS: [&Parameter; FITTED] =
    [&LOOSE_LIGHTENED, &LOOSE_RED, &LOOSE_COPPER, &LOOSE_DOSE, &RATE_PERMANENT, &HUE_PINK_RED_PERMANENT, &LAMP_HOUR];

/// The step to which each is rounded when it is shipped.
pub const ROUNDED_TO: [f64; FITTED] = [0.01, 0.01, 0.01, 0.01, 0.0001, 0.01, 0.0001];

/// A trial point: one value for each of [`PARAMETERS`].
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Constants(pub [f64; FITTED]);

impl Constants {
    /// The values the program ships.
    #[must_use]
    pub fn shipped() -> Self {
        Self(PARAMETERS.map(|parameter| parameter.value))
    }

    /// How permanent colour leaves white or lightened hair at this point; with or without copper in the hair.
    ///
    /// At the shipped point this is [`leaving`](crate::science::fade::kinetics::leaving) of permanent colour on porous lightened hair.
    #[must_use]
    pub fn leaving(&self, copper: bool) -> Leaving {
        let [loose, red, with_copper, tau, rate, red_rate, _] = self.0;
        let mut pools = [loose; BANDS];
        pools[Band::PinkRed as usize] = red;
        if copper {
            pools = pools.map(|pool| (pool * with_copper).min(0.9));
        }
        let hues = [HUE_YELLOW.value, HUE_ORANGE.value, red_rate, HUE_VIOLET.value, HUE_BLUE.value];
        Leaving { loose: pools, tau, kappa: hues.map(|hue| rate * hue), light: 0.0 }
    }

    /// What an hour of weatherometer light takes at this point, 1/h.
    #[must_use]
    pub const fn lamp_hour(&self) -> f64 {
        self.0[FITTED - 1]
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::science::dye::class::DyeClass;
    use crate::science::fade::kinetics::leaving;
    use crate::science::hair::porosity::Porosity;

    #[test]
    fn the_shipped_point_is_the_law_the_forecast_uses() {
        let law = leaving(DyeClass::Permanent, true, Porosity::Porous);
        let here = Constants::shipped();
        for (shipped, used) in
            [(here.leaving(false), law), (here.leaving(true), law.in_copper_hair(DyeClass::Permanent))]
        {
            assert!((shipped.tau - used.tau).abs() < 1e-12);
            for band in 0..BANDS {
                assert!((shipped.loose[band] - used.loose[band]).abs() < 1e-12);
                assert!((shipped.kappa[band] - used.kappa[band]).abs() < 1e-12);
            }
        }
    }
}
