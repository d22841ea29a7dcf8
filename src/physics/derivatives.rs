//! Tests over all formulas at once: sensitivities against numerical ones, and hostile numbers.

use proptest::prelude::*;

use super::*;
use crate::quantity::{Scalar, SourceId, Uncertain};

// Formulas whose arguments are not plain numbers one after the other, laid out so.

fn fill_140<S: Scalar>(v: S, precharge: S, on: S, off: S, z: S) -> FormulaResult<S> {
    fast_fill(v, precharge, on, off, z, 1.4)
}

fn draw_120<S: Scalar>(v: S, precharge: S, on: S, off: S, z: S) -> FormulaResult<S> {
    fast_draw(v, precharge, on, off, z, 1.2)
}

fn warmed_130<S: Scalar>(t: S, before: S, after: S, z: S) -> FormulaResult<S> {
    air_temperature_after(t, before, after, z, 1.3)
}

fn two_tanks<S: Scalar>(v: S, precharge: S, above: S, on: S, off: S) -> FormulaResult<S> {
    let first = TankAtHeight { volume: v.clone(), precharge: precharge.clone(), above };
    let second = TankAtHeight { volume: v, precharge, above: S::from(0.0) };
    several_tanks(&[first, second], on, off, S::from(ELEVATION)).map(|shares| shares.total)
}

fn held<S: Scalar>(pressure: S, temperature: S) -> Held<S> {
    Held { pressure, temperature }
}

fn loss<S: Scalar>(p1: S, t1: S, p2: S, t2: S, z: S) -> FormulaResult<S> {
    corrected_loss(held(p1, t1), held(p2, t2), z)
}

fn amount<S: Scalar>(v: S, p1: S, t1: S, p2: S, time: S) -> FormulaResult<S> {
    amount_leak(v, held(p1, t1), held(p2, S::from(290.0)), time, S::from(ELEVATION))
}

fn leak<S: Scalar>(v: S, p1: S, t1: S, p2: S, time: S) -> FormulaResult<S> {
    air_leak(v, held(p1, t1), held(p2, S::from(290.0)), time, S::from(ELEVATION))
}

fn lost<S: Scalar>(v: S, precharge: S, p1: S, t1: S, p2: S) -> FormulaResult<S> {
    let t = S::from(290.0);
    water_lost(v, held(precharge, t.clone()), held(p1, t1), held(p2, t), S::from(ELEVATION))
}

fn drained<S: Scalar>(v: S, precharge: S, from: S, to: S, q: S) -> FormulaResult<S> {
    drain_time(v, precharge, [from, to], q, S::from(ELEVATION))
}

fn demands<S: Scalar>(cut_in: S, set_at: S, warmest: S, gap: S, uncertainty: S) -> Demands<S> {
    Demands { cut_in, set_at, warmest, gap, uncertainty }
}

fn uncertain_target<S: Scalar>(cut_in: S, set_at: S, warmest: S, gap: S, uncertainty: S) -> FormulaResult<S> {
    let target = demands(cut_in, set_at, warmest, gap, uncertainty);
    precharge_target_explained(target, S::from(ELEVATION)).map(|target| target.precharge)
}

fn highest_cut_out<S: Scalar>(plate: S, relief: S, pump: S) -> FormulaResult<S> {
    cut_out_limit(&PressureLimits { plate, relief, pump })
}

fn friction<S: Scalar>(flow: S, length: S, diameter: S) -> FormulaResult<S> {
    friction_loss(flow, &PlainPipe { length, diameter, roughness: SMOOTH_WALL })
}

fn two_flows<S: Scalar>(p1: S, q1: S, p2: S, q2: S) -> FormulaResult<S> {
    shutoff_from_two_flows(&PumpDuty { pressure: p1, flow: q1 }, &PumpDuty { pressure: p2, flow: q2 })
}

fn on_the_curve<S: Scalar>(shutoff: S, pressure: S, flow: S, at: S) -> FormulaResult<S> {
    flow_at(shutoff, &PumpDuty { pressure, flow }, at)
}

/// The elevation of formulas that are not asked for their sensitivity to it; m.
const ELEVATION: f64 = 100.0;

/// Whether two demands on the precharge ask for nearly the same: there the formula has a kink, and
/// no derivative.
fn at_a_kink(demands: &Demands<f64>, elevation: f64) -> bool {
    let target = precharge_target_explained(demands.clone(), elevation).unwrap();
    [target.by_warmth, target.by_uncertainty].iter().any(|by| (target.by_gap - by).abs() <= 500.0)
}

/// How far an argument is moved for a numerical derivative.
fn step(at: &[f64], i: usize) -> f64 {
    1e-5 * at[i].abs()
}

/// The numerical derivative of `f` by its argument `i`, by central difference.
fn numerical(f: &dyn Fn(&[f64]) -> f64, at: &[f64], i: usize) -> f64 {
    let step = step(at, i);
    let moved = |h: f64| {
        let mut point = at.to_vec();
        point[i] += h;
        f(&point)
    };
    (moved(step) - moved(-step)) / (2.0 * step)
}

/// The sensitivities that `result` carries must be those of `f`.
fn compare(name: &str, f: &dyn Fn(&[f64]) -> f64, at: &[f64], result: &Uncertain) {
    let plain = f(at);
    assert!((result.value() - plain).abs() <= 1e-12 * plain.abs(), "{name}: values differ");
    for i in 0..at.len() {
        let source = SourceId::Reading(i as u64);
        let carried = result.components().iter().find(|p| p.0 == source).map_or(0.0, |p| p.1);
        let expected = numerical(f, at, i);
        // A difference of two nearly equal numbers keeps the rounding of both.
        let rounding = 16.0 * f64::EPSILON * plain.abs() / step(at, i);
        assert!(
            (carried - expected).abs() <= 1e-5 * expected.abs() + rounding,
            "{name} by argument {i}: {carried} {expected}"
        );
    }
}

/// Compares one formula at a point: with uncertainty 1 in each argument, the parts are derivatives.
macro_rules! sensitivities {
    ($($formula:ident($($arg:expr),+);)+) => {$({
        let at = [$($arg),+];
        let plain = |point: &[f64]| {
            let mut next = point.iter().copied();
            $formula::<f64>($({ let _ = $arg; next.next().unwrap() }),+).unwrap()
        };
        let mut source = 0..;
        let result = $formula::<Uncertain>($(
            Uncertain::exact($arg).with_component(SourceId::Reading(source.next().unwrap()), 1.0)
        ),+).unwrap();
        compare(stringify!($formula), &plain, &at, &result);
    })+};
}

proptest! {
    #[test]
    fn sensitivities_agree_with_numerical_ones(
        v in 0.02f64..1.0, precharge in 100e3f64..260e3, cut_in in 265e3f64..350e3, span in 50e3f64..300e3,
        t in 273.0f64..300.0, warm in 301.0f64..310.0, z in 200.0f64..4_000.0, q in 1e-4f64..2e-3,
        h in 0.1f64..10.0, gap in 10e3f64..20e3
    ) {
        let cut_out = cut_in + span;
        let given = drawdown(v, precharge, cut_in, cut_out, z).unwrap();
        let target = demands(cut_in, t, warm, gap, 3e3);
        // The higher of two tanks has a kink where its precharge is the pressure that is there at cut-in or cut-out.
        let at_height = |line: f64| (line - head(h).unwrap() - precharge).abs();
        prop_assume!(at_height(cut_in) > 500.0 && at_height(cut_out) > 500.0);
        prop_assume!(![z, ELEVATION].iter().any(|elevation| at_a_kink(&target, *elevation)));
        sensitivities! {
            atmosphere(z);
            absolute(precharge, z);
            gauge(precharge, z);
            water_held(v, precharge, cut_out, z);
            drawdown(v, precharge, cut_in, cut_out, z);
            drawdown(v, cut_in + span / 2.0, cut_in, cut_out, z);
            dead_gap(cut_out, cut_in);
            precharge_at(precharge, t, warm, z);
            precharge_target(cut_in, t, warm, gap, z);
            precharge_target(cut_in, t, t - 5.0, gap, z);
            uncertain_target(cut_in, t, warm, gap, 3e3);
            uncertain_target(cut_in, t, warm, gap, 30e3);
            cost_of_gap(v, precharge, cut_in, cut_out, z);
            precharge_from_drawdown(v, given, cut_in, cut_out, z);
            high_precharge_from_drawdown(v, given, cut_out, z);
            free_air(v, precharge, cut_out, z);
            strokes(v, precharge, cut_out, 5e-4, z);
            compressor_time(v, precharge, cut_out, q, z);
            run_time(given, q);
            starts_per_hour(given, q);
            water_for_run(q, 60.0);
            drawdown_for_starts(q, 6.0);
            volume_needed(given, precharge, cut_in, cut_out, z);
            head(h);
            pressure_at(cut_in, h);
            lowest_pressure(cut_in, h, gap);
            fill_140(v, precharge, cut_in, cut_out, z);
            fill_140(v, cut_in + span / 2.0, cut_in, cut_out, z);
            draw_120(v, precharge, cut_in, cut_out, z);
            warmed_130(t, cut_in, cut_out, z);
            two_tanks(v, precharge, h, cut_in, cut_out);
            loss(cut_out, t, cut_in, warm, z);
            amount(v, cut_out, t, cut_in, 900.0);
            leak(v, cut_out, t, cut_in, 900.0);
            lost(v, precharge, cut_out, t, cut_in);
            smallest_leak(v, gap, 900.0, z);
            hold_needed(v, gap, 1e-6, z);
            drained(v, precharge, cut_out, cut_in, q);
            orifice_flow(0.0127, 0.61, cut_in);
            trapped_water(50.0, 45.0);
            bleach(v, 0.0525, 0.1);
            granules(v, 0.7, 0.1);
            dose_of_bleach(1e-3, 0.0525, v);
            water_in_pipe(0.05, h);
            highest_cut_out(cut_in, cut_out, cut_out + gap);
            friction(q, h, 0.019);
            friction(1e-6, h, 0.019);
            starts_at_demand(given, q, 0.3 * q);
            shutoff_pressure(60.0, h);
            two_flows(cut_in, 2.0 * q, cut_out, q);
            on_the_curve(cut_out, precharge, q, cut_in);
        }
    }
}

/// Any number at all: half the time an ordinary one, so that later checks are reached too.
fn any_number() -> impl Strategy<Value = f64> {
    prop_oneof![
        any::<f64>(),
        Just(f64::NAN),
        Just(f64::INFINITY),
        Just(0.0),
        -1.0f64..1.0,
        0.0f64..1.0,
        0.0f64..1e6,
        250.0f64..320.0
    ]
}

/// Runs a formula on plain and uncertain numbers; a value that comes out must be a number.
macro_rules! hostile {
    ($x:ident: $($formula:ident($($i:literal),+);)+) => {$({
        if let Ok(result) = $formula::<f64>($($x[$i]),+) {
            prop_assert!(result.is_finite(), "{}{:?} = {result}", stringify!($formula), $x);
        }
        let uncertain = $formula::<Uncertain>($(Uncertain::exact($x[$i]).with_component(SourceId::Reading($i), 1.0)),+);
        match uncertain {
            Ok(result) => prop_assert!(
                result.value().is_finite() && result.standard_uncertainty().is_finite(),
                "{}{:?} = {result:?}", stringify!($formula), $x
            ),
            Err(fault) => prop_assert!(!fault.to_string().contains("NaN") && !fault.source.is_empty()),
        }
    })+};
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(4_000))]
    #[test]
    fn no_input_yields_what_is_no_number(x in proptest::array::uniform5(any_number())) {
        hostile! { x:
            atmosphere(0);
            absolute(0, 1);
            gauge(0, 1);
            water_held(0, 1, 2, 3);
            drawdown(0, 1, 2, 3, 4);
            dead_gap(0, 1);
            precharge_at(0, 1, 2, 3);
            precharge_target(0, 1, 2, 3, 4);
            uncertain_target(0, 1, 2, 3, 4);
            cost_of_gap(0, 1, 2, 3, 4);
            precharge_from_drawdown(0, 1, 2, 3, 4);
            high_precharge_from_drawdown(0, 1, 2, 3);
            free_air(0, 1, 2, 3);
            strokes(0, 1, 2, 3, 4);
            compressor_time(0, 1, 2, 3, 4);
            run_time(0, 1);
            starts_per_hour(0, 1);
            water_for_run(0, 1);
            drawdown_for_starts(0, 1);
            volume_needed(0, 1, 2, 3, 4);
            head(0);
            pressure_at(0, 1);
            lowest_pressure(0, 1, 2);
            fill_140(0, 1, 2, 3, 4);
            draw_120(0, 1, 2, 3, 4);
            warmed_130(0, 1, 2, 3);
            two_tanks(0, 1, 2, 3, 4);
            loss(0, 1, 2, 3, 4);
            amount(0, 1, 2, 3, 4);
            leak(0, 1, 2, 3, 4);
            lost(0, 1, 2, 3, 4);
            smallest_leak(0, 1, 2, 3);
            hold_needed(0, 1, 2, 3);
            drained(0, 1, 2, 3, 4);
            orifice_flow(0, 1, 2);
            trapped_water(0, 1);
            bleach(0, 1, 2);
            granules(0, 1, 2);
            dose_of_bleach(0, 1, 2);
            water_in_pipe(0, 1);
            highest_cut_out(0, 1, 2);
            friction(0, 1, 2);
            starts_at_demand(0, 1, 2);
            shutoff_pressure(0, 1);
            two_flows(0, 1, 2, 3);
            on_the_curve(0, 1, 2, 3);
        }
    }

    #[test]
    fn no_series_yields_what_is_no_number(
        values in proptest::collection::vec(any_number(), 0..8), floor in any_number(), n in 0usize..6
    ) {
        let _ = stabilization(&values, n, floor);
        if let Ok(fit) = flushes_to_go(&values, floor) {
            let (least, most) = fit.interval();
            prop_assert!([fit.estimate, fit.standard_uncertainty, fit.left_per_flush, fit.first, least, most]
                .iter().all(|x| x.is_finite()), "{fit:?}");
        }
    }

    #[test]
    fn no_trend_yields_what_is_no_number(
        values in proptest::collection::vec(proptest::array::uniform3(any_number()), 0..6),
        shared in any_number(), band in proptest::array::uniform2(any_number()), confidence in 0.4f64..1.0
    ) {
        let readings: Vec<_> = values.iter().map(|[at, value, u]| Reading { at: *at, value: *value, u: *u }).collect();
        let Ok(fit) = trend(&readings, shared) else { return Ok(()) };
        prop_assert!([fit.slope(), fit.slope_u(), fit.loss_per_month(), fit.at(0.0)].iter().all(|x| x.is_finite()));
        let Ok(exit) = band_exit(&fit, band, confidence) else { return Ok(()) };
        let times = [exit.estimate, exit.earliest, exit.latest, Some(look_again(&fit, &exit))];
        prop_assert!(times.iter().flatten().all(|time| time.is_finite()), "{exit:?}");
    }

    #[test]
    fn no_switch_yields_what_is_no_number(x in proptest::array::uniform14(any_number())) {
        let points = |i: usize| SwitchPoints { cut_in: x[i], cut_out: x[i + 1] };
        let turns = [Turns { range: x[0], differential: x[1] }];
        if let Ok(learned) = learn_adjusters(&[points(2), points(4)], &turns, x[6]) {
            let rates = [learned.range, learned.differential];
            prop_assert!(rates.iter().all(|r| r.value.is_finite() && r.u.is_finite()), "{learned:?}");
        }
        let rate = |i: usize| Rate { value: x[i], u: x[i + 1], degrees: None };
        let adjusters = Adjusters { range: rate(0), differential: rate(2) };
        if let Ok(next) = next_turns(&adjusters, points(7), points(9), x[11]) {
            let all = [next.range, next.differential, next.expected.cut_in, next.expected.cut_out, next.cut_out_u];
            prop_assert!(all.iter().all(|y| y.is_finite()), "{next:?}");
        }
    }
}
