//! Gauges and what their errors do to a drawdown.

use tankhand::physics::{drawdown, from_limit_of_error, from_resolution};
use tankhand::quantity::{SourceId, Uncertain};
use tankhand::source::SourceText;

use super::{GALLON, PSI, close};

/// ASME B40.100 grades (table from memory) with JCGM 100:2008, 4.3.7 and F.2.2.1: limit of error
/// and graduation in psi, standard uncertainty, and twice that.
#[test]
fn gauge_grades() {
    for (limit, step, u, twice) in [(2.0, 2.0, 1.2910, 2.582), (1.0, 1.0, 0.6455, 1.291)] {
        let found = from_limit_of_error(limit).unwrap().hypot(from_resolution(step).unwrap());
        close(found, u, 0.0001, "combined");
        close(2.0 * found, twice, 0.001, "at 95 %");
    }
    close(from_limit_of_error(0.02 * 60.0).unwrap(), 0.6928, 0.0001, "0-60 psi, grade B");
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

/// Propagation by JCGM 100:2008, 5.1.2, worked outside the project: 44 gal, 40/60, charge 38, each pressure doubted by 1.15 psi on its own:
/// 11.4 ± 1.0 gal. With one gauge its error is common and nearly cancels.
#[test]
fn one_gauge_is_better_than_three() {
    let with = |sources: [u64; 3]| {
        let read = |psi: f64, i: usize| Uncertain::exact(psi * PSI).doubt(SourceId(sources[i]), 1.15 * PSI);
        drawdown(
            Uncertain::exact(44.0 * GALLON),
            read(38.0, 0),
            read(40.0, 1),
            read(60.0, 2),
            Uncertain::exact(0.0),
        )
        .unwrap()
    };
    close(with([1, 2, 3]).value() / GALLON, 11.4, 0.06, "gallons");
    close(with([1, 2, 3]).standard_uncertainty() / GALLON, 1.0, 0.05, "three gauges");
    assert!(with([1, 1, 1]).standard_uncertainty() < 0.3 * with([1, 2, 3]).standard_uncertainty());
}
