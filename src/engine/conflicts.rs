//! Readings that cannot both be right, and what most likely happened instead.
//!
//! Such a reading is questioned at once. Only one that the person confirms is used, and the record
//! says so. The limits are judgements: as wide as any household installation is.

use super::observations::{Observation, Origin};
use super::run::Run;
use crate::lang::Value;
use crate::procedure::{Accepted, Observable, Observed};
use crate::quantity::{GPM, Measure, PSI};
use crate::record::{Phase, Provenance};

/// Readings of two gauges this near to one another show one pressure.
const ONE_PRESSURE: f64 = 2.000_001 * PSI;
/// A line with less on it counts as drained.
const DRAINED: f64 = 5.0 * PSI;
/// No household pump gives less, or more.
const FLOWS: std::ops::RangeInclusive<f64> = 0.2 * GPM..=60.0 * GPM;

/// Two observables whose values cannot stand together.
struct Conflict {
    of: [&'static str; 2],
    /// Only values of the same stage of the work, found or left, are held against one another.
    same_stage: bool,
    cannot_be: fn(f64, f64) -> bool,
    /// What cannot be, with the values in SI in the order of `of`, `{}` for each.
    says: &'static str,
    /// What most likely happened, and what to look at.
    likeliest: &'static str,
}

const NOT_EMPTY: &str = "Most likely the tank is not empty, and this is the water's pressure, not the precharge. \
                         Look: is the drain open, the tank's own valve open, the gauge at zero?";

const CONFLICTS: &[Conflict] = &[
    Conflict {
        of: ["precharge", "line_pressure"],
        same_stage: false,
        cannot_be: |air, line| line > DRAINED && (air - line).abs() <= ONE_PRESSURE,
        says: "{} at the air valve is what the line had, {}.",
        likeliest: NOT_EMPTY,
    },
    Conflict {
        of: ["precharge", "cut_out"],
        same_stage: false,
        cannot_be: |air, cut_out| (air - cut_out).abs() <= ONE_PRESSURE,
        says: "{} at the air valve is the cut-out, {}.",
        likeliest: NOT_EMPTY,
    },
    Conflict {
        of: ["cut_in", "cut_out"],
        same_stage: true,
        cannot_be: |cut_in, cut_out| cut_in >= cut_out,
        says: "A cut-in of {} is not below the cut-out of {}.",
        likeliest: "Most likely one was misread, or the two were taken for one another. Look at the gauge again.",
    },
    Conflict {
        of: ["relief_setting", "cut_out"],
        same_stage: false,
        cannot_be: |relief, cut_out| relief < cut_out,
        says: "A relief valve of {} would run before the pump stops at {}.",
        likeliest: "Most likely the tag or the gauge was misread. If both are right the relief valve should be running.",
    },
    Conflict {
        of: ["drawdown", "run_time"],
        same_stage: true,
        cannot_be: |drawdown, run_time| run_time > 0.0 && !FLOWS.contains(&(drawdown / run_time)),
        says: "{} in {} is no flow that a household pump gives.",
        likeliest: "Most likely the bucket or the watch was misread. A tank whose own valve is shut, or whose outlet is blocked, does the same.",
    },
];

impl Run {
    /// Why an answer cannot be right beside what was read before, with what most likely happened.
    pub(super) fn conflict(
        &self,
        (observable, tells): (&Observable, Option<Phase>),
        answer: &Accepted,
    ) -> Option<String> {
        let number = answer.number.as_ref()?;
        let Observed::Number(measure) = observable.observed else { return None };
        let si = number.unit.map_or(number.value, |unit| unit.to_si(measure, number.value));
        CONFLICTS.iter().find_map(|conflict| {
            let at = conflict.of.iter().position(|name| *name == observable.name)?;
            let other = self.newest(conflict.of[1 - at], tells.filter(|_| conflict.same_stage))?;
            let (other_measure, other) = other.number()?;
            let pair = if at == 0 { [si, other] } else { [other, si] };
            let measures = if at == 0 { [measure, other_measure] } else { [other_measure, measure] };
            (conflict.cannot_be)(pair[0], pair[1]).then(|| self.said(conflict, pair, measures))
        })
    }

    fn said(&self, conflict: &Conflict, values: [f64; 2], measures: [Measure; 2]) -> String {
        let mut says = conflict.says.to_string();
        for (value, measure) in values.into_iter().zip(measures) {
            says = says.replacen("{}", &Value::exact(measure, value).shown(self.setting.units), 1);
        }
        format!("{says} {}", conflict.likeliest)
    }

    /// The newest value of an observable that somebody saw, at this tank and at a stage if one is given.
    fn newest(&self, name: &str, stage: Option<Phase>) -> Option<&Observation> {
        let tank = self.state.frames.tank();
        self.state.observations.iter().rev().find(|seen| {
            seen.observable == name
                && seen.tank == tank
                && seen.provenance != Provenance::Assumed
                && seen.origin != Origin::Computed
                && stage.is_none_or(|stage| seen.tells == Some(stage))
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::procedure::observable;

    #[test]
    fn every_conflict_is_of_two_observables_that_are_numbers() {
        for conflict in CONFLICTS {
            for name in conflict.of {
                let observed = observable(name).map(|known| known.observed);
                assert!(matches!(observed, Some(Observed::Number(_))), "{name}");
            }
            assert_eq!(conflict.says.matches("{}").count(), 2, "{}", conflict.says);
        }
    }

    #[test]
    fn what_cannot_be_begins_where_it_should() {
        let psi = |low: f64, high: f64| (low * PSI, high * PSI);
        let gallons = |gal: f64, seconds: f64| (gal * 60.0 * GPM, seconds);
        let table = [
            (0, psi(57.0, 59.0), true),
            (0, psi(56.9, 59.0), false),
            (0, psi(4.0, 5.0), false),
            (1, psi(61.0, 59.0), true),
            (1, psi(36.0, 59.0), false),
            (2, psi(40.0, 40.0), true),
            (2, psi(39.9, 40.0), false),
            (3, psi(59.0, 60.0), true),
            (3, psi(60.0, 60.0), false),
            (4, gallons(0.19, 60.0), true),
            (4, gallons(0.21, 60.0), false),
            (4, gallons(59.0, 60.0), false),
            (4, gallons(61.0, 60.0), true),
            (4, gallons(2.0, 1.0), true),
            (4, gallons(61.0, 0.0), false),
        ];
        for (at, (a, b), expected) in table {
            assert_eq!((CONFLICTS[at].cannot_be)(a, b), expected, "{}: {a} {b}", CONFLICTS[at].says);
        }
    }
}
