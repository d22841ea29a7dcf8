//! Every formula of `physics`, first order against draws, its pressures read from one gauge.

use tankhand::physics::*;
use tankhand::quantity::Scalar;

use super::draws::{Inputs, Law, agrees};
use super::{GALLON, PSI};

/// The inputs all formulas draw from, by their places.
const V: usize = 0;
const PRECHARGE: usize = 1;
const IN: usize = 2;
const OUT: usize = 3;
const Z: usize = 4;
const T: usize = 5;
const WARM: usize = 6;
const FLOW: usize = 7;
const GIVEN: usize = 8;
const TIME: usize = 9;
const HEIGHT: usize = 10;
const GAP: usize = 11;
const SMALL: usize = 12;
const SHARE: usize = 13;
const ABOVE: usize = 14;
const LEAK: usize = 15;
const WIDTH: usize = 16;

/// One gauge, ±1 psi and marked every half psi, reads charge, cut-in and cut-out: its error is
/// common to them (JCGM 100:2008, 5.2.4). Everything else is doubted on its own.
fn inputs() -> Inputs {
    let mut inputs = Inputs::default();
    let own = |inputs: &mut Inputs, value: f64, share: f64, law| inputs.own(value, share * value, law);
    let mut places = vec![own(&mut inputs, 44.0 * GALLON, 0.01, Law::Even)];
    let accuracy = inputs.source(Law::Even);
    for psi in [36.0, 40.0, 60.0] {
        let mark = inputs.source(Law::Even);
        let parts = [(accuracy, PSI / 3f64.sqrt()), (mark, 0.5 * PSI / 12f64.sqrt())];
        places.push(inputs.input(psi * PSI, &parts));
    }
    for (value, share, law) in [
        (300.0, 0.05, Law::Even),
        (285.0, 0.002, Law::Even),
        (305.0, 0.002, Law::Bell),
        (5e-4, 0.02, Law::Bell),
        (0.04, 0.02, Law::Bell),
        (900.0, 0.01, Law::Even),
        (3.0, 0.02, Law::Even),
        (2.0 * PSI, 0.02, Law::Bell),
        (2e-3, 0.02, Law::Even),
        (0.12, 0.01, Law::Even),
        (1.0, 0.05, Law::Even),
        (1e-6, 0.02, Law::Even),
        (0.0127, 0.01, Law::Bell),
    ] {
        places.push(own(&mut inputs, value, share, law));
    }
    assert_eq!(places, (0..=WIDTH).collect::<Vec<_>>());
    inputs
}

fn fill<S: Scalar>(v: S, precharge: S, on: S, off: S, z: S) -> FormulaResult<S> {
    fast_fill(v, precharge, on, off, z, 1.4)
}

fn draw<S: Scalar>(v: S, precharge: S, on: S, off: S, z: S) -> FormulaResult<S> {
    fast_draw(v, precharge, on, off, z, 1.2)
}

fn warmed<S: Scalar>(t: S, before: S, after: S, z: S) -> FormulaResult<S> {
    air_temperature_after(t, before, after, z, 1.3)
}

fn two_tanks<S: Scalar>(v: S, precharge: S, above: S, on: S, off: S) -> FormulaResult<S> {
    let first = TankAtHeight { volume: v.clone(), precharge: precharge.clone(), above };
    let second = TankAtHeight { volume: v, precharge, above: S::from(0.0) };
    several_tanks(&[first, second], on, off, S::from(100.0)).map(|shares| shares.total)
}

fn held<S: Scalar>(pressure: S, temperature: S) -> Held<S> {
    Held { pressure, temperature }
}

fn loss<S: Scalar>(p1: S, t1: S, p2: S, t2: S, z: S) -> FormulaResult<S> {
    corrected_loss(held(p1, t1), held(p2, t2), z)
}

fn amount<S: Scalar>(v: S, p1: S, t1: S, p2: S, time: S) -> FormulaResult<S> {
    amount_leak(v, held(p1, t1), held(p2, S::from(290.0)), time, S::from(100.0))
}

fn leak<S: Scalar>(v: S, p1: S, t1: S, p2: S, time: S) -> FormulaResult<S> {
    air_leak(v, held(p1, t1), held(p2, S::from(290.0)), time, S::from(100.0))
}

fn lost<S: Scalar>(v: S, precharge: S, p1: S, t1: S, p2: S) -> FormulaResult<S> {
    let t = S::from(290.0);
    water_lost(v, held(precharge, t.clone()), held(p1, t1), held(p2, t), S::from(100.0))
}

fn drained<S: Scalar>(v: S, precharge: S, from: S, to: S, q: S) -> FormulaResult<S> {
    drain_time(v, precharge, [from, to], q, S::from(100.0))
}

fn weighed<S: Scalar>(empty: S, more: S) -> FormulaResult<S> {
    trapped_water(empty.clone() + more, empty)
}

fn lowest<S: Scalar>(plate: S, relief: S, pump: S) -> FormulaResult<S> {
    cut_out_limit(&PressureLimits { plate, relief, pump })
}

fn friction<S: Scalar>(flow: S, length: S, diameter: S) -> FormulaResult<S> {
    friction_loss(flow, &PlainPipe { length, diameter, roughness: SMOOTH_WALL })
}

fn steady_draw<S: Scalar>(given: S, flow: S, share: S) -> FormulaResult<S> {
    starts_at_demand(given, flow.clone(), flow * share)
}

fn lifted<S: Scalar>(depth: S, more: S) -> FormulaResult<S> {
    shutoff_pressure(depth.clone() + more, depth)
}

fn two_flows<S: Scalar>(low: S, high: S, flow: S, share: S) -> FormulaResult<S> {
    let slower = PumpDuty { pressure: high, flow: flow.clone() * share };
    shutoff_from_two_flows(&PumpDuty { pressure: low, flow }, &slower)
}

fn on_the_curve<S: Scalar>(shutoff: S, pressure: S, flow: S, at: S) -> FormulaResult<S> {
    flow_at(shutoff, &PumpDuty { pressure, flow }, at)
}

macro_rules! first_order_agrees {
    ($($formula:ident($($place:expr),+);)+) => {
        /// Each formula once; the list is held against the folder's by the test below.
        const TRIED: &[&str] = &[$(stringify!($formula)),+];

        #[test]
        fn first_order_agrees_with_draws() {
            let inputs = inputs();
            let x = inputs.uncertain();
            $({
                let first_order = $formula($(x[$place].clone()),+).unwrap();
                agrees(stringify!($formula), &inputs, &first_order, &|x| $formula($(x[$place]),+).unwrap());
            })+
        }
    };
}

first_order_agrees! {
    atmosphere(Z);
    absolute(PRECHARGE, Z);
    gauge(OUT, Z);
    water_held(V, PRECHARGE, OUT, Z);
    drawdown(V, PRECHARGE, IN, OUT, Z);
    dead_gap(OUT, IN);
    precharge_at(PRECHARGE, T, WARM, Z);
    precharge_target(IN, T, WARM, GAP, Z);
    precharge_from_drawdown(V, GIVEN, IN, OUT, Z);
    high_precharge_from_drawdown(V, GIVEN, OUT, Z);
    free_air(V, PRECHARGE, OUT, Z);
    strokes(V, PRECHARGE, OUT, SMALL, Z);
    compressor_time(V, PRECHARGE, OUT, FLOW, Z);
    run_time(GIVEN, FLOW);
    starts_per_hour(GIVEN, FLOW);
    water_for_run(FLOW, TIME);
    drawdown_for_starts(FLOW, HEIGHT);
    volume_needed(GIVEN, PRECHARGE, IN, OUT, Z);
    head(HEIGHT);
    pressure_at(IN, HEIGHT);
    lowest_pressure(IN, HEIGHT, GAP);
    fill(V, PRECHARGE, IN, OUT, Z);
    draw(V, PRECHARGE, IN, OUT, Z);
    warmed(T, IN, OUT, Z);
    two_tanks(V, PRECHARGE, ABOVE, IN, OUT);
    loss(OUT, T, IN, WARM, Z);
    amount(V, OUT, T, IN, TIME);
    leak(V, OUT, T, IN, TIME);
    lost(V, PRECHARGE, OUT, T, IN);
    smallest_leak(V, GAP, TIME, Z);
    hold_needed(V, GAP, LEAK, Z);
    drained(V, PRECHARGE, OUT, IN, FLOW);
    orifice_flow(WIDTH, SHARE, IN);
    weighed(HEIGHT, ABOVE);
    bleach(V, SHARE, SMALL);
    granules(V, SHARE, SMALL);
    dose_of_bleach(SMALL, SHARE, V);
    water_in_pipe(WIDTH, HEIGHT);
    lowest(OUT, IN, PRECHARGE);
    cost_of_gap(V, PRECHARGE, IN, OUT, Z);
    friction(FLOW, HEIGHT, WIDTH);
    steady_draw(GIVEN, FLOW, SHARE);
    lifted(HEIGHT, ABOVE);
    two_flows(PRECHARGE, OUT, FLOW, SHARE);
    on_the_curve(OUT, PRECHARGE, FLOW, IN);
}

/// A formula of uncertain numbers that is not among those tried is missing from them.
#[test]
fn every_formula_is_tried() {
    let folder = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("src/physics");
    let own_names = [
        ("fast_fill", "fill"),
        ("fast_draw", "draw"),
        ("air_temperature_after", "warmed"),
        ("several_tanks", "two_tanks"),
        ("corrected_loss", "loss"),
        ("amount_leak", "amount"),
        ("air_leak", "leak"),
        ("water_lost", "lost"),
        ("drain_time", "drained"),
        ("trapped_water", "weighed"),
        ("precharge_target_explained", "precharge_target"),
        ("cut_out_limit", "lowest"),
        ("friction_loss", "friction"),
        ("starts_at_demand", "steady_draw"),
        ("shutoff_pressure", "lifted"),
        ("shutoff_from_two_flows", "two_flows"),
        ("flow_at", "on_the_curve"),
    ];
    let mut missing = Vec::new();
    let entries = std::fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path());
    for file in entries.filter(|path| path.is_file()) {
        let text = std::fs::read_to_string(file).unwrap();
        for rest in text.split("\npub fn ").skip(1) {
            let Some((name, _)) = rest.split_once("<S: Scalar>") else { continue };
            // A step has no slope by which it could pass an uncertainty on.
            if name.contains('(') || name == "least_run_time" {
                continue;
            }
            let tried = own_names.iter().find(|(known, _)| *known == name).map_or(name, |(_, own)| *own);
            if !TRIED.contains(&tried) {
                missing.push(name.to_string());
            }
        }
    }
    assert_eq!(missing, Vec::<String>::new());
}
