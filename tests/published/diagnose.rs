//! Drawdown and air gauge together.

use tankhand::physics::{Evidence, Finding, diagnose};
use tankhand::quantity::{SourceId, Uncertain};

use super::{GALLON, PSI};

/// Boyle's law, computed outside the project, 44 gal at 40/60: 11.350 gal with 38 psi, 5.319 with
/// 10 psi, 8.836 with 45 psi; 7.19 % of the volume with no charge at all. Read with a gauge good
/// to 0.3 psi and a bucket good to 0.1 gal each is told for what it is.
#[test]
fn the_fault_cases_are_told_apart() {
    let table = [
        (11.350, 38.0, Finding::Right),
        (5.319, 10.0, Finding::Low),
        (8.836, 45.0, Finding::High),
        (44.0 * 0.0719, 0.0, Finding::Waterlogged),
        // The same waters, with a charge that does not go with them.
        (5.319, 38.0, Finding::WrongVolume),
        (8.836, 20.0, Finding::WrongVolume),
    ];
    for (gallons, precharge, expected) in table {
        let read = |psi: f64, source: u64| {
            Uncertain::exact(psi * PSI)
                .with_component(SourceId::Reading(9), 0.3 * PSI)
                .with_component(SourceId::Reading(source), 0.05 * PSI)
        };
        let found = Evidence {
            volume: Uncertain::exact(44.0 * GALLON),
            drawdown: Uncertain::exact(gallons * GALLON).with_component(SourceId::Reading(1), 0.1 * GALLON),
            precharge: read(precharge, 2),
            cut_in: read(40.0, 3),
            cut_out: read(60.0, 4),
        };
        let diagnosis = diagnose(&found, Uncertain::exact(0.0)).unwrap();
        assert_eq!(diagnosis.finding(0.95), Some(expected), "{gallons} gal, {precharge} psi: {diagnosis:?}");
        let whole: f64 = diagnosis.probabilities.iter().map(|(finding, _)| diagnosis.of(*finding)).sum();
        assert!((whole - 1.0).abs() < 1e-9 && diagnosis.of(expected) >= 0.95, "{diagnosis:?}");
    }
}
