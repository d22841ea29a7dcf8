//! What is planned, with all that is known of it, and how its numbers are shown.

use super::basis::{BasisKind, BasisOf, PlanBasis};
use crate::physics::FormulaResult;
use crate::physics::plan::{Choice, Design, Forecast, Goal, PlanTank, Site};
use crate::quantity::{Measure, Uncertain, Units, show_briefly, show_with_limits};
use crate::words::{capitalized, list, non_empty};

/// What is planned, and all that is known of it.
#[derive(Clone, Debug, Default)]
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
    pub(super) fn forecasts(&self) -> FormulaResult<Forecasts<'_>> {
        Ok(Forecasts {
            view: self,
            now: self.now.as_ref().map(|now| self.site.forecast(now)).transpose()?,
            planned: self.site.forecast(&self.planned)?,
        })
    }

    /// An exact value with three digits.
    pub(super) fn brief(&self, measure: Measure, si: f64) -> String {
        show_briefly(measure, &Uncertain::exact(si), self.units)
    }

    pub(super) fn pressure(&self, pa: f64) -> String {
        self.brief(Measure::Pressure, pa)
    }

    /// A value with the digits that it warrants.
    pub(super) fn shown(&self, measure: Measure, value: &Uncertain) -> String {
        show_briefly(measure, value, self.units)
    }

    /// A value with its limits.
    pub(super) fn limits(&self, measure: Measure, value: &Uncertain) -> String {
        match value.standard_uncertainty() > 0.0 {
            true => show_with_limits(measure, value, self.units),
            false => show_briefly(measure, value, self.units),
        }
    }

    /// Texts with the same unit, which is written once.
    pub(super) fn joined(&self, texts: &[String], joint: &str) -> String {
        let units: Vec<&str> =
            texts.iter().map(|text| text.split_once(' ').map_or("", |(_, unit)| unit)).collect();
        if texts.is_empty() || units.iter().any(|unit| *unit != units[0]) {
            return texts.join(joint);
        }
        let numbers: Vec<&str> = texts.iter().map(|text| text.split(' ').next().unwrap_or("")).collect();
        format!("{} {}", numbers.join(joint), units[0]).trim_end().to_string()
    }

    /// Whether a precharge of now is not known, so that its target stands in for it.
    pub(super) fn now_at_target(&self) -> bool {
        self.now.iter().flat_map(|now| &now.tanks).any(|tank| tank.precharge.is_none())
    }

    /// What there is now, where cut-in or cut-out is planned to be another.
    pub(super) fn to_be_reset(&self) -> Option<&Design> {
        let ends = |design: &Design| (design.cut_in, design.cut_out);
        self.now.as_ref().filter(|now| ends(now) != ends(&self.planned))
    }

    /// Whether something is computed with that nobody said.
    pub(super) fn assumes(&self, of: BasisOf) -> bool {
        self.basis.iter().any(|basis| basis.of == of && basis.kind == BasisKind::Assumed)
    }

    /// Where it is, how high, and how warm.
    pub(super) fn place_and_air(&self) -> String {
        let place = self.place.as_ref().map(|place| format!("{place}. "));
        let warm = self.site.set_at.map(|kelvin| format!("{}, ", self.brief(Measure::Temperature, kelvin)));
        let height = match self.site.elevation {
            0.0 => "at sea level".to_string(),
            elevation => format!("{} above sea level", self.brief(Measure::Length, elevation)),
        };
        let air = capitalized(&format!("{}{height}.", warm.unwrap_or_default()));
        format!("{}{air}", place.unwrap_or_default())
    }

    /// The precharge of tanks: once where it is the same for all, else with each one's name.
    pub(super) fn set_to(&self, tanks: &[PlanTank], targets: &[f64]) -> String {
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
    pub(super) fn title(&self) -> String {
        let switch =
            self.joined(&[self.pressure(self.planned.cut_in), self.pressure(self.planned.cut_out)], " / ");
        let new = &self.planned.tanks[self.planned.tanks.len() - self.added.min(self.planned.tanks.len())..];
        let added = non_empty(list(new.iter().map(|tank| &tank.name), "and"));
        let added = added.map(|names| format!("with {names} added"));
        let removed = non_empty(self.removed_names()).map(|names| format!("without {names}"));
        let words: Vec<String> = [Some(switch), added, removed].into_iter().flatten().collect();
        format!("Plan: {}", words.join(", "))
    }

    /// The tanks of now that are planned no more.
    pub(super) fn removed(&self) -> impl Iterator<Item = &PlanTank> {
        let stays = |name: &String| self.planned.tanks.iter().any(|tank| tank.name == *name);
        self.now.iter().flat_map(|now| &now.tanks).filter(move |tank| !stays(&tank.name))
    }

    pub(super) fn removed_names(&self) -> String {
        list(self.removed().map(|tank| &tank.name), "and")
    }
}
