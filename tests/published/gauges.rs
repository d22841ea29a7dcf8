//! Gauges and what their errors do to a drawdown.

use tankhand::physics::{drawdown, one_sided};
use tankhand::quantity::{Family, SourceId, Uncertain};
use tankhand::source::SourceText;
use tankhand::system::{Accuracy, Gauge, Reads};

use super::{GALLON, PSI, close};

/// ASME B40.100 Table 1 (from memory): grade, limit of error in % of the span in the lower
/// quarter, the middle half and the upper quarter.
const GRADES: &[(&str, [f64; 3])] = &[
    ("4A", [0.1, 0.1, 0.1]),
    ("3A", [0.25, 0.25, 0.25]),
    ("2A", [0.5, 0.5, 0.5]),
    ("1A", [1.0, 1.0, 1.0]),
    ("A", [2.0, 1.0, 2.0]),
    ("B", [3.0, 2.0, 3.0]),
    ("C", [4.0, 3.0, 4.0]),
    ("D", [5.0, 5.0, 5.0]),
];

fn limit(grade: &str, part: usize) -> f64 {
    GRADES.iter().find(|row| row.0 == grade).unwrap().1[part] / 100.0
}

/// A dial that may be off by `limit` either way, with marks every `division`.
fn dial(limit: f64, division: f64) -> Gauge {
    let (accuracy, reads) = (Accuracy::Within(limit), Reads::Dial);
    Gauge {
        id: "g".into(),
        name: "g".into(),
        family: Family::Pressure,
        accuracy,
        span: None,
        division,
        reads,
        serial: None,
        compared: None,
    }
}

/// With JCGM 100:2008, 4.3.7 and F.2.2.1, computed: span and graduation in psi, grade at
/// mid-scale, standard uncertainty, and twice that.
#[test]
fn gauge_grades() {
    for (span, grade, step, u) in [(100.0, "B", 2.0, 1.2910), (100.0, "1A", 1.0, 0.6455)] {
        let gauge = dial(limit(grade, 1) * span, step);
        let found = gauge.accuracy_u(50.0).hypot(gauge.resolution_u());
        close(found, u, 0.0001, grade);
    }
    let gauge = dial(limit("B", 1) * 100.0, 2.0);
    close(gauge.accuracy_u(50.0), 1.1547, 0.0001, "grade B, accuracy");
    close(gauge.resolution_u(), 0.5774, 0.0001, "2 psi graduation");
    close(dial(limit("B", 1) * 60.0, 2.0).accuracy_u(30.0), 0.6928, 0.0001, "0-60 psi, grade B");
}

/// The same table: every grade as a system file states it, of 0 to 100 psi, a tenth up the scale, half-way, and
/// a tenth from its top.
#[test]
fn every_grade_of_a_system_file() {
    for (grade, limits) in GRADES {
        let text = format!(
            "format = 1\n[[gauge]]\nid = \"line\"\nspan = \"100 psi\"\ngrade = \"{grade}\"\ndivision = \"0.1 psi\"\n"
        );
        let system = tankhand::system::load(&SourceText::new("s.toml", text)).unwrap();
        let gauge = system.gauge("line").unwrap();
        for (reading, limit) in [10.0, 50.0, 90.0].into_iter().zip(limits) {
            close(gauge.limit(reading * PSI) / PSI, *limit, 1e-9, &format!("{grade} at {reading} psi"));
        }
    }
}

/// The same table: which grades can tell a charge 2 psi under the cut-in from one at it, with two
/// gauges of 0 to 100 psi at mid-scale and 95 % confidence (JCGM 106:2012): 1.645 √2 u < 2 psi.
#[test]
fn grades_that_can_tell_two_psi() {
    let z = one_sided(0.95).unwrap();
    let able: Vec<&str> = GRADES
        .iter()
        .filter(|(grade, _)| z * 2f64.sqrt() * dial(limit(grade, 1) * 100.0, 2.0).accuracy_u(50.0) < 2.0)
        .map(|row| row.0)
        .collect();
    assert_eq!(able, ["4A", "3A", "2A", "1A", "A"]);
}

/// ASME B40.100 grades as a system file states them (table from memory), worked by hand with
/// JCGM 100:2008, 4.3.7 and F.2.2.1: a 0-100 psi dial of grade B with marks every 2 psi is good to
/// 2 psi in the middle half and 3 psi outside it.
#[test]
fn gauges_of_a_system_file() {
    let text =
        "format = 1\n[[gauge]]\nid = \"line\"\nspan = \"100 psi\"\ngrade = \"B\"\ndivision = \"2 psi\"\n";
    let system = tankhand::system::load(&SourceText::new("s.toml", text)).unwrap();
    let gauge = system.gauge("line").unwrap();
    for (reading, limit, u) in [(20.0, 3.0, 1.8257), (50.0, 2.0, 1.2910), (90.0, 3.0, 1.8257)] {
        close(gauge.limit(reading * PSI) / PSI, limit, 1e-9, "limit");
        let found = gauge.accuracy_u(reading * PSI).hypot(gauge.resolution_u()) / PSI;
        close(found, u, 0.0001, "combined");
    }
}

/// Propagation by JCGM 100:2008, 5.1.2, worked outside the project: 44 gal, 40/60, charge 38, each pressure doubted
/// by 1.15 psi. A psi of charge, cut-in and cut-out is worth 0.2154, -0.7750 and 0.4156 gal: on their own they
/// make 1.0412 gal; with one gauge the error is common, and 0.1657 gal are left.
#[test]
fn one_gauge_is_better_than_three() {
    let with = |sources: [u64; 3]| {
        let read = |psi: f64, i: usize| {
            Uncertain::exact(psi * PSI).with_component(SourceId::Reading(sources[i]), 1.15 * PSI)
        };
        drawdown(
            Uncertain::exact(44.0 * GALLON),
            read(38.0, 0),
            read(40.0, 1),
            read(60.0, 2),
            Uncertain::exact(0.0),
        )
        .unwrap()
    };
    close(with([1, 2, 3]).value() / GALLON, 11.3503, 0.0001, "gallons");
    close(with([1, 2, 3]).standard_uncertainty() / GALLON, 1.0412, 0.0001, "three gauges");
    close(with([1, 1, 1]).standard_uncertainty() / GALLON, 0.1657, 0.0001, "one gauge");
}
