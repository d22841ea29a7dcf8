//! The pressure at which all flows of the line come out even.

use super::{LINE_COMPLIANCE, Plant};

/// How much water a step may leave unaccounted for, m³, and how near the pressure is found, Pa, where no
/// pressure accounts for it.
const UNACCOUNTED: f64 = 1e-12;
const NEAR_ENOUGH: f64 = 1e-9;
/// Conductance of an opened relief valve, m³/s for √Pa: judgement, more than a household pump brings.
const RELIEF_OPEN: f64 = 4e-6;

/// What passes at a line pressure, m³/s.
#[derive(Clone, Copy, Debug)]
pub(super) struct Outflows {
    pub drain: f64,
    /// House, relief valve, and back into the well.
    pub other: f64,
}

/// Flow through an opening, with its sign.
fn through(conductance: f64, pressure: f64) -> f64 {
    conductance * pressure.abs().sqrt().copysign(pressure)
}

impl Plant {
    /// What leaves the line at a pressure.
    pub(super) fn outflows(&self, line: f64) -> Outflows {
        let leaks = &self.site.leaks;
        let house = if self.valves.house { leaks.house + leaks.demand } else { 0.0 };
        let back = if self.pump.runs { 0.0 } else { leaks.check_valve };
        let above = self.site.relief.map_or(0.0, |opens| (line - opens).max(0.0));
        let other = through(house + back + leaks.relief + self.valves.spigot, line.max(0.0))
            + through(RELIEF_OPEN, above);
        let drain = if self.drains_alone() { 0.0 } else { self.valves.drain };
        Outflows { drain: through(self.site.drain * drain, line), other }
    }

    /// What comes in less what goes out at a pressure held for `dt`; falls as the pressure rises.
    fn surplus(&self, line: f64, dt: f64) -> f64 {
        let tanks = self.tanks.iter().filter(|tank| tank.open_to_line());
        let inflow: f64 = tanks.map(|tank| tank.inflow(line + self.air, dt)).sum();
        let out = self.outflows(line);
        let stored = LINE_COMPLIANCE * (line - self.line) / dt;
        self.pump.flow(line, dt) - inflow - out.drain - out.other - stored
    }

    /// The line's pressure after `dt`: false position from a bracket around the last one.
    pub(super) fn balanced(&self, dt: f64) -> f64 {
        let mut reach = 500.0;
        let at_last = self.surplus(self.line, dt);
        let up = at_last > 0.0;
        let (mut low, mut high) = (self.line, self.line);
        let (mut of_low, mut of_high) = (at_last, at_last);
        loop {
            let end = if up { self.line + reach } else { (self.line - reach).max(-0.99 * self.air) };
            let of_end = self.surplus(end, dt);
            match up {
                true => (low, of_low, high, of_high) = (high, of_high, end, of_end),
                false => (high, of_high, low, of_low) = (low, of_low, end, of_end),
            }
            if of_low * of_high <= 0.0 || reach > 1e8 {
                break;
            }
            reach *= 8.0;
        }
        self.between([low, high], [of_low, of_high], dt)
    }

    /// The pressure between two at which nothing is left over, by what is left over at each.
    fn between(&self, pressures: [f64; 2], surpluses: [f64; 2], dt: f64) -> f64 {
        let ([mut low, mut high], [mut of_low, mut of_high]) = (pressures, surpluses);
        for round in 0..80 {
            if high - low < NEAR_ENOUGH || of_low == of_high {
                break;
            }
            let even = low + (high - low) * of_low / (of_low - of_high);
            // Every third time halved, so that it never crawls.
            let middle = if round % 3 == 2 { 0.5 * (low + high) } else { even.clamp(low, high) };
            let of_middle = self.surplus(middle, dt);
            if of_middle.abs() * dt < UNACCOUNTED {
                return middle;
            }
            if of_middle > 0.0 {
                (low, of_low) = (middle, of_middle);
            } else {
                (high, of_high) = (middle, of_middle);
            }
        }
        0.5 * (low + high)
    }
}
