//! The precharge to set, what it costs, and what precharge and drawdown say together.

use super::helpers::{CYCLE, ELEVATION, amounts, confidence, numbers, refused, takes, takes_sort};
use crate::lang::{Function, Sort, Value, Work};
use crate::physics::{self, Demands, Evidence, Finding, Governs, OutOfRange, PrechargeTarget};
use crate::quantity::Measure::*;
use crate::quantity::Scalar;
use crate::words::Formula;

pub(super) static FUNCTIONS: &[Function] = &[
    Function {
        name: "precharge_target",
        parameters: &[
            takes("cut_in", Pressure),
            takes("set_at", Temperature),
            takes("warmest", Temperature),
            takes("gap", PressureChange),
            ELEVATION,
            takes("uncertainty", PressureChange),
        ],
        required: 4,
        gives: Sort::Is(Pressure),
        explanation: &physics::CHARGE_TARGET,
        help: "The lowest of cut-in less gap; the charge that reaches the cut-in at the warmest temperature; and the lower of that and the cut-in, less the doubt. The doubt is how far charge less cut-in may be off, as uncertainty_between(found, cut_in) tells: a reading with the same air gauge stands in for the one to come. Left off, the gauges count as exact. A gap of 2 psi is common practice; Water Systems Council, Pressure Tanks (2007).",
        example: ("precharge_target(40 psi, 60 degF, 75 degF, 2 psi, 0 ft, 3 psi)", "35.466 psi"),
        partial: true,
        work: numbers!(Pressure, |cut_in, set_at, warmest, gap, elevation, uncertainty| {
            target([cut_in, set_at, warmest, gap, elevation, uncertainty]).map(|target| target.precharge)
        }),
    },
    Function {
        name: "precharge_reason",
        parameters: &[
            takes("cut_in", Pressure),
            takes("set_at", Temperature),
            takes("warmest", Temperature),
            takes("gap", PressureChange),
            ELEVATION,
            takes("uncertainty", PressureChange),
        ],
        required: 4,
        gives: Sort::Words(&["gap", "warmth", "doubt"]),
        explanation: &Formula {
            sentence: "Which of the three reasons decides the charge to set.",
            formula: "the reason whose precharge is lowest",
            range: "",
            source: "as precharge_target",
        },
        help: "As precharge_target: 'gap' below the cut-in, 'warmth' of the warmest day, or 'doubt' of the gauges.",
        example: ("precharge_reason(40 psi, 60 degF, 75 degF, 2 psi, 0 ft, 3 psi)", "doubt"),
        partial: true,
        work: Work::Values(|given| {
            target(amounts(given)).map_err(refused).map(|target| {
                Value::text(match target.governs {
                    Governs::Gap => "gap",
                    Governs::Warmth => "warmth",
                    Governs::Uncertainty => "doubt",
                })
            })
        }),
    },
    Function {
        name: "cost_of_gap",
        parameters: CYCLE,
        required: 4,
        gives: Sort::Is(Volume),
        explanation: &physics::COST_OF_GAP,
        help: "Below zero for a charge nearer the cut-in than 2 psi.",
        example: ("cost_of_gap(44 gal, 35 psi, 40 psi, 60 psi)", "0.64618 gal"),
        partial: true,
        work: numbers!(Volume, |volume, precharge, cut_in, cut_out, elevation| physics::cost_of_gap(
            volume, precharge, cut_in, cut_out, elevation
        )),
    },
    Function {
        name: "diagnosis",
        parameters: &[
            takes("volume", Volume),
            takes("drawdown", Volume),
            takes("precharge", Pressure),
            takes("cut_in", Pressure),
            takes("cut_out", Pressure),
            ELEVATION,
            takes_sort("confidence", Sort::Confidence),
        ],
        required: 5,
        gives: Sort::Words(&["waterlogged", "low", "right", "high", "wrong volume", "unsure"]),
        explanation: &physics::DIAGNOSIS,
        help: "Where the drawdown is within 10 % of what the charge foretells they agree, and the charge is 'low' (more than 7 psi below the cut-in), 'right', or 'high' (above the cut-in). A drawdown no more than a charge of 2 psi gives is 'waterlogged'. Otherwise 'wrong volume': the plate is wrong or capacity is lost. A word needs the probability that the checks of the run go by, 95 % if nobody asks for another, else 'unsure'. The limits are judgements.",
        example: ("diagnosis(44 gal, 7 gal, 38 psi, 40 psi, 60 psi)", "wrong volume"),
        partial: true,
        work: Work::Values(|given| {
            let [volume, drawdown, precharge, cut_in, cut_out, elevation] = amounts(given);
            let found = Evidence { volume, drawdown, precharge, cut_in, cut_out };
            let asked = given.get(6).and_then(Value::amount).map_or(confidence(), Scalar::value);
            let diagnosis = physics::diagnose(&found, elevation).map_err(refused)?;
            Ok(Value::text(diagnosis.finding(asked).map_or("unsure", Finding::words)))
        }),
    },
];

fn target<S: Scalar>(given: [S; 6]) -> Result<PrechargeTarget<S>, OutOfRange> {
    let [cut_in, set_at, warmest, gap, elevation, uncertainty] = given;
    physics::precharge_target_explained(Demands { cut_in, set_at, warmest, gap, uncertainty }, elevation)
}
