//! What is known of an installation, and where from: records before the system file, options before
//! both; what nobody said is told as assumed or not known.

use super::amounts::OptionReader;
use super::call::{PlanCall, shown, usual_gap};
use super::recalled::{Measured, MeasuredValue};
use crate::app::{Failure, Home, Result};
use crate::lang::Value;
use crate::physics::plan::{Design, GaugeUncertainty, PlanTank, Site};
use crate::physics::{PumpDuty, RUN_TIMES, least_run_time};
use crate::quantity::{CONFIDENCE, Measure, PSI, Uncertain, Units};
use crate::report::{BasisKind, BasisOf, PlanBasis, PlanView};
use crate::system::System;

/// Where gauges are looked at for their error: in the middle of what a house has; Pa.
const MIDDLE: f64 = 50.0 * PSI;

/// What is known, as it is gathered.
pub(super) struct Facts<'c> {
    pub call: &'c PlanCall,
    pub system: &'c System,
    pub measured: Measured,
    pub reader: OptionReader,
    /// The tanks of the system file.
    pub tanks: Vec<PlanTank>,
    pub view: PlanView,
}

impl<'c> Facts<'c> {
    /// Gathers everything.
    ///
    /// # Errors
    /// When the installation is one that has no cycle of cut-in and cut-out, or a tank no volume.
    pub(super) fn gather(
        call: &'c PlanCall,
        system: &'c System,
        home: &Home,
        units: Units,
    ) -> Result<Facts<'c>> {
        plannable(system)?;
        let gauge = |id: &str| {
            system.gauge(id).map_or_else(GaugeUncertainty::default, |gauge| GaugeUncertainty {
                accuracy: gauge.accuracy_u(MIDDLE),
                resolution: gauge.resolution_u(),
            })
        };
        let mut reader = OptionReader::new(units);
        let gap = reader.number("--gap", call.gap.as_deref(), Measure::PressureChange);
        let demand = reader.uncertain("--demand", call.demand.as_deref(), Measure::Flow);
        let site = Site {
            outlets: reader.outlets(&call.serve, demand.as_ref()),
            demand,
            gap: gap.unwrap_or(usual_gap(units)),
            line: gauge("line"),
            air: gauge("air"),
            confidence: system.confidence.unwrap_or(CONFIDENCE),
            ..Site::default()
        };
        let (place, outage, run_time) = (system.name.clone(), call.outage, RUN_TIMES[0]);
        let view = PlanView { place, units, site, run_time, outage, ..PlanView::default() };
        let measured = Measured::of(system, home)?;
        let mut facts = Facts { call, system, measured, reader, tanks: Vec::new(), view };
        facts.tanks_of()?;
        facts.switch_of();
        facts.surroundings();
        facts.limits_of();
        facts.run_time_of();
        facts.flow_of();
        facts.shutoff()?;
        Ok(facts)
    }

    pub(super) fn note(&mut self, of: BasisOf, tank: Option<&str>, shown: Option<String>, kind: BasisKind) {
        self.view.basis.push(PlanBasis { of, tank: tank.map(ToString::to_string), shown, kind });
    }

    /// Gives a value, and notes where it comes from, or that it is not known.
    fn noted(
        &mut self,
        of: BasisOf,
        tank: Option<&str>,
        measure: Measure,
        known: Option<(Uncertain, BasisKind)>,
    ) -> Option<f64> {
        let (value, kind) = known.map(|(value, kind)| (value.value(), kind)).unzip();
        let text = value.map(|si| shown(measure, si, self.view.units));
        self.note(of, tank, text, kind.unwrap_or(BasisKind::NotKnown));
        value
    }

    fn tanks_of(&mut self) -> Result<()> {
        let system = self.system;
        for (at, tank) in system.tanks.iter().enumerate() {
            let amount = |path: &str| system.value(path, at).and_then(Value::amount).cloned();
            let name = system.value("tank.name", at);
            let name = name.map_or_else(|| tank.id.to_string(), |name| name.shown(self.view.units));
            let Some(volume) = amount("tank.volume") else {
                return Err(Failure::Call(format!(
                    "The volume of tank `{}` is not known: read its plate, and write it in the system file as `volume`.",
                    tank.id
                )));
            };
            let above = amount("tank.height");
            if above.is_none() {
                self.note(BasisOf::Height, Some(&name), None, BasisKind::Assumed);
            }
            let limit = amount("tank.limit").map(|limit| limit.value());
            if limit.is_none() {
                self.note(BasisOf::PlateLimit, Some(&name), None, BasisKind::NotKnown);
            }
            let kept = amount("tank.precharge").map(|value| (value, BasisKind::InFile));
            let kept = self.measured.at(&tank.id, "precharge").map(MeasuredValue::known).or(kept);
            let precharge = self.noted(BasisOf::Precharge, Some(&name), Measure::Pressure, kept);
            let above = above.unwrap_or_else(|| Uncertain::exact(0.0));
            self.tanks.push(PlanTank { name, volume, above, limit, precharge });
        }
        Ok(())
    }

    /// Cut-in and cut-out of now, when both are known from one source.
    fn switch_of(&mut self) {
        let seen = ["cut_in", "cut_out"].map(|name| self.measured.anywhere(self.system, name));
        let in_file = ["switch.cut_in", "switch.cut_out"].map(|path| in_file(self.system, path));
        let found = match (seen, in_file) {
            ([Some(low), Some(high)], _) => {
                let ends = [low.value.value(), high.value.value()];
                Some((ends, BasisKind::Measured(low.when.clone())))
            }
            (_, [Some(low), Some(high)]) => Some(([low, high], BasisKind::InFile)),
            _ => None,
        };
        let Some(([cut_in, cut_out], kind)) = found else {
            self.note(BasisOf::Switch, None, None, BasisKind::NotKnown);
            return;
        };
        let text = [cut_in, cut_out].map(|pa| shown(Measure::Pressure, pa, self.view.units)).join(", ");
        self.note(BasisOf::Switch, None, Some(text), kind);
        self.view.site.pump.reached = Some(cut_out);
        if !self.tanks.is_empty() {
            self.view.now = Some(Design { tanks: self.tanks.clone(), cut_in, cut_out });
        }
    }

    /// Elevation and temperatures.
    fn surroundings(&mut self) {
        match in_file(self.system, "elevation") {
            Some(elevation) => self.view.site.elevation = elevation,
            None => self.note(BasisOf::Elevation, None, None, BasisKind::Assumed),
        }
        self.view.coldest = in_file(self.system, "coldest");
        self.view.site.warmest = in_file(self.system, "warmest");
        if self.view.site.warmest.is_none() {
            self.note(BasisOf::Warmest, None, None, BasisKind::NotKnown);
        }
        let typed = self.call.temperature.as_deref();
        let typed = self.reader.uncertain("--temperature", typed, Measure::Temperature);
        let seen = self.measured.anywhere(self.system, "tank_temperature").map(MeasuredValue::known);
        let known = typed.map(|typed| (typed, BasisKind::Typed)).or(seen);
        self.view.site.set_at = self.noted(BasisOf::Temperature, None, Measure::Temperature, known);
    }

    fn limits_of(&mut self) {
        let present = self.system.value("relief.present", 0);
        self.view.no_relief_valve = matches!(present, Some(Value::Truth(truth)) if !truth.best);
        self.view.site.relief = in_file(self.system, "relief.setting");
        if self.view.site.relief.is_none() && !self.view.no_relief_valve {
            self.note(BasisOf::Relief, None, None, BasisKind::NotKnown);
        }
    }

    /// The run time that is asked for, else what common practice asks for a motor of that power.
    fn run_time_of(&mut self) {
        let typed = self.call.run_time.as_deref();
        if let Some(typed) = self.reader.number("--run-time", typed, Measure::Duration) {
            self.view.run_time = typed;
        } else if let Some(power) = in_file(self.system, "pump.power") {
            self.view.run_time = least_run_time(power).unwrap_or(RUN_TIMES[1]);
        } else {
            self.note(BasisOf::Power, None, None, BasisKind::Assumed);
        }
    }

    /// What the pump brings: as typed, as drawdown over run time of a record, as the system file has it.
    fn flow_of(&mut self) {
        let typed = self.reader.uncertain("--flow", self.call.flow.as_deref(), Measure::Flow);
        let in_file = self.system.value("pump.flow", 0).and_then(Value::amount).cloned();
        let timed = match self.system.tanks.as_slice() {
            [tank] => ["drawdown", "run_time"].map(|name| self.measured.at(&tank.id, name)),
            _ => [None, None],
        };
        let found = match (typed, timed, in_file) {
            (Some(typed), ..) => Some((typed, BasisKind::Typed)),
            (None, [Some(water), Some(time)], _) if time.value.value() > 0.0 => {
                let flow = water.value.clone() / time.value.clone();
                Some((flow, BasisKind::Measured(format!("{}, drawdown over run time", time.when))))
            }
            (None, _, Some(in_file)) => Some((in_file, BasisKind::InFile)),
            _ => None,
        };
        let Some((flow, kind)) = found else {
            self.note(BasisOf::Flow, None, None, BasisKind::NotKnown);
            return;
        };
        let text = crate::quantity::show(Measure::Flow, &flow, self.view.units);
        self.note(BasisOf::Flow, None, Some(text), kind);
        let middle = self.view.now.as_ref().map_or(MIDDLE, |now| f64::midpoint(now.cut_in, now.cut_out));
        self.view.site.pump.duty = Some(PumpDuty { pressure: Uncertain::exact(middle), flow });
    }
}

/// A number of the system file, SI.
fn in_file(system: &System, path: &str) -> Option<f64> {
    system.value(path, 0).and_then(Value::amount).map(Uncertain::value)
}

/// Refuses what has no cycle between cut-in and cut-out.
fn plannable(system: &System) -> Result<()> {
    let text = |path: &str, at: usize| system.value(path, at).map(|word| word.shown(Units::default()));
    if let Some(control) = text("pump.control", 0).filter(|word| ["valve", "drive"].contains(&word.as_str()))
    {
        return Err(Failure::Call(format!(
            "The system file says that a constant-pressure {control} runs the pump. It holds one pressure, so that there \
             is no drawdown between cut-in and cut-out to plan: size and precharge of the tank go by the maker's manual."
        )));
    }
    let plain = (0..system.tanks.len()).find(|at| text("tank.kind", *at).is_some_and(|kind| kind == "plain"));
    if let Some(at) = plain {
        return Err(Failure::Call(format!(
            "Tank `{}` is a plain tank, without a bladder. It has no precharge, and what it gives depends on how much air \
             is left in it: nothing can be planned by a formula.",
            system.tanks[at].id
        )));
    }
    Ok(())
}
