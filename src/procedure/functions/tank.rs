//! Air and water in the tank.

use super::helpers::{CYCLE, ELEVATION, amounts, lent, takes};
use crate::lang::{Function, Sort};
use crate::physics;
use crate::quantity::Measure::*;

pub(super) static FUNCTIONS: &[Function] = &[
    Function {
        name: "atmosphere",
        parameters: &[ELEVATION],
        required: 1,
        gives: Sort::Is(AbsolutePressure),
        sentence: "The pressure of the air at an elevation.",
        help: "US Standard Atmosphere 1976. Weather moves it by about 0.5 psi either way.",
        formula: "101325 Pa × (1 - 0.0065 H / 288.15)^5.25588, H = r Z / (r + Z), Z the elevation in metres",
        source: "U.S. Standard Atmosphere, 1976",
        example: ("atmosphere(5000 ft)", "12.228 psi"),
        partial: true,
        run: |given| {
            let [elevation] = amounts(given);
            lent(AbsolutePressure, physics::atmosphere(elevation))
        },
    },
    Function {
        name: "absolute",
        parameters: &[takes("gauge", Pressure), ELEVATION],
        required: 1,
        gives: Sort::Is(AbsolutePressure),
        sentence: "A gauge pressure counted from vacuum.",
        help: "Gauge pressure plus the atmosphere at the elevation.",
        formula: "gauge + atmosphere(elevation)",
        source: "definition of gauge pressure; U.S. Standard Atmosphere, 1976",
        example: ("absolute(38 psi)", "52.696 psi"),
        partial: true,
        run: |given| {
            let [gauge, elevation] = amounts(given);
            lent(AbsolutePressure, physics::absolute(gauge, elevation))
        },
    },
    Function {
        name: "water_held",
        parameters: &[
            takes("volume", Volume),
            takes("charge", Pressure),
            takes("pressure", Pressure),
            ELEVATION,
        ],
        required: 3,
        gives: Sort::Is(Volume),
        sentence: "The water a tank holds at a line pressure.",
        help: "V (1 - charge / pressure), both absolute: Boyle's law at one temperature. Below the charge it holds none.",
        formula: "V (1 - charge / pressure), absolute; none at or below the charge",
        source: "Boyle's law; acceptance factor of Water Systems Council, Pressure Tanks (2007)",
        example: ("water_held(44 gal, 38 psi, 60 psi)", "12.959 gal"),
        partial: true,
        run: |given| {
            let [volume, charge, pressure, elevation] = amounts(given);
            lent(Volume, physics::water_held(volume, charge, pressure, elevation))
        },
    },
    Function {
        name: "drawdown",
        parameters: CYCLE,
        required: 4,
        gives: Sort::Is(Volume),
        sentence: "The water a tank gives between the pump's stop and its start.",
        help: "V × charge (1/cut-in - 1/cut-out), all absolute. With the charge above the cut-in it ends at the charge, and the pressure falls away before the pump starts.",
        formula: "V × charge (1 / cut_in - 1 / cut_out), absolute; with the charge above the cut-in V (1 - charge / cut_out)",
        source: "Boyle's law",
        example: ("drawdown(85 gal, 28 psi, 30 psi, 50 psi, 0 ft)", "25.101 gal"),
        partial: true,
        run: |given| {
            let [volume, charge, cut_in, cut_out, elevation] = amounts(given);
            lent(Volume, physics::drawdown(volume, charge, cut_in, cut_out, elevation))
        },
    },
    Function {
        name: "dead_gap",
        parameters: &[takes("charge", Pressure), takes("cut_in", Pressure)],
        required: 2,
        gives: Sort::Is(PressureChange),
        sentence: "How far the pressure falls away, the tank empty, before the pump starts.",
        help: "Charge less cut-in, and nothing when the charge is not above the cut-in.",
        formula: "charge - cut_in, and zero when that is below zero",
        source: "a bladder tank holds no water below its charge",
        example: ("dead_gap(45 psi, 40 psi)", "5 psi"),
        partial: true,
        run: |given| {
            let [charge, cut_in] = amounts(given);
            lent(PressureChange, physics::dead_gap(charge, cut_in))
        },
    },
    Function {
        name: "charge_at",
        parameters: &[
            takes("charge", Pressure),
            takes("from", Temperature),
            takes("to", Temperature),
            ELEVATION,
        ],
        required: 3,
        gives: Sort::Is(Pressure),
        sentence: "What a charge read at one temperature reads at another.",
        help: "Absolute pressure goes with absolute temperature at fixed volume (Gay-Lussac).",
        formula: "charge × to / from, absolute pressures and temperatures",
        source: "law of Gay-Lussac",
        example: ("charge_at(38 psi, 20 degC, 5 degC, 0 ft)", "35.304 psi"),
        partial: true,
        run: |given| {
            let [charge, from, to, elevation] = amounts(given);
            lent(Pressure, physics::charge_at(charge, from, to, elevation))
        },
    },
    Function {
        name: "charge_from_drawdown",
        parameters: &[
            takes("volume", Volume),
            takes("drawdown", Volume),
            takes("cut_in", Pressure),
            takes("cut_out", Pressure),
            ELEVATION,
        ],
        required: 4,
        gives: Sort::Is(Pressure),
        sentence: "The charge that a measured drawdown speaks of.",
        help: "The drawdown formula turned round; it holds for charges up to the cut-in.",
        formula: "(drawdown / V) / (1 / cut_in - 1 / cut_out), absolute",
        source: "Boyle's law",
        example: ("charge_from_drawdown(44 gal, 9 gal, 40 psi, 60 psi)", "27.088 psi"),
        partial: true,
        run: |given| {
            let [volume, drawdown, cut_in, cut_out, elevation] = amounts(given);
            lent(Pressure, physics::charge_from_drawdown(volume, drawdown, cut_in, cut_out, elevation))
        },
    },
    Function {
        name: "overcharge_from_drawdown",
        parameters: &[
            takes("volume", Volume),
            takes("drawdown", Volume),
            takes("cut_out", Pressure),
            ELEVATION,
        ],
        required: 3,
        gives: Sort::Is(Pressure),
        sentence: "The charge that a measured drawdown speaks of, when the charge lies above the cut-in.",
        help: "Then the tank runs empty before the pump starts, and the drawdown is V (1 - charge / cut-out), absolute.",
        formula: "cut_out (1 - drawdown / V), absolute",
        source: "Boyle's law",
        example: ("overcharge_from_drawdown(44 gal, 8.836 gal, 60 psi)", "45 psi"),
        partial: true,
        run: |given| {
            let [volume, drawdown, cut_out, elevation] = amounts(given);
            lent(Pressure, physics::overcharge_from_drawdown(volume, drawdown, cut_out, elevation))
        },
    },
    Function {
        name: "free_air",
        parameters: &[takes("volume", Volume), takes("from", Pressure), takes("to", Pressure), ELEVATION],
        required: 3,
        gives: Sort::Is(Volume),
        sentence: "The air, at the pressure of the room, to bring an empty tank from one charge to another.",
        help: "V (to - from) / atmosphere, at one temperature.",
        formula: "V (to - from) / atmosphere(elevation)",
        source: "Boyle's law",
        example: ("free_air(44 gal, 28 psi, 38 psi)", "29.94 gal"),
        partial: true,
        run: |given| {
            let [volume, from, to, elevation] = amounts(given);
            lent(Volume, physics::free_air(volume, from, to, elevation))
        },
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
        sentence: "The strokes of a hand pump for that air.",
        help: "Free air by the volume of one stroke, at 100 % delivery; a real pump needs more, and more as the pressure rises.",
        formula: "free_air / stroke",
        source: "Boyle's law",
        example: ("strokes(44 gal, 28 psi, 38 psi, 0.5 L)", "226.67"),
        partial: true,
        run: |given| {
            let [volume, from, to, stroke, elevation] = amounts(given);
            lent(Number, physics::strokes(volume, from, to, stroke, elevation))
        },
    },
];
