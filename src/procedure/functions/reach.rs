//! How far a pump reaches, and what is lost on the way to a faucet.

use super::helpers::{DRAWDOWN, FLOW, Lent, lent, numbers, takes};
use crate::lang::Function;
use crate::physics::{self, PlainPipe, PumpDuty, SMOOTH_WALL};
use crate::quantity::Measure::*;

pub(super) static FUNCTIONS: &[Function] = &[
    lent(Lent {
        name: "friction_loss",
        parameters: &[FLOW, takes("length", Length), takes("diameter", Length)],
        explanation: &physics::FRICTION_LOSS,
        help: "For new copper or plastic, by its inner diameter. Fittings, filters and old galvanized pipe take more.",
        example: ("friction_loss(5 gal/min, 100 ft, 0.785 in)", "3.1395 psi"),
        gives: numbers!(PressureChange, |flow, length, diameter| {
            physics::friction_loss(flow, &PlainPipe { length, diameter, roughness: SMOOTH_WALL })
        }),
    }),
    lent(Lent {
        name: "starts_at_demand",
        parameters: &[DRAWDOWN, FLOW, takes("demand", Flow)],
        explanation: &physics::STARTS_AT_DEMAND,
        help: "The demand is one steady draw, such as a sprinkler.",
        example: ("starts_at_demand(10 gal, 10 gal/min, 2 gal/min)", "9.6"),
        gives: numbers!(Number, starts_at_demand(drawdown, flow, demand)),
    }),
    lent(Lent {
        name: "shutoff_pressure",
        parameters: &[takes("shutoff_head", Length), takes("depth", Length)],
        explanation: &physics::SHUTOFF_PRESSURE,
        help: "depth is how far below the switch the water stands while the pump runs.",
        example: ("shutoff_pressure(260 ft, 90 ft)", "73.678 psi"),
        gives: numbers!(Pressure, shutoff_pressure(shutoff_head, depth)),
    }),
    lent(Lent {
        name: "shutoff_from_two_flows",
        parameters: &[takes("p1", Pressure), takes("q1", Flow), takes("p2", Pressure), takes("q2", Flow)],
        explanation: &physics::SHUTOFF_FROM_TWO_FLOWS,
        help: "Each flow is that of a timed fill at its middle pressure.",
        example: ("shutoff_from_two_flows(40 psi, 8 gal/min, 55 psi, 5 gal/min)", "64.615 psi"),
        gives: numbers!(Pressure, |p1, q1, p2, q2| {
            let [low, high] = [(p1, q1), (p2, q2)].map(|(pressure, flow)| PumpDuty { pressure, flow });
            physics::shutoff_from_two_flows(&low, &high)
        }),
    }),
    lent(Lent {
        name: "flow_at",
        parameters: &[takes("shutoff", Pressure), takes("pressure", Pressure), FLOW, takes("at", Pressure)],
        explanation: &physics::FLOW_AT,
        help: "shutoff is the highest pressure the pump can make.",
        example: ("flow_at(80 psi, 48 psi, 7.3 gal/min, 55 psi)", "6.4523 gal/min"),
        gives: numbers!(Flow, |shutoff, pressure, flow, at| {
            physics::flow_at(shutoff, &PumpDuty { pressure, flow }, at)
        }),
    }),
];
