//! The pressure switch's adjusters, and what its cut-out must not pass.

use super::helpers::{
    CUT_IN, CUT_OUT, Lent, apart_u, arithmetic, lent, numbers, optional, refused, takes, takes_sort,
};
use crate::lang::{Function, Parameter, Sort, Unknown, Value, Work};
use crate::physics::{self, ActsAt, Adjusters, NextTurns, PressureLimits, Rate, SwitchPoints, Turns};
use crate::quantity::Measure::*;
use crate::quantity::{Scalar, SourceId, Uncertain};
use crate::words::Formula;
use std::iter::zip;

const CUT_INS: Parameter = takes_sort("cut_ins", Sort::SeriesOf(Pressure));
const CUT_OUTS: Parameter = takes_sort("cut_outs", Sort::SeriesOf(Pressure));
const RANGE_TURNS: Parameter = takes_sort("range_turns", Sort::SeriesOf(Number));
const DIFFERENTIAL_TURNS: Parameter = takes_sort("differential_turns", Sort::SeriesOf(Number));
/// The switch as it is and as it is wanted, and what a turn is worth.
const NEXT: &[Parameter] = &[
    CUT_IN,
    CUT_OUT,
    takes("target_cut_in", Pressure),
    takes("target_cut_out", Pressure),
    takes("highest_cut_out", Pressure),
    optional(takes("range_worth", PressureChange)),
    optional(takes("differential_worth", PressureChange)),
];

/// No more than two turns before it is measured again.
const MOST_QUARTERS: f64 = 8.0;
/// Turns by the quarter, from two turns back to two turns clockwise.
const TURNS: [&str; 17] = [
    "two turns back, counter-clockwise",
    "one and three quarter turns back, counter-clockwise",
    "one and a half turns back, counter-clockwise",
    "one and a quarter turns back, counter-clockwise",
    "one turn back, counter-clockwise",
    "three quarters of a turn back, counter-clockwise",
    "half a turn back, counter-clockwise",
    "a quarter turn back, counter-clockwise",
    "not at all",
    "a quarter turn clockwise",
    "half a turn clockwise",
    "three quarters of a turn clockwise",
    "one turn clockwise",
    "one and a quarter turns clockwise",
    "one and a half turns clockwise",
    "one and three quarter turns clockwise",
    "two turns clockwise",
];

const LEARNED: &str = "Points measured before the first adjustment and after each; turns clockwise above zero. Turn only with the power off and proven.";
const NEXT_TURNS: &str = "In quarters, clockwise above zero, at most two before measuring again; never so that the cut-out may pass the limit: the lowest of plate, relief valve and what the pump can build. Without worths a turn counts as 2.5 psi. Power off and proven first; a new cut-in needs a new precharge.";

pub(super) static FUNCTIONS: &[Function] = &[
    lent(Lent {
        name: "pressure_per_range_turn",
        parameters: &[CUT_INS, CUT_OUTS, RANGE_TURNS, DIFFERENTIAL_TURNS],
        explanation: &Formula {
            sentence: "What a turn of the range adjuster is worth, from what adjusting brought.",
            ..physics::WORTH_OF_TURNS
        },
        help: LEARNED,
        example: (
            "pressure_per_range_turn(series(30 psi, 36 psi), series(50 psi, 56 psi), series(2), series(0))",
            "2.9 psi",
        ),
        gives: (
            PressureChange,
            Work::Values(|given| {
                learned(given).map(|(adjusters, made_from)| worth(adjusters.range, (made_from, "range")))
            }),
        ),
    }),
    lent(Lent {
        name: "pressure_per_differential_turn",
        parameters: &[CUT_INS, CUT_OUTS, RANGE_TURNS, DIFFERENTIAL_TURNS],
        explanation: &Formula {
            sentence: "What a turn of the differential adjuster is worth, from what adjusting brought.",
            ..physics::WORTH_OF_TURNS
        },
        help: LEARNED,
        example: (
            "pressure_per_differential_turn(series(30 psi, 36 psi), series(50 psi, 56 psi), series(2), series(0))",
            "2.5 psi",
        ),
        gives: (
            PressureChange,
            Work::Values(|given| {
                let (adjusters, made_from) = learned(given)?;
                Ok(worth(adjusters.differential, (made_from, "differential")))
            }),
        ),
    }),
    lent(Lent {
        name: "next_range_turns",
        parameters: NEXT,
        explanation: &Formula {
            sentence: "The turns of the range adjuster to make next.",
            ..physics::NEXT_TURNS
        },
        help: NEXT_TURNS,
        example: ("next_range_turns(30 psi, 50 psi, 33 psi, 56 psi, 75 psi)", "1.25"),
        gives: (Number, Work::Values(|given| next(given).map(|next| Value::exact(Number, next.range)))),
    }),
    lent(Lent {
        name: "next_differential_turns",
        parameters: NEXT,
        explanation: &Formula {
            sentence: "The turns of the differential adjuster to make next.",
            ..physics::NEXT_TURNS
        },
        help: NEXT_TURNS,
        example: ("next_differential_turns(30 psi, 50 psi, 33 psi, 56 psi, 75 psi)", "1.25"),
        gives: (
            Number,
            Work::Values(|given| next(given).map(|next| Value::exact(Number, next.differential))),
        ),
    }),
    Function {
        name: "turns_in_words",
        parameters: &[takes("turns", Number)],
        gives: Sort::Words(&TURNS),
        explanation: &arithmetic(
            "Turns of a nut in words, to the nearest quarter, two at most.",
            "clockwise above zero, back below it",
        ),
        help: "Of next_range_turns and next_differential_turns.",
        example: ("turns_in_words(-1.25)", "one and a quarter turns back, counter-clockwise"),
        partial: false,
        work: Work::Values(|given| {
            let turns = given[0].amount().map_or(0.0, Scalar::value);
            let quarters = (4.0 * turns).round().clamp(-MOST_QUARTERS, MOST_QUARTERS);
            Ok(Value::text(TURNS[(quarters + MOST_QUARTERS) as usize]))
        }),
    },
    lent(Lent {
        name: "cut_out_limit",
        parameters: &[takes("plate", Pressure), takes("relief", Pressure), takes("pump", Pressure)],
        explanation: &physics::CUT_OUT_LIMIT,
        help: "pump is the highest pressure it can build with all taps shut. Keep well below the limit, and by local code.",
        example: ("cut_out_limit(100 psi, 75 psi, 85 psi)", "75 psi"),
        gives: numbers!(Pressure, |plate, relief, pump| physics::cut_out_limit(&PressureLimits {
            plate,
            relief,
            pump
        })),
    }),
];

/// What was learned, and from what.
fn learned(given: &[Value]) -> Result<(Adjusters, Vec<[u64; 2]>), Unknown> {
    let [cut_ins, cut_outs] = [&given[0], &given[1]].map(Value::amounts);
    let [range, differential] = [&given[2], &given[3]].map(Value::amounts);
    let rounds = range.len();
    if differential.len() != rounds || cut_ins.len() != rounds + 1 || cut_outs.len() != rounds + 1 {
        let why = "There must be one cut-in and cut-out before the first turns and one after each.";
        return Err(Unknown::because(why));
    }
    let points: Vec<_> = zip(&cut_ins, &cut_outs)
        .map(|(on, off)| SwitchPoints { cut_in: on.value(), cut_out: off.value() })
        .collect();
    let turns: Vec<_> = zip(&range, &differential)
        .map(|(range, differential)| Turns { range: range.value(), differential: differential.value() })
        .collect();
    let adjusters = physics::learn_adjusters(&points, &turns, apart_u(&cut_ins)).map_err(refused)?;
    Ok((adjusters, made_from(&points, &turns)))
}

/// The numbers that a fit was made from, bit by bit.
fn made_from(points: &[SwitchPoints], turns: &[Turns]) -> Vec<[u64; 2]> {
    let points = points.iter().map(|point| [point.cut_in.to_bits(), point.cut_out.to_bits()]);
    points.chain(turns.iter().map(|turns| [turns.range.to_bits(), turns.differential.to_bits()])).collect()
}

/// A turn's worth, with the uncertainty that is left in it.
fn worth(rate: Rate, made_from: (Vec<[u64; 2]>, &str)) -> Value {
    let source = match rate.degrees {
        Some(degrees) => SourceId::few(made_from, degrees),
        None => SourceId::spread_of(made_from),
    };
    Value::Amount(PressureChange, Uncertain::exact(rate.value).with_component(source, rate.u))
}

fn next(given: &[Value]) -> Result<NextTurns, Unknown> {
    let plain = |at: usize| given.get(at).and_then(Value::amount).map_or(0.0, Scalar::value);
    let usual = physics::learn_adjusters(&[], &[], 0.0).map_err(refused)?;
    let rate = |at: usize, usual: Rate| match given.get(at).and_then(Value::amount) {
        Some(worth) => Rate { value: worth.value(), u: 0.5 * worth.expanded_uncertainty(), degrees: None },
        None => usual,
    };
    let adjusters = Adjusters { range: rate(5, usual.range), differential: rate(6, usual.differential) };
    let points = |at: usize| SwitchPoints { cut_in: plain(at), cut_out: plain(at + 1) };
    let room = given.get(4).and_then(Value::amount).zip(given.get(1).and_then(Value::amount));
    let room_u = room.map_or(0.0, |(limit, now)| (limit.clone() - now.clone()).standard_uncertainty());
    let now = ActsAt { points: points(0), cut_out_u: room_u };
    physics::next_turns(&adjusters, now, points(2), plain(4)).map_err(refused)
}
