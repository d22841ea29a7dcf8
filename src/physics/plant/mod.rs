//! A simulated well system: tanks, pump, switch, valves, leaks and gauges, moved on by seconds.
//!
//! It knows no procedure, no words and no clock. What it is made of stands in a [`PlantSite`]; what can be
//! done to it are methods of [`Plant`]. All runs of one site with one seed are alike.
//!
//! One node stands for the line. At each step its pressure is what makes the flows of pump, tanks,
//! drain, house, relief valve and leaks come out even; the tanks answer as they will stand at the
//! step's end, so that a step may be long where nothing moves. Where the pump starts or stops, a step
//! ends to the millisecond.
//!
//! ```
//! use tankhand::physics::plant::{Plant, PlantSite, Until};
//! use tankhand::quantity::{GALLON, PSI};
//! let mut plant = Plant::new(PlantSite::default(), 1);
//! plant.set_drain(0.1);
//! plant.run_until(Until::PumpStarts, 3600.0).unwrap();
//! assert!((plant.line_pressure() / PSI - 40.0).abs() < 0.01);
//! plant.set_drain(0.0);
//! let seconds = plant.run_until(Until::PumpStops, 3600.0).unwrap();
//! assert!((50.0..70.0).contains(&seconds));
//! ```

mod balance;
mod controls;
mod instrument;
mod pump;
mod site;
mod stepping;
mod switch;
mod tank;
#[cfg(test)]
mod tests;

pub use controls::PinResult;
pub use instrument::{Instrument, Instruments};
pub use site::{Bladder, Leaks, PlantSite, PressureValve, PumpSite, SwitchSite, TankSite};
pub use stepping::Until;

use super::atmosphere::atmosphere;
use crate::quantity::Random;
use pump::Pump;
use switch::Switch;
use tank::{OutsideAir, TankState};

/// Water that a line of household pipes takes up for each pascal, in m³: judgement.
const LINE_COMPLIANCE: f64 = 1.5e-10;

/// A well system under way. Pressures are above the local air and at the height of the switch.
#[derive(Clone, Debug)]
pub struct Plant {
    site: PlantSite,
    air: f64,
    tanks: Vec<TankState>,
    pump: Pump,
    switch: Switch,
    valves: Valves,
    line: f64,
    fall_rate: f64,
    seconds: f64,
    pace: f64,
    flows: Totals,
    jar: f64,
    ambient: f64,
    random: Random,
}

/// How the valves and the breaker stand.
#[derive(Clone, Copy, Debug)]
struct Valves {
    drain: f64,
    house: bool,
    breaker: bool,
    /// Conductance of a spigot on the pump's side, m³/s for √Pa.
    spigot: f64,
}

/// Water that passed since the beginning, m³.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Totals {
    /// Pumped out of the well.
    pub pumped: f64,
    /// Out of the drain.
    pub drained: f64,
    /// Out at everything else: house, leaks, relief valve, back into the well.
    pub lost: f64,
}

impl Plant {
    /// A site at rest: the pump has just stopped at its cut-out, unless it lost its water; and all air is as cool as
    /// the place.
    pub fn new(site: PlantSite, seed: u64) -> Plant {
        // Out of its range the formula gives no figure; such a place does not exist.
        let air = atmosphere(site.elevation).unwrap_or(super::constants::SEA_LEVEL_PRESSURE.value);
        // A pump that lost its water has filled nothing since the last of it was drawn.
        let filled = site.pump.primed && site.tanks.iter().any(|tank| tank.joined);
        let line = if filled { site.switch.cut_out } else { 0.0 };
        let mut plant = Plant {
            air,
            tanks: site.tanks.iter().map(|tank| TankState::new(tank, site.ambient, air)).collect(),
            pump: Pump::new(&site.pump),
            switch: Switch::new(&site.switch, line),
            valves: Valves { drain: 0.0, house: site.house_open, breaker: true, spigot: 0.0 },
            line,
            fall_rate: 0.0,
            seconds: 0.0,
            pace: 0.1,
            flows: Totals::default(),
            jar: 0.0,
            ambient: site.ambient,
            random: Random::new(seed),
            site,
        };
        plant.start_filled();
        plant
    }

    fn outside(&self) -> OutsideAir {
        OutsideAir { temperature: self.ambient, pressure: self.air }
    }

    /// Brings every tank that is open to the line to rest at the line's pressure.
    fn start_filled(&mut self) {
        let line = self.line.min(0.98 * self.site.pump.shutoff);
        self.line = line;
        for tank in self.tanks.iter_mut().filter(|tank| tank.site.joined) {
            tank.rest_at(line, self.air, self.site.ambient);
        }
    }

    /// What it is made of.
    pub fn site(&self) -> &PlantSite {
        &self.site
    }

    /// Seconds since the beginning.
    pub fn seconds(&self) -> f64 {
        self.seconds
    }

    /// The pressure in the line, Pa.
    pub fn line_pressure(&self) -> f64 {
        self.line
    }

    /// The temperature where the tanks stand, K.
    pub fn ambient(&self) -> f64 {
        self.ambient
    }

    /// Whether the pump turns.
    pub fn pump_runs(&self) -> bool {
        self.pump.runs
    }

    /// Whether the pump is full of water: one that is not pumps nothing.
    pub fn is_primed(&self) -> bool {
        self.pump.site.primed
    }

    /// Whether the pump's wires are live.
    pub fn has_power(&self) -> bool {
        self.valves.breaker
    }

    /// Where the switch starts and stops the pump now, Pa.
    pub fn switch_points(&self) -> [f64; 2] {
        [self.switch.site.cut_in, self.switch.site.cut_out]
    }

    /// Whether the valve to the house stands open.
    pub fn house_open(&self) -> bool {
        self.valves.house
    }

    /// What the air valve of a tank shows, Pa: the precharge when the tank is empty, else the water's
    /// pressure.
    pub fn tank_pressure(&self, tank: usize) -> f64 {
        self.tanks.get(tank).map_or(0.0, |tank| tank.pressure() - self.air)
    }

    /// The water in a tank, m³.
    pub fn water(&self, tank: usize) -> f64 {
        self.tanks.get(tank).map_or(0.0, |tank| tank.water + tank.site.trapped)
    }

    /// What the air in a tank would show with all water out, at the room's temperature, Pa.
    pub fn precharge(&self, tank: usize) -> f64 {
        self.tanks.get(tank).map_or(0.0, |tank| tank.precharge(self.ambient) - self.air)
    }

    /// What has settled in a tank and was not flushed out, m³.
    pub fn sediment(&self, tank: usize) -> f64 {
        self.tanks.get(tank).map_or(0.0, |tank| tank.grit)
    }

    /// Water that passed since the beginning.
    pub fn totals(&self) -> Totals {
        self.flows
    }

    /// What settles in a jar of the water that last left by the drain, as a share of the water.
    pub fn jar(&self) -> f64 {
        self.jar
    }

    /// How fast the line's pressure fell in the last step, Pa/s; below zero when it rose.
    pub fn fall_rate(&self) -> f64 {
        self.fall_rate
    }
}
