//! The precharge to set, what it costs, and what precharge and drawdown say together.

use super::helpers::{
    CUT_IN, CYCLE, ELEVATION, Lent, amounts, apart_u, lent, numbers, optional, refused, takes, takes_sort,
};
use crate::lang::{Function, Parameter, Sort, Unknown, Value, Work};
use crate::physics::{self, Demands, Governs, OutOfRange, PrechargeTarget};
use crate::quantity::Measure::*;
use crate::quantity::{Scalar, SourceId, Uncertain};
use crate::words::Formula;

/// What the precharge is to meet.
const DEMANDS: &[Parameter] = &[
    CUT_IN,
    takes("set_at", Temperature),
    takes("warmest", Temperature),
    takes("gap", PressureChange),
    ELEVATION,
    optional(takes("uncertainty", PressureChange)),
];

pub(super) static FUNCTIONS: &[Function] = &[
    lent(Lent {
        name: "precharge_target",
        parameters: DEMANDS,
        explanation: &physics::PRECHARGE_TARGET,
        help: "The lowest of cut-in less gap; the precharge that reaches the cut-in at the warmest temperature; and the lower of that and the cut-in, less the uncertainty: how far precharge less cut-in may be off, as uncertainty_between(found, cut_in) tells: a reading with the same air gauge stands in for the one to come. Left off, the gauges count as exact. A gap of 2 psi is common practice; Water Systems Council, Pressure Tanks (2007).",
        example: ("precharge_target(40 psi, 60 degF, 75 degF, 2 psi, 0 ft, 3 psi)", "35.466 psi"),
        gives: numbers!(Pressure, |cut_in, set_at, warmest, gap, elevation, uncertainty| {
            target([cut_in, set_at, warmest, gap, elevation, uncertainty]).map(|target| target.precharge)
        }),
    }),
    Function {
        name: "precharge_reason",
        parameters: DEMANDS,
        gives: Sort::Words(&["gap", "warmth", "gauges"]),
        explanation: &Formula {
            sentence: "Which of the three reasons decides the precharge to set.",
            ..physics::PRECHARGE_TARGET
        },
        help: "As precharge_target: 'gap' below the cut-in, 'warmth' of the warmest day, or the uncertainty of the 'gauges'.",
        example: ("precharge_reason(40 psi, 60 degF, 75 degF, 2 psi, 0 ft, 3 psi)", "gauges"),
        partial: true,
        work: Work::Values(|given| {
            Ok(Value::text(match target(amounts(given)).map_err(refused)?.governs {
                Governs::Gap => "gap",
                Governs::Warmth => "warmth",
                Governs::Uncertainty => "gauges",
            }))
        }),
    },
    Function {
        name: "lowest_start_below",
        parameters: &[takes_sort("starts", Sort::SeriesOf(Pressure))],
        gives: Sort::Is(PressureChange),
        explanation: &physics::LOWEST_START,
        help: "uncertainty_between(found, cut_in - below) + below is the room that a precharge needs under the cut-in.",
        example: ("lowest_start_below(series(40 psi, 40.5 psi, 41 psi))", "0.4 psi"),
        partial: false,
        work: Work::Values(|given| below(&given[0])),
    },
    lent(Lent {
        name: "cost_of_gap",
        parameters: CYCLE,
        explanation: &physics::COST_OF_GAP,
        help: "Below zero for a precharge nearer the cut-in than 2 psi.",
        example: ("cost_of_gap(44 gal, 35 psi, 40 psi, 60 psi)", "0.64618 gal"),
        gives: numbers!(Volume, cost_of_gap(volume, precharge, cut_in, cut_out, elevation)),
    }),
];

fn below(starts: &Value) -> Result<Value, Unknown> {
    let readings = starts.amounts();
    let starts: Vec<f64> = readings.iter().map(Uncertain::value).collect();
    let lowest = physics::lowest_start(&starts, apart_u(&readings)).map_err(refused)?;
    let made_from: Vec<u64> = starts.iter().map(|start| start.to_bits()).collect();
    let source = SourceId::few(("lowest_start_below", made_from), lowest.degrees);
    Ok(Value::Amount(PressureChange, Uncertain::exact(lowest.below).with_component(source, lowest.u)))
}

fn target<S: Scalar>(given: [S; 6]) -> Result<PrechargeTarget<S>, OutOfRange> {
    let [cut_in, set_at, warmest, gap, elevation, uncertainty] = given;
    physics::precharge_target_explained(Demands { cut_in, set_at, warmest, gap, uncertainty }, elevation)
}
