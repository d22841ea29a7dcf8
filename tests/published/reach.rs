//! How far a pump reaches.

use tankhand::physics::{PumpDuty, flow_at, shutoff_from_two_flows, shutoff_pressure, starts_at_demand};

use super::{FOOT, GALLON, GPM, PSI, close};

/// Rule of thumb, seen: 2.31 ft/psi (USDA-NRCS *Missouri Watering Systems for Serious Graziers*, p.
/// 29): 300 ft of shutoff head over water 125 ft down leave 75.8 psi.
#[test]
fn shutoff_head_less_the_lift() {
    let most = shutoff_pressure(300.0 * FOOT, 125.0 * FOOT).unwrap();
    close(most / PSI, 175.0 / 2.31, 0.15, "psi");
}

/// Computed with numpy 2.4.6: the two equations p = p0 - k q² solved as a linear system. psi and gpm
/// of two fills, the shutoff pressure, another pressure and the flow there.
const CURVES: &[([f64; 4], f64, f64, f64)] = &[
    ([42.5, 7.9, 52.5, 7.1], 94.508_333, 60.0, 6.435_063),
    ([30.0, 10.0, 60.0, 6.0], 76.875, 50.0, 7.571_878),
    ([45.0, 8.0, 65.0, 3.0], 68.272_727, 55.0, 6.041_523),
];

#[test]
fn two_fills_tell_the_curve() {
    for &([p1, q1, p2, q2], shutoff, at, flow) in CURVES {
        let duty = |psi: f64, gpm: f64| PumpDuty { pressure: psi * PSI, flow: gpm * GPM };
        let (low, high) = (duty(p1, q1), duty(p2, q2));
        let most = shutoff_from_two_flows(&low, &high).unwrap();
        close(most / PSI, shutoff, 1e-5, "shutoff");
        close(flow_at(most, &low, at * PSI).unwrap() / GPM, flow, 1e-5, "flow");
    }
}

/// At half the flow the starts are those of the Water Systems Council's tank standard (15 an hour for
/// a run of 1 min, seen); a fill of 10 gal at 2 of 10 gpm takes 1.25 min and lasts 5 min: 9.6 an hour.
#[test]
fn starts_at_a_steady_draw() {
    let (flow, water) = (10.0 * GPM, 10.0 * GALLON);
    close(starts_at_demand(water, flow, flow / 2.0).unwrap(), 15.0, 1e-9, "half");
    close(starts_at_demand(water, flow, 2.0 * GPM).unwrap(), 60.0 / 6.25, 1e-9, "a fifth");
}
