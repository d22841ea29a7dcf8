//! What can be done to a simulated well system.

use super::site::Bladder;
use super::{Plant, TankState};
use crate::quantity::PSI;

/// What comes out at an air valve whose pin is pressed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum PinResult {
    /// Air.
    Air,
    /// Nothing, or air goes in.
    Nothing,
    /// Water.
    Water,
}

impl Plant {
    /// Opens the drain: 0 shut, 1 wide open.
    pub fn set_drain(&mut self, opening: f64) {
        self.valves.drain = opening.clamp(0.0, 1.0);
        self.pace = 0.05;
    }

    /// Opens or shuts the valve to the house.
    pub fn set_house_valve(&mut self, open: bool) {
        self.valves.house = open;
        self.pace = 0.05;
    }

    /// Gives the pump power or takes it.
    pub fn set_breaker(&mut self, on: bool) {
        self.valves.breaker = on;
        self.update_pump();
    }

    /// Opens or shuts a tank's own valve.
    pub fn set_tank_valve(&mut self, tank: usize, open: bool) {
        if let Some(tank) = self.tanks.get_mut(tank) {
            tank.valve_open = open;
        }
        self.pace = 0.05;
    }

    /// Opens a spigot on the pump's side of the house's valve: its conductance, m³/s for √Pa; 0 shuts it.
    pub fn set_spigot(&mut self, conductance: f64) {
        self.valves.spigot = conductance.max(0.0);
        self.pace = 0.05;
    }

    /// Whether that spigot runs.
    pub fn spigot_runs(&self) -> bool {
        self.valves.spigot > 0.0
    }

    /// Opens a tank's own valve a crack of so much conductance for so many seconds, and shuts it.
    pub fn crack_tank_valve(&mut self, tank: usize, conductance: f64, seconds: f64) {
        let Some(state) = self.tanks.get_mut(tank) else { return };
        let outlet = std::mem::replace(&mut state.site.outlet, conductance);
        self.set_tank_valve(tank, true);
        self.advance(seconds);
        self.set_tank_valve(tank, false);
        self.tanks[tank].site.outlet = outlet;
    }

    /// Whether the first tank drains alone: its own valve is shut, and the drain is behind it.
    pub(super) fn drains_alone(&self) -> bool {
        self.site.drain_at_tank && self.tanks.first().is_some_and(|tank| !tank.open_to_line())
    }

    /// Whether a tank's own valve stands open.
    pub fn tank_valve_open(&self, tank: usize) -> bool {
        self.tanks.get(tank).is_some_and(|tank| tank.valve_open)
    }

    /// How far the drain stands open.
    pub fn drain_opening(&self) -> f64 {
        self.valves.drain
    }

    /// Holds the switch's low-pressure lever until the pressure is well past where it trips.
    pub fn hold_lever(&mut self, seconds: f64) {
        let lever = self.switch.site.lever.take();
        self.switch.tripped = false;
        self.update_pump();
        self.advance(seconds);
        self.switch.site.lever = lever;
    }

    /// Fills a jet pump with water.
    pub fn prime_pump(&mut self) {
        self.pump.site.primed = true;
    }

    /// Presses the pin of a tank's air valve for a moment.
    pub fn press_pin(&mut self, tank: usize) -> PinResult {
        let outside = self.outside();
        let Some(tank) = self.tanks.get_mut(tank) else { return PinResult::Nothing };
        if let Bladder::Torn { wet_valve: true, .. } = tank.site.bladder {
            return PinResult::Water;
        }
        let above = tank.pressure() - outside.pressure;
        if above < 0.1 * PSI {
            // A tank held by its own suction draws air in, and lets its water go.
            tank.set_air(0.0, outside);
            return PinResult::Nothing;
        }
        PinResult::Air
    }

    /// Lets air in or out until the air valve shows a pressure, as far as the tank keeps it.
    pub fn set_air(&mut self, tank: usize, pressure: f64) {
        let outside = self.outside();
        if let Some(tank) = self.tanks.get_mut(tank) {
            tank.set_air(pressure.max(0.0), outside);
        }
        self.advance(20.0);
    }

    /// Takes a tank off the line, its port open, or joins it.
    pub fn set_joined(&mut self, tank: usize, joined: bool) {
        if let Some(tank) = self.tanks.get_mut(tank) {
            tank.site.joined = joined;
            tank.port_open = !joined;
            tank.valve_open |= joined;
        }
        self.pace = 0.05;
    }

    /// Whether a tank is joined to the line.
    pub fn is_joined(&self, tank: usize) -> bool {
        self.tanks.get(tank).is_some_and(|tank| tank.site.joined)
    }

    /// How many tanks there are.
    pub fn tank_count(&self) -> usize {
        self.tanks.len()
    }

    /// Puts the spare tank, loose and empty, in the place of the first; `false` when there is none.
    pub fn replace_tank(&mut self) -> bool {
        let Some(mut spare) = self.site.spare.take() else { return false };
        spare.joined = false;
        let mut tank = TankState::new(&spare, self.ambient, self.air);
        tank.port_open = true;
        match self.tanks.first_mut() {
            Some(first) => *first = tank,
            None => self.tanks.push(tank),
        }
        true
    }

    /// Turns the nuts of the switch, clockwise counted up.
    pub fn turn_switch(&mut self, range_turns: f64, differential_turns: f64) {
        let site = self.switch.site;
        let moved = range_turns * site.range_turn;
        let cut_in = site.cut_in + moved;
        let cut_out = site.cut_out + moved + differential_turns * site.differential_turn;
        self.switch.set_points(cut_in, cut_out.max(cut_in + PSI));
    }
}
