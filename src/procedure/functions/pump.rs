//! The pump: how long it runs and how often it starts.

use super::helpers::{amounts, lent, takes};
use crate::lang::{Function, Sort};
use crate::physics;
use crate::quantity::Measure::*;

pub(super) static FUNCTIONS: &[Function] = &[
    Function {
        name: "run_time",
        parameters: &[takes("drawdown", Volume), takes("flow", Flow)],
        required: 2,
        gives: Sort::Is(Duration),
        sentence: "How long the pump runs to make up a drawdown, with every tap shut.",
        help: "Drawdown by flow. At least 1 min, and 2 min for larger pumps, is common practice.",
        formula: "drawdown / flow",
        source: "definition of flow",
        example: ("run_time(11.35 gal, 10 gal/min)", "68.1 s"),
        partial: true,
        run: |given| {
            let [drawdown, flow] = amounts(given);
            lent(Duration, physics::run_time(drawdown, flow))
        },
    },
    Function {
        name: "starts_per_hour",
        parameters: &[takes("drawdown", Volume), takes("flow", Flow)],
        required: 2,
        gives: Sort::Is(Number),
        sentence: "The starts in an hour at the worst draw, half of what the pump brings.",
        help: "Flow by four drawdowns. Water Systems Council's standard for tanks asks for at most 15 up to 3/4 hp and 7.5 above.",
        formula: "flow in an hour / (4 drawdown)",
        source: "derived; agrees with Water Systems Council's standard for tanks",
        example: ("starts_per_hour(10 gal, 10 gal/min)", "15"),
        partial: true,
        run: |given| {
            let [drawdown, flow] = amounts(given);
            lent(Number, physics::starts_per_hour(drawdown, flow))
        },
    },
    Function {
        name: "bucket_flow",
        parameters: &[takes("water", Volume), takes("duration", Duration)],
        required: 2,
        gives: Sort::Is(Flow),
        sentence: "The flow that fills a known volume in a measured time.",
        help: "Volume by time.",
        formula: "water / duration",
        source: "definition of flow",
        example: ("bucket_flow(5 gal, 30 s)", "10 gal/min"),
        partial: true,
        run: |given| {
            let [water, duration] = amounts(given);
            lent(Flow, physics::bucket_flow(water, duration))
        },
    },
];
