//! What an owner does at an installation so that a state comes about or ends.

use super::person::{Danger, Owner};
use crate::engine::Situation;
use crate::physics::plant::Until;
use crate::quantity::PSI;

/// The longest that anybody waits for a pump to stop, s; less where the gauge stands still.
const STOP_PATIENCE: f64 = 5_400.0;
/// A gauge that rises by less in two minutes stands still, Pa.
const STANDSTILL: (f64, f64) = (0.4 * PSI, 120.0);
/// The longest that anybody waits for water to run out, s.
const DRY_PATIENCE: f64 = 5_400.0;
/// Pressure under which nothing is opened with force.
const HARMLESS: f64 = 2.0 * PSI;
/// Conductance of a spigot wide open, and of a valve that is opened a crack, m³/s for √Pa: some 8 and
/// 1 gal/min at 48 psi; how long the crack stays open, s.
const SPIGOT: f64 = 9e-7;
const CRACK: f64 = 1.1e-7;
const CRACKED_FOR: f64 = 45.0;
/// More water than drips, m³.
const SOME_WATER: f64 = 4e-3;

/// How far a tank is filled by hand, as a share of the way from cut-in to cut-out; how long at the most, s.
const GULP: f64 = 0.2;
const GULP_PATIENCE: f64 = 600.0;

/// A deed: with the tank worked on, whether it came out as it should.
type Deed = fn(&mut Owner, usize) -> bool;

/// How each state is brought about, in the order in which hands go. A state that is not named is
/// nothing that the installation knows.
const BRINGS: &[(&str, Deed)] = &[
    ("spigot_runs", |owner, _| owner.set_spigot(1.0)),
    ("line_kept", Owner::lend_pressure),
    ("pump_off", |owner, _| owner.turn_breaker_off()),
    ("drain_shut", |owner, _| owner.set_drain(0.0)),
    ("house_shut", |owner, _| owner.shut_house()),
    ("others_open", |owner, _| owner.open_others()),
    ("new_tank_joined", |owner, tank| owner.join(tank)),
    ("loose", Owner::loosen),
    ("drain_open", |owner, _| owner.set_drain(1.0)),
    ("drained", |owner, _| owner.let_run_dry()),
    ("switch_open", |owner, _| owner.turn_nuts()),
    ("pump_on", |owner, _| owner.turn_breaker_on()),
    ("filled_by_hand", |owner, _| owner.fill_by_hand()),
    ("pumped_up", |owner, _| owner.wait_for_stop()),
    ("tank_isolated", Owner::shut_off),
    ("part_filled", Owner::let_a_little_in),
    ("pump_waits", |owner, _| owner.wait_for_stop()),
];

/// How each state is ended.
const UNDOES: &[(&str, Deed)] = &[
    ("house_shut", |owner, _| owner.open_house()),
    ("others_open", Owner::shut_others),
    ("spigot_runs", |owner, _| owner.set_spigot(0.0)),
    ("tank_isolated", Owner::open_again),
    ("jet_unfilled", |owner, _| owner.fill_pump()),
];

impl Owner {
    /// Does what a step asks for; whether it came out so.
    pub(super) fn does(&mut self, situation: &Situation, status: Option<&str>) -> bool {
        let tank = situation.tank;
        // What is opened is the tank's own valve, where the step does not say more.
        let of_more = |(state, _): &(&str, Deed)| {
            *state != "others_open" && (situation.brings(state) || situation.undoes(state))
        };
        if status == Some("open") && !BRINGS.iter().chain(UNDOES).any(of_more) {
            self.plant.set_tank_valve(tank, true);
            self.memory.isolated.retain(|shut| *shut != tank);
            self.plant.advance(60.0);
            return true;
        }
        if situation.observes.is_some_and(|deed| deed.name == "tank_replaced")
            && !situation.brings("new_tank_joined")
        {
            self.plant.replace_tank();
        }
        let believed_off = self.memory.breaker_off && self.memory.pump_was_live;
        if believed_off && self.plant.has_power() && !situation.brings("pump_on") {
            // Now the right breaker is found, for good.
            self.memory.knows_breaker = true;
            self.plant.set_breaker(false);
        }
        for (state, deed) in UNDOES {
            if situation.undoes(state) {
                deed(self, tank);
            }
        }
        let mut well = true;
        for (state, deed) in BRINGS {
            if situation.brings(state) {
                well &= deed(self, tank);
            }
        }
        self.look_for_danger();
        well
    }

    pub(super) fn set_drain(&mut self, opening: f64) -> bool {
        self.plant.set_drain(opening);
        true
    }

    fn turn_breaker_off(&mut self) -> bool {
        self.wait_for_stop();
        self.memory.breaker_off = true;
        if self.mistakes.wrong_breaker && !self.memory.knows_breaker {
            return true;
        }
        self.plant.set_breaker(false);
        true
    }

    fn turn_breaker_on(&mut self) -> bool {
        self.plant.set_breaker(true);
        self.memory.pump_was_live = false;
        self.memory.breaker_off = false;
        self.plant.advance(2.0);
        let low = self.plant.line_pressure() < self.household.site.switch.cut_in;
        if low && !self.plant.pump_runs() && self.household.site.switch.lever.is_some() {
            self.plant.hold_lever(45.0);
        }
        self.plant.advance(20.0);
        self.plant.pump_runs() || self.plant.line_pressure() > 5.0 * PSI
    }

    /// The pump is let in a little past cut-in, by its breaker.
    fn fill_by_hand(&mut self) -> bool {
        let switch = &self.household.site.switch;
        let enough = switch.cut_in + GULP * (switch.cut_out - switch.cut_in);
        let filled = self.turn_breaker_on();
        self.plant.run_until(Until::Rises(enough), GULP_PATIENCE);
        self.plant.set_breaker(false);
        self.memory.breaker_off = true;
        filled
    }

    /// The drain is shut first where the pump would never stop against it.
    pub(super) fn wait_for_stop(&mut self) -> bool {
        if self.plant.drain_opening() > 0.0 && self.plant.pump_runs() {
            self.plant.set_drain(0.0);
        }
        let (least_rise, span) = STANDSTILL;
        let end = self.plant.seconds() + STOP_PATIENCE;
        while self.plant.seconds() < end {
            let before = self.plant.line_pressure();
            if self.plant.run_until(Until::PumpStops, span).is_some() {
                return true;
            }
            if self.plant.line_pressure() - before < least_rise {
                return false;
            }
        }
        false
    }

    fn shut_house(&mut self) -> bool {
        if !self.mistakes.house_believed_shut {
            self.plant.set_house_valve(false);
        }
        true
    }

    fn open_house(&mut self) -> bool {
        self.plant.set_house_valve(true);
        self.plant.advance(120.0);
        true
    }

    fn shut_others(&mut self, tank: usize) -> bool {
        for other in (0..self.plant.tank_count()).filter(|other| *other != tank) {
            if self.plant.is_joined(other) && self.plant.tank_valve_open(other) {
                self.plant.set_tank_valve(other, false);
                self.memory.isolated.push(other);
            }
        }
        true
    }

    fn open_others(&mut self) -> bool {
        for tank in std::mem::take(&mut self.memory.isolated) {
            self.plant.set_tank_valve(tank, true);
        }
        true
    }

    fn loosen(&mut self, tank: usize) -> bool {
        if (0..self.plant.tank_count()).any(|any| !self.plant.is_joined(any)) {
            return true;
        }
        let full = self.plant.water(tank) > SOME_WATER && self.plant.tank_pressure(tank) > HARMLESS;
        if full || self.plant.line_pressure() > HARMLESS {
            self.note_danger(Danger::OpenedUnderPressure);
        }
        self.plant.set_joined(tank, false);
        self.plant.set_air(tank, 0.0);
        true
    }

    /// The tank that stands loose is joined.
    fn join(&mut self, tank: usize) -> bool {
        let loose = (0..self.plant.tank_count()).find(|any| !self.plant.is_joined(*any));
        self.plant.set_joined(loose.unwrap_or(tank), true);
        true
    }

    fn let_run_dry(&mut self) -> bool {
        self.plant.run_until(Until::RunsDry, DRY_PATIENCE);
        self.plant.advance(300.0);
        true
    }

    /// The tank alone is shut off from its line.
    fn shut_off(&mut self, tank: usize) -> bool {
        self.plant.set_tank_valve(tank, false);
        true
    }

    fn open_again(&mut self, tank: usize) -> bool {
        self.plant.set_tank_valve(tank, true);
        self.plant.run_until(Until::RunsDry, DRY_PATIENCE);
        true
    }

    pub(super) fn set_spigot(&mut self, opening: f64) -> bool {
        self.plant.set_spigot(opening * SPIGOT);
        true
    }

    /// Another tank gives the line its pressure.
    fn lend_pressure(&mut self, tank: usize) -> bool {
        if let Some(other) = (0..self.plant.tank_count()).find(|other| *other != tank) {
            self.plant.set_tank_valve(other, true);
            self.plant.advance(10.0);
        }
        true
    }

    /// A few pints, by the barely opened valve; what the pump does meanwhile is watched.
    fn let_a_little_in(&mut self, tank: usize) -> bool {
        self.plant.crack_tank_valve(tank, CRACK, CRACKED_FOR);
        if self.plant.has_power() && self.starts_in(20.0) > 2 {
            self.note_danger(Danger::RapidStarts);
        }
        true
    }

    /// Water is poured into the pump, where the steps say so.
    fn fill_pump(&mut self) -> bool {
        self.plant.prime_pump();
        true
    }

    fn turn_nuts(&mut self) -> bool {
        if self.plant.has_power() {
            self.note_danger(Danger::LiveSwitch);
        }
        let quarters = |turns: f64| (turns * 4.0).round().clamp(-8.0, 8.0) / 4.0;
        let [range, differential] =
            ["range_turns", "differential_turns"].map(|nut| quarters(self.memory.newest(nut).unwrap_or(0.0)));
        self.plant.turn_switch(range, differential);
        true
    }

    fn look_for_danger(&mut self) {
        let limits: Vec<f64> = self.plant.site().tanks.iter().map(|tank| tank.limit).collect();
        if limits.iter().enumerate().any(|(at, limit)| self.plant.tank_pressure(at) > *limit) {
            self.note_danger(Danger::AbovePlate);
        }
    }
}
