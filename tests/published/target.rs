//! The charge to set, and what it costs.

use tankhand::physics::{Demands, Governs, cost_of_gap, one_sided, precharge_target_explained};
use tankhand::quantity::{SourceId, Uncertain};

use super::{GALLON, PSI, close, fahrenheit};

fn demands(cut_in: f64, set_at: f64, warmest: f64, uncertainty: f64) -> Demands<f64> {
    Demands {
        cut_in: cut_in * PSI,
        set_at: fahrenheit(set_at),
        warmest: fahrenheit(warmest),
        gap: 2.0 * PSI,
        uncertainty: uncertainty * PSI,
    }
}

/// Law of Gay-Lussac, worked by hand: 28 psi set at 45 °F reads 30.5 psi at 75 °F, so a 2 psi
/// gap set in the cold is gone on a 30 psi cut-in; (30 + 14.696) × 504.67 / 534.67 − 14.696 =
/// 27.492 psi is what may be set.
#[test]
fn a_gap_set_in_the_cold_is_not_enough() {
    let target = precharge_target_explained(demands(30.0, 45.0, 75.0, 0.0), 0.0).unwrap();
    assert_eq!(target.governs, Governs::Warmth);
    close(target.precharge / PSI, 27.492, 0.001, "by warmth");
    close(target.by_gap / PSI, 28.0, 1e-9, "by gap");
}

/// ASME B40.100 grade B, 0 to 100 psi (table from memory), marked every 2 psi: u = 1.291 psi
/// (JCGM 100:2008, 4.3.7 and F.2.2.1). Two such gauges: 1.645 × √2 × 1.291 = 3.003 psi, so a 2
/// psi gap cannot be held by them; one gauge for both: its accuracy cancels, 1.645 × √2 × 0.577
/// = 1.343 psi.
#[test]
fn a_cheap_gauge_cannot_hold_two_psi() {
    let z = one_sided(0.95).unwrap();
    let read = |value: f64, gauge: u64, reading: u64| {
        Uncertain::exact(value)
            .with_component(SourceId::Reading(gauge), 1.1547)
            .with_component(SourceId::Reading(reading), 0.5774)
    };
    let between =
        |gauges: [u64; 2]| z * (read(38.0, gauges[0], 11) - read(40.0, gauges[1], 12)).standard_uncertainty();
    close(between([1, 2]), 3.003, 0.001, "two gauges");
    close(between([1, 1]), 1.343, 0.001, "one gauge");
    let two = precharge_target_explained(demands(40.0, 68.0, 68.0, between([1, 2])), 0.0).unwrap();
    assert_eq!(two.governs, Governs::Uncertainty);
    close(two.precharge / PSI, 40.0 - 3.003, 0.001, "with two gauges");
    let one = precharge_target_explained(demands(40.0, 68.0, 68.0, between([1, 1])), 0.0).unwrap();
    assert_eq!(one.governs, Governs::Gap);
}

/// JCGM 106:2012, 8.3.2 (from memory): a guard band of U = 2 u leaves a probability of 2.3 % of
/// accepting what does not conform.
#[test]
fn a_guard_band_of_two_u() {
    close(one_sided(1.0 - 0.022_75).unwrap(), 2.0, 0.0001, "two u");
}

/// Boyle's law, computed outside the project: 44 gal at 40/60 gives 11.35 gal with 38 psi and
/// 10.70 with 35.
#[test]
fn three_psi_more_of_gap() {
    let cost = cost_of_gap(44.0 * GALLON, 35.0 * PSI, 40.0 * PSI, 60.0 * PSI, 0.0).unwrap();
    close(cost / GALLON, 11.35 - 10.70, 0.01, "gallons");
}
