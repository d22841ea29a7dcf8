//! Standing and running water, and how it weighs.

use super::helpers::{CUT_IN, ELEVATION, FLOW, FROM, Lent, PRECHARGE, TO, VOLUME, lent, numbers, takes};
use crate::lang::Function;
use crate::physics;
use crate::quantity::Measure::*;

pub(super) static FUNCTIONS: &[Function] = &[
    lent(Lent {
        name: "head",
        parameters: &[takes("height", Length)],
        explanation: &physics::HEAD,
        help: "Water at 10 °C.",
        example: ("head(20 ft)", "8.668 psi"),
        gives: numbers!(PressureChange, head(height)),
    }),
    lent(Lent {
        name: "pressure_at",
        parameters: &[takes("pressure", Pressure), takes("above", Length)],
        explanation: &physics::PRESSURE_AT,
        help: "A place below has a height below zero. Still water only.",
        example: ("pressure_at(40 psi, 20 ft)", "31.332 psi"),
        gives: numbers!(Pressure, pressure_at(pressure, above)),
    }),
    lent(Lent {
        name: "lowest_pressure",
        parameters: &[CUT_IN, takes("above", Length), takes("loss", PressureChange)],
        explanation: &physics::LOWEST_PRESSURE,
        help: "loss is what the pipe takes at the flow in question. Where the precharge lies above the cut-in it is lower still.",
        example: ("lowest_pressure(30 psi, 16.4 ft, 4 psi)", "18.892 psi"),
        gives: numbers!(Pressure, lowest_pressure(cut_in, above, loss)),
    }),
    lent(Lent {
        name: "trapped_water",
        parameters: &[takes("weighed", Mass), takes("empty", Mass)],
        explanation: &physics::TRAPPED_WATER,
        help: "The empty weight is on the plate. Weigh it only when its air is out and it has been drained.",
        example: ("trapped_water(150 lb, 92 lb)", "6.952 gal"),
        gives: numbers!(Volume, trapped_water(weighed, empty)),
    }),
    lent(Lent {
        name: "orifice_flow",
        parameters: &[takes("diameter", Length), takes("coefficient", Number), takes("pressure", Pressure)],
        explanation: &physics::ORIFICE_FLOW,
        help: "About 0.61 for a sharp edge; a valve with a hose has far less: time a bucket instead.",
        example: ("orifice_flow(0.5 in, 0.61, 40 psi)", "28.77 gal/min"),
        gives: numbers!(Flow, orifice_flow(diameter, coefficient, pressure)),
    }),
    lent(Lent {
        name: "drain_time",
        parameters: &[VOLUME, PRECHARGE, FROM, TO, FLOW, ELEVATION],
        explanation: &physics::DRAIN_TIME,
        help: "flow is what runs out at the first; it goes with the root of the pressure. With to below the precharge: until it is empty.",
        example: ("drain_time(44 gal, 38 psi, 60 psi, 38 psi, 5 gal/min)", "175.5 s"),
        gives: numbers!(Duration, |volume, precharge, from, to, flow, elevation| physics::drain_time(
            volume,
            precharge,
            [from, to],
            flow,
            elevation
        )),
    }),
    lent(Lent {
        name: "water_in_pipe",
        parameters: &[takes("diameter", Length), takes("length", Length)],
        explanation: &physics::WATER_IN_PIPE,
        help: "By its inner diameter.",
        example: ("water_in_pipe(6 in, 100 ft)", "146.88 gal"),
        gives: numbers!(Volume, water_in_pipe(diameter, length)),
    }),
];
