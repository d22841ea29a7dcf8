//! Small tables in place of the formulas, made for one installation.

use super::LookupTable;
use crate::physics::{Demands, drawdown, precharge_target_explained};
use crate::quantity::{Measure, Uncertain, Units, show_briefly};
use crate::report::steps::Steps;
use crate::system::System;
use crate::words::capitalized;

/// What the tables are made for, SI.
#[derive(Clone, Copy, Debug)]
pub(super) struct Basis {
    pub cut_in: f64,
    pub cut_out: f64,
    pub gap: f64,
    /// How far air gauge and line gauge may disagree.
    pub uncertainty: f64,
    pub coldest: f64,
    pub warmest: f64,
    pub volume: Option<f64>,
    pub elevation: f64,
    pub units: Units,
}

impl Basis {
    fn shown(&self, measure: Measure, si: f64) -> String {
        show_briefly(measure, &Uncertain::exact(si), self.units)
    }
}

const TARGET: &str = "air to set, by the lowest cut-in watched";
const DRAWDOWN: &str = "water between pump stop and pump start, by the air";

/// The title of the table that stands in for a function.
pub(super) fn title(function: &str) -> Option<&'static str> {
    match function {
        "precharge_target" => Some(TARGET),
        "drawdown" => Some(DRAWDOWN),
        _ => None,
    }
}

/// The tables a procedure has use for.
pub(super) fn tables(steps: &Steps<'_>, basis: &Basis) -> Vec<LookupTable> {
    let uses = |function: &str| steps.computed().any(|(_, expr)| expr.calls(function));
    let target = uses("precharge_target").then(|| target_table(basis));
    let drawdown = basis.volume.filter(|_| uses("drawdown")).map(|volume| drawdown_table(basis, volume));
    target.into_iter().chain(drawdown).filter(|table| !table.rows.is_empty()).collect()
}

/// How far air gauge and line gauge may disagree at a pressure, to one side, at 95 %: 1.645 u, limits
/// of error and divisions taken as rectangular (JCGM 100:2008, 4.3.7). One reading of each counts;
/// three of the air gauge leave a little less, so that the table is on the careful side.
pub(super) fn gauge_uncertainty(system: &System, pressure: f64) -> f64 {
    let gauges = ["line", "air"].into_iter().filter_map(|id| system.gauge(id));
    let squares = gauges.map(|gauge| gauge.accuracy_u(pressure).powi(2) + gauge.resolution_u().powi(2));
    1.645 * squares.sum::<f64>().sqrt()
}

fn target_table(basis: &Basis) -> LookupTable {
    let middle = (basis.coldest + basis.warmest) / 2.0;
    let set_at = [basis.coldest, middle, basis.warmest];
    let mut head = vec!["lowest cut-in".to_string()];
    head.extend(set_at.map(|at| format!("air to set at {}", basis.shown(Measure::Temperature, at))));
    let rows = (-5..=5).filter_map(|n| {
        let cut_in = basis.cut_in + f64::from(n) * basis.units.pressure_step();
        let mut row = vec![basis.shown(Measure::Pressure, cut_in)];
        for at in set_at {
            let Basis { warmest, gap, uncertainty, .. } = *basis;
            let demands = Demands { cut_in, set_at: at, warmest, gap, uncertainty };
            let target = precharge_target_explained(demands, basis.elevation).ok()?;
            row.push(basis.shown(Measure::Pressure, target.precharge));
        }
        Some(row)
    });
    LookupTable {
        title: capitalized(TARGET),
        note: format!(
            "At least {} below the cut-in, and below it at {} though the gauges may disagree by {}. \
             Between two rows take the lower.",
            basis.shown(Measure::PressureChange, basis.gap),
            basis.shown(Measure::Temperature, basis.warmest),
            basis.shown(Measure::PressureChange, basis.uncertainty)
        ),
        head,
        rows: rows.collect(),
    }
}

fn drawdown_table(basis: &Basis, volume: f64) -> LookupTable {
    let highest = basis.cut_in + 3.0 * basis.units.pressure_step();
    let rows = (0..=8).filter_map(|n| {
        let precharge = highest - f64::from(n) * 3.0 * basis.units.pressure_step();
        let water = drawdown(volume, precharge, basis.cut_in, basis.cut_out, basis.elevation).ok()?;
        Some(vec![basis.shown(Measure::Pressure, precharge), basis.shown(Measure::Volume, water)])
    });
    LookupTable {
        title: capitalized(DRAWDOWN),
        note: format!(
            "For a tank of {}, cut-in {}, cut-out {}.",
            basis.shown(Measure::Volume, volume),
            basis.shown(Measure::Pressure, basis.cut_in),
            basis.shown(Measure::Pressure, basis.cut_out)
        ),
        head: vec!["precharge".to_string(), "water to expect".to_string()],
        rows: rows.collect(),
    }
}
