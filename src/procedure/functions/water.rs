//! Standing and running water, and how it weighs.

use super::helpers::{ELEVATION, amounts, lent, takes};
use crate::lang::{Function, Sort};
use crate::physics;
use crate::quantity::Measure::*;

pub(super) static FUNCTIONS: &[Function] = &[
    Function {
        name: "head",
        parameters: &[takes("height", Length)],
        required: 1,
        gives: Sort::Is(PressureChange),
        sentence: "The pressure of a column of water.",
        help: "Density of water at 10 °C times gravity times height.",
        formula: "999.7025 kg/m³ × 9.80665 m/s² × height",
        source: "hydrostatics; density: IAPWS-95",
        example: ("head(20 ft)", "8.668 psi"),
        partial: true,
        run: |given| {
            let [height] = amounts(given);
            lent(PressureChange, physics::head(height))
        },
    },
    Function {
        name: "pressure_at",
        parameters: &[takes("pressure", Pressure), takes("above", Length)],
        required: 2,
        gives: Sort::Is(Pressure),
        sentence: "The pressure at a place so far above the gauge.",
        help: "A place below has a height below zero. Still water only.",
        formula: "pressure - head(above)",
        source: "hydrostatics",
        example: ("pressure_at(40 psi, 20 ft)", "31.332 psi"),
        partial: true,
        run: |given| {
            let [pressure, above] = amounts(given);
            lent(Pressure, physics::pressure_at(pressure, above))
        },
    },
    Function {
        name: "lowest_pressure",
        parameters: &[takes("cut_in", Pressure), takes("above", Length), takes("loss", PressureChange)],
        required: 3,
        gives: Sort::Is(Pressure),
        sentence: "The lowest pressure an outlet gets, just before the pump starts.",
        help: "loss is what the pipe takes at the flow in question. Where the charge lies above the cut-in it is lower still.",
        formula: "cut_in - head(above) - loss",
        source: "hydrostatics",
        example: ("lowest_pressure(30 psi, 16.4 ft, 4 psi)", "18.892 psi"),
        partial: true,
        run: |given| {
            let [cut_in, above, loss] = amounts(given);
            lent(Pressure, physics::lowest_pressure(cut_in, above, loss))
        },
    },
    Function {
        name: "trapped_water",
        parameters: &[takes("weighed", Mass), takes("empty", Mass)],
        required: 2,
        gives: Sort::Is(Volume),
        sentence: "The water trapped in a drained tank, by its weight.",
        help: "The empty weight is on the plate. Weigh it only when its air is out and it has been drained.",
        formula: "(weighed - empty) / density of water",
        source: "water at 10 °C, IAPWS-95",
        example: ("trapped_water(150 lb, 92 lb)", "6.952 gal"),
        partial: true,
        run: |given| {
            let [weighed, empty] = amounts(given);
            lent(Volume, physics::trapped_water(weighed, empty))
        },
    },
    Function {
        name: "orifice_flow",
        parameters: &[takes("diameter", Length), takes("coefficient", Number), takes("pressure", Pressure)],
        required: 3,
        gives: Sort::Is(Flow),
        sentence: "The water that runs through a round opening.",
        help: "About 0.61 for a sharp edge; a valve with a hose has far less: time a bucket instead.",
        formula: "coefficient × π/4 diameter² √(2 pressure / density)",
        source: "Torricelli; N. Midoux, Mécanique et rhéologie des fluides en génie chimique, p. 51",
        example: ("orifice_flow(0.5 in, 0.61, 40 psi)", "28.77 gal/min"),
        partial: true,
        run: |given| {
            let [diameter, coefficient, pressure] = amounts(given);
            lent(Flow, physics::orifice_flow(diameter, coefficient, pressure))
        },
    },
    Function {
        name: "drain_time",
        parameters: &[
            takes("volume", Volume),
            takes("charge", Pressure),
            takes("from", Pressure),
            takes("to", Pressure),
            takes("flow", Flow),
            ELEVATION,
        ],
        required: 5,
        gives: Sort::Is(Duration),
        sentence: "How long a tank takes to fall from one pressure to a lower one.",
        help: "flow is what runs out at the first; it goes with the root of the pressure. With to below the charge: until it is empty.",
        formula: "V charge √from / flow (I(from) - I(to)), I(P) = s / (A P) + atan(s / √A) / A^1.5, s = √(P - A)",
        source: "Boyle's and Torricelli's laws",
        example: ("drain_time(44 gal, 38 psi, 60 psi, 38 psi, 5 gal/min)", "2.925 min"),
        partial: true,
        run: |given| {
            let [volume, charge, from, to, flow, elevation] = amounts(given);
            lent(Duration, physics::drain_time(volume, charge, [from, to], flow, elevation))
        },
    },
    Function {
        name: "water_in_pipe",
        parameters: &[takes("diameter", Length), takes("length", Length)],
        required: 2,
        gives: Sort::Is(Volume),
        sentence: "The water in a length of pipe or casing.",
        help: "By its inner diameter.",
        formula: "π/4 diameter² length",
        source: "geometry",
        example: ("water_in_pipe(6 in, 100 ft)", "146.88 gal"),
        partial: true,
        run: |given| {
            let [diameter, length] = amounts(given);
            lent(Volume, physics::water_in_pipe(diameter, length))
        },
    },
];
