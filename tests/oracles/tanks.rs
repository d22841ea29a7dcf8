//! Several tanks at heights against bisection and quadrature (`make_tanks.py`, scipy).

use tankhand::physics::plan::{Design, PlanTank, Site};
use tankhand::physics::{TankAtHeight, several_tanks};
use tankhand::quantity::Uncertain;

use super::{GALLON, PSI, data};

const FOOT: f64 = 0.3048;

/// The tanks of a row: volume, precharge, height.
fn tanks(row: &serde_json::Value) -> Vec<[f64; 3]> {
    let tanks = row["tanks"].as_array().unwrap();
    tanks.iter().map(|tank| [0, 1, 2].map(|at| tank[at].as_f64().unwrap())).collect()
}

#[test]
fn shares_are_those_of_bisection_and_quadrature() {
    for row in data("tanks.json")["tanks"].as_array().unwrap() {
        let number = |key: &str| row[key].as_f64().unwrap();
        let (cut_in, cut_out) = (number("cut_in") * PSI, number("cut_out") * PSI);
        let shares: Vec<f64> =
            row["shares"].as_array().unwrap().iter().map(|share| share.as_f64().unwrap()).collect();
        let at_height = tanks(row).into_iter().map(|[volume, precharge, above]| TankAtHeight {
            volume: volume * GALLON,
            precharge: precharge * PSI,
            above: above * FOOT,
        });
        let found =
            several_tanks(&at_height.collect::<Vec<_>>(), cut_in, cut_out, number("elevation")).unwrap();
        for (found, share) in found.each.iter().zip(&shares) {
            assert!((found / GALLON - share).abs() < 2e-5, "{row}: {}", found / GALLON);
        }
        // A forecast of the same tanks adds nothing of its own.
        let design =
            Design { tanks: tanks(row).iter().map(|tank| plan_tank(*tank)).collect(), cut_in, cut_out };
        let site =
            Site { elevation: number("elevation"), gap: 2.0 * PSI, confidence: 0.95, ..Site::default() };
        let forecast = site.forecast(&design).unwrap();
        let total: f64 = shares.iter().sum();
        assert!((forecast.drawdown.value() / GALLON - total).abs() < 1e-4, "{row}");
        let held = forecast.held_at_cut_out - forecast.held_at_cut_in;
        assert!((held.value() - forecast.drawdown.value()).abs() < 1e-12, "{row}");
    }
}

fn plan_tank([volume, precharge, above]: [f64; 3]) -> PlanTank {
    PlanTank {
        name: "a tank".to_string(),
        volume: Uncertain::exact(volume * GALLON),
        above: Uncertain::exact(above * FOOT),
        limit: None,
        precharge: Some(precharge * PSI),
    }
}
