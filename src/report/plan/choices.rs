//! What the search found: the few that reach what is asked for, with what they cost.

use super::view::PlanView;
use crate::physics::plan::{Choice, Goal};
use crate::quantity::{Measure, show_number};
use crate::report::{Page, Row};

/// So many choices are shown.
const MOST_CHOICES: usize = 6;

/// Adds what the search found, when there was one.
pub(super) fn put(view: &PlanView, page: &mut Page) {
    let Some(choices) = &view.choices else { return };
    if choices.is_empty() {
        page.text(view.in_vain());
        return;
    }
    let priced = choices.iter().any(|choice| choice.price.is_some_and(|price| price > 0.0));
    let order = if priced { "cheapest" } else { "fewest and smallest" };
    page.text(format!(
        "What is asked for can be had so, the {order} first. The first is told in full below."
    ));
    let mut head = vec!["buy", "switch", "precharge", "drawdown", "run time", "starts/h"];
    if priced {
        head.push("price");
    }
    let rows = choices.iter().take(MOST_CHOICES).map(|choice| {
        let mut cells = view.cells(choice);
        if priced {
            cells.push(choice.price.map_or_else(|| "not told".to_string(), |price| show_number(price, 0.0)));
        }
        Row::new(cells)
    });
    page.table(&head, rows);
}

impl PlanView {
    /// Why nothing was found.
    fn in_vain(&self) -> String {
        let forecast = self.site.forecast(&self.planned);
        let is_known = |goal: &Goal| forecast.as_ref().is_ok_and(|forecast| goal.reached(forecast).is_some());
        if !self.goals.iter().all(is_known) {
            return "It cannot be searched for: what the pump brings is not known. Give --flow, or two timed fills with \
                    --fill."
                .to_string();
        }
        let differential = self.planned.cut_out - self.planned.cut_in;
        let highest = self.site.highest_cut_out(&self.planned.tanks);
        format!(
            "Nothing in the table of sizes, alone or two together, does what is asked for. The limits leave room for a cut-out of \
             {}, and so for a cut-in of {}. Below is the plan without it. Ask for less, name a tank with --add-tank, or put \
             other sizes into tank-sizes.toml.",
            self.pressure(highest),
            self.pressure(highest - differential)
        )
    }

    fn cells(&self, choice: &Choice) -> Vec<String> {
        let new = choice.design.tanks.len() - choice.bought.len();
        let names: Vec<&str> = choice.design.tanks[new..].iter().map(|tank| tank.name.as_str()).collect();
        let bought = match names[..] {
            [] => "no tank".to_string(),
            [one, two] if one == two => format!("2 x {one}"),
            _ => names.join(" + "),
        };
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
