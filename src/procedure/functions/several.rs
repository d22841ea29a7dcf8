//! Several tanks on one line.

use super::helpers::{CUT_IN, CUT_OUT, ELEVATION, Lent, amounts, lent, refused, takes_sort};
use crate::lang::{Function, Parameter, Sort, Unknown, Value, Work};
use crate::physics::{self, Shares, TankAtHeight};
use crate::quantity::Measure::*;
use crate::quantity::Uncertain;

const VOLUMES: Parameter = takes_sort("volumes", Sort::SeriesOf(Volume));
const PRECHARGES: Parameter = takes_sort("precharges", Sort::SeriesOf(Pressure));
const HEIGHTS: Parameter = takes_sort("heights", Sort::SeriesOf(Length));
const TANKS: &[Parameter] = &[VOLUMES, PRECHARGES, HEIGHTS, CUT_IN, CUT_OUT, ELEVATION];

pub(super) static FUNCTIONS: &[Function] = &[
    lent(Lent {
        name: "drawdown_of_all",
        parameters: TANKS,
        explanation: &physics::DRAWDOWN_OF_ALL,
        help: "Heights count from the switch, below it less than zero. A bad tank hides behind a good one: measure them one by one.",
        example: (
            "drawdown_of_all(series(44 gal, 20 gal), series(38 psi, 38 psi), series(0 ft, 0 ft), 40 psi, 60 psi)",
            "16.51 gal",
        ),
        gives: (
            Volume,
            Work::Values(|given| shares(given).map(|shares| Value::Amount(Volume, shares.total))),
        ),
    }),
    lent(Lent {
        name: "dead_gap_of_all",
        parameters: TANKS,
        explanation: &physics::DEAD_GAP_OF_ALL,
        help: "One tank with its precharge below the cut-in is enough to spare the house the fall.",
        example: (
            "dead_gap_of_all(series(44 gal, 20 gal), series(45 psi, 43 psi), series(0 ft, 0 ft), 40 psi, 60 psi)",
            "3 psi",
        ),
        gives: (
            PressureChange,
            Work::Values(|given| shares(given).map(|shares| Value::Amount(PressureChange, shares.dead_gap))),
        ),
    }),
];

fn shares(given: &[Value]) -> Result<Shares<Uncertain>, Unknown> {
    let [volumes, precharges, heights] = [&given[0], &given[1], &given[2]].map(Value::amounts);
    if volumes.len() != precharges.len() || volumes.len() != heights.len() {
        let why = "Volumes, charges and heights do not tell of the same number of tanks.";
        return Err(Unknown::because(why));
    }
    let tanks = volumes.into_iter().zip(precharges).zip(heights);
    let tanks = tanks.map(|((volume, precharge), above)| TankAtHeight { volume, precharge, above });
    let [cut_in, cut_out, elevation] = amounts(&given[3..]);
    physics::several_tanks(&tanks.collect::<Vec<_>>(), cut_in, cut_out, elevation).map_err(refused)
}
