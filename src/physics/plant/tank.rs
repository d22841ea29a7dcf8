//! A tank: air by amount, water by volume, and how both answer to the line.

use super::site::{Bladder, TankSite};
use crate::physics::constants::{GAS_CONSTANT, GRAVITY, WATER_DENSITY};

/// Pascals of a metre of water.
const METRE_OF_WATER: f64 = GRAVITY.value * WATER_DENSITY.value;
/// Ratio of the heats of air: what quick changes go by.
const ADIABATIC: f64 = 1.4;
/// How long the air takes to come within e of its surroundings, s: an estimate, from free convection of
/// some 8 W/(m² K) at the shell of a household tank.
const COOLING: f64 = 35.0;
/// Seconds in which open air leaves an empty tank whose bladder is torn.
const BLOW_OUT: f64 = 5.0;
/// The least share of a tank that its air takes up.
const LEAST_AIR: f64 = 1e-3;
/// Grit that a full flush takes along, as a share, and how much of the tank counts as full.
const SCOUR: (f64, f64) = (0.5, 0.2);

/// The air around a tank.
#[derive(Clone, Copy, Debug)]
pub(super) struct OutsideAir {
    /// K.
    pub temperature: f64,
    /// Pa, absolute.
    pub pressure: f64,
}

/// A tank under way.
#[derive(Clone, Debug)]
pub(super) struct TankState {
    pub site: TankSite,
    /// mol.
    pub air: f64,
    /// m³ on the water side.
    pub water: f64,
    /// K.
    pub temperature: f64,
    pub valve_open: bool,
    /// The port of a loose tank stands open.
    pub port_open: bool,
    pub grit: f64,
    /// The most water since it was last empty, m³.
    pub peak_water: f64,
}

impl TankState {
    pub(super) fn new(site: &TankSite, ambient: f64, air: f64) -> TankState {
        let volume = site.volume - site.trapped;
        TankState {
            air: (site.precharge + air) * volume / (GAS_CONSTANT.value * ambient),
            water: 0.0,
            temperature: ambient,
            valve_open: site.valve_open,
            port_open: false,
            grit: site.grit,
            peak_water: 0.0,
            site: site.clone(),
        }
    }

    /// Of the air with all water out, at this temperature in K; Pa absolute.
    pub(super) fn precharge(&self, temperature: f64) -> f64 {
        self.air * GAS_CONSTANT.value * temperature / (self.site.volume - self.site.trapped)
    }

    /// Room for air, m³.
    fn air_volume(&self) -> f64 {
        (self.site.volume - self.site.trapped - self.water).max(LEAST_AIR * self.site.volume)
    }

    /// Of the air, Pa absolute.
    pub(super) fn pressure(&self) -> f64 {
        self.air * GAS_CONSTANT.value * self.temperature / self.air_volume()
    }

    /// What stands at its port against the line, Pa absolute at the height of the switch.
    pub(super) fn port_pressure(&self) -> f64 {
        self.pressure() + METRE_OF_WATER * (self.site.height + self.level())
    }

    fn level(&self) -> f64 {
        self.site.column * self.water / self.site.volume
    }

    /// Whether water can pass between it and the line.
    pub(super) fn open_to_line(&self) -> bool {
        self.site.joined && self.valve_open
    }

    /// The most water it can hold, m³.
    fn capacity(&self) -> f64 {
        let whole = (1.0 - LEAST_AIR) * self.site.volume - self.site.trapped;
        self.site.most_water.min(whole).max(0.0)
    }

    /// Flow into it with an absolute pressure outside its port, m³/s, as it will be after `dt`.
    pub(super) fn inflow(&self, outside: f64, dt: f64) -> f64 {
        let drive = outside - self.port_pressure();
        let k2 = self.site.outlet * self.site.outlet;
        let stiffness = ADIABATIC * self.pressure() / self.air_volume()
            + METRE_OF_WATER * self.site.column / self.site.volume;
        let b = k2 * stiffness * dt;
        let flow = 0.5 * ((b * b + 4.0 * k2 * drive.abs()).sqrt() - b);
        let signed = if drive < 0.0 { -flow } else { flow };
        signed.clamp(-self.water / dt, (self.capacity() - self.water).max(0.0) / dt)
    }

    /// Takes in `flow` for `dt`, its air warmed or cooled by that, and brought nearer the ambient.
    pub(super) fn pass(&mut self, flow: f64, dt: f64, outside: OutsideAir) {
        let before = self.air_volume();
        self.water = (self.water + flow * dt).max(0.0);
        // A drop that stays behind as it empties; one that comes in counts, or a trickle would be lost step by step.
        if flow <= 0.0 && self.water < 1e-9 {
            self.water = 0.0;
        }
        let squeezed = self.temperature * (before / self.air_volume()).powf(ADIABATIC - 1.0);
        self.temperature = outside.temperature + (squeezed - outside.temperature) * (-dt / COOLING).exp();
        self.peak_water = self.peak_water.max(self.water);
        self.lose_air(dt, outside.pressure);
    }

    /// Air leaves by its leak, and by the port of an empty tank whose bladder is torn open.
    fn lose_air(&mut self, dt: f64, outside: f64) {
        let above = (self.pressure() - outside).max(0.0);
        if self.site.air_leak > 0.0 && above > 0.0 {
            let rate = self.site.air_leak * above / self.air;
            self.air *=
                1.0 - above / (above + outside) * (1.0 - (-rate * dt * (above + outside) / above).exp());
        }
        let Bladder::Torn { seals: false, .. } = self.site.bladder else { return };
        if self.water > 0.0 || !(self.port_open || self.open_to_line()) || above <= 0.0 {
            return;
        }
        let at_rest = self.air * outside / self.pressure();
        self.air = at_rest + (self.air - at_rest) * (-dt / BLOW_OUT).exp();
    }

    /// Fills it slowly until its port stands at a line's pressure.
    pub(super) fn rest_at(&mut self, line: f64, air: f64, ambient: f64) {
        self.temperature = ambient;
        let (mut low, mut high) = (0.0, self.capacity());
        for _ in 0..60 {
            self.water = 0.5 * (low + high);
            if self.port_pressure() < line + air { low = self.water } else { high = self.water }
        }
        self.water = if high < 1e-9 { 0.0 } else { high };
        self.peak_water = self.water;
    }

    /// The grit that goes along as it has run empty, as a share of the water that left; none while
    /// water stands in it.
    pub(super) fn flushed(&mut self) -> Option<f64> {
        if self.water > 0.0 || self.peak_water < 1e-4 {
            return None;
        }
        let (scour, full) = SCOUR;
        let share = scour * (self.peak_water / (full * self.site.volume)).min(1.0);
        let left = self.grit * share;
        self.grit -= left;
        let water = std::mem::take(&mut self.peak_water);
        Some(left / water)
    }

    /// Gives its air this pressure above the outside, at the ambient temperature.
    pub(super) fn set_air(&mut self, pressure: f64, outside: OutsideAir) {
        self.temperature = outside.temperature;
        let absolute = pressure + outside.pressure;
        self.air = absolute * self.air_volume() / (GAS_CONSTANT.value * outside.temperature);
    }
}
