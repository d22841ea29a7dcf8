//! Disinfectant, and metals that meet in water.

use super::helpers::{Lent, lent, numbers, takes, takes_sort};
use crate::lang::{Function, Sort, Unknown, Value, Work};
use crate::physics::{self, Joint, Metal};
use crate::quantity::Measure::*;

/// The names of the metals, as [`Metal::name`] gives them.
const METALS: &[&str] = &["galvanised steel", "steel", "stainless steel", "brass", "copper"];

pub(super) static FUNCTIONS: &[Function] = &[
    lent(Lent {
        name: "bleach",
        parameters: &[takes("water", Volume), takes("strength", Number), takes("dose", MassConcentration)],
        explanation: &physics::BLEACH,
        help: "Plain bleach without additives. Never with acid or ammonia; ventilate; what is let out must not reach a septic system, well or stream.",
        example: ("bleach(100 gal, 5.25 %, 100 mg/L)", "1.5238 pt"),
        gives: numbers!(Volume, bleach(water, strength, dose)),
    }),
    lent(Lent {
        name: "granules",
        parameters: &[takes("water", Volume), takes("strength", Number), takes("dose", MassConcentration)],
        explanation: &physics::GRANULES,
        help: "Calcium hypochlorite; the cautions are those for bleach.",
        example: ("granules(100 gal, 70 %, 100 mg/L)", "0.11922 lb"),
        gives: numbers!(Mass, granules(water, strength, dose)),
    }),
    lent(Lent {
        name: "dose_of_bleach",
        parameters: &[takes("bleach", Volume), takes("strength", Number), takes("water", Volume)],
        explanation: &physics::DOSE_OF_BLEACH,
        help: "The bleach itself is not counted to the water.",
        example: ("dose_of_bleach(0.75 qt, 5.25 %, 100 gal)", "98.438 mg/L"),
        gives: numbers!(MassConcentration, dose_of_bleach(bleach, strength, water)),
    }),
    Function {
        name: "joint",
        parameters: &[takes_sort("one", Sort::Words(METALS)), takes_sort("other", Sort::Words(METALS))],
        gives: Sort::Words(&["fine", "watch", "separate"]),
        explanation: &physics::JOINT,
        help: "'fine' as they are; 'watch': the less noble one corrodes slowly; 'separate': part them with a dielectric fitting. Fittings on drinking water must be lead free and certified for it.",
        example: ("joint('brass', 'galvanised steel')", "separate"),
        partial: false,
        work: Work::Values(|given| {
            let (one, other) = (metal(&given[0])?, metal(&given[1])?);
            Ok(Value::text(match physics::joint(one, other).0 {
                Joint::Fine => "fine",
                Joint::Watch => "watch",
                Joint::Separate => "separate",
            }))
        }),
    },
];

fn metal(value: &Value) -> Result<Metal, Unknown> {
    let found = match value {
        Value::Text(name) => Metal::all().find(|metal| metal.name() == &**name),
        _ => None,
    };
    found.ok_or_else(|| Unknown::because("This is none of the metals."))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_metal_can_be_named() {
        assert_eq!(Metal::all().map(Metal::name).collect::<Vec<_>>(), METALS);
    }
}
