//! The Python package `uncertainties` on random expressions with correlated inputs: value,
//! standard uncertainty, and what each source contributes. `make_uncertainties.py` wrote the file.

use serde_json::Value;
use tankhand::physics;
use tankhand::quantity::{Scalar, SourceId, Uncertain};

use super::data;

/// How far both may be apart, as a share of what is compared: the rounding of some dozens of
/// operations, in expressions that cancel at most a thousandfold.
const RELATIVE: f64 = 1e-9;

#[test]
fn random_expressions_come_out_the_same() {
    let file = data("uncertainties.json");
    let cases = file["cases"].as_array().unwrap();
    assert!(cases.len() >= 300 && file["made_by"].as_str().unwrap().contains("uncertainties 3."));
    for case in cases {
        let inputs: Vec<Uncertain> = case["inputs"].as_array().unwrap().iter().map(input).collect();
        let plain: Vec<f64> = inputs.iter().map(Uncertain::value).collect();
        let found = evaluated(&case["tree"], &inputs);
        let (value, uncertainty) = (number(&case["value"]), number(&case["std_dev"]));
        close(found.value(), value, value, case);
        close(evaluated(&case["tree"], &plain), value, value, case);
        close(found.standard_uncertainty(), uncertainty, uncertainty, case);
        for (source, part) in (1..).zip(case["by_source"].as_array().unwrap()) {
            let own = found.components().iter().find(|(id, _)| *id == SourceId::Reading(source));
            close(own.map_or(0.0, |own| own.1), number(part), uncertainty, case);
        }
    }
}

#[track_caller]
fn close(found: f64, expected: f64, scale: f64, case: &Value) {
    let apart = (found - expected).abs();
    assert!(apart <= RELATIVE * scale.abs(), "found {found}, expected {expected}: {}", case["tree"]);
}

fn number(value: &Value) -> f64 {
    value.as_f64().unwrap()
}

fn input(input: &Value) -> Uncertain {
    let exact = Uncertain::exact(number(&input["value"]));
    input["parts"].as_array().unwrap().iter().fold(exact, |x, part| {
        x.with_component(SourceId::Reading(part[0].as_u64().unwrap()), number(&part[1]))
    })
}

/// A tree's value on plain or uncertain numbers.
fn evaluated<S: Scalar>(tree: &Value, inputs: &[S]) -> S {
    let parts = tree.as_array().unwrap();
    let kind = parts[0].as_str().unwrap();
    match kind {
        "x" => return inputs[parts[1].as_u64().unwrap() as usize].clone(),
        "c" => return S::from(number(&parts[1])),
        "pow" => return evaluated(&parts[1], inputs).powf(number(&parts[2])),
        _ => {}
    }
    let given: Vec<S> = parts[1..].iter().map(|part| evaluated(part, inputs)).collect();
    match &given[..] {
        [a] => of_one(kind, a.clone()),
        [a, b] => of_two(kind, a.clone(), b.clone()),
        more => formula(kind, more),
    }
}

fn of_one<S: Scalar>(kind: &str, a: S) -> S {
    match kind {
        "neg" => -a,
        "abs" => a.abs(),
        "sqrt" => a.sqrt(),
        "exp" => a.exp(),
        "ln" => a.ln(),
        other => panic!("{other}"),
    }
}

fn of_two<S: Scalar>(kind: &str, a: S, b: S) -> S {
    match kind {
        "add" => a + b,
        "sub" => a - b,
        "mul" => a * b,
        "div" => a / b,
        "min" => a.min(b),
        "max" => a.max(b),
        "absolute" => physics::absolute(a, b).unwrap(),
        "run_time" => physics::run_time(a, b).unwrap(),
        "starts_per_hour" => physics::starts_per_hour(a, b).unwrap(),
        other => panic!("{other}"),
    }
}

fn formula<S: Scalar>(kind: &str, given: &[S]) -> S {
    let x = |at: usize| given[at].clone();
    match kind {
        "water_held" => physics::water_held(x(0), x(1), x(2), x(3)),
        "precharge_at" => physics::precharge_at(x(0), x(1), x(2), x(3)),
        "free_air" => physics::free_air(x(0), x(1), x(2), x(3)),
        "drawdown" => physics::drawdown(x(0), x(1), x(2), x(3), x(4)),
        "precharge_from_drawdown" => physics::precharge_from_drawdown(x(0), x(1), x(2), x(3), x(4)),
        "volume_needed" => physics::volume_needed(x(0), x(1), x(2), x(3), x(4)),
        other => panic!("{other}"),
    }
    .unwrap()
}
