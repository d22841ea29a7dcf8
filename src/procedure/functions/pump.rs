//! The pump: how long it runs, how often it starts, and the tank it needs.

use super::helpers::{CUT_IN, CUT_OUT, DRAWDOWN, ELEVATION, FLOW, Lent, PRECHARGE, lent, numbers, takes};
use crate::lang::Function;
use crate::physics;
use crate::quantity::Measure::*;

pub(super) static FUNCTIONS: &[Function] = &[
    lent(Lent {
        name: "run_time",
        parameters: &[DRAWDOWN, FLOW],
        explanation: &physics::RUN_TIME,
        help: "`least_run_time` tells what it should be.",
        example: ("run_time(11.35 gal, 10 gal/min)", "68.1 s"),
        gives: numbers!(Duration, run_time(drawdown, flow)),
    }),
    lent(Lent {
        name: "least_run_time",
        parameters: &[takes("power", Power)],
        explanation: &physics::LEAST_RUN_TIME,
        help: "A longer run spares the motor, and needs a larger tank.",
        example: ("least_run_time(1 hp)", "2 min"),
        gives: numbers!(Duration, least_run_time(power)),
    }),
    lent(Lent {
        name: "starts_per_hour",
        parameters: &[DRAWDOWN, FLOW],
        explanation: &physics::STARTS_PER_HOUR,
        help: "Water Systems Council's standard for tanks asks for at most 15 up to 3/4 hp and 7.5 above.",
        example: ("starts_per_hour(10 gal, 10 gal/min)", "15"),
        gives: numbers!(Number, starts_per_hour(drawdown, flow)),
    }),
    lent(Lent {
        name: "drawdown_for_starts",
        parameters: &[FLOW, takes("starts", Number)],
        explanation: &physics::DRAWDOWN_FOR_STARTS,
        help: "Half of what the pump brings is the worst draw.",
        example: ("drawdown_for_starts(10 gal/min, 6)", "25 gal"),
        gives: numbers!(Volume, drawdown_for_starts(flow, starts)),
    }),
    lent(Lent {
        name: "water_for_run",
        parameters: &[FLOW, takes("run_time", Duration)],
        explanation: &physics::WATER_FOR_RUN,
        help: "With every tap shut.",
        example: ("water_for_run(10 gal/min, 2 min)", "20 gal"),
        gives: numbers!(Volume, water_for_run(flow, run_time)),
    }),
    lent(Lent {
        name: "volume_needed",
        parameters: &[takes("needed", Volume), PRECHARGE, CUT_IN, CUT_OUT, ELEVATION],
        explanation: &physics::VOLUME_NEEDED,
        help: "Several tanks with one precharge count together.",
        example: ("volume_needed(10 gal, 38 psi, 40 psi, 60 psi)", "38.765 gal"),
        gives: numbers!(Volume, volume_needed(needed, precharge, cut_in, cut_out, elevation)),
    }),
];
