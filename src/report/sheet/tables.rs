//! Small tables in place of the formulas, made for one installation.

use super::known::Known;
use super::rehearsal::{PossibleReadings, Rehearsal};
use super::{LookupTable, Sheet, SheetItem};
use crate::lang::{CheckedExpr, Value};
use crate::physics::drawdown;
use crate::procedure::{Fact, Procedure, Usual};
use crate::quantity::{Measure, Uncertain, Units, show_briefly, show_roundly};
use crate::report::steps::{PlacedStep, Steps};
use crate::system::System;

/// What the tables are made for, SI.
#[derive(Clone, Copy, Debug)]
pub(super) struct Basis {
    pub cut_in: f64,
    pub cut_out: f64,
    pub gap: f64,
    pub coldest: f64,
    pub warmest: f64,
    pub volume: Option<f64>,
    /// Whether that is of several tanks.
    pub together: bool,
    pub elevation: f64,
    pub units: Units,
    /// Whether cut-in and cut-out are changed in the work, so that a table reaches further.
    pub changes: bool,
}

impl Basis {
    fn shown(&self, measure: Measure, si: f64) -> String {
        show_briefly(measure, &Uncertain::exact(si), self.units)
    }

    /// How far two pressures are apart.
    fn apart(&self, si: f64) -> String {
        show_roundly(Measure::PressureChange, &Uncertain::exact(si), self.units)
    }

    /// How many steps of pressure two switches lie apart that people choose between: 10 psi, 0.5 bar.
    fn wide(&self) -> f64 {
        match self.units {
            Units::Us => 10.0,
            Units::Metric => 5.0,
        }
    }

    /// The number alone, with the same decimals in every row; the unit stands at the head.
    fn bare(&self, measure: Measure, si: f64) -> String {
        let unit = self.units.unit_for(measure);
        let number = unit.map_or(si, |unit| unit.number_of(measure, si));
        let decimals = if unit.is_some_and(|unit| unit.symbol == "bar") { 2 } else { 1 };
        format!("{number:.decimals$}")
    }
}

const TARGET: &str = "target precharge";
const TARGET_FUNCTION: &str = "precharge_target";
const DRAWDOWN: &str = "drawdown, from cut-out to cut-in";

/// What the tables are made for; `None` when the cut-in or cut-out is not known.
pub(super) fn basis(
    procedure: &Procedure,
    known: &Known,
    (system, tank): (&System, usize),
    units: Units,
) -> Option<Basis> {
    let asks_pressure =
        |placed: &PlacedStep<'_>| placed.step.observes.is_some_and(|it| it.name == "pressure_wanted");
    let amount_of = |fact: &Fact| known.of_tank(&fact.id, tank).and_then(Value::amount).map(Uncertain::value);
    let usual = |fact: &Fact| {
        let Some(Usual::Value(expr)) = &fact.usual else { return None };
        expr.value(known).ok()?.amount().map(Uncertain::value)
    };
    let of_fact = |fact: &Fact| amount_of(fact).or_else(|| usual(fact));
    let value = |path: &str| {
        let own = system.value(path, tank).and_then(Value::amount).map(Uncertain::value);
        let fact = || procedure.facts.iter().find(|fact| fact.from.as_deref() == Some(path));
        own.or_else(|| of_fact(fact()?))
    };
    // Of tanks that work together, the water of all is caught.
    let volumes =
        || (0..system.tanks.len()).map(|at| system.value("tank.volume", at)?.amount().map(Uncertain::value));
    let together = procedure.goes_round() && system.tanks.len() > 1;
    let is_gap = |fact: &&Fact| fact.observes.is_some_and(|known| known.name == "dead_gap");
    Some(Basis {
        cut_in: value("switch.cut_in")?,
        cut_out: value("switch.cut_out")?,
        gap: procedure.facts.iter().find(is_gap).and_then(of_fact)?,
        coldest: value("coldest")?,
        warmest: value("warmest")?,
        volume: if together { volumes().sum() } else { value("tank.volume") },
        together,
        elevation: value("elevation").unwrap_or(0.0),
        units,
        changes: Steps::of(Some(procedure)).placed.iter().any(asks_pressure),
    })
}

/// The letter of the table that stands in for a formula.
pub(super) fn title_for(expr: &CheckedExpr) -> Option<&'static str> {
    [(TARGET_FUNCTION, "table A"), ("drawdown", "table B")]
        .into_iter()
        .find_map(|(function, table)| expr.calls(function).then_some(table))
}

/// The tables a sheet has use for: a target to set the precharge to, a drawdown to hold what was caught against.
pub(super) fn tables(
    sheet: &Sheet,
    steps: &Steps<'_>,
    (basis, rehearsed): (&Basis, &[Rehearsal<'_>]),
) -> Vec<LookupTable> {
    let sets = steps.computed().any(|(_, expr)| expr.calls(TARGET_FUNCTION));
    let observed = |item: &SheetItem| steps.get(&item.step)?.step.observes;
    let caught = sheet.items().filter_map(observed).any(|known| known.name == "drawdown");
    let target = sets.then(|| target_table(basis, rehearsed, sheet));
    let drawdown = basis.volume.filter(|_| caught).map(|volume| drawdown_table(basis, volume));
    target.into_iter().chain(drawdown).filter(|table| !table.rows.is_empty()).collect()
}

/// How far apart the starts are that the table is made for, and how far they may be, in steps of pressure.
const STARTS_APART: [f64; 2] = [1.0, 2.0];

/// The table of the first tank, with what is less or more at the others.
fn target_table(basis: &Basis, rehearsed: &[Rehearsal<'_>], sheet: &Sheet) -> LookupTable {
    let span = basis.warmest - basis.coldest;
    let whole = |at: f64| match basis.units.unit_for(Measure::Temperature) {
        Some(unit) => unit.to_si(Measure::Temperature, unit.number_of(Measure::Temperature, at).round()),
        None => at,
    };
    let set_at: Vec<f64> = (0..4).map(|n| whole(basis.coldest + span * f64::from(n) / 3.0)).collect();
    let mut head = vec!["cut-in".to_string()];
    head.extend(set_at.iter().map(|at| basis.shown(Measure::Temperature, *at)));
    // Where the work changes the cut-in, the rows reach further up.
    let (cut_ins, by) = if basis.changes { (-2..=4, 0.5 * basis.wide()) } else { (-3..=1, 1.0) };
    let step = basis.units.pressure_step();
    let target_at = |tank: usize, cut_in: f64, starts: f64, temperature: f64| {
        let (precharge, cut_out) = (cut_in - basis.gap, cut_in + basis.cut_out - basis.cut_in);
        let supposed =
            PossibleReadings { cut_in, starts_apart: starts * step, cut_out, precharge, temperature };
        rehearsed.get(tank)?.result(TARGET_FUNCTION, &supposed)
    };
    let target = |cut_in, starts, temperature| target_at(0, cut_in, starts, temperature);
    let rows = cut_ins.filter_map(|n| {
        let cut_in = basis.cut_in + f64::from(n) * by * step;
        let targets = set_at.iter().map(|at| target(cut_in, STARTS_APART[0], *at));
        let targets = targets.map(|target| Some(basis.bare(Measure::Pressure, target?)));
        std::iter::once(Some(basis.shown(Measure::Pressure, cut_in))).chain(targets).collect()
    });
    let apart = STARTS_APART.map(|starts| target(basis.cut_in, starts, basis.coldest));
    let less = match apart {
        [Some(near), Some(far)] if near > far => format!(
            ", their starts {} apart; {} apart, {} less",
            basis.apart(STARTS_APART[0] * step),
            basis.apart(STARTS_APART[1] * step),
            basis.apart((10.0 * (near - far) / step).ceil() / 10.0 * step)
        ),
        _ => String::new(),
    };
    let other = |(tank, (id, _)): (usize, &(String, Option<String>))| {
        let [first, own] = [0, tank].map(|at| target_at(at, basis.cut_in, STARTS_APART[0], basis.coldest));
        // Downwards: too little air costs water, too much the tank.
        let tenths = (10.0 * (own? - first?) / step + 1e-6).floor();
        let apart = basis.apart(tenths.abs() / 10.0 * step);
        (tenths.abs() >= 1.0)
            .then(|| format!(" At {id} {apart} {}.", if tenths < 0.0 { "less" } else { "more" }))
    };
    let others: String = sheet.tanks.iter().enumerate().skip(1).filter_map(other).collect();
    LookupTable {
        title: format!("A: {TARGET}"),
        note: format!(
            "By the lowest cut-in and the temperature now. At least {} below cut-in and, with the uncertainty of gauges and starts, below it at {}{less}. Between rows or \
             columns take the lowest of the four. Cut-in below the table: as much less. Above it: 0.9 of that more.{others}",
            basis.apart(basis.gap),
            basis.shown(Measure::Temperature, basis.warmest),
        ),
        head,
        rows: rows.collect(),
    }
}

fn drawdown_table(basis: &Basis, volume: f64) -> LookupTable {
    let step = basis.units.pressure_step();
    let (steps, by) = if basis.changes { (-1..=2, basis.wide()) } else { (-1..=1, 2.0) };
    let switch = steps.map(|n| f64::from(n) * by * step).map(|by| (basis.cut_in + by, basis.cut_out + by));
    let switch: Vec<(f64, f64)> = switch.collect();
    let mut head = vec!["precharge".to_string()];
    head.extend(switch.iter().map(|(cut_in, cut_out)| {
        let [cut_out, cut_in] = [cut_out, cut_in].map(|si| basis.shown(Measure::Pressure, *si));
        format!("{} to {cut_in}", cut_out.split(' ').next().unwrap_or_default())
    }));
    let (highest, apart) = if basis.changes { (2.0 * basis.wide(), basis.wide() / 2.0) } else { (0.0, 3.0) };
    let precharges = (0..=8).map(|n| basis.cut_in + (highest - apart * f64::from(n)) * step);
    let rows = precharges.filter(|precharge| *precharge >= 0.0).map(|precharge| {
        let water = |&(cut_in, cut_out): &(f64, f64)| {
            let water = drawdown(volume, precharge, cut_in, cut_out, basis.elevation).ok();
            let water = water.filter(|_| precharge < cut_out);
            water.map_or_else(|| "-".to_string(), |water| basis.bare(Measure::Volume, water))
        };
        let first = basis.shown(Measure::Pressure, precharge);
        std::iter::once(first).chain(switch.iter().map(water)).collect()
    });
    let of = match (basis.shown(Measure::Volume, volume), basis.together) {
        (volume, true) => format!("All tanks together, {volume}, by the mean of their precharges."),
        (volume, false) => format!("{volume} tank."),
    };
    LookupTable {
        title: format!("B: {DRAWDOWN}"),
        note: format!("{of} Between two columns or rows take the mean."),
        head,
        rows: rows.collect(),
    }
}
