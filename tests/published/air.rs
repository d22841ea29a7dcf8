//! The air law: drawdown, water held, fault cases, and published sizing rules that rest on it.

use tankhand::physics::{
    dead_gap, drawdown, drawdown_for_starts, precharge_from_drawdown, run_time, volume_needed, water_for_run,
    water_held,
};

use super::{FOOT, GALLON, GPM, PSI, close};

/// Drawdown as a share of the volume; pressures in psi, elevation in ft.
fn share(precharge: f64, cut_in: f64, cut_out: f64, feet: f64) -> f64 {
    drawdown(1.0, precharge * PSI, cut_in * PSI, cut_out * PSI, feet * FOOT).unwrap()
}

/// Drawdown in gallons at sea level.
fn gallons(volume: f64, precharge: f64, cut_in: f64, cut_out: f64) -> f64 {
    volume * share(precharge, cut_in, cut_out, 0.0)
}

/// Boyle's law worked outside the project (numpy 2.4.6), air at 14.69595 psi. Cut-in, cut-out;
/// share with the charge 2 psi below the cut-in, at it, water held at cut-out, 5 psi below, none.
type Factors = (f64, f64, f64, f64, f64, Option<f64>, f64);
const FACTORS: &[Factors] = &[
    (20.0, 40.0, 0.34458, 0.36566, 0.40222, None, 0.1549),
    (30.0, 50.0, 0.29531, 0.30914, 0.34005, Some(0.27456), 0.1016),
    (40.0, 60.0, 0.25796, 0.26775, 0.29453, Some(0.24328), 0.0719),
    (50.0, 70.0, 0.22884, 0.23614, 0.25975, None, 0.0536),
    (60.0, 80.0, 0.20555, 0.21120, 0.23232, None, 0.0416),
];

#[test]
fn shares_of_the_usual_switches() {
    for &(cut_in, cut_out, two_below, at, held, five_below, uncharged) in FACTORS {
        let what = format!("{cut_in}/{cut_out}");
        close(share(cut_in - 2.0, cut_in, cut_out, 0.0), two_below, 6e-6, &what);
        close(share(cut_in, cut_in, cut_out, 0.0), at, 6e-6, &what);
        let found = water_held(1.0, (cut_in - 2.0) * PSI, cut_out * PSI, 0.0).unwrap();
        close(found, held, 6e-6, &what);
        if let Some(five_below) = five_below {
            close(share(cut_in - 5.0, cut_in, cut_out, 0.0), five_below, 6e-6, &what);
        }
        close(share(0.0, cut_in, cut_out, 0.0), uncharged, 6e-5, &what);
    }
}

/// The same source: volume, then gallons at 20/40, 30/50 and 40/60, charge 2 psi below cut-in.
pub const GALLONS: &[(f64, [f64; 3])] = &[
    (20.0, [6.892, 5.906, 5.159]),
    (32.0, [11.027, 9.450, 8.255]),
    (44.0, [15.162, 12.993, 11.350]),
    (62.0, [21.364, 18.309, 15.994]),
    (86.0, [29.634, 25.396, 22.185]),
    (119.0, [41.005, 35.141, 30.697]),
];

#[test]
fn gallons_of_the_usual_tanks() {
    for &(volume, expected) in GALLONS {
        for (cut_in, expected) in [20.0, 30.0, 40.0].into_iter().zip(expected) {
            let found = gallons(volume, cut_in - 2.0, cut_in, cut_in + 20.0);
            close(found, expected, 0.0006, &format!("{volume} gal at {cut_in}"));
        }
    }
}

/// The same source: elevation in ft, then shares at 20/40, 30/50 and 40/60.
const BY_ELEVATION: &[(f64, [f64; 3])] = &[
    (0.0, [0.34458, 0.29531, 0.25796]),
    (2_000.0, [0.35054, 0.29976, 0.26138]),
    (5_000.0, [0.35917, 0.30618, 0.26630]),
    (6_000.0, [0.36196, 0.30824, 0.26787]),
    (10_000.0, [0.37262, 0.31614, 0.27389]),
];

#[test]
fn shares_grow_with_elevation() {
    for &(feet, expected) in BY_ELEVATION {
        for (cut_in, expected) in [20.0, 30.0, 40.0].into_iter().zip(expected) {
            let found = share(cut_in - 2.0, cut_in, cut_in + 20.0, feet);
            close(found, expected, 6e-6, &format!("{feet} ft at {cut_in}"));
        }
    }
}

/// The same source: 44 gal at 40/60, drawdown by charge.
#[test]
fn a_psi_of_charge_is_worth_a_fifth_of_a_gallon() {
    let table = [(35.0, 10.70), (36.0, 10.92), (37.0, 11.14), (38.0, 11.35), (39.0, 11.57), (40.0, 11.78)];
    for (precharge, expected) in table {
        close(gallons(44.0, precharge, 40.0, 60.0), expected, 0.006, &format!("{precharge} psi"));
    }
}

/// The same source: charge lost, charge above the cut-in, and the charge behind 9 gal drawn.
#[test]
fn fault_cases() {
    close(gallons(44.0, 10.0, 40.0, 60.0), 5.319, 0.001, "charge fallen to 10 psi");
    close(gallons(44.0, 10.0, 40.0, 60.0) / gallons(44.0, 38.0, 40.0, 60.0), 0.469, 0.0005, "share left");
    close(gallons(44.0, 45.0, 40.0, 60.0), 8.836, 0.001, "charge above the cut-in");
    close(dead_gap(45.0 * PSI, 40.0 * PSI).unwrap() / PSI, 5.0, 1e-9, "dead gap");
    let implied = precharge_from_drawdown(44.0 * GALLON, 9.0 * GALLON, 40.0 * PSI, 60.0 * PSI, 0.0).unwrap();
    close(implied / PSI, 27.09, 0.005, "charge behind 9 gal");
}

/// The share that is left of the drawdown on a 40/60 switch with wider gaps (computed).
#[test]
fn what_a_wider_gap_costs() {
    let two = share(38.0, 40.0, 60.0, 0.0);
    close(1.0 - share(35.0, 40.0, 60.0, 0.0) / two, 0.057, 0.0005, "5 psi");
    close(1.0 - share(30.0, 40.0, 60.0, 0.0) / two, 0.152, 0.0005, "10 psi");
    close(1.0 - share(28.0, 40.0, 60.0, 0.0) / two, 0.19, 0.002, "28 psi left under a 40/60 switch");
}

/// CoolProp 8.0.0, constant mass of real air: the ideal drawdown is low by up to 0.17 %.
#[test]
fn the_ideal_gas_is_good_to_two_parts_in_a_thousand() {
    close(share(18.0, 20.0, 40.0, 0.0) / 0.344_857, 1.0, 0.002, "20/40 at 20 °C");
    close(share(38.0, 40.0, 60.0, 0.0) / 0.258_289, 1.0, 0.002, "40/60 at 20 °C");
}

/// US DoD UFC 3-420-01 *Plumbing Systems* (2004, ch. 1-2 2006), para. 606.5.11.3 Ex. 1 and
/// Table 606.5.11-2, seen: 40/60 psi, 10 % residual: withdrawal 24 %; 2.5 × 150 gpm: 1,563 gal.
/// A plain tank with 10 % left at pump-on acts as 90 % of it charged to the cut-in.
#[test]
fn ufc_conventional_tank() {
    let withdrawal = 0.9 * share(40.0, 40.0, 60.0, 0.0);
    close(withdrawal, 0.24, 0.005, "as printed");
    close(withdrawal, 0.2410, 0.001, "unrounded");
    close(water_for_run(150.0 * GPM, 150.0).unwrap() / GALLON / 0.24, 1_563.0, 0.6, "tank, gallons");
}

/// J. A. Salvato, *Environmental Engineering and Sanitation*: V = Vm / (1 − P1/P2), formula
/// seen in a quotation; figures computed with 14.7 psi.
#[test]
fn salvato_conventional_tank() {
    for (cut_in, ratio) in [(20.0, 2.735), (30.0, 3.235), (40.0, 3.735)] {
        let found = volume_needed(1.0, cut_in * PSI, cut_in * PSI, (cut_in + 20.0) * PSI, 0.0).unwrap();
        close(found, ratio, 0.0006, &format!("{cut_in} psi"));
    }
}

/// Washington State DOH 331-123 (2009), s. 11.1.2 Eq. 11-1 (seen, p. 128) and the bladder-tank
/// equation of s. 11.1.1 (from memory), 10 gal/min and 6 cycles an hour; figures computed.
#[test]
fn washington_sizing() {
    let table = [
        (20.0, Some(68.4), 47.93),
        (30.0, Some(80.9), 54.64),
        (40.0, Some(93.4), 61.66),
        (50.0, None, 68.85),
        (60.0, None, 76.12),
    ];
    let needed = drawdown_for_starts(10.0 * GPM, 6.0).unwrap();
    for (cut_in, plain, bladder) in table {
        let size = |precharge: f64| {
            let (on, off) = (cut_in * PSI, (cut_in + 20.0) * PSI);
            volume_needed(needed, precharge * PSI, on, off, 0.0).unwrap() / GALLON
        };
        if let Some(plain) = plain {
            close(size(cut_in), plain, 0.1, &format!("plain tank at {cut_in}"));
        }
        close(size(cut_in - 5.0) * 6.0 / 10.0, bladder, 0.02, &format!("R at {cut_in}"));
    }
}

/// US EPA archive "SEAHOME", *Private Water Systems - Pumping Installation - Storage Amount*,
/// pressure tank selection chart, seen: pump in gpm, gallons at six switch settings.
const SEAHOME: &[(f64, [f64; 6])] = &[
    (4.0, [42.0, 82.0, 120.0, 120.0, 120.0, 120.0]),
    (8.0, [82.0, 120.0, 180.0, 220.0, 315.0, 315.0]),
    (12.0, [120.0, 180.0, 220.0, 315.0, 315.0, 315.0]),
    (15.0, [144.0, 220.0, 315.0, 525.0, 525.0, 525.0]),
    (18.0, [180.0, 315.0, 315.0, 525.0, 525.0, 525.0]),
    (24.0, [220.0, 315.0, 525.0, 525.0, 1000.0, 1000.0]),
    (32.0, [315.0, 525.0, 525.0, 1000.0, 1000.0, 1000.0]),
];
const SEAHOME_SWITCHES: [(f64, f64); 6] =
    [(20.0, 40.0), (30.0, 50.0), (40.0, 60.0), (50.0, 70.0), (60.0, 80.0), (70.0, 100.0)];

/// Uncharged tanks of the chart's sizes give 1 to 2 min of pump flow.
#[test]
fn epa_chart_of_uncharged_tanks() {
    let mut minutes = Vec::new();
    for &(pump, sizes) in SEAHOME {
        for ((cut_in, cut_out), size) in SEAHOME_SWITCHES.into_iter().zip(sizes) {
            let water = gallons(size, 0.0, cut_in, cut_out) * GALLON;
            let time = run_time(water, pump * GPM).unwrap() / 60.0;
            assert!((1.08..=2.17).contains(&time), "{pump} gpm at {cut_in}/{cut_out}: {time} min");
            minutes.push(time);
        }
    }
    minutes.sort_by(f64::total_cmp);
    close((minutes[20] + minutes[21]) / 2.0, 1.5, 0.05, "median of the 42 cells");
    close(gallons(120.0, 0.0, 30.0, 50.0), 12.2, 0.05, "uncharged 120 gal at 30/50");
}

/// Engineering ToolBox (a general reference), diaphragm tank sizing, seen: 10 to 30 psi,
/// acceptance "approx. 0.5"; 0.447 by the formula, 0.431 from 70 to 200 kPa.
#[test]
fn expansion_tank_acceptance() {
    let held = water_held(1.0, 10.0 * PSI, 30.0 * PSI, 0.0).unwrap();
    close(held, 0.447, 0.001, "10 to 30 psi");
    close(held, 0.5, 0.06, "as printed");
    close(water_held(1.0, 70e3, 200e3, 0.0).unwrap(), 0.431, 0.001, "70 to 200 kPa");
}
