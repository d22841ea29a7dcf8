//! What would be if: now beside planned, whether it can be done, what it costs, and what to do.
//!
//! A [`PlanView`] is what is planned and all that is known of it; page, figure and JSON are made
//! from it.

mod basis;
mod checks;
mod choices;
mod costs;
mod figure;
mod json;
mod rows;
mod work;

pub use basis::{BasisKind, BasisOf, PlanBasis};
pub use json::plan_json;

use self::checks::PlanCheck;
use super::{Page, PageBlock, Row};
use crate::physics::FormulaResult;
use crate::physics::plan::{Choice, Design, Forecast, Goal, PlanTank, Site};
use crate::quantity::{Measure, PSI, Uncertain, Units, Verdict, show, show_briefly, show_with_limits};
use crate::words::list;

/// What is planned, and all that is known of it.
#[derive(Clone, Debug)]
pub struct PlanView {
    /// What the owner calls the installation.
    pub place: Option<String>,
    /// The units to show.
    pub units: Units,
    /// What stays the same whatever is planned.
    pub site: Site,
    /// The coldest the tanks get, where that is known; K.
    pub coldest: Option<f64>,
    /// What there is now, where enough of it is known.
    pub now: Option<Design>,
    /// What is planned.
    pub planned: Design,
    /// How many tanks at the end of the planned ones are new.
    pub added: usize,
    /// The least run time that will do; s.
    pub run_time: f64,
    /// What is to be reached.
    pub goals: Vec<Goal>,
    /// Whether what an outage leaves is to be told.
    pub outage: bool,
    /// Where the numbers come from, and what is not known.
    pub basis: Vec<PlanBasis>,
    /// There is no relief valve.
    pub no_relief_valve: bool,
    /// What the search found, when there was one.
    pub choices: Option<Vec<Choice>>,
}

/// A view with what both designs do.
pub(super) struct Forecasts<'v> {
    pub view: &'v PlanView,
    /// What is now, with every tank at its precharge or, where that is not known, at its target.
    pub now: Option<Forecast>,
    pub planned: Forecast,
}

impl PlanView {
    fn forecasts(&self) -> FormulaResult<Forecasts<'_>> {
        Ok(Forecasts {
            view: self,
            now: self.now.as_ref().map(|now| self.site.forecast(now)).transpose()?,
            planned: self.site.forecast(&self.planned)?,
        })
    }

    /// An exact value with three digits.
    fn brief(&self, measure: Measure, si: f64) -> String {
        show_briefly(measure, &Uncertain::exact(si), self.units)
    }

    fn pressure(&self, pa: f64) -> String {
        self.brief(Measure::Pressure, pa)
    }

    /// A value with the digits that it warrants.
    fn shown(&self, measure: Measure, value: &Uncertain) -> String {
        show(measure, value, self.units)
    }

    /// A value with its limits.
    fn limits(&self, measure: Measure, value: &Uncertain) -> String {
        show_with_limits(measure, value, self.units)
    }

    /// Texts with the same unit, which is written once.
    fn joined(&self, texts: &[String], joint: &str) -> String {
        let units: Vec<&str> =
            texts.iter().map(|text| text.split_once(' ').map_or("", |(_, unit)| unit)).collect();
        if texts.is_empty() || units.iter().any(|unit| *unit != units[0]) {
            return texts.join(joint);
        }
        let numbers: Vec<&str> = texts.iter().map(|text| text.split(' ').next().unwrap_or("")).collect();
        format!("{} {}", numbers.join(joint), units[0]).trim_end().to_string()
    }

    /// The precharge of tanks: once where it is the same for all, else with each one's name.
    fn set_to(&self, tanks: &[PlanTank], targets: &[f64]) -> String {
        let mut shown: Vec<String> = targets.iter().map(|pa| self.pressure(*pa)).collect();
        shown.dedup();
        match shown.as_slice() {
            [one] => one.clone(),
            _ => {
                let each = tanks.iter().zip(targets);
                let each = each.map(|(tank, pa)| format!("{}: {}", tank.name, self.pressure(*pa)));
                each.collect::<Vec<_>>().join(", ")
            }
        }
    }

    /// The title: what changes.
    fn title(&self) -> String {
        let switch =
            self.joined(&[self.pressure(self.planned.cut_in), self.pressure(self.planned.cut_out)], " / ");
        let new = &self.planned.tanks[self.planned.tanks.len() - self.added.min(self.planned.tanks.len())..];
        let names: Vec<String> = new.iter().map(|tank| tank.name.clone()).collect();
        let added = (!names.is_empty()).then(|| format!("{} more", list(&names, "and")));
        let gone: Vec<String> = self.removed().map(|tank| tank.name.clone()).collect();
        let removed = (!gone.is_empty()).then(|| format!("without {}", list(&gone, "and")));
        let words: Vec<String> = [Some(switch), added, removed].into_iter().flatten().collect();
        format!("Plan: {}", words.join(", "))
    }

    /// The tanks of now that are planned no more.
    fn removed(&self) -> impl Iterator<Item = &PlanTank> {
        let stays = |name: &String| self.planned.tanks.iter().any(|tank| tank.name == *name);
        self.now.iter().flat_map(|now| &now.tanks).filter(move |tank| !stays(&tank.name))
    }
}

impl Forecasts<'_> {
    /// Whether anything is planned beside what there is: switch, tanks or precharges.
    fn changes(&self) -> bool {
        let Some((now, forecast)) = self.view.now.as_ref().zip(self.now.as_ref()) else { return true };
        let switch = |design: &Design| (design.cut_in, design.cut_out);
        let names = |design: &Design| design.tanks.iter().map(|tank| tank.name.clone()).collect::<Vec<_>>();
        let set = now
            .tanks
            .iter()
            .zip(&forecast.targets)
            .all(|(tank, target)| tank.precharge.is_some_and(|has| (has - target).abs() < SET_WELL));
        switch(now) != switch(&self.view.planned) || names(now) != names(&self.view.planned) || !set
    }
}

impl Forecasts<'_> {
    /// Where the numbers come from, and what is assumed.
    fn basis(&self) -> Vec<String> {
        let flow = self.planned.pumping.as_ref().is_some_and(|pumping| pumping.assumed.is_some());
        let flow = flow.then_some(PlanBasis {
            of: BasisOf::Flow,
            tank: None,
            shown: None,
            kind: BasisKind::Assumed,
        });
        let mut says: Vec<String> = self.view.basis.iter().chain(&flow).map(PlanBasis::says).collect();
        says.push(
            "± covers about 95 %: errors of line gauge and tire gauge, and limits that were typed."
                .to_string(),
        );
        says
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
    page.blocks.extend(view.place.clone().map(|place| PageBlock::Text(format!("{place}."))));
    choices::put(view, &mut page);
    let head: &[&str] = match (view.now.is_some(), forecasts.changes()) {
        (true, true) => &["", "now", "planned"],
        (true, false) => &["", "now"],
        (false, _) => &["", "planned"],
    };
    page.table(head, forecasts.rows().into_iter().map(|row| row.on_page(head)).collect());
    let checks = forecasts.checks()?;
    let unsettled = checks.iter().any(|check| check.verdict != Verdict::Pass);
    let checks: Vec<Row> = checks.iter().map(PlanCheck::row).collect();
    page.headed_table("Can it be done?", &["Verdict", "What was told"], checks);
    page.figure(figure::figure(&forecasts));
    page.headed_table("If not all of it is done", &["", "drawdown"], forecasts.halfway());
    page.headed_list("What changes cost", forecasts.costs());
    page.headed_table("To do it, in this order", &["", "what", "how"], forecasts.work(unsettled));
    forecasts.dangers().into_iter().for_each(|danger| page.text(danger));
    page.headed_list("What this rests on", forecasts.basis());
    Ok(page)
}
