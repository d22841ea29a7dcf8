//! Air and water in the tank.

use super::helpers::{CYCLE, ELEVATION, numbers, takes};
use crate::lang::{Function, Sort};
use crate::physics;
use crate::quantity::Measure::*;

pub(super) static FUNCTIONS: &[Function] = &[
    Function {
        name: "atmosphere",
        parameters: &[ELEVATION],
        required: 1,
        gives: Sort::Is(AbsolutePressure),
        explanation: &physics::ATMOSPHERE,
        help: "Weather moves it by about 0.5 psi either way.",
        example: ("atmosphere(5000 ft)", "12.228 psi"),
        partial: true,
        work: numbers!(AbsolutePressure, |elevation| physics::atmosphere(elevation)),
    },
    Function {
        name: "absolute",
        parameters: &[takes("gauge", Pressure), ELEVATION],
        required: 1,
        gives: Sort::Is(AbsolutePressure),
        explanation: &physics::ABSOLUTE,
        help: "",
        example: ("absolute(38 psi)", "52.696 psi"),
        partial: true,
        work: numbers!(AbsolutePressure, |gauge, elevation| physics::absolute(gauge, elevation)),
    },
    Function {
        name: "water_held",
        parameters: &[
            takes("volume", Volume),
            takes("precharge", Pressure),
            takes("pressure", Pressure),
            ELEVATION,
        ],
        required: 3,
        gives: Sort::Is(Volume),
        explanation: &physics::WATER_HELD,
        help: "Boyle's law at one temperature.",
        example: ("water_held(44 gal, 38 psi, 60 psi)", "12.959 gal"),
        partial: true,
        work: numbers!(Volume, |volume, precharge, pressure, elevation| physics::water_held(
            volume, precharge, pressure, elevation
        )),
    },
    Function {
        name: "drawdown",
        parameters: CYCLE,
        required: 4,
        gives: Sort::Is(Volume),
        explanation: &physics::DRAWDOWN,
        help: "With the precharge above the cut-in it ends at the precharge, and the pressure falls away before the pump starts.",
        example: ("drawdown(85 gal, 28 psi, 30 psi, 50 psi, 0 ft)", "25.101 gal"),
        partial: true,
        work: numbers!(Volume, |volume, precharge, cut_in, cut_out, elevation| physics::drawdown(
            volume, precharge, cut_in, cut_out, elevation
        )),
    },
    Function {
        name: "dead_gap",
        parameters: &[takes("precharge", Pressure), takes("cut_in", Pressure)],
        required: 2,
        gives: Sort::Is(PressureChange),
        explanation: &physics::DEAD_GAP,
        help: "Nothing when the precharge is not above the cut-in.",
        example: ("dead_gap(45 psi, 40 psi)", "5 psi"),
        partial: true,
        work: numbers!(PressureChange, |precharge, cut_in| physics::dead_gap(precharge, cut_in)),
    },
    Function {
        name: "precharge_at",
        parameters: &[
            takes("precharge", Pressure),
            takes("from", Temperature),
            takes("to", Temperature),
            ELEVATION,
        ],
        required: 3,
        gives: Sort::Is(Pressure),
        explanation: &physics::CHARGE_AT,
        help: "The tank's air keeps its amount and its volume.",
        example: ("precharge_at(38 psi, 20 degC, 5 degC, 0 ft)", "35.304 psi"),
        partial: true,
        work: numbers!(Pressure, |precharge, from, to, elevation| physics::precharge_at(
            precharge, from, to, elevation
        )),
    },
    Function {
        name: "precharge_from_drawdown",
        parameters: &[
            takes("volume", Volume),
            takes("drawdown", Volume),
            takes("cut_in", Pressure),
            takes("cut_out", Pressure),
            ELEVATION,
        ],
        required: 4,
        gives: Sort::Is(Pressure),
        explanation: &physics::CHARGE_FROM_DRAWDOWN,
        help: "It holds for charges up to the cut-in.",
        example: ("precharge_from_drawdown(44 gal, 9 gal, 40 psi, 60 psi)", "27.088 psi"),
        partial: true,
        work: numbers!(Pressure, |volume, drawdown, cut_in, cut_out, elevation| {
            physics::precharge_from_drawdown(volume, drawdown, cut_in, cut_out, elevation)
        }),
    },
    Function {
        name: "high_precharge_from_drawdown",
        parameters: &[
            takes("volume", Volume),
            takes("drawdown", Volume),
            takes("cut_out", Pressure),
            ELEVATION,
        ],
        required: 3,
        gives: Sort::Is(Pressure),
        explanation: &physics::OVERCHARGE_FROM_DRAWDOWN,
        help: "Then the tank runs empty before the pump starts.",
        example: ("high_precharge_from_drawdown(44 gal, 8.836 gal, 60 psi)", "45 psi"),
        partial: true,
        work: numbers!(Pressure, |volume, drawdown, cut_out, elevation| {
            physics::high_precharge_from_drawdown(volume, drawdown, cut_out, elevation)
        }),
    },
    Function {
        name: "free_air",
        parameters: &[takes("volume", Volume), takes("from", Pressure), takes("to", Pressure), ELEVATION],
        required: 3,
        gives: Sort::Is(Volume),
        explanation: &physics::FREE_AIR,
        help: "At one temperature.",
        example: ("free_air(44 gal, 28 psi, 38 psi)", "29.94 gal"),
        partial: true,
        work: numbers!(Volume, |volume, from, to, elevation| physics::free_air(volume, from, to, elevation)),
    },
    Function {
        name: "strokes",
        parameters: &[
            takes("volume", Volume),
            takes("from", Pressure),
            takes("to", Pressure),
            takes("stroke", Volume),
            ELEVATION,
        ],
        required: 4,
        gives: Sort::Is(Number),
        explanation: &physics::STROKES,
        help: "At 100 % delivery; a real pump needs more, and more as the pressure rises.",
        example: ("strokes(44 gal, 28 psi, 38 psi, 0.5 L)", "226.67"),
        partial: true,
        work: numbers!(Number, |volume, from, to, stroke, elevation| physics::strokes(
            volume, from, to, stroke, elevation
        )),
    },
];
