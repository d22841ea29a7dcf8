//! Worked examples of JCGM 100:2008 (GUM), Annex H. Inputs and results are from memory; that the
//! inputs yield the results to every digit is what speaks for both.

use tankhand::quantity::{SourceId, Uncertain};

use super::close;

/// H.1: the length of an end gauge, nm, from a standard's and the difference of both; with
/// the expansion of the standard, the deviation of the temperature, and the differences of
/// expansion and temperature between the two.
fn end_gauge([standard, difference, expansion, deviation, more, warmer]: [Uncertain; 6]) -> Uncertain {
    standard.clone() + difference - standard * (more * deviation + expansion * warmer)
}

/// Estimates and standard uncertainties of H.1 (Table H.1).
const END_GAUGE: [(f64, f64); 6] =
    [(50_000_623.0, 25.0), (215.0, 9.7), (11.5e-6, 1.2e-6), (-0.1, 0.41), (0.0, 0.58e-6), (0.0, 0.029)];

#[test]
fn the_end_gauge() {
    let uncertain = |i: usize| {
        Uncertain::exact(END_GAUGE[i].0).with_component(SourceId::Reading(i as u64), END_GAUGE[i].1)
    };
    let length = end_gauge(std::array::from_fn(uncertain));
    close(length.value(), 50_000_838.0, 0.5, "l, nm");
    close(length.standard_uncertainty(), 32.0, 0.5, "u(l), nm");
    let part =
        |i: u64| length.components().iter().find(|p| p.0 == SourceId::Reading(i)).map_or(0.0, |p| p.1.abs());
    for (i, nm, what) in [(0, 25.0, "standard"), (1, 9.7, "difference"), (4, 2.9, "expansions")] {
        close(part(i), nm, 0.05, what);
    }
    close(part(5), 16.6, 0.1, "temperatures");
    assert_eq!((part(2), part(3)), (0.0, 0.0), "to first order these do not count");
}

/// Five sets of voltage (V), current (A) and phase (rad), observed together (Table H.2).
const SETS: [[f64; 3]; 5] = [
    [5.007, 19.663e-3, 1.0456],
    [4.994, 19.639e-3, 1.0438],
    [5.005, 19.640e-3, 1.0468],
    [4.990, 19.685e-3, 1.0428],
    [4.999, 19.678e-3, 1.0433],
];

/// The mean of one quantity. Each set is a source that moves all three means, so that they hang
/// together as the observations do (5.2.3).
fn mean(of: usize) -> Uncertain {
    let n = SETS.len() as f64;
    let mean = SETS.iter().map(|set| set[of]).sum::<f64>() / n;
    let parts = SETS.iter().map(|set| (set[of] - mean) / (n * (n - 1.0)).sqrt());
    parts
        .zip(0..)
        .fold(Uncertain::exact(mean), |x, (part, set)| x.with_component(SourceId::Reading(set), part))
}

/// The correlation of two values from what their sources contribute.
fn correlation(a: &Uncertain, b: &Uncertain) -> f64 {
    let of =
        |x: &Uncertain, source: SourceId| x.components().iter().find(|p| p.0 == source).map_or(0.0, |p| p.1);
    let covariance: f64 = a.components().iter().map(|(source, part)| part * of(b, *source)).sum();
    covariance / a.standard_uncertainty() / b.standard_uncertainty()
}

/// H.2: resistance, reactance and impedance from correlated means (Tables H.3 and H.4). For the reactance
/// they print 0.295 ohm; worked from the five sets as they are printed, outside the project, it is 0.295582.
#[test]
fn resistance_and_reactance() {
    let [voltage, current, phase] = [0, 1, 2].map(mean);
    for (x, value, u, digits) in [
        (&voltage, 4.9990, 0.0032, 0.000_05),
        (&current, 19.6610e-3, 0.0095e-3, 0.000_05e-3),
        (&phase, 1.044_46, 0.000_75, 0.000_005),
    ] {
        close(x.value(), value, digits, "mean");
        close(x.standard_uncertainty(), u, digits, "of the mean");
    }
    close(correlation(&voltage, &current), -0.36, 0.005, "r(V, I)");
    close(correlation(&voltage, &phase), 0.86, 0.005, "r(V, phase)");
    close(correlation(&current, &phase), -0.65, 0.005, "r(I, phase)");
    let (sin, cos) = phase.value().sin_cos();
    let impedance = voltage / current;
    let resistance = impedance.clone() * phase.clone().map(cos, -sin);
    let reactance = impedance.clone() * phase.map(sin, cos);
    for (x, value, u) in
        [(&resistance, 127.732, 0.071), (&reactance, 219.847, 0.2956), (&impedance, 254.260, 0.236)]
    {
        close(x.value(), value, 0.0005, "ohm");
        close(x.standard_uncertainty(), u, 0.0005, "ohm");
    }
    close(correlation(&resistance, &reactance), -0.588, 0.0005, "r(R, X)");
    close(correlation(&resistance, &impedance), -0.485, 0.0005, "r(R, Z)");
    close(correlation(&reactance, &impedance), 0.993, 0.0005, "r(X, Z)");
}
