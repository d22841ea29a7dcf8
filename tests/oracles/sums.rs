//! Expressions of several formulas, first order against draws: gauges that are shared and not.

use tankhand::physics::{drawdown, precharge_at, run_time, water_held};
use tankhand::quantity::Scalar;

use super::draws::{Inputs, Law, agrees, mean_and_deviation};
use super::{GALLON, PSI};

/// Volume, charge, cut-in, cut-out, all pressures doubted by ±1 psi: by one gauge or by three.
fn tank(one_gauge: bool, precharge: f64) -> Inputs {
    let mut inputs = Inputs::default();
    inputs.own(44.0 * GALLON, 0.2 * GALLON, Law::Even);
    let shared = inputs.source(Law::Even);
    for psi in [precharge, 40.0, 60.0] {
        let accuracy = if one_gauge { shared } else { inputs.source(Law::Even) };
        let mark = inputs.source(Law::Even);
        inputs.input(psi * PSI, &[(accuracy, PSI / 3f64.sqrt()), (mark, 0.1 * PSI)]);
    }
    inputs
}

/// What the pump does with what the tank gives.
fn minutes<S: Scalar>(x: &[S]) -> S {
    let given = drawdown(x[0].clone(), x[1].clone(), x[2].clone(), x[3].clone(), S::from(0.0)).unwrap();
    run_time(given, S::from(4e-4)).unwrap() / S::from(60.0)
}

/// What warmth takes from the drawdown.
fn less_when_warm<S: Scalar>(x: &[S]) -> S {
    let warm = precharge_at(x[1].clone(), S::from(285.0), S::from(291.0), S::from(0.0)).unwrap();
    let given =
        |precharge: S| drawdown(x[0].clone(), precharge, x[2].clone(), x[3].clone(), S::from(0.0)).unwrap();
    given(warm) - given(x[1].clone())
}

/// Held at the cut-out over held at the cut-in, by way of logarithm, root and power.
fn log_ratio<S: Scalar>(x: &[S]) -> S {
    let held = |p: S| water_held(x[0].clone(), x[1].clone(), p, S::from(0.0)).unwrap();
    let (full, share) = (held(x[3].clone()), held(x[3].clone()) / x[0].clone());
    (full / x[0].clone()).ln() + share.clone().sqrt() - share.powf(1.5) + (-x[3].clone() / x[2].clone()).exp()
}

macro_rules! of_both {
    ($($formula:ident),+) => {$(
        for one_gauge in [true, false] {
            let inputs = tank(one_gauge, 36.0);
            let name = format!("{}, one gauge: {one_gauge}", stringify!($formula));
            agrees(&name, &inputs, &$formula(&inputs.uncertain()), &|x| $formula(x));
        }
    )+};
}

#[test]
fn expressions_agree_with_draws_whether_the_gauge_is_shared_or_not() {
    of_both!(minutes, less_when_warm, log_ratio);
}

/// What a shared gauge takes from the doubt is no artefact of first order: the draws show it too.
#[test]
fn one_gauge_makes_a_surer_drawdown_than_three() {
    let [(_, one), (_, three)] =
        [true, false].map(|one| mean_and_deviation(&tank(one, 36.0), &|x| minutes(x)));
    assert!(one < 0.5 * three, "{one} {three}");
}

/// With the charge at the cut-in the drawdown has its peak, and first order is wrong about it:
/// too high a mean and too small a doubt. Such a figure must be judged in another way.
#[test]
fn at_the_peak_of_the_drawdown_first_order_is_wrong() {
    let inputs = tank(false, 40.0);
    let first_order = minutes(&inputs.uncertain());
    let (mean, _) = mean_and_deviation(&inputs, &|x| minutes(x));
    let too_high = (first_order.value() - mean) / first_order.standard_uncertainty();
    assert!(too_high > 0.3, "{too_high}");
}
