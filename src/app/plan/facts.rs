//! What is known of an installation, and where from: records before the system file, options before
//! both; what nobody said is told as assumed or not known.

use super::amounts::OptionReader;
use super::call::{PlanCall, shown, usual_gap};
use super::recalled::{Measured, MeasuredValue};
use crate::app::unseen::unseen;
use crate::app::{Failure, Home};
use crate::lang::Value;
use crate::physics::plan::{Design, GaugeUncertainty, PlanPump, PlanTank, Site};
use crate::physics::{PumpDuty, RUN_TIMES, least_run_time};
use crate::quantity::{CONFIDENCE, Measure, PSI, Uncertain, Units};
use crate::report::{BasisKind, BasisOf, PlanBasis};
use crate::system::System;

/// Where gauges are looked at for their error: in the middle of what a house has; Pa.
const MIDDLE: f64 = 50.0 * PSI;

/// What is known.
pub(super) struct Facts {
    pub site: Site,
    /// The tanks of the system file.
    pub tanks: Vec<PlanTank>,
    /// Tanks and switch, where both are known.
    pub now: Option<Design>,
    pub coldest: Option<f64>,
    pub run_time: f64,
    pub no_relief_valve: bool,
    pub basis: Vec<PlanBasis>,
    pub units: Units,
    /// That there are records of which it is not known what they tell.
    pub unseen: Option<String>,
}

impl Facts {
    /// Gathers everything.
    ///
    /// # Errors
    /// When the installation is one that has no cycle of cut-in and cut-out, or a tank no volume.
    pub fn gather(
        call: &PlanCall,
        system: &System,
        home: &Home,
        reader: &mut OptionReader,
    ) -> Result<Facts, Failure> {
        plannable(system)?;
        let gauge = |id: &str| {
            system.gauge(id).map_or_else(GaugeUncertainty::default, |gauge| GaugeUncertainty {
                accuracy: gauge.accuracy_u(MIDDLE),
                resolution: gauge.resolution_u(),
            })
        };
        let gap = reader.number("--gap", call.gap.as_deref(), Measure::PressureChange);
        let demand = reader.uncertain("--demand", call.demand.as_deref(), Measure::Flow);
        let site = Site {
            outlets: reader.outlets(&call.serve, demand.as_ref()),
            demand,
            gap: gap.unwrap_or(usual_gap(reader.units)),
            line: gauge("line"),
            air: gauge("air"),
            confidence: system.confidence.unwrap_or(CONFIDENCE),
            ..Site::default()
        };
        let mut facts = Facts {
            site,
            tanks: Vec::new(),
            now: None,
            coldest: None,
            run_time: RUN_TIMES[0],
            no_relief_valve: false,
            basis: Vec::new(),
            units: reader.units,
            unseen: None,
        };
        let measured = Measured::of(system, home)?;
        facts.tanks_of(system, &measured)?;
        facts.switch_of(system, &measured);
        facts.surroundings(call, system, &measured, reader);
        facts.limits_of(system);
        facts.run_time_of(call, system, reader);
        facts.flow_of(call, system, &measured, reader);
        facts.shutoff(call, system, reader)?;
        facts.unseen = unseen(&measured.account);
        Ok(facts)
    }

    pub(super) fn note(&mut self, of: BasisOf, tank: Option<&str>, shown: Option<String>, kind: BasisKind) {
        self.basis.push(PlanBasis { of, tank: tank.map(ToString::to_string), shown, kind });
    }

    fn tanks_of(&mut self, system: &System, measured: &Measured) -> Result<(), Failure> {
        for (at, tank) in system.tanks.iter().enumerate() {
            let amount = |path: &str| system.value(path, at).and_then(Value::amount).cloned();
            let name = system.value("tank.name", at);
            let name = name.map_or_else(|| tank.id.to_string(), |name| name.shown(self.units));
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
            let precharge =
                self.precharge_of(&name, measured.at(&tank.id, "precharge"), amount("tank.precharge"));
            let above = above.unwrap_or_else(|| Uncertain::exact(0.0));
            self.tanks.push(PlanTank { name, volume, above, limit, precharge });
        }
        Ok(())
    }

    fn precharge_of(
        &mut self,
        name: &str,
        measured: Option<&MeasuredValue>,
        in_file: Option<Uncertain>,
    ) -> Option<f64> {
        let (pa, kind) = match (measured, in_file) {
            (Some(found), _) => (Some(found.value.value()), BasisKind::Measured(found.when.clone())),
            (None, Some(value)) => (Some(value.value()), BasisKind::InFile),
            (None, None) => (None, BasisKind::NotKnown),
        };
        let text = pa.map(|pa| shown(Measure::Pressure, pa, self.units));
        self.note(BasisOf::Precharge, Some(name), text, kind);
        pa
    }

    /// Cut-in and cut-out of now, when both are known from one source.
    fn switch_of(&mut self, system: &System, measured: &Measured) {
        let seen = ["cut_in", "cut_out"].map(|name| measured.anywhere(system, name));
        let in_file = ["switch.cut_in", "switch.cut_out"].map(|path| in_file(system, path));
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
        let text = [cut_in, cut_out].map(|pa| shown(Measure::Pressure, pa, self.units)).join(", ");
        self.note(BasisOf::Switch, None, Some(text), kind);
        self.site.pump.reached = Some(cut_out);
        if !self.tanks.is_empty() {
            self.now = Some(Design { tanks: self.tanks.clone(), cut_in, cut_out });
        }
    }

    /// Elevation and temperatures.
    fn surroundings(
        &mut self,
        call: &PlanCall,
        system: &System,
        measured: &Measured,
        reader: &mut OptionReader,
    ) {
        match in_file(system, "elevation") {
            Some(elevation) => self.site.elevation = elevation,
            None => self.note(BasisOf::Elevation, None, None, BasisKind::Assumed),
        }
        self.coldest = in_file(system, "coldest");
        self.site.warmest = in_file(system, "warmest");
        if self.site.warmest.is_none() {
            self.note(BasisOf::Warmest, None, None, BasisKind::NotKnown);
        }
        let typed = reader.number("--temperature", call.temperature.as_deref(), Measure::Temperature);
        let seen = measured.anywhere(system, "tank_temperature");
        let (kelvin, kind) = match (typed, seen) {
            (Some(typed), _) => (Some(typed), BasisKind::Typed),
            (None, Some(seen)) => (Some(seen.value.value()), BasisKind::Measured(seen.when.clone())),
            (None, None) => (None, BasisKind::NotKnown),
        };
        let text = kelvin.map(|kelvin| shown(Measure::Temperature, kelvin, self.units));
        self.note(BasisOf::Temperature, None, text, kind);
        self.site.set_at = kelvin;
    }

    fn limits_of(&mut self, system: &System) {
        let present = system.value("relief.present", 0);
        self.no_relief_valve = matches!(present, Some(Value::Truth(truth)) if !truth.best);
        self.site.relief = in_file(system, "relief.setting");
        if self.site.relief.is_none() && !self.no_relief_valve {
            self.note(BasisOf::Relief, None, None, BasisKind::NotKnown);
        }
    }

    /// The run time that is asked for, else what common practice asks for a motor of that power.
    fn run_time_of(&mut self, call: &PlanCall, system: &System, reader: &mut OptionReader) {
        if let Some(typed) = reader.number("--run-time", call.run_time.as_deref(), Measure::Duration) {
            self.run_time = typed;
        } else if let Some(power) = in_file(system, "pump.power") {
            self.run_time = least_run_time(power).unwrap_or(RUN_TIMES[1]);
        } else {
            self.note(BasisOf::Power, None, None, BasisKind::Assumed);
        }
    }

    /// What the pump brings: as typed, as drawdown over run time of a record, as the system file has it.
    fn flow_of(&mut self, call: &PlanCall, system: &System, measured: &Measured, reader: &mut OptionReader) {
        let typed = reader.uncertain("--flow", call.flow.as_deref(), Measure::Flow);
        let in_file = system.value("pump.flow", 0).and_then(Value::amount).cloned();
        let timed = match system.tanks.as_slice() {
            [tank] => ["drawdown", "run_time"].map(|name| measured.at(&tank.id, name)),
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
        let text = crate::quantity::show(Measure::Flow, &flow, self.units);
        self.note(BasisOf::Flow, None, Some(text), kind);
        let middle = self.now.as_ref().map_or(MIDDLE, |now| f64::midpoint(now.cut_in, now.cut_out));
        let duty = Some(PumpDuty { pressure: Uncertain::exact(middle), flow });
        self.site.pump = PlanPump { duty, ..self.site.pump.clone() };
    }
}

/// A number of the system file, SI.
fn in_file(system: &System, path: &str) -> Option<f64> {
    system.value(path, 0).and_then(Value::amount).map(Uncertain::value)
}

/// Refuses what has no cycle between cut-in and cut-out.
fn plannable(system: &System) -> Result<(), Failure> {
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
