//! The rows of a plan: one thing, now and planned.

use super::view::{Forecasts, PlanView};
use crate::physics::plan::{Design, Forecast, Pumping};
use crate::quantity::{Measure, Uncertain};
use crate::report::Row;

/// A row: what it is of, and what stands in each column.
pub(super) struct PlanRow {
    /// Its name for programs.
    pub key: &'static str,
    /// What it is called.
    pub label: String,
    /// How it is now; `None` where nothing is known of now.
    pub now: Option<PlanCell>,
    /// How it is planned.
    pub planned: PlanCell,
}

/// What stands in a column: numbers of one measure, and how a person reads them.
pub(super) struct PlanCell {
    pub measure: Measure,
    pub amounts: Vec<Uncertain>,
    pub text: String,
}

impl PlanCell {
    /// Numbers, read as they are joined.
    fn of(view: &PlanView, measure: Measure, amounts: Vec<Uncertain>, joint: &str) -> PlanCell {
        let texts: Vec<String> = amounts.iter().map(|amount| view.shown(measure, amount)).collect();
        PlanCell { measure, text: view.joined(&texts, joint), amounts }
    }

    fn words(text: impl Into<String>) -> PlanCell {
        PlanCell { measure: Measure::Number, amounts: Vec::new(), text: text.into() }
    }
}

impl PlanRow {
    /// The row on a page whose table has these words over its columns.
    pub fn on_page(self, head: &[&str]) -> Row {
        let cell = |word: &&str| match *word {
            "" => self.label.clone(),
            word if word.starts_with("now") => {
                self.now.as_ref().map(|cell| cell.text.clone()).unwrap_or_default()
            }
            _ => self.planned.text.clone(),
        };
        Row::new(head.iter().map(cell))
    }
}

impl Forecasts<'_> {
    /// Every row.
    pub(super) fn rows(&self) -> Vec<PlanRow> {
        let mut rows = vec![
            self.of_designs("tanks", "tanks", tanks),
            self.of_designs("switch", "cut-in / cut-out", switch),
            self.of_both("target_precharge", "target precharge", targets),
            self.of_both("drawdown", "drawdown", drawdown),
        ];
        let held = if self.view.outage {
            "left in an outage: at least, at most"
        } else {
            "water held at cut-in, at cut-out"
        };
        rows.push(self.of_both("water_held", held, held_at));
        rows.extend(self.outage_time());
        rows.extend(self.pumping());
        rows.extend(self.outlets());
        let gap = [self.now.as_ref(), Some(&self.planned)].into_iter().flatten();
        if gap.map(|forecast| forecast.dead_gap.value()).any(|gap| gap > 0.0) {
            rows.push(self.of_both("dead_gap", "dead gap", dead_gap));
        }
        rows
    }

    fn of_designs(
        &self,
        key: &'static str,
        label: &str,
        cell: fn(&PlanView, &Design) -> PlanCell,
    ) -> PlanRow {
        let now = self.view.now.as_ref().map(|now| cell(self.view, now));
        PlanRow { key, label: label.to_string(), now, planned: cell(self.view, &self.view.planned) }
    }

    fn of_both(
        &self,
        key: &'static str,
        label: &str,
        cell: fn(&PlanView, &Design, &Forecast) -> PlanCell,
    ) -> PlanRow {
        let now = self.now.as_ref().zip(self.view.now.as_ref());
        PlanRow {
            key,
            label: label.to_string(),
            now: now.map(|(forecast, design)| cell(self.view, design, forecast)),
            planned: cell(self.view, &self.view.planned, &self.planned),
        }
    }

    /// How long an outage's water lasts at the demand.
    fn outage_time(&self) -> Option<PlanRow> {
        let demand = self.view.site.demand.as_ref().filter(|_| self.view.outage)?;
        let cell = |forecast: &Forecast| {
            let held = [&forecast.held_at_cut_in, &forecast.held_at_cut_out];
            let times = held.map(|held| held.clone() / demand.clone());
            PlanCell::of(self.view, Measure::Duration, times.to_vec(), " to ")
        };
        Some(PlanRow {
            key: "outage_time",
            label: format!("which lasts at {}", self.view.shown(Measure::Flow, demand)),
            now: self.now.as_ref().map(cell),
            planned: cell(&self.planned),
        })
    }

    fn pumping(&self) -> Vec<PlanRow> {
        let row = |key, label: String, cell: &dyn Fn(&Pumping) -> PlanCell| {
            let of = |forecast: &Forecast| {
                forecast.pumping.as_ref().map_or_else(|| PlanCell::words("not known"), cell)
            };
            PlanRow { key, label, now: self.now.as_ref().map(of), planned: of(&self.planned) }
        };
        let view = self.view;
        let one = |measure, amount: &Uncertain| PlanCell::of(view, measure, vec![amount.clone()], "");
        let mut rows = vec![
            row("flow", "pump's flow".into(), &|pumping| one(Measure::Flow, &pumping.flow)),
            row("run_time", "run time".into(), &|pumping| one(Measure::Duration, &pumping.run_time)),
            row("starts", "starts an hour at worst".into(), &|pumping| one(Measure::Number, &pumping.starts)),
        ];
        if let Some(demand) = &view.site.demand {
            let at = format!("starts an hour at {}", view.shown(Measure::Flow, demand));
            rows.push(row("starts_at_demand", at, &|pumping| match &pumping.starts_at_demand {
                Some(Ok(starts)) => one(Measure::Number, starts),
                Some(Err(_)) => PlanCell::words("none: the pump runs on"),
                None => PlanCell::words(""),
            }));
        }
        rows
    }

    fn outlets(&self) -> Vec<PlanRow> {
        let row = |(at, outlet): (usize, &crate::physics::plan::PlanOutlet)| {
            let cell = |forecast: &Forecast| match &forecast.outlets[at] {
                Ok(found) => {
                    let ends = vec![found.lowest.clone(), found.highest.clone()];
                    PlanCell::of(self.view, Measure::Pressure, ends, ", ")
                }
                Err(_) => PlanCell::words("no water at cut-in"),
            };
            let taken = self.planned.outlets[at].as_ref().ok().and_then(|found| found.friction.as_ref());
            let friction = match (taken, &outlet.pipe) {
                (Some(taken), _) => {
                    format!(", with {} of friction", self.view.shown(Measure::PressureChange, taken))
                }
                (None, Some(_)) => String::new(),
                (None, None) => ", no friction".to_string(),
            };
            let is_up = outlet.above.value() >= 0.0;
            let above =
                if is_up { outlet.above.clone() } else { Uncertain::exact(0.0) - outlet.above.clone() };
            let (height, way) = (self.view.shown(Measure::Length, &above), if is_up { "up" } else { "down" });
            PlanRow {
                key: "outlet",
                label: format!("{}, {height} {way}: lowest, highest{friction}", outlet.name),
                now: self.now.as_ref().map(cell),
                planned: cell(&self.planned),
            }
        };
        self.view.site.outlets.iter().enumerate().map(row).collect()
    }
}

fn tanks(view: &PlanView, design: &Design) -> PlanCell {
    let amounts: Vec<Uncertain> = design.tanks.iter().map(|tank| tank.volume.clone()).collect();
    let texts: Vec<String> = amounts.iter().map(|volume| view.shown(Measure::Volume, volume)).collect();
    let text = match design.tanks.as_slice() {
        [] => "none".to_string(),
        _ => view.joined(&texts, " + "),
    };
    PlanCell { measure: Measure::Volume, amounts, text }
}

fn switch(view: &PlanView, design: &Design) -> PlanCell {
    let ends = [design.cut_in, design.cut_out].map(Uncertain::exact);
    let texts = [design.cut_in, design.cut_out].map(|pa| view.pressure(pa));
    PlanCell { measure: Measure::Pressure, amounts: ends.to_vec(), text: view.joined(&texts, " / ") }
}

/// The targets, and what the tanks have where that is something else.
fn targets(view: &PlanView, design: &Design, forecast: &Forecast) -> PlanCell {
    let mut text = view.set_to(&design.tanks, &forecast.targets);
    let has: Vec<String> = design
        .tanks
        .iter()
        .map(|tank| tank.precharge.map_or_else(|| "?".to_string(), |pa| view.pressure(pa)))
        .collect();
    if design.tanks.iter().any(|tank| tank.precharge.is_some()) {
        text.push_str(&format!(" (has {})", view.joined(&has, ", ")));
    }
    let amounts = forecast.targets.iter().copied().map(Uncertain::exact).collect();
    PlanCell { measure: Measure::Pressure, amounts, text }
}

fn drawdown(view: &PlanView, _: &Design, forecast: &Forecast) -> PlanCell {
    let mut text = view.limits(Measure::Volume, &forecast.drawdown);
    if forecast.shares.len() > 1 {
        let shares: Vec<String> =
            forecast.shares.iter().map(|share| view.shown(Measure::Volume, share)).collect();
        text.push_str(&format!(" ({})", view.joined(&shares, " + ")));
    }
    PlanCell { measure: Measure::Volume, amounts: vec![forecast.drawdown.clone()], text }
}

fn held_at(view: &PlanView, _: &Design, forecast: &Forecast) -> PlanCell {
    let held = vec![forecast.held_at_cut_in.clone(), forecast.held_at_cut_out.clone()];
    PlanCell::of(view, Measure::Volume, held, ", ")
}

fn dead_gap(view: &PlanView, _: &Design, forecast: &Forecast) -> PlanCell {
    let gap = vec![forecast.dead_gap.clone()];
    PlanCell::of(view, Measure::PressureChange, gap, "")
}
