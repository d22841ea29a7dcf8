//! The figure of a plan: drawdown against cut-in, for one tank and for each more.

use super::view::{Forecasts, PlanView};
use crate::physics::plan::{Design, PlanTank};
use crate::quantity::{Measure, PSI, Unit};
use crate::report::figure::{Axis, Figure, PlotMark, PlotShape, PlotTone};

/// The cut-ins that are drawn, and in how many pieces; Pa.
const FROM: f64 = 20.0 * PSI;
const TO: f64 = 70.0 * PSI;
const PLAN_PIECES: u32 = 25;
/// At most so many lines.
const PLAN_LINES: usize = 4;

/// The figure; none without tanks.
pub(super) fn figure(forecasts: &Forecasts<'_>) -> Option<Figure> {
    let view = forecasts.view;
    let (psi, gal) = (view.units.unit_for(Measure::Pressure)?, view.units.unit_for(Measure::Volume)?);
    let planned = &view.planned;
    let count = planned.tanks.len().min(PLAN_LINES);
    let mut marks: Vec<PlotMark> = (1..=count).map(|many| line(view, many, [psi, gal])).collect();
    let upright = |label: &str, at: f64, tone| {
        PlotMark::new(format!("{label} {}", view.pressure(at)), tone, PlotShape::Upright(at / psi.size))
    };
    if let Some(now) = view.now.as_ref().filter(|now| now.cut_in != planned.cut_in) {
        marks.push(upright("cut-in now", now.cut_in, PlotTone::Earlier));
    }
    marks.push(upright("cut-in planned", planned.cut_in, PlotTone::Computed));
    let most = view.site.highest_cut_out(&planned.tanks) - (planned.cut_out - planned.cut_in);
    marks.push(upright("highest cut-in by the limits", most, PlotTone::Limit));
    if let Some(pumping) = &forecasts.planned.pumping {
        let needed = pumping.flow.value() * view.run_time;
        let label = format!("drawdown for {}", view.brief(Measure::Duration, view.run_time));
        marks.push(PlotMark::new(label, PlotTone::Limit, PlotShape::Across(needed / gal.size)));
    }
    let differential = view.brief(Measure::PressureChange, planned.cut_out - planned.cut_in);
    Some(Figure {
        title: "Drawdown against cut-in".to_string(),
        says: format!(
            "Every tank is set to its target precharge, and cut-out lies {differential} above cut-in. The higher the \
             pressure, the less a tank gives; one more tank gives it back.{}",
            if count > 2 { " The lines from below: one tank, and each time one more." } else { "" }
        ),
        x: Axis::even(format!("cut-in, {}", psi.symbol)),
        y: Axis::even(format!("drawdown, {}", gal.symbol)).holding(&[0.0]),
        marks,
    })
}

/// The drawdown of so many of the tanks.
fn line(view: &PlanView, many: usize, [psi, gal]: [&Unit; 2]) -> PlotMark {
    let planned = &view.planned;
    // At their targets.
    let unset = |tank: &PlanTank| PlanTank { precharge: None, ..tank.clone() };
    let tanks: Vec<PlanTank> = planned.tanks[..many].iter().map(unset).collect();
    let place = |at: u32| {
        let cut_in = FROM + (TO - FROM) * f64::from(at) / f64::from(PLAN_PIECES);
        let cut_out = cut_in + planned.cut_out - planned.cut_in;
        let forecast = view.site.forecast(&Design { tanks: tanks.clone(), cut_in, cut_out }).ok()?;
        Some((cut_in / psi.size, forecast.drawdown.value() / gal.size))
    };
    let names: Vec<String> = tanks.iter().map(|tank| view.shown(Measure::Volume, &tank.volume)).collect();
    let tone = if many == planned.tanks.len() { PlotTone::Computed } else { PlotTone::Earlier };
    let places = (0..=PLAN_PIECES).filter_map(place).collect();
    PlotMark::new(view.joined(&names, " + "), tone, PlotShape::Line(places))
}
