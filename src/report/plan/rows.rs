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
    fn of(view: &PlanView, measure: Measure, amounts: &[Uncertain], joint: &str) -> PlanCell {
        let texts: Vec<String> = amounts.iter().map(|amount| view.shown(measure, amount)).collect();
        PlanCell { measure, text: view.joined(&texts, joint), amounts: amounts.to_vec() }
    }

    fn words(text: impl Into<String>) -> PlanCell {
        PlanCell { measure: Measure::Number, amounts: Vec::new(), text: text.into() }
    }
}

impl PlanRow {
    /// The row on a page whose table has these words over its columns.
    pub(super) fn on_page(self, head: &[&str]) -> Row {
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
        let view = self.view;
        let mut rows = vec![
            self.row("tanks", "tanks", &|design, _| tanks(view, design)),
            self.row("switch", "cut-in / cut-out", &|design, _| {
                let ends = [design.cut_in, design.cut_out].map(Uncertain::exact);
                PlanCell::of(view, Measure::Pressure, &ends, " / ")
            }),
            self.row("target_precharge", "target precharge", &|design, does| targets(view, design, does)),
            self.row("drawdown", "drawdown", &|_, does| drawdown(view, does)),
        ];
        let held = if view.outage {
            "left in an outage: at least, at most"
        } else {
            "water held at cut-in, at cut-out"
        };
        rows.push(self.row("water_held", held, &|_, does| {
            let held = [does.held_at_cut_in.clone(), does.held_at_cut_out.clone()];
            PlanCell::of(view, Measure::Volume, &held, ", ")
        }));
        rows.extend(self.outage_time());
        rows.extend(self.pumping());
        rows.extend(self.outlets());
        let gap = [self.now.as_ref(), Some(&self.planned)].into_iter().flatten();
        if gap.map(|forecast| forecast.dead_gap.value()).any(|gap| gap > 0.0) {
            rows.push(self.row("dead_gap", "dead gap", &|_, does| {
                PlanCell::of(view, Measure::PressureChange, std::slice::from_ref(&does.dead_gap), "")
            }));
        }
        rows
    }

    /// A row with the cells that a design makes by what it does.
    fn row(
        &self,
        key: &'static str,
        label: impl Into<String>,
        cell: &dyn Fn(&Design, &Forecast) -> PlanCell,
    ) -> PlanRow {
        let now = self.view.now.as_ref().zip(self.now.as_ref());
        PlanRow {
            key,
            label: label.into(),
            now: now.map(|(design, does)| cell(design, does)),
            planned: cell(&self.view.planned, &self.planned),
        }
    }

    /// How long an outage's water lasts at the demand.
    fn outage_time(&self) -> Option<PlanRow> {
        let demand = self.view.site.demand.as_ref().filter(|_| self.view.outage)?;
        let label = format!("which lasts at {}", self.view.shown(Measure::Flow, demand));
        Some(self.row("outage_time", label, &|_, does| {
            let held = [&does.held_at_cut_in, &does.held_at_cut_out];
            let times = held.map(|held| held.clone() / demand.clone());
            PlanCell::of(self.view, Measure::Duration, &times, " to ")
        }))
    }

    fn pumping(&self) -> Vec<PlanRow> {
        let view = self.view;
        let row = |key, label: String, cell: &dyn Fn(&Pumping) -> PlanCell| {
            self.row(key, label, &|_, does| {
                does.pumping.as_ref().map_or_else(|| PlanCell::words("not known"), cell)
            })
        };
        let one = |measure, amount: &Uncertain| PlanCell::of(view, measure, std::slice::from_ref(amount), "");
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
            let lost = self.planned.outlets[at].as_ref().ok().and_then(|found| found.friction.as_ref());
            let friction = match (lost, &outlet.pipe) {
                (Some(lost), _) => {
                    format!(", with {} of friction", self.view.shown(Measure::PressureChange, lost))
                }
                (None, Some(_)) => String::new(),
                (None, None) => ", no friction".to_string(),
            };
            let is_up = outlet.above.value() >= 0.0;
            let above =
                if is_up { outlet.above.clone() } else { Uncertain::exact(0.0) - outlet.above.clone() };
            let (height, way) = (self.view.shown(Measure::Length, &above), if is_up { "up" } else { "down" });
            let label = format!("{}, {height} {way}: lowest, highest{friction}", outlet.name);
            self.row("outlet", label, &|_, does| match &does.outlets[at] {
                Ok(found) => {
                    let ends = [found.lowest.clone(), found.highest.clone()];
                    PlanCell::of(self.view, Measure::Pressure, &ends, ", ")
                }
                Err(_) => PlanCell::words("no water at cut-in"),
            })
        };
        self.view.site.outlets.iter().enumerate().map(row).collect()
    }
}

fn tanks(view: &PlanView, design: &Design) -> PlanCell {
    let volumes: Vec<Uncertain> = design.tanks.iter().map(|tank| tank.volume.clone()).collect();
    match volumes.as_slice() {
        [] => PlanCell::words("none"),
        volumes => PlanCell::of(view, Measure::Volume, volumes, " + "),
    }
}

/// The targets, and what the tanks have where that is something else.
fn targets(view: &PlanView, design: &Design, does: &Forecast) -> PlanCell {
    let mut text = view.set_to(&design.tanks, &does.targets);
    if design.tanks.iter().any(|tank| tank.precharge.is_some()) {
        let has = design.tanks.iter().map(|tank| tank.precharge);
        let has: Vec<String> =
            has.map(|has| has.map_or_else(|| "?".to_string(), |pa| view.pressure(pa))).collect();
        text.push_str(&format!(" (has {})", view.joined(&has, ", ")));
    }
    let amounts = does.targets.iter().copied().map(Uncertain::exact).collect();
    PlanCell { measure: Measure::Pressure, amounts, text }
}

fn drawdown(view: &PlanView, does: &Forecast) -> PlanCell {
    let mut text = view.limits(Measure::Volume, &does.drawdown);
    if does.shares.len() > 1 {
        let shares = PlanCell::of(view, Measure::Volume, &does.shares, " + ");
        text.push_str(&format!(" ({})", shares.text));
    }
    PlanCell { measure: Measure::Volume, amounts: vec![does.drawdown.clone()], text }
}
