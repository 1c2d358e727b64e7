//! One zone's colour after any dose.

use super::base::{base_at, covers};
use super::home::HomeColour;
use super::milestone::Milestone;
use crate::record::{Area, FoundBy, Placement, PlacementKind, ServiceRecord, Zone, ZoneName};
use crate::salon::{Salon, ShadeKind};
use crate::science::colour::cielab::Lab;
use crate::science::colour::delta_e::ciede2000;
use crate::science::dye::band::{Loads, absorption};
use crate::science::dye::class::DyeClass;
use crate::science::dye::deposit::{self, Deposit, TooWarm};
use crate::science::fade::kinetics::{Leaving, leaving};
use crate::science::fade::rate::RateDistribution;
use crate::science::fade::uncertainty::RateSpread;
use crate::science::hair::base::{Base, Pigment};
use crate::science::hair::porosity::Porosity;
use crate::science::parameter::{Parameter, Source};
use crate::units::{Fraction, Millimetres, Washes};

/// Fresh and bare colours nearer than this have no share between them.
pub(super) const SHARE_UNDEFINED_BELOW: Parameter = Parameter {
    name: "difference of fresh and bare colour below which no share and no fade date is given",
    value: 5.0,
    low: 3.0,
    high: 8.0,
    unit: "ΔE00",
    source: Source::Assumed(
        "re-placing one tress already measures about 1.3 apart, so a tenth of less than 5 is noise",
    ),
};

/// A direct dye at least this light is kept as a pastel, a darker one as a vivid.
pub(super) const PASTEL_FROM_LIGHTNESS: Parameter = Parameter {
    name: "lightness from which a direct dye is kept as a pastel",
    value: 62.0,
    low: 55.0,
    high: 70.0,
    unit: "L*",
    source: Source::Assumed("set by eye between the trade's pastels and vivids"),
};

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
    /// Porosity: normal when not recorded on natural hair, porous when not recorded on lightened hair.
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
    /// What the client lays down at home beside it.
    pub home: Option<HomeColour>,
    /// How sure the rate is, by what returns can teach and what they cannot.
    pub spread: RateSpread,
    /// The rate before any return of this client.
    pub prior: RateDistribution,
    /// The rate of this forecast: the prior, moved by what was seen on return.
    pub rate: RateDistribution,
    /// Returns it stands on: visits at which the client's last colour of this dye class was judged.
    pub returns: usize,
    /// The share at which this shade counts as nearly back to its base.
    pub refresh_share: Fraction,
    /// The hue family changes, or unwanted warmth, green or grey shows.
    pub turns: Option<Milestone>,
    /// The seen share crosses the refresh share.
    pub nearly_back: Option<Milestone>,
}

/// The forecast of a zone recorded at the last of these visits, milestones still open and nothing learned; nothing when the zone was not coloured.
pub(super) fn of_record(
    visits: &[ServiceRecord],
    salon: &Salon,
    index: usize,
    placement: &Placement,
    zone: &Zone,
) -> Option<ZoneForecast> {
    let colour = zone.colour.as_ref()?;
    let class = placement.toning.iter().rfind(|pass| covers(pass, zone.name))?.dye;
    let base = base_at(visits, salon.practice.growth, placement, zone);
    let bare = base.colour_under(&absorption(&Loads::default()));
    let deposit = deposit::fit(&base, colour.lab);
    let lightened = matches!(base.pigment, Pigment::Lightened(_));
    let porosity = zone.porosity.unwrap_or(if lightened { Porosity::Porous } else { Porosity::Normal });
    let shade = shade_kind(class, colour.lab);
    let habits = &visits.last()?.habits;
    let spread = super::habits::spread(class, colour.found, habits);
    let rate = RateDistribution::log_normal(0.0, spread.sigma());
    Some(ZoneForecast {
        placement: index,
        kind: placement.kind,
        area: placement.area,
        name: zone.name,
        from: zone.from,
        to: zone.to,
        share_of_hair: placement.share.unwrap_or(Fraction::from_fraction(1.0)),
        class,
        shade,
        porosity,
        base,
        bare,
        finished: colour.lab,
        found: colour.found,
        too_warm: deposit::too_warm(&base, colour.lab, &deposit),
        deposit,
        leaving: super::habits::leaving(leaving(class, lightened, porosity), class, &super::wear(habits)),
        home: HomeColour::of(habits, &base, &deposit.loads, lightened, porosity),
        spread,
        prior: rate,
        rate,
        returns: 0,
        refresh_share: salon.practice.refresh_share.of(shade),
        turns: None,
        nearly_back: None,
    })
}

/// How a shade is kept.
fn shade_kind(class: DyeClass, finished: Lab) -> ShadeKind {
    match class {
        DyeClass::Temporary | DyeClass::Direct if finished.l >= PASTEL_FROM_LIGHTNESS.value => ShadeKind::Pastel,
        DyeClass::Temporary | DyeClass::Direct => ShadeKind::Vivid,
        DyeClass::Demi => ShadeKind::Toner,
        DyeClass::Permanent => ShadeKind::Permanent,
    }
}

impl ZoneForecast {
    /// How much hair it is: length times share of the head, mm.
    #[must_use]
    pub fn hair(&self) -> f64 {
        (self.to.to_mm() - self.from.to_mm()) * self.share_of_hair.to_fraction()
    }

    /// Whether what keeps the base from carrying the shade is that it is too deep, rather than too warm: hair that was never
    /// lightened, or a shade that asks for more lightness than hue.
    #[must_use]
    pub fn too_dark(&self) -> bool {
        let (asked, got) = (self.finished, self.deposit.colour);
        let natural = matches!(self.base.pigment, Pigment::Natural(_));
        self.too_warm.is_some() && (natural || asked.l - got.l > (asked.a - got.a).hypot(asked.b - got.b))
    }

    /// The loads on the hair after a dose, at the median rate: what is left, and what was added at home.
    #[must_use]
    pub fn loads_after(&self, dose: Washes) -> Loads {
        let dose = (dose.to_washes() * self.rate.median()).min(Washes::HIGH);
        let dose = Washes::from_washes(dose);
        let left = self.leaving.loads_after(&self.deposit.loads, dose);
        let home = self.home.map_or(Loads::default(), |home| home.loads_after(dose));
        Loads(std::array::from_fn(|band| left.0[band] + home.0[band]))
    }

    /// The colour after a dose, at the median rate.
    #[must_use]
    pub fn colour_after(&self, dose: Washes) -> Lab {
        self.base.colour_under(&absorption(&self.loads_after(dose)))
    }

    /// The seen share after a dose: ΔE00(now, bare) / ΔE00(fresh, bare), at most 1.
    ///
    /// Nothing when fresh and bare differ by less than `SHARE_UNDEFINED_BELOW`.
    #[must_use]
    pub fn share_after(&self, dose: Washes) -> Option<Fraction> {
        self.share_of(self.colour_after(dose), self.whole()?)
    }

    /// ΔE00 between the fresh and the bare colour; nothing when that is too little for a share.
    pub(super) fn whole(&self) -> Option<f64> {
        let whole = ciede2000(self.deposit.colour, self.bare);
        (whole >= SHARE_UNDEFINED_BELOW.value).then_some(whole)
    }

    /// The seen share of a colour this zone has, against its [`whole`](Self::whole).
    pub(super) fn share_of(&self, colour: Lab, whole: f64) -> Option<Fraction> {
        Fraction::try_new((ciede2000(colour, self.bare) / whole).min(1.0))
    }
}
