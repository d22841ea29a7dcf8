//! The pump: how long it runs, how often it starts, and the tank it needs.

use super::helpers::{CUT_IN, CUT_OUT, DRAWDOWN, ELEVATION, FLOW, PRECHARGE, numbers, takes};
use crate::lang::{Function, Sort};
use crate::physics;
use crate::quantity::Measure::*;

pub(super) static FUNCTIONS: &[Function] = &[
    Function {
        name: "run_time",
        parameters: &[DRAWDOWN, FLOW],
        required: 2,
        gives: Sort::Is(Duration),
        explanation: &physics::RUN_TIME,
        help: "At least 1 min, and 2 min for larger pumps, is common practice.",
        example: ("run_time(11.35 gal, 10 gal/min)", "68.1 s"),
        partial: true,
        work: numbers!(Duration, run_time(drawdown, flow)),
    },
    Function {
        name: "starts_per_hour",
        parameters: &[DRAWDOWN, FLOW],
        required: 2,
        gives: Sort::Is(Number),
        explanation: &physics::STARTS_PER_HOUR,
        help: "Water Systems Council's standard for tanks asks for at most 15 up to 3/4 hp and 7.5 above.",
        example: ("starts_per_hour(10 gal, 10 gal/min)", "15"),
        partial: true,
        work: numbers!(Number, starts_per_hour(drawdown, flow)),
    },
    Function {
        name: "drawdown_for_starts",
        parameters: &[FLOW, takes("starts", Number)],
        required: 2,
        gives: Sort::Is(Volume),
        explanation: &physics::DRAWDOWN_FOR_STARTS,
        help: "Half of what the pump brings is the worst draw.",
        example: ("drawdown_for_starts(10 gal/min, 6)", "25 gal"),
        partial: true,
        work: numbers!(Volume, drawdown_for_starts(flow, starts)),
    },
    Function {
        name: "water_for_run",
        parameters: &[FLOW, takes("run_time", Duration)],
        required: 2,
        gives: Sort::Is(Volume),
        explanation: &physics::WATER_FOR_RUN,
        help: "With every tap shut.",
        example: ("water_for_run(10 gal/min, 2 min)", "20 gal"),
        partial: true,
        work: numbers!(Volume, water_for_run(flow, run_time)),
    },
    Function {
        name: "volume_needed",
        parameters: &[takes("needed", Volume), PRECHARGE, CUT_IN, CUT_OUT, ELEVATION],
        required: 4,
        gives: Sort::Is(Volume),
        explanation: &physics::VOLUME_NEEDED,
        help: "Several tanks with one charge count together.",
        example: ("volume_needed(10 gal, 38 psi, 40 psi, 60 psi)", "38.765 gal"),
        partial: true,
        work: numbers!(Volume, volume_needed(needed, precharge, cut_in, cut_out, elevation)),
    },
];
