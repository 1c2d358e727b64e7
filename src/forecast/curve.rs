//! The colour of one zone along the dose, each computed once for all that is asked of it.
//!
//! In: a zone's law. Out: colours and shares at any dose, kept at the doses every search goes through. Knows nothing of: what is searched for.

use std::cell::Cell;

use super::milestone::{Dose, grid};
use super::zone::ZoneForecast;
use crate::science::colour::cielab::Lab;
use crate::science::colour::oklab::{self, Oklab};
use crate::science::dye::band::absorption;
use crate::science::hair::base::Fibres;
use crate::units::{Fraction, Washes};

/// One zone along the dose.
#[derive(Debug)]
pub struct Curve<'a> {
    /// The zone.
    pub(super) zone: &'a ZoneForecast,
    fibres: Fibres,
    /// As [`ZoneForecast::whole`].
    whole: Option<f64>,
    colours: Vec<Cell<Option<Lab>>>,
    hues: Vec<Cell<Option<Oklab>>>,
    shares: Vec<Cell<Option<Option<Fraction>>>>,
}

impl<'a> Curve<'a> {
    /// The curve of a zone.
    #[must_use]
    pub fn of(zone: &'a ZoneForecast) -> Self {
        Self {
            zone,
            fibres: zone.base.fibres(),
            whole: zone.whole(),
            colours: vec![Cell::new(None); grid().len()],
            hues: vec![Cell::new(None); grid().len()],
            shares: vec![Cell::new(None); grid().len()],
        }
    }

    /// The zone.
    #[must_use]
    pub fn zone(&self) -> &'a ZoneForecast {
        self.zone
    }

    /// As [`ZoneForecast::colour_after`].
    #[must_use]
    pub fn colour_after(&self, dose: Washes) -> Lab {
        self.fibres.colour_under(&absorption(&self.zone.loads_after(dose)))
    }

    /// The seen share of a colour the zone has: [`ZoneForecast::share_after`] when the colour is known.
    #[must_use]
    pub fn share_of(&self, colour: Lab) -> Option<Fraction> {
        self.zone.share_of(colour, self.whole?)
    }

    /// Whether fresh and bare differ enough for a share.
    pub(super) fn has_share(&self) -> bool {
        self.whole.is_some()
    }

    /// The colour after a dose of a search.
    pub(super) fn colour(&self, dose: Dose) -> Lab {
        kept(&self.colours, dose, || self.colour_after(dose.washes))
    }

    /// The same in Oklab, in which hues are named.
    pub(super) fn hue(&self, dose: Dose) -> Oklab {
        kept(&self.hues, dose, || oklab::from_lab(self.colour(dose)))
    }

    /// The seen share after a dose of a search.
    pub(super) fn share(&self, dose: Dose) -> Option<Fraction> {
        self.whole?;
        kept(&self.shares, dose, || self.share_of(self.colour(dose)))
    }
}

/// What a law gives at a dose, from memory when the dose is one that every search goes through.
fn kept<T: Copy>(known: &[Cell<Option<T>>], dose: Dose, law: impl FnOnce() -> T) -> T {
    let Some(place) = dose.place.and_then(|place| known.get(place)) else { return law() };
    place.get().unwrap_or_else(|| {
        let new = law();
        place.set(Some(new));
        new
    })
}

#[cfg(test)]
pub(super) mod tests {
    use super::*;
    use crate::forecast::HomeColour;
    use crate::record::{FoundBy, PlacementKind, ZoneName};
    use crate::salon::ShadeKind;
    use crate::science::dye::class::DyeClass;
    use crate::science::dye::deposit;
    use crate::science::fade::dose::Wear;
    use crate::science::fade::kinetics::leaving;
    use crate::science::fade::rate::RateDistribution;
    use crate::science::fade::uncertainty::RateSpread;
    use crate::science::hair::base::Base;
    use crate::science::hair::porosity::Porosity;
    use crate::science::hair::stage::LightenedStage;
    use crate::units::{Millimetres, PerWeek};

    fn zone(white: f64) -> ZoneForecast {
        let base = Base::lightened(LightenedStage::try_new(9.5).expect("a stage"));
        let base = Base { white: Fraction::from_fraction(white), ..base };
        zone_of(base, Lab::new(76.0, 18.0, 5.0), DyeClass::Direct)
    }

    /// Ends finished in a colour, with a conditioner used once a week.
    pub(in crate::forecast) fn zone_of(base: Base, finished: Lab, class: DyeClass) -> ZoneForecast {
        let rate = RateDistribution::log_normal(0.2, 0.3);
        let zone = ZoneForecast {
            placement: 0,
            kind: PlacementKind::FullHead,
            area: None,
            name: ZoneName::Ends,
            from: Millimetres::from_mm(0.0),
            to: Millimetres::from_mm(200.0),
            share_of_hair: Fraction::from_fraction(1.0),
            class,
            shade: ShadeKind::Pastel,
            porosity: Porosity::Porous,
            bare: base.bare(),
            finished,
            found: FoundBy::MatchedByEye,
            deposit: deposit::fit(&base, finished),
            base,
            too_warm: None,
            leaving: leaving(class, true, Porosity::Porous).in_light(0.01),
            home: None,
            spread: RateSpread { level: 0.3, visit: 0.0 },
            prior: rate,
            rate,
            returns: 0,
            refresh_share: Fraction::from_fraction(0.3),
            turns: None,
            nearly_back: None,
        };
        let home = HomeColour::of_zone(&zone, PerWeek::from_per_week(1.0), &Wear::default());
        ZoneForecast { home: Some(home), ..zone }
    }

    #[test]
    fn a_curve_is_the_law_of_its_zone_bit_for_bit_however_often_it_is_asked() {
        for zone in [zone(0.0), zone(0.3), ZoneForecast { home: None, ..zone(0.0) }] {
            let curve = Curve::of(&zone);
            for _ in 0..2 {
                for dose in (0..grid().len()).map(Dose::of_grid).chain([Dose::of(0.77), Dose::of(19.3)]) {
                    assert_eq!(curve.colour(dose), zone.colour_after(dose.washes));
                    assert_eq!(curve.share(dose), zone.share_after(dose.washes));
                }
            }
        }
    }
}
