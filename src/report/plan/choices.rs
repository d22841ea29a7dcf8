//! What the search found: the few that reach what is asked for, with what they cost.

use super::PlanView;
use crate::physics::plan::Choice;
use crate::quantity::{Measure, show_number};
use crate::report::{Page, Row};
use crate::words::list;

/// So many choices are shown.
const FEW: usize = 6;

/// Adds what the search found, when there was one.
pub(super) fn put(view: &PlanView, page: &mut Page) {
    let Some(choices) = &view.choices else { return };
    if choices.is_empty() {
        page.text(
            "Nothing in the table of sizes, once or twice, does what is asked for within the limits. Below is the plan \
             without it. Ask for less, name a tank with --add-tank, or put other sizes into tank-sizes.toml.",
        );
        return;
    }
    let priced = choices.iter().any(|choice| choice.price.is_some_and(|price| price > 0.0));
    let order = if priced { "cheapest" } else { "smallest" };
    page.text(format!(
        "What is asked for can be had so, the {order} first. The first is told in full below."
    ));
    let mut head = vec!["buy", "cut-in / cut-out", "precharge", "drawdown", "run time", "starts an hour"];
    if priced {
        head.push("price");
    }
    let rows = choices.iter().take(FEW).map(|choice| {
        let mut cells = view.cells(choice);
        if priced {
            cells.push(choice.price.map_or_else(|| "not told".to_string(), |price| show_number(price, 0.0)));
        }
        Row::new(cells)
    });
    page.table(&head, rows.collect());
}

impl PlanView {
    fn cells(&self, choice: &Choice) -> Vec<String> {
        let names: Vec<String> = choice
            .design
            .tanks
            .iter()
            .rev()
            .take(choice.bought.len())
            .map(|tank| tank.name.clone())
            .collect();
        let bought = if names.is_empty() { "no tank".to_string() } else { list(&names, "and") };
        let switch = [choice.design.cut_in, choice.design.cut_out].map(|pa| self.pressure(pa));
        let pumping = choice.forecast.pumping.as_ref();
        let of_pump = |shown: Option<String>| shown.unwrap_or_else(|| "not known".to_string());
        vec![
            bought,
            self.joined(&switch, " / "),
            self.set_to(&choice.design.tanks, &choice.forecast.targets),
            self.shown(Measure::Volume, &choice.forecast.drawdown),
            of_pump(pumping.map(|pumping| self.shown(Measure::Duration, &pumping.run_time))),
            of_pump(pumping.map(|pumping| self.shown(Measure::Number, &pumping.starts))),
        ]
    }
}
