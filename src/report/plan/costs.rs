//! What it costs to do half of a plan, to leave a wider gap, to read a catalog, or to have it cold.

use super::view::Forecasts;
use crate::physics::plan::{Design, PlanTank};
use crate::physics::{FormulaResult, head, precharge_at};
use crate::quantity::{Measure, PSI, Uncertain, Units};
use crate::report::Row;
use crate::words::list;

/// Two gaps that are in use, in either unit (common practice); Pa.
const fn gaps(units: Units) -> [f64; 2] {
    match units {
        Units::Us => [2.0 * PSI, 5.0 * PSI],
        Units::Metric => [0.15e5, 0.35e5],
    }
}

impl Forecasts<'_> {
    /// The drawdown when part of the plan is left undone.
    pub(super) fn halfway(&self) -> Vec<Row> {
        let view = self.view;
        let Some(now) = &view.now else { return Vec::new() };
        let planned = &view.planned;
        let moved = view.to_be_reset().is_some();
        let kept = planned.tanks.len() - view.added;
        let fewer = Design { tanks: planned.tanks[..kept].to_vec(), ..planned.clone() };
        let as_now = Design { cut_in: now.cut_in, cut_out: now.cut_out, ..planned.clone() };
        let left = self.precharge_left(now);
        let cases = [
            (view.added > 0 && kept > 0).then_some(("no new tank".to_string(), fewer)),
            left.map(|(shown, design)| (format!("precharge left at {shown}"), design)),
            (moved && (view.added > 0 || view.removed().next().is_some()))
                .then_some(("pressure as now".to_string(), as_now)),
        ];
        let row = |(label, design): (String, Design)| {
            let shown = match view.site.forecast(&design) {
                Ok(forecast) => self.beside_now(&forecast.drawdown),
                Err(why) => why.say(view.units),
            };
            Row::new([label, shown])
        };
        cases.into_iter().flatten().map(row).collect()
    }

    /// A drawdown, and whether it is less than now.
    fn beside_now(&self, drawdown: &Uncertain) -> String {
        let shown = self.view.shown(Measure::Volume, drawdown);
        let is_less = self.now.as_ref().is_some_and(|now| drawdown.value() < now.drawdown.value());
        if is_less { format!("{shown}, less than now") } else { shown }
    }

    /// The planned design with every precharge as the first tank has it, where that is another than
    /// the target.
    fn precharge_left(&self, now: &Design) -> Option<(String, Design)> {
        let view = self.view;
        let has = now.tanks.first()?.precharge?;
        let apart = (has - self.planned.targets.first()?).abs();
        let left = |tank: &PlanTank| PlanTank { precharge: Some(has), ..tank.clone() };
        let tanks = view.planned.tanks.iter().map(left).collect();
        (apart > 0.5 * PSI).then(|| (view.pressure(has), Design { tanks, ..view.planned.clone() }))
    }

    /// The planned drawdown with the precharges that `precharge` gives for height above the switch.
    fn drawdown_with(&self, precharge: impl Fn(f64) -> FormulaResult<f64>) -> Option<String> {
        let view = self.view;
        let set = |tank: &PlanTank| {
            Some(PlanTank { precharge: Some(precharge(tank.above.value()).ok()?), ..tank.clone() })
        };
        let tanks = view.planned.tanks.iter().map(set).collect::<Option<Vec<_>>>()?;
        let forecast = view.site.forecast(&Design { tanks, ..view.planned.clone() }).ok()?;
        Some(view.shown(Measure::Volume, &forecast.drawdown))
    }

    /// Sentences on gap, catalogs, cold and sizes.
    pub(super) fn costs(&self) -> Vec<String> {
        [self.gap(), self.catalog(), self.cold(), self.sizes(), self.friction()]
            .into_iter()
            .flatten()
            .collect()
    }

    fn gap(&self) -> Option<String> {
        let (view, [narrow, wide]) = (self.view, gaps(self.view.units));
        let with = |gap| self.drawdown_with(|above| Ok(view.planned.cut_in - head(above)? - gap));
        let change = |pa| view.brief(Measure::PressureChange, pa);
        Some(format!(
            "Precharged {} below cut-in it gives {}, {} below {}.",
            change(narrow),
            with(narrow)?,
            change(wide),
            with(wide)?
        ))
    }

    fn catalog(&self) -> Option<String> {
        let promised = self.drawdown_with(|above| Ok(self.view.planned.cut_in - head(above)?))?;
        Some(format!("A catalog that takes precharge = cut-in would promise {promised}."))
    }

    fn cold(&self) -> Option<String> {
        let view = self.view;
        let (coldest, set_at) = (view.coldest?, view.site.set_at?);
        let cold = |target| precharge_at(target, set_at, coldest, view.site.elevation);
        let target = *self.planned.targets.first()?;
        let drawdown = self.drawdown_with(|above| cold(view.site.target(view.planned.cut_in, above)?))?;
        Some(format!(
            "At {} the {} reads {}, and the drawdown is {drawdown}. That is no leak.",
            view.brief(Measure::Temperature, coldest),
            view.pressure(target),
            view.pressure(cold(target).ok()?)
        ))
    }

    fn sizes(&self) -> Option<String> {
        let view = self.view;
        let mut volumes: Vec<String> =
            view.planned.tanks.iter().map(|tank| view.shown(Measure::Volume, &tank.volume)).collect();
        volumes.dedup();
        let verb = if volumes.len() == 1 { "is the plate volume" } else { "are plate volumes" };
        let name = match view.units {
            Units::Us => "a tank sold as 80 gal may hold 86",
            Units::Metric => "the size a tank is sold by is only a name",
        };
        let volumes = list(&volumes, "and");
        Some(format!("{volumes} {verb}; {name}. If a plate says otherwise, use the plate."))
    }

    fn friction(&self) -> Option<String> {
        let has_pipes = self.view.site.outlets.iter().any(|outlet| outlet.pipe.is_some());
        has_pipes.then(|| {
            "Friction is that of new, smooth pipe without bends, by its inner diameter. A size as pipe is sold by, such as \
             3/4 in, counts as the inner diameters of its common kinds; the ± holds them all. Fittings, filters, a \
             softener and old galvanized pipe take more."
                .to_string()
        })
    }
}
