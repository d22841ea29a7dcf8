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

/// What is done, with the tank worked on.
#[derive(Clone, Copy)]
enum Deed {
    /// It always comes out as it should.
    Sure(fn(&mut Owner, usize)),
    /// Whether it came out as it should.
    Tried(fn(&mut Owner) -> bool),
}

/// How each state is brought about, in the order in which hands go. A state that is not named is
/// nothing that the installation knows.
const BRINGS: &[(&str, Deed)] = &[
    ("spigot_runs", Deed::Sure(|owner, _| owner.set_spigot(1.0))),
    ("line_kept", Deed::Sure(Owner::lend_pressure)),
    ("pump_off", Deed::Sure(|owner, _| owner.turn_breaker_off())),
    ("drain_shut", Deed::Sure(|owner, _| owner.plant.set_drain(0.0))),
    ("house_shut", Deed::Sure(|owner, _| owner.shut_house())),
    ("others_open", Deed::Sure(|owner, _| owner.open_others())),
    ("new_tank_joined", Deed::Sure(Owner::join)),
    ("loose", Deed::Sure(Owner::loosen)),
    ("drain_open", Deed::Sure(|owner, _| owner.plant.set_drain(1.0))),
    ("drained", Deed::Sure(|owner, _| owner.let_run_dry())),
    ("switch_open", Deed::Sure(|owner, _| owner.turn_nuts())),
    ("pump_on", Deed::Tried(Owner::turn_breaker_on)),
    ("filled_by_hand", Deed::Tried(Owner::fill_by_hand)),
    ("pumped_up", Deed::Tried(Owner::wait_for_stop)),
    // The tank alone is shut off from its line.
    ("tank_isolated", Deed::Sure(|owner, tank| owner.plant.set_tank_valve(tank, false))),
    ("part_filled", Deed::Sure(Owner::let_a_little_in)),
    ("pump_waits", Deed::Tried(Owner::wait_for_stop)),
];

/// What is done at a tank, which always comes out so.
type Act = fn(&mut Owner, usize);

/// How each state is ended.
const UNDOES: &[(&str, Act)] = &[
    ("house_shut", |owner, _| owner.open_house()),
    ("others_open", Owner::shut_others),
    ("spigot_runs", |owner, _| owner.set_spigot(0.0)),
    ("tank_isolated", Owner::open_again),
    // Water is poured into the pump, where the steps say so.
    ("jet_unfilled", |owner, _| owner.plant.prime_pump()),
];

impl Owner {
    /// Does what a step asks for; whether it came out so.
    pub fn does(&mut self, situation: &Situation, status: Option<&str>) -> bool {
        let tank = situation.tank;
        // What is opened is the tank's own valve, where the step does not say more.
        let mut states = BRINGS.iter().map(|row| row.0).chain(UNDOES.iter().map(|row| row.0));
        let of_more = |state| state != "others_open" && (situation.brings(state) || situation.undoes(state));
        if status == Some("open") && !states.any(of_more) {
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
                match deed {
                    Deed::Sure(deed) => deed(self, tank),
                    Deed::Tried(deed) => well &= deed(self),
                }
            }
        }
        self.look_for_danger();
        well
    }

    fn turn_breaker_off(&mut self) {
        self.wait_for_stop();
        self.memory.breaker_off = true;
        if !self.mistakes.wrong_breaker || self.memory.knows_breaker {
            self.plant.set_breaker(false);
        }
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

    fn shut_house(&mut self) {
        if !self.mistakes.house_believed_shut {
            self.plant.set_house_valve(false);
        }
    }

    fn open_house(&mut self) {
        self.plant.set_house_valve(true);
        self.plant.advance(120.0);
    }

    fn shut_others(&mut self, tank: usize) {
        for other in (0..self.plant.tank_count()).filter(|other| *other != tank) {
            if self.plant.is_joined(other) && self.plant.tank_valve_open(other) {
                self.plant.set_tank_valve(other, false);
                self.memory.isolated.push(other);
            }
        }
    }

    fn open_others(&mut self) {
        for tank in std::mem::take(&mut self.memory.isolated) {
            self.plant.set_tank_valve(tank, true);
        }
    }

    fn loosen(&mut self, tank: usize) {
        if (0..self.plant.tank_count()).any(|any| !self.plant.is_joined(any)) {
            return;
        }
        let full = self.plant.water(tank) > SOME_WATER && self.plant.tank_pressure(tank) > HARMLESS;
        if full || self.plant.line_pressure() > HARMLESS {
            self.note_danger(Danger::OpenedUnderPressure);
        }
        self.plant.set_joined(tank, false);
        self.plant.set_air(tank, 0.0);
    }

    /// The tank that stands loose is joined.
    fn join(&mut self, tank: usize) {
        let loose = (0..self.plant.tank_count()).find(|any| !self.plant.is_joined(*any));
        self.plant.set_joined(loose.unwrap_or(tank), true);
    }

    fn let_run_dry(&mut self) {
        self.plant.run_until(Until::RunsDry, DRY_PATIENCE);
        self.plant.advance(300.0);
    }

    fn open_again(&mut self, tank: usize) {
        self.plant.set_tank_valve(tank, true);
        self.plant.run_until(Until::RunsDry, DRY_PATIENCE);
    }

    pub(super) fn set_spigot(&mut self, opening: f64) {
        self.plant.set_spigot(opening * SPIGOT);
    }

    /// Another tank gives the line its pressure.
    fn lend_pressure(&mut self, tank: usize) {
        if let Some(other) = (0..self.plant.tank_count()).find(|other| *other != tank) {
            self.plant.set_tank_valve(other, true);
            self.plant.advance(10.0);
        }
    }

    /// A few pints, by the barely opened valve; what the pump does meanwhile is watched.
    fn let_a_little_in(&mut self, tank: usize) {
        self.plant.crack_tank_valve(tank, CRACK, CRACKED_FOR);
        if self.plant.has_power() && self.starts_in(20.0) > 2 {
            self.note_danger(Danger::RapidStarts);
        }
    }

    fn turn_nuts(&mut self) {
        if self.plant.has_power() {
            self.note_danger(Danger::LiveSwitch);
        }
        let quarters = |turns: f64| (turns * 4.0).round().clamp(-8.0, 8.0) / 4.0;
        let [range, differential] =
            ["range_turns", "differential_turns"].map(|nut| quarters(self.memory.newest(nut).unwrap_or(0.0)));
        self.plant.turn_switch(range, differential);
    }

    fn look_for_danger(&mut self) {
        let mut tanks = self.plant.site().tanks.iter().enumerate();
        if tanks.any(|(at, tank)| self.plant.tank_pressure(at) > tank.limit) {
            self.note_danger(Danger::AbovePlate);
        }
    }
}
