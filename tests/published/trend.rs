//! Straight-line trends and the factors of their intervals.

use tankhand::physics::{MONTH, Reading, band_exit, one_sided, one_sided_of_few, trend};

use super::close;

/// NIST Statistical Reference Datasets, *Norris* (linear regression, calibration of ozone
/// monitors): y, x. From memory; that they give the certified values below to every digit
/// shows that both are right.
#[rustfmt::skip]
const NORRIS: &[(f64, f64)] = &[
    (0.1, 0.2), (338.8, 337.4), (118.1, 118.2), (888.0, 884.6), (9.2, 10.1), (228.1, 226.5),
    (668.5, 666.3), (998.5, 996.3), (449.1, 448.6), (778.9, 777.0), (559.2, 558.2), (0.3, 0.4),
    (0.1, 0.6), (778.1, 775.5), (668.8, 666.9), (339.3, 338.0), (448.9, 447.5), (10.8, 11.6),
    (557.7, 556.0), (228.3, 228.1), (998.0, 995.8), (888.8, 887.6), (119.6, 120.2), (0.3, 0.3),
    (0.6, 0.3), (557.6, 556.8), (339.3, 339.1), (888.0, 887.2), (998.5, 999.0), (778.9, 779.0),
    (10.2, 11.1), (117.6, 118.3), (228.9, 229.2), (668.4, 669.1), (449.2, 448.9), (0.2, 0.5),
];

/// Certified: intercept -0.262323073774029, slope 1.00211681802045, standard deviations
/// 0.232818234301152 and 0.429796848199937E-03, 34 degrees of freedom.
#[test]
fn norris_certified_values() {
    let readings: Vec<_> = NORRIS.iter().map(|&(value, at)| Reading { at, value, u: 0.0 }).collect();
    let fit = trend(&readings, 0.0).unwrap();
    close(fit.at(0.0), -0.262_323_073_774_029, 1e-11, "intercept");
    close(fit.slope(), 1.002_116_818_020_45, 1e-13, "slope");
    close(fit.u_at(0.0), 0.232_818_234_301_152, 1e-12, "its standard deviation");
    close(fit.slope_u(), 0.429_796_848_199_937e-3, 1e-15, "its standard deviation");
}

/// Invented charges in psi by month with their own uncertainties; figures by `trend.py` beside
/// this file (numpy 2.4.6, scipy 1.17.1). The second lot is the first, scattered more than its
/// uncertainties allow.
const MONTHS: [f64; 6] = [0.0, 2.0, 5.0, 9.0, 14.0, 20.0];
const PRECHARGES: [f64; 6] = [38.1, 37.6, 37.7, 36.4, 36.2, 34.7];
const US: [f64; 6] = [0.3, 0.3, 0.6, 0.3, 0.3, 0.6];
const SCATTER: [f64; 6] = [0.6, -0.6, 1.2, -0.9, 0.9, -1.2];

fn readings(scattered: bool) -> Vec<Reading> {
    (0..6)
        .map(|i| Reading {
            at: MONTHS[i] * MONTH,
            value: PRECHARGES[i] + if scattered { SCATTER[i] } else { 0.0 },
            u: US[i],
        })
        .collect()
}

#[test]
fn weighted_fit_and_its_intervals() {
    let fit = trend(&readings(false), 0.4).unwrap();
    close(fit.loss_per_month(), 0.148_796_605, 1e-7, "loss");
    close(fit.slope_u() * MONTH, 0.022_992_985, 1e-7, "its uncertainty");
    let (least, most) = fit.loss_interval(0.95).unwrap();
    close(least, 0.103_731_184, 1e-7, "least loss");
    close(most, 0.193_862_027, 1e-7, "greatest loss");
    let exit = band_exit(&fit, [30.0, 45.0], 0.95).unwrap();
    close(exit.estimate.unwrap() / MONTH, 53.839_182, 1e-5, "estimate");
    close(exit.earliest.unwrap() / MONTH, 41.874_665, 1e-5, "earliest");
    close(exit.latest.unwrap() / MONTH, 75.275_639, 1e-5, "latest");
}

#[test]
fn scatter_beyond_the_uncertainties_widens_the_interval() {
    let fit = trend(&readings(true), 0.4).unwrap();
    close(fit.slope_u() * MONTH, 0.085_501_993, 1e-7, "uncertainty of the loss");
    let (least, most) = fit.loss_interval(0.95).unwrap();
    close(least, -0.081_545_942, 1e-7, "least loss");
    close(most, 0.393_237_239, 1e-7, "greatest loss");
    let exit = band_exit(&fit, [30.0, 60.0], 0.95).unwrap();
    close(exit.estimate.unwrap() / MONTH, 51.718_090, 1e-5, "estimate");
    close(exit.earliest.unwrap() / MONTH, 23.662_896, 1e-5, "earliest");
    assert_eq!(exit.latest, None);
}

/// scipy 1.17.1 by the same script: probability, normal quantile, Student's t with 1, 2, 3, 4,
/// 7, 10, 30 and 200 degrees of freedom.
#[rustfmt::skip]
const QUANTILES: &[(f64, f64, [f64; 8])] = &[
    (0.95, 1.644_854, [6.313_752, 2.919_986, 2.353_363, 2.131_847, 1.894_579, 1.812_461, 1.697_261, 1.652_508]),
    (0.975, 1.959_964, [12.706_205, 4.302_653, 3.182_446, 2.776_445, 2.364_624, 2.228_139, 2.042_272, 1.971_896]),
    (0.99, 2.326_348, [31.820_516, 6.964_557, 4.540_703, 3.746_947, 2.997_952, 2.763_769, 2.457_262, 2.345_137]),
];
const DEGREES: [usize; 8] = [1, 2, 3, 4, 7, 10, 30, 200];

#[test]
fn quantiles_of_the_normal_and_of_student() {
    for &(p, normal, row) in QUANTILES {
        close(one_sided(p).unwrap(), normal, 1e-6, &format!("normal at {p}"));
        for (degrees, t) in DEGREES.into_iter().zip(row) {
            close(one_sided_of_few(p, degrees).unwrap(), t, 1e-6, &format!("t({degrees}) at {p}"));
        }
    }
}

/// JCGM 100:2008, Table G.2, two-sided 95 % (from memory), printed to two places.
#[test]
fn student_as_printed_in_the_gum() {
    let table = [
        (1, 12.71),
        (2, 4.30),
        (3, 3.18),
        (4, 2.78),
        (5, 2.57),
        (6, 2.45),
        (7, 2.36),
        (8, 2.31),
        (9, 2.26),
        (10, 2.23),
        (15, 2.13),
        (20, 2.09),
        (30, 2.04),
        (50, 2.01),
    ];
    for (degrees, t) in table {
        close(one_sided_of_few(0.975, degrees).unwrap(), t, 0.005_01, &format!("{degrees} degrees"));
    }
}
