//! Forecasts of whole designs.

use tankhand::physics::PumpDuty;
use tankhand::physics::plan::{Design, PlanPump, PlanTank, Site};
use tankhand::quantity::Uncertain;

use super::{GALLON, GPM, PSI, close};

/// A place at sea level with perfect gauges, whose pump brings 10 gpm at every pressure.
fn site(gap: f64) -> Site {
    let duty = PumpDuty { pressure: Uncertain::exact(50.0 * PSI), flow: Uncertain::exact(10.0 * GPM) };
    let pump = PlanPump { duty: Some(duty), ..PlanPump::default() };
    Site { gap: gap * PSI, confidence: 0.95, pump, ..Site::default() }
}

fn design(gallons: &[f64], cut_in: f64, cut_out: f64) -> Design {
    let tank = |gallons: &f64| PlanTank {
        name: "a tank".to_string(),
        volume: Uncertain::exact(gallons * GALLON),
        above: Uncertain::exact(0.0),
        limit: None,
        precharge: None,
    };
    Design { tanks: gallons.iter().map(tank).collect(), cut_in: cut_in * PSI, cut_out: cut_out * PSI }
}

/// Computed from Boyle's law outside the project, precharge 2 psi below cut-in: cut-in, cut-out, and the
/// drawdown of 20, 32, 44, 62, 86 and 119 gal.
const DRAWDOWNS: &[(f64, f64, [f64; 6])] = &[
    (20.0, 40.0, [6.892, 11.027, 15.162, 21.364, 29.634, 41.005]),
    (30.0, 50.0, [5.906, 9.450, 12.993, 18.309, 25.396, 35.141]),
    (40.0, 60.0, [5.159, 8.255, 11.350, 15.994, 22.185, 30.697]),
];

#[test]
fn drawdowns_of_the_sizes_that_are_sold() {
    for (cut_in, cut_out, drawdowns) in DRAWDOWNS {
        for (gallons, expected) in [20.0, 32.0, 44.0, 62.0, 86.0, 119.0].iter().zip(drawdowns) {
            let forecast = site(2.0).forecast(&design(&[*gallons], *cut_in, *cut_out)).unwrap();
            close(forecast.drawdown.value() / GALLON, *expected, 0.001, &format!("{gallons} at {cut_in}"));
        }
    }
}

/// Washington DOH 331-123, s. 11.1.1 (from memory): bladder tanks hold together R Q / Nc, the precharge
/// 5 psi below pump-on, and then the pump starts Nc times an hour at worst.
const R_FACTORS: &[(f64, f64, f64)] = &[
    (20.0, 40.0, 47.93),
    (30.0, 50.0, 54.64),
    (40.0, 60.0, 61.66),
    (50.0, 70.0, 68.85),
    (60.0, 80.0, 76.12),
];

#[test]
fn starts_of_tanks_sized_by_a_states_manual() {
    for (cut_in, cut_out, r) in R_FACTORS {
        let half = r * 10.0 / 6.0 / 2.0;
        let forecast = site(5.0).forecast(&design(&[half, half], *cut_in, *cut_out)).unwrap();
        close(forecast.pumping.unwrap().starts.value(), 6.0, 0.001, &format!("{cut_in} to {cut_out}"));
    }
}

/// Boyle's law worked outside the project: what a catalog promises that takes the precharge to be the cut-in, and by
/// which share that is more than 2 psi below it gives.
#[test]
fn catalogs_promise_more_than_a_tank_gives() {
    for (cut_in, cut_out, share, more) in [
        (20.0, 40.0, 0.36566, 0.06117),
        (30.0, 50.0, 0.30914, 0.04684),
        (40.0, 60.0, 0.26775, 0.03795),
        (60.0, 80.0, 0.21120, 0.02751),
    ] {
        let set = design(&[100.0], cut_in, cut_out);
        let mut promised = set.clone();
        promised.tanks[0].precharge = Some(cut_in * PSI);
        let gives = |design: &Design| site(2.0).forecast(design).unwrap().drawdown.value() / GALLON / 100.0;
        close(gives(&promised), share, 1e-5, "catalog");
        close(gives(&promised) / gives(&set) - 1.0, more, 1e-5, "what it overstates");
    }
}
