//! What is known of one client: which facts are true after the latest visit.
//!
//! Only the view without health facts is read, so nothing here can depend on one. A medicated shampoo is left out
//! on purpose: it tells of a scalp, and the passage about it is for everybody.

use super::Fact;
use super::Placeholder;
use super::Section;
use crate::plan::Caution;
use crate::plan::Plan;
use crate::plan::RhythmLimit;
use crate::plan::Standing;
use crate::record::AfterWish;
use crate::record::Curl;
use crate::record::Elasticity;
use crate::record::Hair;
use crate::record::HistoryKind;
use crate::record::PlacementKind;
use crate::record::ScalpOil;
use crate::record::ServiceRecord;
use crate::record::Shareable;
use crate::record::SwimPlace;
use crate::record::Texture;
use crate::record::Took;
use crate::record::Zone;
use crate::record::ZoneName;
use crate::units::Worded;

/// Hair up to this length counts as short: about to the chin. Common practice, no source.
const SHORT_MM: f64 = 200.0;
/// Hair from this length on counts as long: past the shoulders. Common practice, no source.
const LONG_MM: f64 = 400.0;
/// Hours of sun a week from which the sun passages appear. Common practice, no source.
const SUN_HOURS: f64 = 3.0;
/// Share of white hair that counts as white. Common practice, no source.
const WHITE_SHARE: f64 = 0.33;
/// Natural depth, 1 to 10, up to which hair counts as brown or darker: the trade's scale.
const DARK_DEPTH: f64 = 5.0;
/// Lightened stage from which a base counts as pale: yellow, the trade's scale.
const PALE_STAGE: f64 = 9.0;
/// CIELAB chroma under which a shade counts as having no hue here. By eye, no source.
const NEUTRAL_CHROMA: f64 = 6.0;
/// Ends of the hue families in degrees of CIELAB hue, each family beginning where the last one ended.
/// Wide, because they choose texts and name nothing: by eye, no source.
const HUE_FAMILIES: [(f64, Fact); 6] = [
    (25.0, Fact::PinkShade),
    (110.0, Fact::WarmShade),
    (190.0, Fact::GreenShade),
    (290.0, Fact::BlueShade),
    (335.0, Fact::VioletShade),
    (360.0, Fact::PinkShade),
];

/// The facts that are true of one client.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Facts {
    /// One bit a fact: every passage asks for some of each client.
    known: u128,
    help_only: bool,
}

const _: () = assert!(Fact::WORDS.len() <= u128::BITS as usize, "every fact has a bit of its own");

/// The bit of a fact.
const fn bit(fact: Fact) -> u128 {
    1 << fact as u32
}

impl FromIterator<Fact> for Facts {
    fn from_iter<T: IntoIterator<Item = Fact>>(facts: T) -> Self {
        Self { known: facts.into_iter().fold(0, |known, fact| known | bit(fact)), help_only: false }
    }
}

impl Facts {
    /// The facts of a client after the latest visit.
    #[must_use]
    pub fn of(history: &Shareable, plan: &Plan) -> Self {
        if plan.standing == Standing::AgeNotConfirmed {
            return Self::help_only();
        }
        let mut facts = Self::default();
        facts.add_service(history.latest());
        facts.add_zones(history.latest());
        facts.add_hair(&history.latest().hair);
        facts.add_habits(history.latest());
        facts.add_past(history);
        facts.add_plan(plan);
        facts.add_hue(history.latest(), plan);
        facts
    }

    /// Of a client without a plan: only the care boxes and the words about the page apply.
    #[must_use]
    pub fn help_only() -> Self {
        Self { known: 0, help_only: true }
    }

    /// Whether a fact is true.
    #[must_use]
    pub fn has(&self, fact: Fact) -> bool {
        self.known & bit(fact) != 0
    }

    /// Whether a section is shown at all.
    #[must_use]
    pub fn open(&self, section: Section) -> bool {
        !self.help_only || section.without_plan()
    }

    /// Whether there is something to fill into a place.
    #[must_use]
    pub fn can_fill(&self, place: Placeholder) -> bool {
        place.needs().is_none_or(|fact| self.has(fact))
    }

    /// Every true fact, in order.
    pub fn iter(&self) -> impl Iterator<Item = Fact> + '_ {
        Fact::all().filter(|fact| self.has(*fact))
    }

    /// Whether one client could have these facts, when only those asked for are looked at.
    pub(super) fn are_possible_among(&self, asked: &[Fact]) -> bool {
        let alone =
            Fact::exclusive_groups().iter().all(|group| group.iter().filter(|fact| self.has(**fact)).count() <= 1);
        // The other fact may be true though nobody asked for it.
        let backed = Fact::implications()
            .iter()
            .all(|(fact, needed)| !self.has(*fact) || self.has(*needed) || !asked.contains(needed));
        alone && backed
    }

    fn add(&mut self, fact: Fact, holds: bool) {
        if holds {
            self.known |= bit(fact);
        }
    }

    fn add_service(&mut self, visit: &ServiceRecord) {
        let steps = || visit.placements.iter().flat_map(|placement| &placement.lightening);
        let passes = || visit.placements.iter().flat_map(|placement| &placement.toning);
        let dye = |words: &[&str]| passes().any(|pass| words.contains(&pass.dye.word()));
        self.add(Fact::Coloured, passes().next().is_some());
        self.add(Fact::DirectDye, dye(&["direct"]));
        self.add(Fact::OxidativeDye, dye(&["demi-permanent", "permanent"]));
        self.add(Fact::TemporaryDye, dye(&["temporary"]));
        self.add(Fact::LightenedNow, steps().next().is_some());
        self.add(Fact::LightenerOnScalp, steps().any(|step| step.on_scalp == Some(true)));
        self.add(Fact::UnevenTake, passes().any(|pass| matches!(pass.took, Some(Took::Less | Took::Patchy))));
        for placement in &visit.placements {
            self.add(
                match placement.kind {
                    PlacementKind::FullHead => Fact::FullHead,
                    PlacementKind::Regrowth => Fact::RegrowthService,
                    PlacementKind::Foils => Fact::Foils,
                    PlacementKind::Freehand => Fact::Freehand,
                    PlacementKind::FaceFrame => Fact::FaceFrame,
                    PlacementKind::Panel => Fact::Panel,
                },
                true,
            );
        }
    }

    fn add_zones(&mut self, visit: &ServiceRecord) {
        let zones = || visit.placements.iter().flat_map(|placement| &placement.zones);
        let some = |test: &dyn Fn(&Zone) -> bool| zones().any(test);
        let stage_reached = visit
            .placements
            .iter()
            .flat_map(|placement| &placement.lightening)
            .any(|step| step.stage_reached.is_some_and(|stage| stage.value() >= PALE_STAGE));
        let lightened_now = self.has(Fact::LightenedNow);
        self.add(Fact::Lightened, lightened_now || some(&|zone| zone.stage.is_some()));
        self.add(Fact::LightenedAgain, lightened_now && some(&|zone| zone.lightened_before.is_some_and(|n| n > 0)));
        self.add(Fact::PaleBase, stage_reached || some(&|zone| zone.stage.is_some_and(|s| s.value() >= PALE_STAGE)));
        let porosity = |words: &[&str]| zones().any(|zone| zone.porosity.is_some_and(|p| words.contains(&p.word())));
        self.add(Fact::Porous, porosity(&["porous", "over-porous"]));
        self.add(Fact::OverPorous, porosity(&["over-porous"]));
        self.add(Fact::Resistant, porosity(&["resistant"]) && !porosity(&["normal", "porous", "over-porous"]));
        let weak = |zone: &Zone| matches!(zone.elasticity, Some(Elasticity::Breaks | Elasticity::NoReturn));
        self.add(Fact::WeakHair, some(&weak));
        self.add(Fact::TiredHair, some(&|zone| zone.elasticity == Some(Elasticity::PartReturn)));
        self.add(Fact::UnevenTake, some(&|zone| zone.name == ZoneName::Band));
    }

    fn add_hair(&mut self, hair: &Hair) {
        if let Some(curl) = hair.curl {
            self.add(
                match curl {
                    Curl::Straight => Fact::Straight,
                    Curl::Wavy => Fact::Wavy,
                    Curl::Curly => Fact::Curly,
                    Curl::Coily => Fact::Coily,
                },
                true,
            );
        }
        if let Some(texture) = hair.texture {
            self.add(
                match texture {
                    Texture::Fine => Fact::Fine,
                    Texture::Medium => Fact::MediumTexture,
                    Texture::Coarse => Fact::Coarse,
                },
                true,
            );
        }
        self.add(Fact::OilyScalp, hair.scalp_oil == Some(ScalpOil::Oily));
        self.add(Fact::DryScalp, hair.scalp_oil == Some(ScalpOil::Dry));
        self.add(Fact::ShortHair, hair.length.is_some_and(|length| length.to_mm() <= SHORT_MM));
        self.add(Fact::LongHair, hair.length.is_some_and(|length| length.to_mm() >= LONG_MM));
        self.add(Fact::DarkNatural, hair.natural_depth.is_some_and(|depth| depth.value() <= DARK_DEPTH));
        self.add(Fact::WhiteHair, hair.white.is_some_and(|share| share.to_fraction() >= WHITE_SHARE));
    }

    fn add_habits(&mut self, visit: &ServiceRecord) {
        let habits = &visit.habits;
        let swims = |place| habits.swim_place == Some(place) && habits.swims.is_none_or(|n| n.to_per_week() > 0.0);
        self.add(Fact::SwimsInPool, swims(SwimPlace::Pool));
        self.add(Fact::SwimsInSea, swims(SwimPlace::Sea));
        self.add(Fact::SwimsInLake, swims(SwimPlace::Lake));
        self.add(Fact::HotTools, habits.heat.is_some_and(|heat| heat.days.to_per_week() > 0.0));
        self.add(Fact::HotWater, habits.warmth.is_some_and(|warmth| warmth.word() == "hot"));
        self.add(Fact::HardWater, habits.hardness.is_some_and(|hardness| hardness.word() == "hard"));
        self.add(Fact::CopperWater, habits.copper);
        self.add(Fact::Sport, habits.sport.is_some_and(|days| days.to_per_week() > 0.0));
        self.add(Fact::Sun, habits.sun_hours.is_some_and(|hours| hours >= SUN_HOURS));
        self.add(Fact::HomeConditioner, habits.conditioner.as_ref().is_some_and(|c| c.uses.to_per_week() > 0.0));
        self.add(Fact::DeepCleaning, habits.shampoo.is_some_and(|shampoo| shampoo.word() == "clarifying"));
        self.add(Fact::LetSoften, visit.wishes.after == Some(AfterWish::LetSoften));
        self.add(Fact::Keep, visit.wishes.after != Some(AfterWish::LetSoften));
        self.add(Fact::HasEvent, visit.wishes.event.is_some());
    }

    fn add_past(&mut self, history: &Shareable) {
        self.add(Fact::Returning, history.visits().len() > 1);
        for entry in &history.client().history {
            let fact = match entry.kind {
                HistoryKind::Relaxer => Fact::Relaxed,
                HistoryKind::Perm => Fact::Permed,
                HistoryKind::Smoothing => Fact::Smoothed,
                HistoryKind::ColourRemover => Fact::ColourRemoved,
                HistoryKind::HomeColour => Fact::HomeColoured,
                HistoryKind::HennaOrMetallic => Fact::HennaOrMetallic,
                HistoryKind::Extensions => Fact::Extensions,
                // Old lightening may have been cut off since: only what a zone says counts.
                HistoryKind::Lightening | HistoryKind::SalonColour => continue,
            };
            self.add(fact, true);
        }
    }

    fn add_plan(&mut self, plan: &Plan) {
        self.add(Fact::TooWarmBase, plan.cautions.contains(&Caution::TooWarmBase));
        self.add(Fact::WeakHair, plan.cautions.contains(&Caution::WeakHair));
        self.add(Fact::HasRefresh, plan.refresh.is_some());
        self.add(Fact::HasRoots, plan.roots.is_some());
        self.add(Fact::TwoStageRoots, plan.roots.is_some_and(|roots| roots.two_stage));
        self.add(Fact::TopUp, !plan.top_up_zones.is_empty());
        self.add(Fact::ScalpFirst, plan.rhythm.limit == RhythmLimit::Scalp);
        let per_week = plan.rhythm.per_week;
        self.add(Fact::WashesMore, plan.rhythm.habit_per_week.is_some_and(|habit| habit > per_week));
        let kinds = [Fact::Pastel, Fact::Vivid, Fact::Toner, Fact::Permanent];
        for kind in kinds {
            self.add(kind, plan.shade.is_some_and(|shade| shade.word() == kind.word()));
        }
        self.add(Fact::Coloured, plan.shade.is_some());
    }

    /// The hue of the shade: as it was meant on most of the length, else as the ribbon begins.
    fn add_hue(&mut self, visit: &ServiceRecord, plan: &Plan) {
        let meant =
            visit.placements.iter().flat_map(|placement| &placement.zones).filter_map(|zone| {
                zone.colour.as_ref().map(|colour| (zone.to.to_mm() - zone.from.to_mm(), colour.lab))
            });
        let longest = meant.max_by(|(one, _), (other, _)| one.total_cmp(other)).map(|(_, lab)| lab);
        let leading = plan.ribbon.iter().find(|zone| Some(zone.zone) == plan.leading_zone);
        let fresh = leading.and_then(|zone| zone.steps.first()).map(|step| step.colour);
        if let Some(lab) = longest.or(fresh) {
            self.add(hue_family(lab.chroma(), lab.hue()), true);
        }
    }
}

/// The family of a shade, from its CIELAB chroma and hue in degrees.
fn hue_family(chroma: f64, hue: f64) -> Fact {
    if chroma < NEUTRAL_CHROMA {
        return Fact::NeutralShade;
    }
    HUE_FAMILIES.iter().find(|(end, _)| hue < *end).map_or(Fact::PinkShade, |(_, fact)| *fact)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_hue_family_goes_round_the_circle() {
        // Hue angles of the design's own shades: rose about 14°, powder blue about 228°.
        assert_eq!(hue_family(20.0, 14.0), Fact::PinkShade);
        assert_eq!(hue_family(20.0, 350.0), Fact::PinkShade);
        assert_eq!(hue_family(12.0, 228.0), Fact::BlueShade);
        assert_eq!(hue_family(12.0, 156.0), Fact::GreenShade);
        assert_eq!(hue_family(2.0, 228.0), Fact::NeutralShade);
    }

    #[test]
    fn facts_that_exclude_each_other_are_not_possible_together() {
        let facts: Facts = [Fact::Curly, Fact::Coily].into_iter().collect();
        assert!(!facts.are_possible_among(&[Fact::Curly, Fact::Coily]));
        let facts: Facts = [Fact::OverPorous].into_iter().collect();
        assert!(facts.are_possible_among(&[Fact::OverPorous]));
        assert!(!facts.are_possible_among(&[Fact::OverPorous, Fact::Porous]));
    }
}
