//! The same in a run: the verdict goes by the right probability and the record says so. The
//! readings are of the line gauge nobody described: ±2 psi, marked every psi.

#[path = "../support/mod.rs"]
mod support;

use support::played;
use tankhand::quantity::Verdict;

use super::PSI;
use super::draws::{DRAWS, Inputs, Law, Urn};

/// Three starts read alike on a gauge marked every psi: first order would be certain that they
/// lie within half a psi; each may be off by half a mark.
#[test]
fn equal_readings_are_not_equal_pressures() {
    let steps = r#"
[[step]]
id = "starts"
read = "pressure"
ask = "Start?"
times = 3
gauge = "line"
[[step]]
id = "steady"
check = "spread(starts) <= 0.5 psi"
"#;
    let run = played(steps, "", "40 40 40");
    let entry = run.checked();
    let mut inputs = Inputs::default();
    (0..3).for_each(|_| _ = inputs.own(40.0, 1.0 / 12f64.sqrt(), Law::Even));
    let mut urn = Urn::new(3);
    let within = |x: Vec<f64>| {
        x.iter().copied().fold(f64::MIN, f64::max) - x.iter().copied().fold(f64::MAX, f64::min) <= 0.5
    };
    let oracle = (0..DRAWS).filter(|_| within(inputs.draw_inputs(&mut urn))).count() as f64 / DRAWS as f64;
    let truth = entry.truth.unwrap();
    assert_eq!(entry.verdict, Some(Verdict::Unsure));
    assert!(truth.best && (truth.least - oracle).abs() < 0.02, "{truth:?} {oracle}");
    assert!(
        entry.reason.as_ref().unwrap().starts_with("The uncertainty is not symmetric here: "),
        "{entry:?}"
    );
}

/// The mean of several readings is doubted by their spread too, a doubt no single reading has.
#[test]
fn a_mean_at_a_kink() {
    let steps = r#"
[[step]]
id = "air"
read = "pressure"
ask = "Air?"
times = 3
gauge = "line"
[[step]]
id = "mark"
compute = "38 psi"
[[step]]
id = "off_by"
compute = "abs(air - mark)"
[[step]]
id = "right"
check = "off_by <= 1 psi"
"#;
    let run = played(steps, "", "37 38 39");
    let truth = run.checked().truth.unwrap();
    // Mean 38; accuracy ±2 psi, and the spread of the mean, 1/√3, of two degrees of freedom. The readings lie
    // further apart than a mark, so that their spread tells what each was rounded to.
    let mut inputs = Inputs::default();
    let parts = [Law::Even, Law::Few].map(|law| inputs.source(law));
    inputs.input(38.0 * PSI, &[(parts[0], 2.0 * PSI / 3f64.sqrt()), (parts[1], PSI / 3f64.sqrt())]);
    let mut urn = Urn::new(4);
    let near = |x: Vec<f64>| (x[0] - 38.0 * PSI).abs() <= PSI;
    let oracle = (0..DRAWS).filter(|_| near(inputs.draw_inputs(&mut urn))).count() as f64 / DRAWS as f64;
    assert!((truth.least - oracle).abs() < 0.02, "{truth:?} {oracle}");
}

/// Away from a kink nothing is said, and the first-order figure stands.
#[test]
fn a_straight_check_is_left_alone() {
    let steps = r#"
[[step]]
id = "on"
read = "pressure"
ask = "Start?"
gauge = "line"
[[step]]
id = "off"
read = "pressure"
ask = "Stop?"
gauge = "line"
[[step]]
id = "wide"
check = "off - on >= 19 psi"
"#;
    let run = played(steps, "", "40 59.5");
    let entry = run.checked();
    // Half a mark either way in each reading makes a triangle, whose tail beyond 0.5 psi is a half of its square.
    let expected = 1.0 - 0.5 * 0.5 * 0.5;
    assert!((entry.truth.unwrap().least - expected).abs() < 1e-3 && entry.reason.is_none(), "{entry:?}");
}
