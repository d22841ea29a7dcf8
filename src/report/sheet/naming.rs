//! What a sheet calls tanks and what is worked out.

use super::phrases::PaperFormula;
use crate::procedure::Step;
use crate::quantity::Units;
use crate::system::System;

/// What the owner calls a tank; its id where it has no name.
pub(super) fn tank_name(system: &System, tank: usize) -> String {
    let named = system.value("tank.name", tank).map(|name| name.shown(Units::default()));
    named.unwrap_or_else(|| {
        system.tanks.get(tank).map_or_else(String::new, |tank| format!("tank {}", tank.id))
    })
}

/// What a value worked out, or a check, is made from; its label where a person gave it one.
pub(super) fn formula(step: &Step) -> Option<(String, PaperFormula)> {
    let course = step.course();
    let expr = course.computes().map(|it| it.expr.as_ref()).or_else(|| course.checks().map(|it| &it.expr))?;
    let term = || step.observes.map(|known| known.term.to_string());
    let formula = PaperFormula { label: step.label.clone().or_else(term), expr: expr.expr().clone() };
    Some((step.id.to_string(), formula))
}
