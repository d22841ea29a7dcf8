//! A plan for programs: one JSON object.

use serde_json::{Value, json};

use super::rows::{PlanCell, PlanRow};
use super::view::{Forecasts, PlanView};
use crate::physics::FormulaResult;
use crate::physics::plan::Choice;
use crate::quantity::{Measure, Uncertain, Units};
use crate::report::wording::verdict_key;

/// The plan as one line of JSON.
///
/// It has `rows` with `now` and `planned`, each with its `text` and its `values` (number, standard
/// `uncertainty`, `unit`); whether the precharges of now are not known, so that `now` is told at their
/// targets; `checks` with their verdicts; `basis`; and `choices` where there was a search.
///
/// # Errors
/// As [`plan_page`](super::plan_page).
pub fn plan_json(view: &PlanView) -> FormulaResult<String> {
    let forecasts = view.forecasts()?;
    let checks = forecasts.checks()?;
    let check = |check: &super::checks::PlanCheck| json!({ "check": check.key, "verdict": verdict_key(check.verdict), "says": check.says });
    let object = json!({
        "place": view.place,
        "now_at_target": view.now_at_target(),
        "units": view.units.name(),
        "rows": forecasts.rows().iter().map(|row| row_object(row, view.units)).collect::<Vec<_>>(),
        "checks": checks.iter().map(check).collect::<Vec<_>>(),
        "basis": forecasts.basis(),
        "choices": view.choices.as_ref().map(|found| found.iter().map(|one| choice(&forecasts, one)).collect::<Vec<_>>()),
    });
    Ok(object.to_string() + "\n")
}

fn row_object(row: &PlanRow, units: Units) -> Value {
    json!({
        "row": row.key,
        "label": row.label,
        "now": row.now.as_ref().map(|cell| cell_object(cell, units)),
        "planned": cell_object(&row.planned, units),
    })
}

fn cell_object(cell: &PlanCell, units: Units) -> Value {
    let values = cell.amounts.iter().map(|amount| number(cell.measure, amount, units));
    json!({ "text": cell.text, "values": values.collect::<Vec<_>>() })
}

/// A number with its standard uncertainty, in the units of the house; times in seconds.
fn number(measure: Measure, amount: &Uncertain, units: Units) -> Value {
    let (value, u) = (amount.value(), amount.standard_uncertainty());
    let unit = units.unit_for(measure).filter(|_| measure != Measure::Duration);
    let (value, u) = unit.map_or((value, u), |unit| (unit.number_of(measure, value), u / unit.size));
    let symbol = if measure == Measure::Duration { "s" } else { unit.map_or("1", |unit| unit.symbol) };
    json!({ "value": rounded(value), "uncertainty": rounded(u), "unit": symbol })
}

/// Six digits are more than any gauge gives, and the same on every machine.
fn rounded(number: f64) -> f64 {
    // Adding zero turns a minus zero into zero.
    format!("{number:.6e}").parse().unwrap_or(number) + 0.0
}

fn choice(forecasts: &Forecasts<'_>, choice: &Choice) -> Value {
    let units = forecasts.view.units;
    let names: Vec<&str> = choice.design.tanks.iter().map(|tank| tank.name.as_str()).collect();
    let forecast = &choice.forecast;
    let pressure = |pa: f64| number(Measure::Pressure, &Uncertain::exact(pa), units);
    let pumping = forecast.pumping.as_ref();
    json!({
        "tanks": names,
        "bought": choice.bought.len(),
        "price": choice.price,
        "cut_in": pressure(choice.design.cut_in),
        "cut_out": pressure(choice.design.cut_out),
        "precharges": forecast.targets.iter().map(|pa| pressure(*pa)).collect::<Vec<_>>(),
        "drawdown": number(Measure::Volume, &forecast.drawdown, units),
        "run_time": pumping.map(|pumping| number(Measure::Duration, &pumping.run_time, units)),
    })
}
