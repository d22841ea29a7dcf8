//! Every cause read once with good gauges and once with usual ones: all that the diagnosis comes to.

use std::fmt::Write as _;

use tankhand::physics::diagnosis::{CAUSES, Claims, Diagnosis, diagnose};

use crate::golden;
use crate::model::{Case, DEFAULT, Draw, GOOD, VISITS, but};

/// Three decimals are the same on every machine.
fn said(it: &Diagnosis) -> String {
    let percent = |p: f64| format!("{p:.3}");
    let found: Vec<String> = it
        .found
        .iter()
        .map(|one| {
            let or: String =
                one.or.iter().map(|(cause, p)| format!(" or {cause:?} {}", percent(*p))).collect();
            format!("{:?} {}{or}", one.cause, percent(one.probability))
        })
        .collect();
    let likeliest: Vec<String> =
        it.likeliest.iter().map(|(cause, p)| format!("{cause:?} {}", percent(*p))).collect();
    let all: Vec<String> = it
        .probabilities
        .iter()
        .zip(CAUSES)
        .filter(|(p, _)| **p >= 0.0005)
        .map(|(p, cause)| format!("{:?} {}", cause.id, percent(*p)))
        .collect();
    let tests: Vec<String> =
        it.tests.iter().map(|one| format!("{:?} {:.3}", one.test.item, one.bits_a_minute)).collect();
    format!(
        "    good {} {}none {} {:?} {:?} untested {:?}\n    found {found:?} likeliest {likeliest:?}\n    all {}\n    tests {}\n",
        percent(it.good),
        if it.is_good { "GOOD " } else { "" },
        percent(it.none),
        it.working,
        it.odd,
        it.untested,
        all.join(", "),
        tests.join(", "),
    )
}

#[test]
fn every_cause_is_told_as_it_was() {
    let mut text = String::new();
    let mut draw = Draw::new(2_031);
    for (at, cause) in CAUSES.iter().enumerate() {
        for (gauges, name) in [(GOOD, "good gauges"), (DEFAULT, "usual gauges")] {
            let visit = &VISITS[at % VISITS.len()];
            let case =
                Case { draw: &mut draw, gauges, truth: but(&[cause.id]), mistakes: 1.0, gap: None }.read();
            let evidence = visit.of(&case);
            let comes = diagnose(&evidence, &Claims::by(&evidence.items()));
            writeln!(text, "{:?}, {}, {name}\n{}", cause.id, visit.name, said(&comes)).unwrap();
        }
    }
    golden::holds("tests/diagnosis/answers.txt", &text);
}
