//! Checks at a kink: the first-order probability is wrong there, the one the program uses is
//! right. The oracle draws the readings and decides on plain numbers, knowing nothing of either.

use std::collections::HashMap;
use std::sync::Arc;

use tankhand::lang::{
    Ancestry, CheckProbability, CheckedExpr, Function, Scope, Type, Unknown, Value, Values, check, parse,
};
use tankhand::physics::{dead_gap, drawdown};
use tankhand::quantity::{Measure, Truth, Verdict};

use super::draws::{DRAWS, Inputs, Law, Urn};
use super::{GALLON, PSI};

/// Readings by name, values worked out from them, and what by.
#[derive(Default)]
struct Known {
    values: HashMap<String, Value>,
    formulas: HashMap<String, CheckedExpr>,
}

impl Known {
    /// Pressures, each with its gauge's limit of error in psi.
    fn readings(named: &[(&str, f64, f64)], law: Law) -> (Known, Inputs) {
        let (mut known, mut inputs) = (Known::default(), Inputs::default());
        for (at, (name, psi, limit)) in named.iter().enumerate() {
            inputs.own(psi * PSI, limit * PSI / 3f64.sqrt(), law);
            let amount = inputs.uncertain()[at].clone();
            known.values.insert(name.to_string(), Value::Amount(Measure::Pressure, amount));
        }
        (known, inputs)
    }

    fn checked(&self, text: &str) -> CheckedExpr {
        check(&Arc::new(parse(text).unwrap()), self, None, None).unwrap()
    }

    fn work_out(&mut self, name: &str, text: &str) {
        let formula = self.checked(text);
        self.values.insert(name.to_string(), formula.value(self).unwrap());
        self.formulas.insert(name.to_string(), formula);
    }
}

impl Values for Known {
    fn value(&self, name: &str) -> Result<Value, Unknown> {
        self.values.get(name).cloned().ok_or_else(|| Unknown::because("not answered"))
    }
}

impl Ancestry for Known {
    fn formula(&self, name: &str) -> Option<&CheckedExpr> {
        self.formulas.get(name)
    }
}

impl Scope for Known {
    fn find(&self, name: &str) -> Option<(Arc<str>, Type)> {
        let Value::Amount(measure, _) = self.values.get(name)? else { return None };
        Some((Arc::from(name), Type::measure(*measure)))
    }

    fn names(&self) -> Vec<String> {
        Vec::new()
    }

    fn function(&self, name: &str) -> Option<&'static Function> {
        tankhand::procedure::function(name)
    }

    fn function_names(&self) -> Vec<&'static str> {
        Vec::new()
    }
}

/// The share of draws in which `holds` holds.
fn share(inputs: &Inputs, holds: &dyn Fn(&[f64]) -> bool) -> f64 {
    let mut urn = Urn::new(106);
    (0..DRAWS).filter(|_| holds(&inputs.draw_inputs(&mut urn))).count() as f64 / DRAWS as f64
}

/// Four standard deviations of the difference of two shares, of 10,000 draws and of [`DRAWS`].
fn sampling(p: f64) -> f64 {
    4.0 * ((p * (1.0 - p)).max(1e-4) * (1e-4 + 1.0 / DRAWS as f64)).sqrt()
}

/// The judged probability is that of the oracle, the first-order one is off by at least `wrong`.
#[track_caller]
fn judged_right(known: &Known, text: &str, oracle: f64, wrong: f64) -> CheckProbability {
    let checked = known.checked(text);
    let first_order = checked.truth(known).unwrap();
    let judged = checked.judged(known).unwrap();
    assert_eq!(judged, checked.judged(known).unwrap(), "{text}: the same every time");
    let found = (judged.truth.least + judged.truth.most) / 2.0;
    assert!((found - oracle).abs() < sampling(oracle), "{text}: judged {found}, oracle {oracle}");
    assert_eq!(judged.truth.best, first_order.best, "{text}");
    assert!(
        (first_order.least - oracle).abs() > wrong,
        "{text}: first order {}, oracle {oracle}",
        first_order.least
    );
    assert!(judged.asymmetry.is_some(), "{text}");
    judged
}

/// The drawdown is greatest with the charge at the cut-in: whichever way the readings are off,
/// it is less. First order takes the best estimate's side as if it went on.
#[test]
fn a_drawdown_with_the_charge_near_the_cut_in() {
    let (known, inputs) =
        Known::readings(&[("charge", 39.8, 1.5), ("on", 40.0, 1.5), ("off", 60.0, 0.2)], Law::Even);
    for (gal, wrong) in [(11.2, 0.05), (11.6, 0.05)] {
        let text = format!("drawdown(44 gal, charge, on, off) >= {gal} gal");
        let oracle =
            share(&inputs, &|x| drawdown(44.0 * GALLON, x[0], x[1], x[2], 0.0).unwrap() >= gal * GALLON);
        judged_right(&known, &text, oracle, wrong);
    }
}

/// The same through values worked out before: what they rest on is not forgotten.
#[test]
fn a_kink_behind_a_value_worked_out_before() {
    let (mut known, inputs) =
        Known::readings(&[("charge", 39.8, 1.5), ("on", 40.0, 1.5), ("off", 60.0, 0.2)], Law::Even);
    known.work_out("given", "drawdown(44 gal, charge, on, off)");
    known.work_out("half", "given / 2");
    let oracle =
        share(&inputs, &|x| drawdown(44.0 * GALLON, x[0], x[1], x[2], 0.0).unwrap() >= 11.6 * GALLON);
    judged_right(&known, "half >= 5.8 gal", oracle, 0.05);
    // A reading taken anew makes the value an old one; it stands as it was worked out then.
    known.values.insert("charge".to_string(), Value::exact(Measure::Pressure, 20.0 * PSI));
    let checked = known.checked("half >= 5.8 gal");
    assert_eq!(checked.judged(&known).unwrap().truth, checked.truth(&known).unwrap());
}

#[test]
fn a_distance_either_way() {
    for law in [Law::Even, Law::Bell] {
        let (known, inputs) = Known::readings(&[("x", 38.1, 2.0), ("y", 38.0, 1.0)], law);
        let oracle = share(&inputs, &|x| (x[0] - x[1]).abs() <= 2.0 * PSI);
        judged_right(&known, "abs(x - y) <= 2 psi", oracle, 0.02);
        let oracle = share(&inputs, &|x| (x[0] - x[1]).abs() <= 0.5 * PSI);
        judged_right(&known, "abs(x - y) <= 0.5 psi", oracle, 0.15);
    }
}

#[test]
fn the_lower_of_two_starts() {
    let (known, inputs) = Known::readings(&[("first", 38.0, 2.0), ("second", 38.1, 2.0)], Law::Even);
    let oracle = share(&inputs, &|x| x[0].min(x[1]) >= 37.0 * PSI);
    judged_right(&known, "min(first, second) >= 37 psi", oracle, 0.1);
    let oracle = share(&inputs, &|x| x[0].max(x[1]) <= 39.0 * PSI);
    judged_right(&known, "max(first, second) <= 39 psi", oracle, 0.1);
    let oracle = share(&inputs, &|x| x[0].max(x[1]) - x[0].min(x[1]) <= 1.0 * PSI);
    judged_right(&known, "max(first, second) - min(first, second) <= 1 psi", oracle, 0.1);
    let oracle = share(&inputs, &|x| if x[0] > x[1] { x[0] < 39.0 * PSI } else { x[1] < 38.5 * PSI });
    judged_right(&known, "(if first > second then first else second + 0.5 psi) < 39 psi", oracle, 0.1);
}

/// First order sees no doubt at all: below the cut-in the gap is zero, and flat.
#[test]
fn a_gap_that_is_flat_at_the_best_estimate() {
    let (known, inputs) = Known::readings(&[("charge", 39.5, 2.0), ("on", 40.0, 2.0)], Law::Even);
    let oracle = share(&inputs, &|x| dead_gap(x[0], x[1]).unwrap() <= 1.0 * PSI);
    assert_eq!(known.checked("dead_gap(charge, on) <= 1 psi").truth(&known).unwrap().least, 1.0);
    judged_right(&known, "dead_gap(charge, on) <= 1 psi", oracle, 0.1);
}

/// Where a formula is out of its range in some draws, the probability has bounds.
#[test]
fn what_may_be_out_of_range_has_bounds() {
    let (known, inputs) =
        Known::readings(&[("charge", 20.0, 0.5), ("on", 39.0, 1.5), ("off", 40.0, 1.5)], Law::Even);
    let out = share(&inputs, &|x| x[1] >= x[2]);
    let judged = known.checked("drawdown(44 gal, charge, on, off) >= 0.3 gal").judged(&known).unwrap();
    let gap = judged.truth.most - judged.truth.least;
    assert!((gap - out).abs() < sampling(out), "{gap} {out}");
}

/// Away from kinks the first-order figure stands, to the last digit, and nothing is said.
#[test]
fn what_is_straight_stays_as_it_was() {
    let (known, _) =
        Known::readings(&[("charge", 36.0, 0.5), ("on", 40.0, 0.5), ("off", 60.0, 0.5)], Law::Even);
    for text in [
        "charge < on - 2 psi",
        "off - on >= 19.5 psi and charge < on",
        "not (precharge_at(charge, 60 degF, 90 degF) > on)",
        "drawdown(44 gal, charge, on, off) >= 10 gal",
    ] {
        let checked = known.checked(text);
        let judged = checked.judged(&known).unwrap();
        assert_eq!((judged.truth, judged.asymmetry), (checked.truth(&known).unwrap(), None), "{text}");
    }
}

/// A limit that is written down is drawn at a kink too: 39.9 psi give or take 2 lies under 40.5 psi with
/// probability 2.6 / 4, though to first order no gap is left to be off.
#[test]
fn a_written_limit_at_a_kink() {
    let known = Known::default();
    let judged = known.checked("dead_gap(39.9 psi +- 2 psi, 40 psi) <= 0.5 psi").judged(&known).unwrap();
    assert!((judged.truth.least - 0.65).abs() < sampling(0.65), "{judged:?}");
}

#[test]
fn what_is_said_of_it() {
    let (known, _) = Known::readings(&[("charge", 39.5, 2.0), ("on", 40.0, 2.0)], Law::Even);
    let judged = known.checked("dead_gap(charge, on) <= 1 psi").judged(&known).unwrap();
    assert_eq!(
        judged.asymmetry.unwrap().said(),
        "The uncertainty is not symmetric here: of 10,000 draws of what the gauges may be off, this holds in 81 %; the usual \
         shortcut would say 100 %."
    );
}

/// Draws that end early come to what all of them would.
#[test]
fn a_check_tells_what_all_draws_would() {
    let (known, _) =
        Known::readings(&[("charge", 39.8, 1.5), ("on", 40.0, 1.5), ("off", 60.0, 0.2)], Law::Even);
    let mut told = 0;
    for tenths in 105..125 {
        let check =
            known.checked(&format!("drawdown(44 gal, charge, on, off) >= {} gal", f64::from(tenths) / 10.0));
        for confidence in [0.6, 0.8, 0.95] {
            let decided = |truth: Truth| truth.verdict(confidence) != Verdict::Unsure;
            let whole = decided(check.truth(&known).unwrap()) && decided(check.judged(&known).unwrap().truth);
            assert_eq!(check.tells(&known, confidence), whole, "{tenths} {confidence}");
            told += usize::from(whole);
        }
    }
    assert!((10..50).contains(&told), "{told} of 60");
}
