//! The charge to set, what it costs, and what charge and drawdown say together.

use super::helpers::{CYCLE, ELEVATION, amounts, confidence, lent, refused, takes, takes_sort};
use crate::lang::{Function, Sort, Unknown, Value};
use crate::physics::{self, ChargeTarget, Demands, Evidence, Finding, Governs};
use crate::quantity::Measure::*;
use crate::quantity::{Scalar, Uncertain};

pub(super) static FUNCTIONS: &[Function] = &[
    Function {
        name: "charge_target",
        parameters: &[
            takes("cut_in", Pressure),
            takes("set_at", Temperature),
            takes("warmest", Temperature),
            takes("gap", PressureChange),
            ELEVATION,
            takes("doubt", PressureChange),
        ],
        required: 4,
        gives: Sort::Is(Pressure),
        sentence: "The charge to set: under the cut-in by the gap, and still under it on the warmest day, with room for what the gauges may be off.",
        help: "The lowest of cut-in less gap; the charge that reaches the cut-in at the warmest temperature; and the lower of that and the cut-in, less the doubt. The doubt is how far charge less cut-in may be off, as doubt_between(found, cut_in) tells: a reading with the same air gauge stands in for the one to come. Left off, the gauges count as exact. A gap of 2 psi is common practice; Water Systems Council, Pressure Tanks (2007).",
        formula: "min(cut_in - gap, w, min(w, cut_in) - doubt), w = (cut_in + atmosphere) × set_at / warmest - atmosphere, kelvin",
        source: "gap: Water Systems Council, Pressure Tanks (2007); law of Gay-Lussac; guard band: JCGM 106:2012, 8.3",
        example: ("charge_target(40 psi, 60 degF, 75 degF, 2 psi, 0 ft, 3 psi)", "35.466 psi"),
        partial: true,
        run: |given| target(given).map(|target| Value::Amount(Pressure, target.charge)),
    },
    Function {
        name: "charge_reason",
        parameters: &[
            takes("cut_in", Pressure),
            takes("set_at", Temperature),
            takes("warmest", Temperature),
            takes("gap", PressureChange),
            ELEVATION,
            takes("doubt", PressureChange),
        ],
        required: 4,
        gives: Sort::Words(&["gap", "warmth", "doubt"]),
        sentence: "Which of the three reasons decides the charge to set.",
        help: "As charge_target: 'gap' below the cut-in, 'warmth' of the warmest day, or 'doubt' of the gauges.",
        formula: "the reason whose charge is lowest",
        source: "as charge_target",
        example: ("charge_reason(40 psi, 60 degF, 75 degF, 2 psi, 0 ft, 3 psi)", "doubt"),
        partial: true,
        run: |given| {
            target(given).map(|target| {
                Value::text(match target.governs {
                    Governs::Gap => "gap",
                    Governs::Warmth => "warmth",
                    Governs::Doubt => "doubt",
                })
            })
        },
    },
    Function {
        name: "cost_of_gap",
        parameters: CYCLE,
        required: 4,
        gives: Sort::Is(Volume),
        sentence: "The drawdown that a charge gives up beside one only 2 psi below the cut-in.",
        help: "Below zero for a charge nearer the cut-in than 2 psi.",
        formula: "drawdown(volume, cut_in - 2 psi, cut_in, cut_out) - drawdown(volume, charge, cut_in, cut_out)",
        source: "Boyle's law; 2 psi: Water Systems Council, Pressure Tanks (2007)",
        example: ("cost_of_gap(44 gal, 35 psi, 40 psi, 60 psi)", "0.64618 gal"),
        partial: true,
        run: |given| {
            let [volume, charge, cut_in, cut_out, elevation] = amounts(given);
            lent(Volume, physics::cost_of_gap(volume, charge, cut_in, cut_out, elevation))
        },
    },
    Function {
        name: "allowed_charge",
        parameters: &[
            takes("charge", Pressure),
            takes("cut_in", Pressure),
            takes("plate", Pressure),
            takes("relief", Pressure),
        ],
        required: 4,
        gives: Sort::Is(Pressure),
        sentence: "A charge, handed on when it may be set: below cut-in and relief valve, not above the plate.",
        help: "Otherwise it is not known, and the reason names the limit.",
        formula: "charge, when 0 <= charge < cut_in, charge <= plate and charge < relief",
        source: "Water Systems Council, Pressure Tanks (2007); the plate of the tank; the relief valve",
        example: ("allowed_charge(38 psi, 40 psi, 100 psi, 75 psi)", "38 psi"),
        partial: true,
        run: |given| {
            let [charge, cut_in, plate, relief] = amounts(given);
            lent(Pressure, physics::allowed_charge(charge, cut_in, plate, relief))
        },
    },
    Function {
        name: "diagnosis",
        parameters: &[
            takes("volume", Volume),
            takes("drawdown", Volume),
            takes("charge", Pressure),
            takes("cut_in", Pressure),
            takes("cut_out", Pressure),
            ELEVATION,
            takes_sort("confidence", Sort::Confidence),
        ],
        required: 5,
        gives: Sort::Words(&["waterlogged", "low", "right", "high", "wrong volume", "unsure"]),
        sentence: "What the drawdown and the air gauge say together of a tank.",
        help: "Where the drawdown is within 10 % of what the charge foretells they agree, and the charge is 'low' (more than 7 psi below the cut-in), 'right', or 'high' (above the cut-in). A drawdown no more than a charge of 2 psi gives is 'waterlogged'. Otherwise 'wrong volume': the plate is wrong or capacity is lost. A word needs the probability that the checks of the run go by, 95 % if nobody asks for another, else 'unsure'. The limits are judgements.",
        formula: "P(|drawdown / V - share(charge)| <= 0.1 share + 0.005) with charge in its class, errors jointly normal",
        source: "Boyle's law; JCGM 106:2012, 7",
        example: ("diagnosis(44 gal, 7 gal, 38 psi, 40 psi, 60 psi)", "wrong volume"),
        partial: true,
        run: |given| {
            let [volume, drawdown, charge, cut_in, cut_out, elevation] = amounts(given);
            let found = Evidence { volume, drawdown, charge, cut_in, cut_out };
            let asked = given.get(6).and_then(Value::amount).map_or(confidence(), Scalar::value);
            let diagnosis = physics::diagnose(&found, elevation).map_err(refused)?;
            Ok(Value::text(diagnosis.finding(asked).map_or("unsure", Finding::words)))
        },
    },
];

fn target(given: &[Value]) -> Result<ChargeTarget<Uncertain>, Unknown> {
    let [cut_in, set_at, warmest, gap, elevation, doubt] = amounts(given);
    let demands = Demands { cut_in, set_at, warmest, gap, doubt };
    physics::charge_target_explained(demands, elevation).map_err(refused)
}
