//! The laws: colour, hair, dye and fading. No client, no date, no file, no HTML.

pub mod bibliography;
mod memo;
pub mod parameter;
mod table;

pub mod colour;

pub mod hair;

pub mod dye;

pub mod fade;

pub mod handbook;

use crate::science::parameter::Parameter;

/// The `PARAMETERS` of every module, in the order the modules build on each other.
const GROUPS: &[&[&Parameter]] = &[
    colour::grey_scale::PARAMETERS,
    colour::naming::PARAMETERS,
    hair::stage::PARAMETERS,
    hair::melanin::PARAMETERS,
    hair::depth::PARAMETERS,
    hair::base::PARAMETERS,
    hair::porosity::PARAMETERS,
    hair::growth::PARAMETERS,
    dye::class::PARAMETERS,
    dye::band::PARAMETERS,
    dye::deposit::PARAMETERS,
    dye::top_up::PARAMETERS,
    fade::kinetics::PARAMETERS,
    fade::dose::PARAMETERS,
    fade::conditioner::PARAMETERS,
    fade::uncertainty::PARAMETERS,
    fade::learning::PARAMETERS,
    fade::pooling::PARAMETERS,
];

/// Every number of the laws that is not a definition, with its range, unit and source.
#[must_use]
pub fn parameters() -> Vec<&'static Parameter> {
    GROUPS.concat()
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeSet;

    use super::*;
    use crate::science::parameter::Source;

    #[test]
    fn every_parameter_is_named_once_has_a_unit_and_a_reason() {
        let all = parameters();
        let names: BTreeSet<_> = all.iter().map(|parameter| parameter.name).collect();
        assert_eq!(names.len(), all.len());
        for parameter in all {
            assert!(!parameter.name.is_empty() && !parameter.unit.is_empty(), "{parameter:?}");
            assert!(parameter.low <= parameter.value && parameter.value <= parameter.high, "{parameter:?}");
            if let Source::Assumed(reason) = parameter.source {
                assert!(reason.len() > 10, "{parameter:?}");
            }
        }
    }

    #[test]
    fn every_published_parameter_stands_on_a_listed_source() {
        for parameter in parameters() {
            if let Source::Published(reference) = parameter.source {
                assert!(bibliography::ALL.contains(&reference), "{parameter:?}");
            }
        }
    }
}
