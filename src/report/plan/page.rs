//! The page of a plan.

use super::basis::{BasisKind, BasisOf, PlanBasis};
use super::checks::PlanCheck;
use super::view::{Forecasts, PlanView};
use super::{choices, figure};
use crate::physics::FormulaResult;
use crate::physics::plan::Design;
use crate::quantity::{Measure, PSI, Verdict};
use crate::report::Page;

impl Forecasts<'_> {
    /// Whether anything is planned beside what there is: switch, tanks or precharges.
    pub(super) fn changes(&self) -> bool {
        let Some((now, forecast)) = self.view.now.as_ref().zip(self.now.as_ref()) else { return true };
        let names = |design: &Design| design.tanks.iter().map(|tank| tank.name.clone()).collect::<Vec<_>>();
        let set = now
            .tanks
            .iter()
            .zip(&forecast.targets)
            .all(|(tank, target)| tank.precharge.is_some_and(|has| (has - target).abs() < SET_WELL));
        self.view.to_be_reset().is_some() || names(now) != names(&self.view.planned) || !set
    }

    /// What a precharge above the cut-in of now does.
    fn collapse(&self) -> Option<String> {
        let gap = self.now.as_ref()?.dead_gap.value();
        (gap > 0.0).then(|| {
            format!(
                "Now the precharge is {} above cut-in: the tanks are empty before the pump starts, and the pressure at \
                 every faucet collapses until it does.",
                self.view.brief(Measure::PressureChange, gap)
            )
        })
    }

    /// Where the numbers come from, and what is assumed.
    pub(super) fn basis(&self) -> Vec<String> {
        let flow = self.planned.pumping.as_ref().is_some_and(|pumping| pumping.assumed.is_some());
        let flow = flow.then_some(PlanBasis {
            of: BasisOf::Flow,
            tank: None,
            shown: None,
            kind: BasisKind::Assumed,
        });
        let mut basis: Vec<&PlanBasis> = self.view.basis.iter().chain(&flow).collect();
        basis.sort_by_key(|basis| match basis.kind {
            BasisKind::NotKnown => 0,
            BasisKind::Assumed => 1,
            BasisKind::Measured(_) | BasisKind::InFile | BasisKind::Typed => 2,
        });
        let mut says: Vec<String> = basis.into_iter().map(|basis| basis.says(self.view.units)).collect();
        says.push(
            "The target precharge leaves room for gauge error and the scatter of cut-in, as a run does that watches three \
             starts alike; starts that differ ask for a lower one."
                .to_string(),
        );
        says.push(
            "± covers about 95 %: errors of line gauge and tire gauge, and limits that were typed."
                .to_string(),
        );
        says
    }
}

impl PlanView {
    /// Whether anything about the plan fails.
    ///
    /// # Errors
    /// As [`plan_page`].
    pub fn fails(&self) -> FormulaResult<bool> {
        Ok(self.forecasts()?.checks()?.iter().any(|check| check.verdict == Verdict::Fail))
    }
}

/// A precharge this near to its target needs no setting; Pa.
const SET_WELL: f64 = 0.5 * PSI;

/// The page of a plan.
///
/// # Errors
/// When a formula is outside its range: a cut-in at or above the cut-out, no tank.
pub fn plan_page(view: &PlanView) -> FormulaResult<Page> {
    let forecasts = view.forecasts()?;
    let mut page = Page::titled(view.title());
    page.text(view.place_and_air());
    choices::put(view, &mut page);
    let now = if view.now_at_target() { "now, at the target" } else { "now" };
    let head: &[&str] = match (view.now.is_some(), forecasts.changes()) {
        (true, true) => &["", now, "planned"],
        (true, false) => &["", now],
        (false, _) => &["", "planned"],
    };
    let rows = forecasts.rows().into_iter().map(|row| row.on_page(head));
    page.headed_table(if head.len() == 3 { "Now and planned" } else { "What it does" }, head, rows);
    if view.now_at_target() {
        page.note(
            "What precharge the tanks have now is not known. \"Now\" tells what they would do set to the target; set \
             otherwise they give less.",
        );
    }
    forecasts.collapse().into_iter().for_each(|text| page.note(text));
    let checks = forecasts.checks()?;
    let unsettled = checks.iter().any(|check| check.verdict != Verdict::Pass);
    let rows = checks.iter().map(PlanCheck::row);
    page.headed_table("Can it be done?", &["Verdict", "Check", "What was told"], rows);
    page.figures(figure::figure(&forecasts));
    page.headed_table("If not all of it is done", &["", "drawdown"], forecasts.halfway());
    page.headed_list("What changes cost", forecasts.costs());
    page.headed_table("To do it, in this order", &["step", "what"], forecasts.work(unsettled));
    page.texts(forecasts.dangers());
    page.headed_list("What this rests on", forecasts.basis());
    Ok(page)
}
