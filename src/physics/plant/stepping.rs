//! Moving on in time: steps as long as nothing much changes, cut where the pump starts or stops.

use super::Plant;
use crate::quantity::PSI;

/// The most that the line's pressure may change in a step, Pa.
const LARGEST_CHANGE: f64 = 1.5 * PSI;
/// The shortest step, s; the longest while water moves, and at rest.
const SHORTEST: f64 = 1e-3;
const LONGEST_FLOWING: f64 = 30.0;
const LONGEST_AT_REST: f64 = 600.0;

/// What may be waited for.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Until {
    /// The pump starts.
    PumpStarts,
    /// The pump stops.
    PumpStops,
    /// The line's pressure is at or below this, Pa.
    Falls(f64),
    /// The line's pressure is at or above this, Pa.
    Rises(f64),
    /// No more water comes out of the tanks that are open to the line, and the pressure is gone.
    RunsDry,
}

impl Plant {
    /// Moves on by so many seconds.
    pub fn advance(&mut self, seconds: f64) {
        let end = self.seconds + seconds;
        while self.seconds + 1e-9 < end {
            self.step(end - self.seconds, None);
        }
    }

    /// Moves on until something comes about, for at most so many seconds; how long it took, `None`
    /// when it did not come about.
    pub fn run_until(&mut self, until: Until, at_most: f64) -> Option<f64> {
        let begin = self.seconds;
        while self.seconds - begin + 1e-9 < at_most {
            if self.has_come(until) {
                return Some(self.seconds - begin);
            }
            self.step(at_most - (self.seconds - begin), Some(until));
        }
        self.has_come(until).then_some(self.seconds - begin)
    }

    fn has_come(&self, until: Until) -> bool {
        match until {
            Until::PumpStarts => self.pump.runs,
            Until::PumpStops => !self.pump.runs,
            Until::Falls(pressure) => self.line <= pressure,
            Until::Rises(pressure) => self.line >= pressure,
            Until::RunsDry if self.drains_alone() => self.tanks[0].water < 1e-4,
            Until::RunsDry => {
                let open = self.tanks.iter().filter(|tank| tank.open_to_line() || tank.port_open);
                !self.pump.runs && self.line < 0.5 * PSI && open.map(|tank| tank.water).sum::<f64>() < 1e-4
            }
        }
    }

    /// Whether a step that ends at this pressure passes something that must not be passed over.
    fn passes(&self, line: f64, dt: f64, until: Option<Until>) -> bool {
        let reached = match until {
            Some(Until::Falls(pressure)) => line <= pressure && self.line > pressure,
            Some(Until::Rises(pressure)) => line >= pressure && self.line < pressure,
            Some(Until::PumpStarts | Until::PumpStops | Until::RunsDry) | None => false,
        };
        reached || self.switch.would_act(self.felt(line, dt))
    }

    fn felt(&self, line: f64, dt: f64) -> f64 {
        let share = self.pump.flow(line, dt) / self.pump.site.free_flow;
        self.switch.feels(line, dt, share)
    }

    /// One step, of at most so many seconds.
    fn step(&mut self, at_most: f64, until: Option<Until>) {
        let wished = self.pace.min(self.pump.longest_step()).min(at_most).max(SHORTEST.min(at_most));
        let (dt, line) = self.fitting_step(wished, until);
        let change = (line - self.line).abs();
        self.accept(dt, line);
        let factor = if change > 0.0 { (0.7 * LARGEST_CHANGE / change).clamp(0.2, 4.0) } else { 4.0 };
        let longest = if self.flows_now() { LONGEST_FLOWING } else { LONGEST_AT_REST };
        self.pace = (dt.max(SHORTEST) * factor).min(longest);
    }

    /// A step short enough for its change, that ends where something happens.
    fn fitting_step(&self, wished: f64, until: Option<Until>) -> (f64, f64) {
        let mut dt = wished;
        let mut line = self.balanced(dt);
        while (line - self.line).abs() > LARGEST_CHANGE && dt > SHORTEST {
            dt = (dt * (0.8 * LARGEST_CHANGE / (line - self.line).abs()).clamp(0.05, 0.7)).max(SHORTEST);
            line = self.balanced(dt);
        }
        if !self.passes(line, dt, until) {
            return (dt, line);
        }
        let (mut short, mut long) = (0.0, dt);
        while long - short > SHORTEST.min(0.02 * dt).max(1e-4) {
            let middle = 0.5 * (short + long);
            let there = self.balanced(middle);
            if self.passes(there, middle, until) {
                (long, line) = (middle, there);
            } else {
                short = middle;
            }
        }
        (long, line)
    }

    /// The step is made.
    fn accept(&mut self, dt: f64, line: f64) {
        let felt = self.felt(line, dt);
        let out = self.outflows(line);
        self.flows.pumped += self.pump.flow(line, dt) * dt;
        self.flows.drained += out.drain * dt;
        self.flows.lost += out.other * dt;
        self.ambient += self.site.ambient_rate * dt;
        let outside = self.outside();
        let alone = self.drains_alone() && self.valves.drain > 0.0;
        for (at, tank) in self.tanks.iter_mut().enumerate() {
            let flow = if tank.open_to_line() {
                tank.inflow(line + self.air, dt)
            } else if tank.port_open && !tank.site.joined {
                tank.inflow(self.air, dt).min(0.0)
            } else if alone && at == 0 {
                let out = tank.inflow(self.air, dt).min(0.0);
                self.flows.drained -= out * dt;
                out
            } else {
                0.0
            };
            tank.pass(flow, dt, outside);
        }
        self.fall_rate = (self.line - line) / dt;
        self.line = line;
        self.seconds += dt;
        self.pump.running_for += dt;
        let drained = line < 0.5 * PSI && !self.pump.runs;
        self.pump.site.primed &= !(drained && self.pump.site.runs_back);
        self.collect_jar();
        self.switch.act(felt, &mut self.random);
        self.update_pump();
    }

    /// A tank that has run empty leaves its grit in the jar.
    fn collect_jar(&mut self) {
        let alone = self.drains_alone() && self.valves.drain > 0.0;
        let tanks = self.tanks.iter_mut().enumerate();
        let flushed = tanks
            .filter(|(at, tank)| tank.open_to_line() || tank.port_open || alone && *at == 0)
            .map(|(_, tank)| tank);
        for share in flushed.filter_map(super::TankState::flushed) {
            self.jar = share + self.site.well_grit;
        }
    }

    /// The pump runs when it has power, the switch calls for it, and it works.
    pub(super) fn update_pump(&mut self) {
        let runs = self.valves.breaker && self.switch.calls() && self.pump.site.works;
        if runs != self.pump.runs {
            self.pump.runs = runs;
            self.pump.running_for = 0.0;
            self.pace = 0.05;
        }
    }

    fn flows_now(&self) -> bool {
        let draining = self.valves.drain > 0.0 && (self.line > 0.01 * PSI || self.drains_alone());
        self.pump.runs || draining || self.valves.house || self.valves.spigot > 0.0
    }
}
