//! Hold tests: what was lost, and what could have been seen.

use super::helpers::{ELEVATION, Lent, PRECHARGE, VOLUME, lent, numbers, takes};
use crate::lang::Function;
use crate::physics::{self, Held};
use crate::quantity::Measure::*;

pub(super) static FUNCTIONS: &[Function] = &[
    lent(Lent {
        name: "corrected_loss",
        parameters: &[
            takes("start", Pressure),
            takes("start_temp", Temperature),
            takes("end", Pressure),
            takes("end_temp", Temperature),
            ELEVATION,
        ],
        explanation: &physics::CORRECTED_LOSS,
        help: "A cold morning is not a leak. Below zero where the pressure rose.",
        example: ("corrected_loss(50 psi, 68 degF, 48.5 psi, 59 degF)", "0.39654 psi"),
        gives: numbers!(PressureChange, |start, start_temp, end, end_temp, elevation| {
            physics::corrected_loss(held(start, start_temp), held(end, end_temp), elevation)
        }),
    }),
    lent(Lent {
        name: "air_leak",
        parameters: &[
            VOLUME,
            takes("start", Pressure),
            takes("start_temp", Temperature),
            takes("end", Pressure),
            takes("end_temp", Temperature),
            takes("duration", Duration),
            ELEVATION,
        ],
        explanation: &physics::AIR_LEAK,
        help: "The water side drained and open, so that the bladder lies still.",
        example: ("air_leak(20 gal, 38 psi, 59 degF, 37.5 psi, 59 degF, 24 h) * 24 h", "0.68046 gal"),
        gives: numbers!(Flow, |volume, start, start_temp, end, end_temp, duration, elevation| {
            physics::air_leak(volume, held(start, start_temp), held(end, end_temp), duration, elevation)
        }),
    }),
    lent(Lent {
        name: "water_lost",
        parameters: &[
            VOLUME,
            PRECHARGE,
            takes("precharge_temp", Temperature),
            takes("start", Pressure),
            takes("start_temp", Temperature),
            takes("end", Pressure),
            takes("end_temp", Temperature),
            ELEVATION,
        ],
        explanation: &physics::WATER_LOST,
        help: "A small fall of pressure is much water.",
        example: ("water_lost(44 gal, 38 psi, 59 degF, 60 psi, 59 degF, 55 psi, 59 degF)", "2.2269 gal"),
        gives: numbers!(Volume, |volume, precharge, set_at, start, start_temp, end, end_temp, elevation| {
            let (start, end) = (held(start, start_temp), held(end, end_temp));
            physics::water_lost(volume, held(precharge, set_at), start, end, elevation)
        }),
    }),
    lent(Lent {
        name: "smallest_leak",
        parameters: &[VOLUME, takes("u", PressureChange), takes("duration", Duration), ELEVATION],
        explanation: &physics::SMALLEST_LEAK,
        help: "u is the standard uncertainty of the loss, as uncertainty_of(corrected_loss(…)) tells. A leak of this size goes unseen once in 20, and a sound tank is blamed as seldom.",
        example: ("smallest_leak(20 gal, 0.3 psi, 24 h) * 24 h", "1.3432 gal"),
        gives: numbers!(Flow, smallest_leak(volume, u, duration, elevation)),
    }),
    lent(Lent {
        name: "hold_needed",
        parameters: &[VOLUME, takes("u", PressureChange), takes("leak", Flow), ELEVATION],
        explanation: &physics::HOLD_NEEDED,
        help: "u is the standard uncertainty of the loss.",
        example: ("hold_needed(20 gal, 0.3 psi, 5 L / 24 h)", "24.406 h"),
        gives: numbers!(Duration, hold_needed(volume, u, leak, elevation)),
    }),
];

fn held<S>(pressure: S, temperature: S) -> Held<S> {
    Held { pressure, temperature }
}
