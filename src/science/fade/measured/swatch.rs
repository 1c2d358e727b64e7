//! The swatches of the studies, as the model lays them out.
//!
//! In: what a study says of its hair and shade. Out: base, loads, and how far the colour is from fresh after a dose. Knows nothing of: what was measured.
//!
//! No study published the L\*a\*b\* of its swatches, so base and fresh colour are chosen here and are the same for every row of a swatch. On pale hair the choice matters little: a dark shade that loses a fifth of its dye changes by ΔE 2.5 to 3.2, whichever of eight shades and four pale bases is taken.

use std::sync::LazyLock;

use crate::science::colour::cielab::{self, Lab};
use crate::science::colour::delta_e::{cie76, ciede2000};
use crate::science::colour::hunter::Hunter;
use crate::science::colour::spectrum::Spectrum;
use crate::science::colour::tristimulus;
use crate::science::dye::band::{Loads, absorption};
use crate::science::dye::{deposit, shade};
use crate::science::fade::kinetics::Leaving;
use crate::science::hair::base::{Base, Pigment};
use crate::science::hair::depth::NaturalDepth;
use crate::units::{Fraction, Washes};

/// The scale on which a source tells its ΔE.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Scale {
    /// CIELAB, the 1976 difference.
    Cielab,
    /// Hunter L, a, b.
    Hunter,
}

/// Dyed hair as it was before the first wash.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Swatch {
    /// The hair.
    pub base: Base,
    /// What was laid down.
    pub fresh: Loads,
}

/// Natural white hair.
fn white() -> Base {
    Base { white: Fraction::from_fraction(1.0), ..natural(NaturalDepth::HIGH) }
}

/// Untouched hair of a depth, none of it white.
fn natural(depth: f64) -> Base {
    let depth = NaturalDepth::try_new(depth).expect("a depth on the scale");
    Base { pigment: Pigment::Natural(depth), white: Fraction::from_fraction(0.0) }
}

/// A shade of the table of shades, laid on a base.
fn laid(base: Base, name: &str) -> Swatch {
    let colour = shade::by_name(name).expect("a shade of the table").colour;
    Swatch { base, fresh: deposit::fit(&base, colour).loads }
}

/// An intense oxidative red (77/44, and the pyrazole red): yellow 8, pink-red 12, violet 1 on white hair, about L\* 35, a\* 40, b\* 13. The pink-red band carries it, because the couple that makes such reds absorbs there.
pub static RED: LazyLock<Swatch> = LazyLock::new(|| Swatch { base: white(), fresh: Loads([8.0, 0.0, 12.0, 1.0, 0.0]) });

/// A medium brown with a violet tone (4/6): the table's mahogany on white hair.
pub static BROWN: LazyLock<Swatch> = LazyLock::new(|| laid(white(), "mahogany"));

/// Medium auburn on white hair.
pub static AUBURN: LazyLock<Swatch> = LazyLock::new(|| laid(white(), "auburn"));

/// The same auburn mix on undamaged brown hair, depth 5.
pub static AUBURN_ON_BROWN: LazyLock<Swatch> = LazyLock::new(|| Swatch { base: natural(5.0), fresh: AUBURN.fresh });

/// A chestnut shade on undamaged light brown hair, depth 6.
pub static CHESTNUT_ON_LIGHT_BROWN: LazyLock<Swatch> = LazyLock::new(|| laid(natural(6.0), "chestnut"));

impl Swatch {
    /// The reflectance after a dose.
    fn reflectance(&self, leaving: &Leaving, dose: f64) -> Spectrum {
        let left = leaving.loads_after(&self.fresh, Washes::from_washes(dose));
        self.base.reflectance_under(&absorption(&left))
    }

    /// The colour after a dose.
    #[must_use]
    pub fn colour(&self, leaving: &Leaving, dose: f64) -> Lab {
        cielab::of_reflectance(&self.reflectance(leaving, dose))
    }

    /// ΔE between fresh and after a dose, on the scale the source used.
    #[must_use]
    pub fn change(&self, leaving: &Leaving, dose: f64, scale: Scale) -> f64 {
        match scale {
            Scale::Cielab => cie76(self.colour(leaving, 0.0), self.colour(leaving, dose)),
            Scale::Hunter => {
                let hunter = |dose| Hunter::of(tristimulus::of_reflectance(&self.reflectance(leaving, dose)));
                hunter(0.0).difference(hunter(dose))
            }
        }
    }

    /// The share of the colour the eye still has after a dose: ΔE00 from the bare base against the fresh one's.
    #[must_use]
    pub fn seen_share(&self, leaving: &Leaving, dose: f64) -> f64 {
        let bare = self.base.bare();
        ciede2000(self.colour(leaving, dose), bare) / ciede2000(self.colour(leaving, 0.0), bare)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_swatches_look_as_their_words_say() {
        use crate::science::dye::class::DyeClass;
        use crate::science::fade::kinetics::leaving;
        use crate::science::hair::porosity::Porosity;
        let law = leaving(DyeClass::Permanent, true, Porosity::Porous);
        let red = RED.colour(&law, 0.0);
        assert!((red.l - 35.0).abs() < 2.0 && (red.a - 40.0).abs() < 2.0 && (red.b - 13.0).abs() < 2.0, "{red:?}");
        for dark in [&BROWN, &AUBURN, &AUBURN_ON_BROWN, &CHESTNUT_ON_LIGHT_BROWN] {
            let lab = dark.colour(&law, 0.0);
            assert!((20.0..36.0).contains(&lab.l) && lab.a > 4.0, "{lab:?}");
        }
    }
}
