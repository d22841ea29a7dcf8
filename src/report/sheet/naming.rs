//! What a sheet calls tanks, conditions, and what is worked out.

use super::phrases::PaperFormula;
use crate::procedure::{Fact, PaperLine, Step};

/// What stands before a step where no words say when it is called for.
pub(super) const NO_WORDS: &str = "If it is called for";

/// What a value worked out, or a check, is made from; its label where a person gave it one.
pub(super) fn formula(step: &Step) -> Option<(String, PaperFormula)> {
    let course = step.course();
    let expr = course.computes().map(|it| it.expr.as_ref()).or_else(|| course.checks().map(|it| &it.expr))?;
    let term = || step.observes.map(|known| known.term.to_string());
    let formula = PaperFormula { label: step.label.clone().or_else(term), expr: expr.expr().clone() };
    Some((step.id.to_string(), formula))
}

/// What stands for a fact that is otherwise from tank to tank.
pub(super) fn of_each(fact: &Fact) -> String {
    match fact.from.as_deref() {
        Some("tank.name") => "each tank".to_string(),
        _ => format!("the tank's {}", fact.name()),
    }
}

/// Whether a step's own words on paper say by themselves when to stop, and what no words tell from outside.
pub(super) fn says_when(step: &Step, line: Option<&PaperLine>, words: &str) -> bool {
    let stops = |text: &str| ["STOP if", "STOP unless", "STOP over"].iter().any(|it| text.starts_with(it));
    step.paper.is_some() && (words == NO_WORDS || line.is_some_and(|line| stops(&line.text)))
}
