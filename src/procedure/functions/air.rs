//! Air that has no time to keep its temperature, and air from a compressor.

use super::helpers::{
    CUT_IN, CUT_OUT, ELEVATION, FLOW, FROM, Lent, PRECHARGE, TO, VOLUME, amount_of, amounts, lent, numbers,
    optional, takes,
};
use crate::lang::{Function, Parameter, Unknown, Value, Work};
use crate::physics::{self, OutOfRange};
use crate::quantity::Measure::*;
use crate::quantity::Uncertain;

const EXPONENT: Parameter = optional(takes("exponent", Number));

/// A tank filled or drawn faster than its air can keep its warmth.
const FAST_CYCLE: &[Parameter] = &[VOLUME, PRECHARGE, CUT_IN, CUT_OUT, ELEVATION, EXPONENT];

/// Either way is told alike.
const FAST: &str = "The truth lies between this and drawdown(…). An exponent of 1 means slow, 1.4 (where none is given) that no heat passes.";

pub(super) static FUNCTIONS: &[Function] = &[
    lent(Lent {
        name: "fast_fill",
        parameters: FAST_CYCLE,
        explanation: &physics::FAST_FILL,
        help: FAST,
        example: ("fast_fill(44 gal, 38 psi, 40 psi, 60 psi)", "8.4597 gal"),
        gives: (Volume, Work::Values(|given| fast(given, physics::fast_fill))),
    }),
    lent(Lent {
        name: "fast_draw",
        parameters: FAST_CYCLE,
        explanation: &physics::FAST_DRAW,
        help: FAST,
        example: ("fast_draw(44 gal, 38 psi, 40 psi, 60 psi)", "7.739 gal"),
        gives: (Volume, Work::Values(|given| fast(given, physics::fast_draw))),
    }),
    lent(Lent {
        name: "air_temperature_after",
        parameters: &[
            takes("temperature", Temperature),
            takes("before", Pressure),
            takes("after", Pressure),
            ELEVATION,
            EXPONENT,
        ],
        explanation: &physics::AIR_TEMPERATURE_AFTER,
        help: "A drawdown measured before it has cooled reads up to a quarter low.",
        example: ("air_temperature_after(59 degF, 40 psi, 60 psi)", "107.3 °F"),
        gives: (
            Temperature,
            Work::Values(|given| {
                let [temperature, before, after, elevation] = amounts(given);
                let exponent = exponent(given, 4);
                let cooled = physics::air_temperature_after(temperature, before, after, elevation, exponent);
                amount_of(Temperature, cooled)
            }),
        ),
    }),
    lent(Lent {
        name: "compressor_time",
        parameters: &[VOLUME, FROM, TO, FLOW, ELEVATION],
        explanation: &physics::COMPRESSOR_TIME,
        help: "Flow as free air taken in here; plates may mean another standard air, by up to 9 %. Add air in short bursts, never above the plate.",
        example: ("compressor_time(44 gal, 0 psi, 38 psi, 15 gal/min)", "7.5849 min"),
        gives: numbers!(Duration, compressor_time(volume, from, to, flow, elevation)),
    }),
];

/// What a formula of a fast cycle gives.
fn fast(
    given: &[Value],
    formula: fn(Uncertain, Uncertain, Uncertain, Uncertain, Uncertain, f64) -> Result<Uncertain, OutOfRange>,
) -> Result<Value, Unknown> {
    let [volume, precharge, cut_in, cut_out, elevation] = amounts(given);
    amount_of(Volume, formula(volume, precharge, cut_in, cut_out, elevation, exponent(given, 5)))
}

/// The exponent where it is given, else that of air that keeps its heat.
fn exponent(given: &[Value], at: usize) -> f64 {
    given.get(at).and_then(Value::amount).map_or(1.4, Uncertain::value)
}
