//! One zone's colour after any dose.

use super::Milestone;
use crate::record::{Area, FoundBy, PlacementKind, ZoneName};
use crate::salon::ShadeKind;
use crate::science::colour::cielab::Lab;
use crate::science::dye::class::DyeClass;
use crate::science::dye::deposit::{Deposit, TooWarm};
use crate::science::fade::{kinetics::Leaving, uncertainty::RateSpread};
use crate::science::hair::{base::Base, porosity::Porosity};
use crate::units::{Fraction, Millimetres, Washes};

/// The forecast of one coloured zone.
#[derive(Debug, Clone, PartialEq)]
pub struct ZoneForecast {
    /// Which placement of the visit, from 0.
    pub placement: usize,
    /// Its technique.
    pub kind: PlacementKind,
    /// Its part of the head.
    pub area: Option<Area>,
    /// The zone.
    pub name: ZoneName,
    /// Where it begins, from the scalp, on the day of the service.
    pub from: Millimetres,
    /// Where it ends.
    pub to: Millimetres,
    /// Share of all hair this zone's placement covers.
    pub share_of_hair: Fraction,
    /// Dye class of its last toning pass.
    pub class: DyeClass,
    /// How the shade is kept.
    pub shade: ShadeKind,
    /// Porosity, normal when not recorded on natural hair and porous when not recorded on lightened hair.
    pub porosity: Porosity,
    /// The hair under the colour.
    pub base: Base,
    /// The bare base.
    pub bare: Lab,
    /// The finished colour as recorded.
    pub finished: Lab,
    /// How it was found.
    pub found: FoundBy,
    /// What was deposited, with the colour the model starts from.
    pub deposit: Deposit,
    /// The base is too warm for the shade.
    pub too_warm: Option<TooWarm>,
    /// The constants of leaving.
    pub leaving: Leaving,
    /// How sure the rate is.
    pub spread: RateSpread,
    /// The share at which this shade counts as nearly back to its base.
    pub refresh_share: Fraction,
    /// The hue family changes, or unwanted warmth, green or grey shows.
    pub turns: Option<Milestone>,
    /// The seen share crosses the refresh share.
    pub nearly_back: Option<Milestone>,
}

impl ZoneForecast {
    /// The colour after a dose, at the median rate.
    #[must_use]
    pub fn colour_after(&self, _dose: Washes) -> Lab {
        todo!()
    }

    /// The seen share after a dose: ΔE00(now, bare) / ΔE00(fresh, bare).
    ///
    /// Nothing when fresh and bare differ by too little to speak of a share.
    #[must_use]
    pub fn share_after(&self, _dose: Washes) -> Option<Fraction> {
        todo!()
    }
}
