//! Air and water in the tank.

use super::helpers::{
    CUT_IN, CUT_OUT, CYCLE, DRAWDOWN, ELEVATION, FROM, Lent, PRECHARGE, TO, VOLUME, lent, numbers, takes,
};
use crate::lang::Function;
use crate::physics;
use crate::quantity::Measure::*;

pub(super) static FUNCTIONS: &[Function] = &[
    lent(Lent {
        name: "atmosphere",
        parameters: &[takes("elevation", Length)],
        explanation: &physics::ATMOSPHERE,
        help: "Weather moves it by about 0.5 psi either way.",
        example: ("atmosphere(5000 ft)", "12.228 psi"),
        gives: numbers!(AbsolutePressure, atmosphere(elevation)),
    }),
    lent(Lent {
        name: "absolute",
        parameters: &[takes("gauge", Pressure), ELEVATION],
        explanation: &physics::ABSOLUTE,
        help: "",
        example: ("absolute(38 psi)", "52.696 psi"),
        gives: numbers!(AbsolutePressure, absolute(gauge, elevation)),
    }),
    lent(Lent {
        name: "water_held",
        parameters: &[VOLUME, PRECHARGE, takes("pressure", Pressure), ELEVATION],
        explanation: &physics::WATER_HELD,
        help: "Boyle's law at one temperature.",
        example: ("water_held(44 gal, 38 psi, 60 psi)", "12.959 gal"),
        gives: numbers!(Volume, water_held(volume, precharge, pressure, elevation)),
    }),
    lent(Lent {
        name: "drawdown",
        parameters: CYCLE,
        explanation: &physics::DRAWDOWN,
        help: "With the precharge above the cut-in it ends at the precharge, and the pressure falls away before the pump starts.",
        example: ("drawdown(85 gal, 28 psi, 30 psi, 50 psi, 0 ft)", "25.101 gal"),
        gives: numbers!(Volume, drawdown(volume, precharge, cut_in, cut_out, elevation)),
    }),
    lent(Lent {
        name: "dead_gap",
        parameters: &[PRECHARGE, CUT_IN],
        explanation: &physics::DEAD_GAP,
        help: "Nothing when the precharge is not above the cut-in.",
        example: ("dead_gap(45 psi, 40 psi)", "5 psi"),
        gives: numbers!(PressureChange, dead_gap(precharge, cut_in)),
    }),
    lent(Lent {
        name: "precharge_at",
        parameters: &[PRECHARGE, takes("from", Temperature), takes("to", Temperature), ELEVATION],
        explanation: &physics::PRECHARGE_AT,
        help: "The tank's air keeps its amount and its volume.",
        example: ("precharge_at(38 psi, 20 degC, 5 degC, 0 ft)", "35.304 psi"),
        gives: numbers!(Pressure, precharge_at(precharge, from, to, elevation)),
    }),
    lent(Lent {
        name: "precharge_from_drawdown",
        parameters: &[VOLUME, DRAWDOWN, CUT_IN, CUT_OUT, ELEVATION],
        explanation: &physics::PRECHARGE_FROM_DRAWDOWN,
        help: "It holds for charges up to the cut-in.",
        example: ("precharge_from_drawdown(44 gal, 9 gal, 40 psi, 60 psi)", "27.088 psi"),
        gives: numbers!(Pressure, precharge_from_drawdown(volume, drawdown, cut_in, cut_out, elevation)),
    }),
    lent(Lent {
        name: "high_precharge_from_drawdown",
        parameters: &[VOLUME, DRAWDOWN, CUT_OUT, ELEVATION],
        explanation: &physics::HIGH_PRECHARGE_FROM_DRAWDOWN,
        help: "Then the tank runs empty before the pump starts.",
        example: ("high_precharge_from_drawdown(44 gal, 8.836 gal, 60 psi)", "45 psi"),
        gives: numbers!(Pressure, high_precharge_from_drawdown(volume, drawdown, cut_out, elevation)),
    }),
    lent(Lent {
        name: "free_air",
        parameters: &[VOLUME, FROM, TO, ELEVATION],
        explanation: &physics::FREE_AIR,
        help: "At one temperature.",
        example: ("free_air(44 gal, 28 psi, 38 psi)", "29.94 gal"),
        gives: numbers!(Volume, free_air(volume, from, to, elevation)),
    }),
    lent(Lent {
        name: "strokes",
        parameters: &[VOLUME, FROM, TO, takes("stroke", Volume), ELEVATION],
        explanation: &physics::STROKES,
        help: "At 100 % delivery; a real pump needs more, and more as the pressure rises.",
        example: ("strokes(44 gal, 28 psi, 38 psi, 0.5 L)", "226.67"),
        gives: numbers!(Number, strokes(volume, from, to, stroke, elevation)),
    }),
];
