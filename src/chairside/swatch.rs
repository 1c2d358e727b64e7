//! Pictures to tap: the stages of lightened hair, and every shade as it comes out on a base.
//!
//! In: a stage, or a natural depth. Out: colours for a screen, and why a shade is out of reach. Knows nothing of: mark-up.

use std::collections::BTreeMap;
use std::sync::{Arc, Mutex, OnceLock, PoisonError};

use serde::Serialize;

use crate::form::Typed;
use crate::science::colour::srgb;
use crate::science::dye::deposit::{fit, too_warm};
use crate::science::dye::shade::shades;
use crate::science::hair::base::Base;
use crate::science::hair::depth::NaturalDepth;
use crate::science::hair::stage::{LightenedStage, UnderlyingPigment};
use crate::units::Worded;

/// One stage to tap.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub(super) struct StageSwatch {
    /// The number as it stands in a record.
    pub(super) value: String,
    /// The warm pigment left, in words.
    pub(super) words: String,
    /// Its colour.
    pub(super) hex: String,
}

/// One shade to tap.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub(super) struct ShadeSwatch {
    /// The shade's name.
    pub(super) name: &'static str,
    /// The colour it comes to on this base.
    pub(super) hex: String,
    /// Why it is out of reach; nothing when it is not.
    pub(super) why: Option<String>,
}

/// The stages to tap: the trade speaks in halves where pastels live, and in whole ones below. Common practice, no source.
const STAGES: [f64; 9] = [10.0, 9.5, 9.0, 8.5, 8.0, 7.0, 6.0, 5.0, 4.0];

/// The stages, palest first.
pub(super) fn stages() -> Vec<StageSwatch> {
    STAGES
        .into_iter()
        .filter_map(|value| {
            let stage = LightenedStage::try_new(value)?;
            let words = UnderlyingPigment::at(stage).word().to_owned();
            Some(StageSwatch { value: value.to_string(), words, hex: hex(&Base::lightened(stage)) })
        })
        .collect()
}

fn hex(base: &Base) -> String {
    srgb::from_lab(base.bare()).to_hex()
}

/// The base of a zone as typed: its stage, else the natural depth of the hair; nothing when neither is a number yet.
pub(super) fn base_of(typed: &Typed, zone: &str) -> Option<Base> {
    let number = |place: &str| typed.get(place).and_then(|text| text.trim().parse::<f64>().ok());
    let lightened = number(&format!("{zone}.stage")).and_then(LightenedStage::try_new).map(Base::lightened);
    lightened.or_else(|| number("hair.natural_depth").and_then(NaturalDepth::try_new).map(Base::natural))
}

/// Every shade on a base: those within reach first. Computed once a base.
pub(super) fn on_base(base: &Base) -> Arc<Vec<ShadeSwatch>> {
    static DONE: OnceLock<Mutex<BTreeMap<String, Arc<Vec<ShadeSwatch>>>>> = OnceLock::new();
    let done = DONE.get_or_init(Mutex::default);
    let key = format!("{base:?}");
    if let Some(found) = done.lock().unwrap_or_else(PoisonError::into_inner).get(&key) {
        return Arc::clone(found);
    }
    let mut all: Vec<ShadeSwatch> = shades()
        .iter()
        .map(|shade| {
            let deposit = fit(base, shade.colour);
            let why = too_warm(base, shade.colour, &deposit).map(|out| match out.reachable_from {
                Some(stage) => format!("needs stage {} or paler", stage.value()),
                None => "not by colour on any stage".to_owned(),
            });
            ShadeSwatch { name: shade.name, hex: srgb::from_lab(deposit.colour).to_hex(), why }
        })
        .collect();
    all.sort_by_key(|shade| shade.why.is_some());
    let all = Arc::new(all);
    let mut done = done.lock().unwrap_or_else(PoisonError::into_inner);
    if done.len() > 200 {
        done.clear();
    }
    done.insert(key, Arc::clone(&all));
    all
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_pastel_is_within_reach_of_a_pale_base_and_says_why_not_on_an_orange_one() {
        let on = |stage| on_base(&Base::lightened(LightenedStage::try_new(stage).expect("a stage")));
        let rose =
            |stage: f64| on(stage).iter().find(|shade| shade.name == "rose pastel").cloned().expect("it is known");
        assert_eq!(rose(10.0).why, None);
        assert!(rose(5.0).why.is_some_and(|why| why.starts_with("needs stage")), "an orange base is too warm for it");
        assert_ne!(rose(10.0).hex, rose(5.0).hex);
        assert!(stages().len() > 4 && stages()[0].value == "10");
    }
}
