//! What is known of the pump: its flow, and the highest pressure it can make.

use super::amounts::{OptionReader, cannot_be, parted, whole};
use super::call::computed;
use super::facts::Facts;
use crate::app::{Failure, Result};
use crate::physics::plan::{Design, PlanTank};
use crate::physics::{
    PumpDuty, TankAtHeight, run_time, several_tanks, shutoff_from_two_flows, shutoff_pressure,
};
use crate::quantity::{Measure, SourceId, Uncertain, show};
use crate::report::{BasisKind, BasisOf};
use crate::source::Quoted;

const FILL_FORM: &str =
    "write two pressures and the time between them, all faucets shut: \"40 psi to 45 psi in 21 s\"";

impl Facts<'_> {
    /// The highest pressure the pump can make, by its shutoff head or by two timed fills.
    pub(super) fn shutoff(&mut self) -> Result<()> {
        let (call, reader) = (self.call, &mut self.reader);
        let shutoff = reader.uncertain("--shutoff", call.shutoff.as_deref(), Measure::Length);
        let depth = reader.uncertain("--water-level", call.water_level.as_deref(), Measure::Length);
        let alone = match (&call.shutoff, &call.water_level) {
            (Some(text), None) => Some((
                whole("--shutoff", text),
                "add how far below the switch the water stands while the pump runs: --water-level \"90 ft\"",
            )),
            (None, Some(text)) => Some((
                whole("--water-level", text),
                "add the shutoff head, where the pump's curve meets no flow: --shutoff \"260 ft\"",
            )),
            _ => None,
        };
        if let Some((option, remedy)) = alone {
            let fault = cannot_be(&option, "this alone does not tell how far the pump reaches");
            let why = "What is left at the switch is the shutoff head less the lift from the water.";
            reader.fault(fault.why(why).remedy(remedy));
        }
        if let Some((shutoff, depth)) = shutoff.zip(depth) {
            self.view.site.pump.shutoff = Some(computed(shutoff_pressure(shutoff, depth), reader.units)?);
            return Ok(());
        }
        self.timed_fills()
    }

    fn timed_fills(&mut self) -> Result<()> {
        let fills = self.call.fill.as_slice();
        let [first, .., last] = fills else {
            if let [only] = fills {
                let message = "one timed fill does not tell how far the pump reaches";
                let fault = cannot_be(&whole("--fill 1", only), message);
                let remedy = "time a second one at a pressure well apart, and give it with another --fill";
                self.reader
                    .fault(fault.why("How the flow falls with the pressure takes two.").remedy(remedy));
            }
            return Ok(());
        };
        let watch = self.system.gauge("watch").map_or(0.0, |watch| watch.accuracy_u(60.0));
        let mut duty = |number: u64, text: &str| {
            let fill = self.reader.fill(&whole(&format!("--fill {number}"), text))?;
            Some(self.duty_of(fill, watch, number))
        };
        let (Some(one), Some(other)) = (duty(1, first), duty(2, last)) else { return Ok(()) };
        let (one, other) = (one?, other?);
        let in_order = one.pressure.value() <= other.pressure.value();
        let (low, high) = if in_order { (one, other) } else { (other, one) };
        self.view.site.pump.shutoff = Some(computed(shutoff_from_two_flows(&low, &high), self.view.units)?);
        // The fills are the newest that is known of the flow.
        self.view.basis.retain(|basis| basis.of != BasisOf::Flow);
        let flow = show(Measure::Flow, &high.flow, self.view.units);
        let pressure = show(Measure::Pressure, &high.pressure, self.view.units);
        let text = format!("{flow} at {pressure}, by two timed fills, the curve taken as a parabola");
        self.note(BasisOf::Flow, None, Some(text), BasisKind::Typed);
        self.view.site.pump.duty = Some(high);
        Ok(())
    }

    /// What the pump brought in a timed fill, at its middle pressure.
    fn duty_of(&self, fill: TimedFill, watch: f64, number: u64) -> Result<PumpDuty<Uncertain>> {
        let Some(now) = &self.view.now else {
            let why = "Timed fills need the tanks and the switch of now: describe them in the system file.";
            return Err(Failure::Call(why.to_string()));
        };
        let tanks = self.tanks_at_precharge(now)?;
        let ends =
            [(10, fill.from), (11, fill.to)].map(|(end, pa)| self.view.site.on_line(pa, 10 * number + end));
        let [from, to] = ends;
        let elevation = Uncertain::exact(self.view.site.elevation);
        let water =
            computed(several_tanks(&tanks, from.clone(), to.clone(), elevation), self.view.units)?.total;
        let time = fill.time.with_component(SourceId::Reading(100 + number), watch);
        let flow = water.clone() / time.clone();
        // As run_time, the other way round: it refuses what is no flow.
        computed(run_time(water, flow.clone()), self.view.units)?;
        Ok(PumpDuty { pressure: (from + to) * Uncertain::exact(0.5), flow })
    }

    /// The tanks of now, whose precharges must be known.
    fn tanks_at_precharge(&self, now: &Design) -> Result<Vec<TankAtHeight<Uncertain>>> {
        let known = |(reading, tank): (u64, &PlanTank)| {
            let precharge = tank.precharge.map(|pa| self.view.site.on_air(pa, reading));
            let Some(precharge) = precharge else {
                return Err(Failure::Call(format!(
                    "Timed fills need the precharge of {}: read it with the tank drained, and write it in the system \
                     file as `charge`.",
                    tank.name
                )));
            };
            Ok(TankAtHeight { volume: tank.volume.clone(), precharge, above: tank.above.clone() })
        };
        (2..).zip(&now.tanks).map(known).collect()
    }
}

/// A fill, timed with all faucets shut.
pub(super) struct TimedFill {
    from: f64,
    to: f64,
    time: Uncertain,
}

impl OptionReader {
    pub(super) fn fill(&mut self, option: &Quoted) -> Option<TimedFill> {
        let (pressures, time) = parted(option, &[" in "]);
        let (from, to) = parted(&pressures, &[" to "]);
        let (Some(to), Some(time)) = (to, time) else {
            let fault = cannot_be(option, "here two pressures and a time are needed");
            let why = "They tell how much water came into the tanks, and how fast.";
            self.fault(fault.why(why).remedy(FILL_FORM));
            return None;
        };
        let from_pa = self.amount(&from, Measure::Pressure);
        let to_pa = self.amount(&to, Measure::Pressure);
        let time = self.amount(&time, Measure::Duration);
        let (from, to_pa) = (from_pa?.value(), to_pa?.value());
        if from >= to_pa {
            let fault = cannot_be(&to, "a fill ends at a higher pressure than it begins");
            self.fault(fault.why("While the pump fills the tanks the pressure rises.").remedy(FILL_FORM));
            return None;
        }
        Some(TimedFill { from, to: to_pa, time: time? })
    }
}
