//! Small tables in place of the formulas, made for one installation.

use super::LookupTable;
use crate::lang::CheckedExpr;
use crate::physics::{Demands, drawdown, precharge_target_explained};
use crate::quantity::{Measure, Uncertain, Units, show_briefly};
use crate::report::steps::Steps;
use crate::system::System;

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

    /// The number alone, with the same decimals in every row; the unit stands at the head.
    fn bare(&self, measure: Measure, si: f64) -> String {
        let unit = self.units.unit_for(measure);
        let number = unit.map_or(si, |unit| unit.number_of(measure, si));
        let decimals = if unit.is_some_and(|unit| unit.symbol == "bar") { 2 } else { 1 };
        format!("{number:.decimals$}")
    }
}

const TARGET: &str = "target precharge by the lowest cut-in, and by the temperature at the tank now";
const DRAWDOWN: &str = "drawdown by the precharge, from cut-out to cut-in";

/// The letter of the table that stands in for a formula.
pub(super) fn title_for(expr: &CheckedExpr) -> Option<&'static str> {
    [("precharge_target", "table A"), ("drawdown", "table B")]
        .into_iter()
        .find_map(|(function, table)| expr.calls(function).then_some(table))
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
    let span = basis.warmest - basis.coldest;
    let whole = |at: f64| match basis.units.unit_for(Measure::Temperature) {
        Some(unit) => unit.to_si(Measure::Temperature, unit.number_of(Measure::Temperature, at).round()),
        None => at,
    };
    let set_at: Vec<f64> = (0..4).map(|n| whole(basis.coldest + span * f64::from(n) / 3.0)).collect();
    let mut head = vec!["cut-in".to_string()];
    head.extend(set_at.iter().map(|at| basis.shown(Measure::Temperature, *at)));
    let rows = (-5..=5).filter_map(|n| {
        let cut_in = basis.cut_in + f64::from(n) * basis.units.pressure_step();
        let mut row = vec![basis.shown(Measure::Pressure, cut_in)];
        for at in &set_at {
            let Basis { warmest, gap, uncertainty, .. } = *basis;
            let demands = Demands { cut_in, set_at: *at, warmest, gap, uncertainty };
            let target = precharge_target_explained(demands, basis.elevation).ok()?;
            row.push(basis.bare(Measure::Pressure, target.precharge));
        }
        Some(row)
    });
    LookupTable {
        title: format!("A: {TARGET}"),
        note: format!(
            "At least {} below cut-in, and below it at {} though the gauges may disagree by {}. \
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
    let step = basis.units.pressure_step();
    let switch: Vec<(f64, f64)> =
        (-1..=1).map(|n| f64::from(2 * n) * step).map(|by| (basis.cut_in + by, basis.cut_out + by)).collect();
    let mut head = vec!["precharge".to_string()];
    head.extend(switch.iter().map(|(cut_in, cut_out)| {
        let [cut_out, cut_in] = [cut_out, cut_in].map(|si| basis.shown(Measure::Pressure, *si));
        format!("{} to {cut_in}", cut_out.split(' ').next().unwrap_or_default())
    }));
    let rows = (0..=8).map(|n| {
        let precharge = basis.cut_in - 3.0 * f64::from(n) * step;
        let water = |(cut_in, cut_out): &(f64, f64)| {
            let water = drawdown(volume, precharge, *cut_in, *cut_out, basis.elevation);
            water.map_or_else(|_| "-".to_string(), |water| basis.bare(Measure::Volume, water))
        };
        let first = basis.shown(Measure::Pressure, precharge);
        std::iter::once(first).chain(switch.iter().map(water)).collect()
    });
    LookupTable {
        title: format!("B: {DRAWDOWN}"),
        note: format!(
            "{} tank. Between two columns or rows take the mean.",
            basis.shown(Measure::Volume, volume)
        ),
        head,
        rows: rows.collect(),
    }
}
