//! What is to be reached: `lowest 45 psi at bath`, `run time 60 s`.

use super::amounts::{OptionReader, cannot_be, parted, trimmed, whole};
use crate::physics::plan::{Goal, GoalOf, PlanOutlet};
use crate::quantity::Measure;
use crate::source::Quoted;
use crate::words::did_you_mean;

/// What a goal begins with, what it is about, and the number behind it.
const ABOUT: &[(&str, GoalOf, Measure)] = &[
    ("run time", GoalOf::RunTime, Measure::Duration),
    ("drawdown", GoalOf::Drawdown, Measure::Volume),
    ("reserve", GoalOf::Reserve, Measure::Volume),
    ("starts", GoalOf::Starts, Measure::Number),
];
const LOWEST: &str = "lowest";

impl OptionReader {
    /// Every goal: those asked for, and the least pressures of the outlets.
    pub(super) fn goals(&mut self, texts: &[String], outlets: &[PlanOutlet]) -> Vec<Goal> {
        let least = |(at, outlet): (usize, &PlanOutlet)| {
            outlet.least.map(|bound| Goal { of: GoalOf::Lowest(at), bound })
        };
        let mut goals: Vec<Goal> = outlets.iter().enumerate().filter_map(least).collect();
        for (number, text) in (1..).zip(texts) {
            goals.extend(self.goal(&whole(&format!("--want {number}"), text), outlets));
        }
        goals
    }

    fn goal(&mut self, option: &Quoted, outlets: &[PlanOutlet]) -> Option<Goal> {
        let text = trimmed(option);
        let behind = |word: &str| trimmed(&text.part(word.len()..text.text.len()));
        if text.text.starts_with(LOWEST) {
            return self.lowest(&behind(LOWEST), outlets);
        }
        let Some((word, of, measure)) = ABOUT.iter().find(|(word, ..)| text.text.starts_with(word)) else {
            let known = std::iter::once(LOWEST).chain(ABOUT.iter().map(|(word, ..)| *word));
            let first: String = text.text.chars().take_while(|c| !c.is_ascii_digit()).collect();
            let remedy = did_you_mean(first.trim(), known);
            let fault = cannot_be(&text, "this is nothing that can be searched for");
            let why = "A goal begins with what is to be reached, and ends with a number.";
            self.fault(fault.why(why).remedy(remedy));
            return None;
        };
        let amount = self.amount(&behind(word), *measure)?;
        Some(Goal { of: *of, bound: amount.value() })
    }

    /// `45 psi at bath`.
    fn lowest(&mut self, part: &Quoted, outlets: &[PlanOutlet]) -> Option<Goal> {
        let (pressure, name) = parted(part, &[" at "]);
        let bound = self.amount(&pressure, Measure::Pressure);
        let names: Vec<&str> = outlets.iter().map(|outlet| outlet.name.as_str()).collect();
        let name = name.unwrap_or_else(|| part.clone());
        let Some(at) = names.iter().position(|known| known.eq_ignore_ascii_case(&name.text)) else {
            let remedy = match names.as_slice() {
                [] => "tell where it is with --serve, such as --serve \"bath +14 ft\"".to_string(),
                _ => did_you_mean(&name.text, &names),
            };
            let fault = cannot_be(&name, "no place of that name is served");
            self.fault(fault.why("The pressure at a place follows from its height.").remedy(remedy));
            return None;
        };
        Some(Goal { of: GoalOf::Lowest(at), bound: bound?.value() })
    }
}
